package water

import "math"

// A Target is what a blend should have, as CaCO3 in mg/L.
type Target struct {
	Hardness, Alkalinity float64
	// Magnesium is the part of the hardness that should be magnesium, 0 to 1;
	// below 0 it does not matter.
	Magnesium float64
}

// A Source is a water to blend, or what is dosed into it: a millilitre of a
// concentrate or a gram of a salt to the litre of the blend.
type Source struct {
	Name  string
	Water Water // to the litre, the millilitre or the gram
	Dosed bool  // else its parts of the blend add up to one with the other waters
}

// A Mix is a blend.
type Mix struct {
	Parts  []float64 // of each source: a part of the blend, or a dose to the litre
	Gives  Water
	Misses []Miss // what the sources cannot reach
}

// A Miss is a quantity that a blend does not reach.
type Miss struct {
	Quantity   string // "hardness", "alkalinity", "magnesium"
	Want, Gets float64
	// TooMuch says that every source brings it even in the blend with least of
	// it; else none brings enough.
	TooMuch bool
}

// near is how far a quantity may be off, in mg/L as CaCO3, without being missed.
const near = 1.0

// Blend returns the parts that come nearest to the target, by least squares over
// hardness, alkalinity and magnesium, no part below zero.
func Blend(sources []Source, target Target) (Mix, error) {
	if err := check(sources, target); err != nil {
		return Mix{}, err
	}
	// The row of ones makes the waters' parts add up: its weight leaves less than
	// a thousandth of slack, which is then divided away.
	const whole = 1e4
	rows := [][]float64{{}, {}, {}, {}}
	magnesium := target.Magnesium
	for _, s := range sources {
		one := whole
		if s.Dosed {
			one = 0
		}
		rows[0] = append(rows[0], one)
		rows[1] = append(rows[1], s.Water.Hardness())
		rows[2] = append(rows[2], s.Water.Alkalinity())
		rows[3] = append(rows[3], s.Water.Magnesium*magnesiumFactor)
	}
	want := []float64{whole, target.Hardness, target.Alkalinity, magnesium * target.Hardness}
	if magnesium < 0 {
		rows, want = rows[:3], want[:3]
	}
	scaled, scale := scaleColumns(rows)
	parts := nonNegative(scaled, want)
	for j := range parts {
		parts[j] /= scale[j]
	}
	return mixed(sources, target, addUp(sources, parts)), nil
}

func check(sources []Source, target Target) error {
	waters := 0
	for _, s := range sources {
		for _, f := range s.Water.Check() {
			if f.Impossible && !s.Dosed {
				return &Error{CodeRange, f.Field, f.Value}
			}
		}
		if !s.Dosed {
			waters++
		}
	}
	switch {
	case waters == 0:
		return &Error{CodeNoSource, "sources", 0}
	case !(target.Hardness >= 0 && target.Hardness <= 2000):
		return &Error{CodeRange, "hardness", target.Hardness}
	case !(target.Alkalinity >= 0 && target.Alkalinity <= 2000):
		return &Error{CodeRange, "alkalinity", target.Alkalinity}
	case !(target.Magnesium <= 1):
		return &Error{CodeRange, "magnesium", target.Magnesium}
	}
	return nil
}

// scaleColumns gives every source the same length, so that a gram of a salt and
// a litre of water are treated alike.
func scaleColumns(rows [][]float64) (scaled [][]float64, scale []float64) {
	scale = make([]float64, len(rows[0]))
	for j := range scale {
		sum := 0.0
		for _, row := range rows {
			sum += row[j] * row[j]
		}
		scale[j] = max(math.Sqrt(sum), 1e-9)
	}
	for _, row := range rows {
		out := make([]float64, len(row))
		for j, v := range row {
			out[j] = v / scale[j]
		}
		scaled = append(scaled, out)
	}
	return scaled, scale
}

// addUp makes the parts of the waters add up to exactly one.
func addUp(sources []Source, parts []float64) []float64 {
	sum := 0.0
	for j, s := range sources {
		if !s.Dosed {
			sum += parts[j]
		}
	}
	for j, s := range sources {
		if !s.Dosed && sum > 0 {
			parts[j] /= sum
		}
	}
	return parts
}

func mixed(sources []Source, target Target, parts []float64) Mix {
	m := Mix{Parts: parts}
	for j, s := range sources {
		m.Gives = m.Gives.Plus(s.Water.Times(parts[j]))
	}
	m.miss("hardness", target.Hardness, m.Gives.Hardness())
	m.miss("alkalinity", target.Alkalinity, m.Gives.Alkalinity())
	if target.Magnesium >= 0 {
		m.miss("magnesium", target.Magnesium*target.Hardness, m.Gives.Magnesium*magnesiumFactor)
	}
	return m
}

func (m *Mix) miss(quantity string, want, gets float64) {
	if math.Abs(want-gets) > near {
		m.Misses = append(m.Misses, Miss{quantity, want, gets, gets > want})
	}
}
