package grinder

import (
	"math"
	"strconv"
	"strings"
)

// A Kind is how a grinder shows its setting.
type Kind uint8

const (
	Clicks  Kind = iota // clicks counted from zero: "24"
	Turns               // whole turns and clicks beyond them: "1+12"
	Numbers             // a dial with numbers: "4.5"
	Letters             // marks in order, with clicks between them: "C+2"
	kinds
)

// String returns a stable name.
func (k Kind) String() string {
	if k >= kinds {
		return "unknown"
	}
	return [...]string{"clicks", "turns", "numbers", "letters"}[k]
}

// A Scale is a grinder's own.
type Scale struct {
	Kind    Kind
	PerTurn int      // turns: clicks in a turn; letters: clicks from mark to mark, 0 or 1 for none
	Step    float64  // numbers: the smallest step; 0 for a dial without steps
	Marks   []string // letters: in order; none for A to Z
	Low     Position // the stops, when both are known and differ
	High    Position
}

// A Position is a setting as the number of smallest steps from zero. On a dial
// without steps a step is 1.
type Position float64

// Check refuses a scale that nobody could read.
func (s Scale) Check() error {
	switch {
	case s.Kind >= kinds:
		return &Error{CodeBadScale, "kind", strconv.Itoa(int(s.Kind))}
	case s.Kind == Turns && (s.PerTurn < 1 || s.PerTurn > 1000), s.PerTurn < 0, s.PerTurn > 1000:
		return &Error{CodeBadScale, "per turn", strconv.Itoa(s.PerTurn)}
	case !(s.Step >= 0 && s.Step <= 1000):
		return &Error{CodeBadScale, "step", number(s.Step)}
	case !finite(float64(s.Low)) || !finite(float64(s.High)) || s.High < s.Low:
		return &Error{CodeBadScale, "stops", number(float64(s.Low)) + " to " + number(float64(s.High))}
	}
	return s.checkMarks()
}

// checkMarks refuses empty marks, two alike, and those that would read as clicks.
func (s Scale) checkMarks() error {
	if s.Kind != Letters {
		return nil
	}
	seen := map[string]bool{}
	for _, m := range s.Marks {
		key := strings.ToUpper(strings.TrimSpace(m))
		if key == "" || strings.Contains(key, "+") || seen[key] {
			return &Error{CodeBadScale, "marks", m}
		}
		seen[key] = true
	}
	return nil
}

// Parse reads a setting as typed. A decimal comma is a decimal point, spaces do
// not count, letters may be small.
func (s Scale) Parse(text string) (Position, error) {
	bad := &Error{CodeBadSetting, "setting", text}
	main, rest, split := strings.Cut(strings.ToUpper(strings.TrimSpace(text)), "+")
	main, rest = strings.TrimSpace(main), strings.TrimSpace(rest)
	if split && s.Kind != Turns && s.Kind != Letters {
		return 0, bad
	}
	clicks := 0
	if split {
		n, ok := whole(rest)
		if !ok || n < 0 || n >= max(s.PerTurn, 1) {
			return 0, bad
		}
		clicks = n
	}
	position, ok := s.read(main)
	if !ok {
		return 0, bad
	}
	position += Position(clicks)
	if s.past(position) {
		return 0, &Error{CodePastStop, "setting", text}
	}
	return position, nil
}

// read reads the part before the clicks.
func (s Scale) read(text string) (Position, bool) {
	switch s.Kind {
	case Letters:
		at := s.mark(text)
		return Position(at * max(s.PerTurn, 1)), at >= 0
	case Numbers:
		value, ok := decimal(text)
		if s.Step > 0 {
			value /= s.Step
			// A third of a number is typed as 0.33.
			ok = ok && math.Abs(value-math.Round(value)) < 0.02
			value = math.Round(value)
		}
		return Position(value), ok
	}
	n, ok := whole(text)
	return Position(n * s.perUnit()), ok
}

func (s Scale) perUnit() int {
	if s.Kind == Turns {
		return s.PerTurn
	}
	return 1
}

// mark returns where a mark stands, -1 when there is none like it.
func (s Scale) mark(text string) int {
	if len(s.Marks) == 0 {
		if len(text) == 1 && text[0] >= 'A' && text[0] <= 'Z' {
			return int(text[0] - 'A')
		}
		return -1
	}
	for i, m := range s.Marks {
		if strings.ToUpper(strings.TrimSpace(m)) == text {
			return i
		}
	}
	return -1
}

func whole(text string) (int, bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && n > -100000 && n < 100000
}

// decimal reads digits, one separator and a sign; neither exponents nor words.
func decimal(text string) (float64, bool) {
	if strings.Trim(text, "0123456789.,-") != "" {
		return 0, false
	}
	value, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return value, err == nil && math.Abs(value) < 100000
}

func (s Scale) past(p Position) bool { return s.Low < s.High && (p < s.Low || p > s.High) }

// Nearest returns the nearest position that the grinder can be set to.
func (s Scale) Nearest(p Position) Position {
	if s.Kind != Numbers || s.Step > 0 {
		p = Position(math.Round(float64(p)))
	}
	if s.Low < s.High {
		p = min(max(p, s.Low), s.High)
	}
	if s.Kind == Letters {
		p = min(max(p, 0), Position(s.marks()*max(s.PerTurn, 1)-1))
	}
	return p
}

func (s Scale) marks() int {
	if len(s.Marks) == 0 {
		return 26
	}
	return len(s.Marks)
}

// Format writes the nearest setting as Parse reads it, with a decimal point.
func (s Scale) Format(p Position) string {
	p = s.Nearest(p)
	switch s.Kind {
	case Numbers:
		if s.Step == 0 {
			return strconv.FormatFloat(float64(p), 'f', -1, 64)
		}
		return decimals(float64(p)*s.Step, s.Step)
	case Turns, Letters:
		unit := max(s.PerTurn, 1)
		units := int(math.Floor(float64(p) / float64(unit)))
		text := s.unit(units)
		if clicks := int(p) - units*unit; clicks > 0 {
			text += "+" + strconv.Itoa(clicks)
		}
		return text
	}
	return strconv.Itoa(int(p))
}

// unit writes a number of turns, or a mark.
func (s Scale) unit(n int) string {
	switch {
	case s.Kind == Turns:
		return strconv.Itoa(n)
	case len(s.Marks) == 0:
		return string(rune('A' + n))
	}
	return strings.TrimSpace(s.Marks[n])
}

// decimals writes a number with as many decimals as its step needs, at most three.
func decimals(value, step float64) string {
	places := 0
	for scaled := step; places < 3 && math.Abs(scaled-math.Round(scaled)) > 1e-9; scaled *= 10 {
		places++
	}
	return strconv.FormatFloat(value, 'f', places, 64)
}
