package repeat

import (
	"math"

	"hushcup/pwa/core/chance"
)

// An Estimate is a value with the 90 % interval around it.
type Estimate struct {
	Value, Low, High float64
}

// A Spread is how far brews of one recipe differ. For what is measured it is a
// share of the value: 0.03 is three percent.
type Spread struct {
	Deviation Estimate // standard deviation
	Limit     float64  // two cups of one recipe differ by more than this once in ten times
	Freedom   int      // degrees of freedom
	Brews     int      // in groups of two or more
	Recipes   int      // such groups
	Enough    bool     // two degrees of freedom or more
}

// An Own is a person's own repeatability with one method.
type Own struct {
	Method Method
	Left   int // cups of the other method, left out
	sums   [quantities]within
}

// within sums the squares within groups.
type within struct {
	squares              float64
	freedom, brews, many int
}

// leastFreedom is where intervals stop being absurd.
const leastFreedom = 2

// Of pools the repeated cups of one method. It refuses a cup that cannot be.
func Of(cups []Cup, method Method) (*Own, error) {
	own := &Own{Method: method}
	var groups [][]Cup
	for _, c := range cups {
		if err := c.Check(); err != nil {
			return nil, err
		}
		if c.Method != method {
			own.Left++
			continue
		}
		at := 0
		for at < len(groups) && (groups[at][0].Recipe != c.Recipe || groups[at][0].Coffee != c.Coffee) {
			at++
		}
		if at == len(groups) {
			groups = append(groups, nil)
		}
		groups[at] = append(groups[at], c)
	}
	for _, group := range groups {
		for q := range quantities {
			own.sums[q].add(values(group, q))
		}
	}
	return own, nil
}

// values returns what is known of a quantity, where differences count alike.
func values(cups []Cup, q Quantity) (out []float64) {
	for _, c := range cups {
		if r := c.Values[q]; r.Known {
			out = append(out, q.on(r.Value))
		}
	}
	return out
}

func mean(values []float64) (sum float64) {
	for _, v := range values {
		sum += v / float64(len(values))
	}
	return sum
}

func (w *within) add(group []float64) {
	if len(group) < 2 {
		return
	}
	middle := mean(group)
	for _, v := range group {
		w.squares += (v - middle) * (v - middle)
	}
	w.freedom += len(group) - 1
	w.brews += len(group)
	w.many++
}

// deviation is the pooled standard deviation, never below what the last digit
// hides: a value is anywhere in its step, whose deviation is step/sqrt(12).
func (o *Own) deviation(q Quantity) float64 {
	w := o.sums[q]
	if w.freedom == 0 {
		return math.NaN()
	}
	return math.Max(math.Sqrt(w.squares/float64(w.freedom)), q.last()/math.Sqrt(12))
}

// Spread returns how far brews of one recipe differ in a quantity.
func (o *Own) Spread(q Quantity) Spread {
	w := o.sums[q]
	out := Spread{Freedom: w.freedom, Brews: w.brews, Recipes: w.many, Enough: w.freedom >= leastFreedom}
	if !out.Enough {
		return out
	}
	s, freedom := o.deviation(q), float64(w.freedom)
	out.Deviation = Estimate{
		s,
		s * math.Sqrt(freedom/chance.ChiSquaredQuantile(0.95, freedom)),
		s * math.Sqrt(freedom/chance.ChiSquaredQuantile(0.05, freedom)),
	}
	out.Limit = chance.TQuantile(0.95, freedom) * s * math.Sqrt2
	return out
}

// Mean returns the mean of some cups of one recipe with its 90 % interval, from
// their own scatter. It reports false for fewer than two. What is measured has the
// geometric mean, in its own unit.
func Mean(cups []Cup, q Quantity) (Estimate, bool) {
	known := values(cups, q)
	if len(known) < 2 {
		return Estimate{}, false
	}
	var w within
	w.add(known)
	middle := mean(known)
	half := chance.TQuantile(0.95, float64(w.freedom)) * math.Sqrt(w.squares/float64(w.freedom)/float64(len(known)))
	return Estimate{q.off(middle), q.off(middle - half), q.off(middle + half)}, true
}
