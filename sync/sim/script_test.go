package sim

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hushcup/sync/scenariotest"
)

// Scenarios are evenings in which nothing happens by chance: files of commands, one a line, each block of them with what it
// gave below a line of dashes. The first word of a command is who does something, "world" being fate; the verbs stand in
// verbs_test.go. Below a block stand the answers of its commands, what the server refused meanwhile, and who stopped.
func TestScenarios(t *testing.T) {
	scenariotest.Play(t, func(t *testing.T, text string) string { return scenariotest.Blocks(text, newStage(t).block) })
}

// stage is a world that follows a script.
type stage struct {
	*World
	t      *testing.T
	phones map[string]*Phone
	out    strings.Builder
}

func newStage(t *testing.T) *stage {
	w := empty(1, None)
	w.rates = rates{slow: 3, diskDelay: 2}
	w.secrets.keep = true
	return &stage{World: w, t: t, phones: map[string]*Phone{}}
}

func (s *stage) say(format string, args ...any) { fmt.Fprintf(&s.out, format+"\n", args...) }

// block runs commands, and tells what they gave and what was refused and stopped meanwhile.
func (s *stage) block(commands string) string {
	s.out.Reset()
	before := maps.Clone(s.counts)
	for _, line := range strings.Split(commands, "\n") {
		if words := strings.Fields(line); len(words) > 0 && words[0] != "#" {
			s.run(words)
		}
	}
	for _, what := range slices.Sorted(maps.Keys(s.counts)) {
		told := strings.HasPrefix(what, "server: refused") || strings.HasPrefix(what, "server: closed") ||
			strings.HasPrefix(what, "phone stopped") || strings.HasPrefix(what, "command failed")
		if n := s.counts[what] - before[what]; told && n > 0 {
			s.say("(%s, %d times)", what, n)
		}
	}
	return s.out.String()
}

// run does one command; a promise that it breaks fails the test.
func (s *stage) run(words []string) {
	defer func() {
		if r := recover(); r != nil {
			if _, ours := r.(stop); !ours {
				panic(r)
			}
			s.t.Fatalf("%q: %v", words, s.fault)
		}
	}()
	if words[0] == "world" {
		s.fate(words[1], words[2:])
		return
	}
	verb, ok := verbs[words[1]]
	if !ok {
		s.t.Fatalf("nobody knows the verb %q", words[1])
	}
	verb(s, words[0], words[2:])
}

// fate does what no person does.
func (s *stage) fate(verb string, words []string) {
	switch verb {
	case "servers":
		for range number(s, words[0]) {
			s.addServer().start()
		}
	case "waits":
		s.advance(span(s, words[0]))
	case "silent":
		s.silent = words[0] == "yes"
	case "heals":
		s.heal()
		s.checkRest()
		s.World.say("at rest")
		s.out.WriteString("every promise holds\n")
	case "loses":
		b := s.observers[0].books[s.clubs[0].book]
		pos := uint64(number(s, words[0]))
		s.torn[b.id] = true
		s.playBack(b, pos)
	case "store":
		s.tellStore()
	default:
		s.t.Fatalf("fate does not know %q", verb)
	}
}

func number(s *stage, word string) int {
	n, err := strconv.Atoi(word)
	if err != nil {
		s.t.Fatal(err)
	}
	return n
}

// span reads 300ms, 5s, 10m or 3y.
func span(s *stage, word string) int64 {
	for unit, length := range map[string]int64{"ms": 1, "s": 1000, "m": 60_000, "y": 365 * 24 * 3600 * 1000} {
		digits, ok := strings.CutSuffix(word, unit)
		if n, err := strconv.ParseInt(digits, 10, 64); ok && err == nil {
			return n * length
		}
	}
	s.t.Fatalf("%q is no span of time", word)
	return 0
}
