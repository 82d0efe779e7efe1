package repeat

import (
	"math"
	"sort"

	"hushcup/pwa/core/chance"
)

// A Verdict is what a difference between two cups can be.
type Verdict uint8

const (
	NotEnough    Verdict = iota // not enough repeated brews, or nothing tasted, to tell
	OtherMethods                // a brewed cup and a bowl: never compared
	NoDifference                // no more than two cups of one recipe differ
	MayBeBrewing                // they differ, but were not brewed alike
	NotTheCoffee                // they differ, and it is one coffee
	CanBeCoffee                 // they differ, and were brewed alike
)

// String returns a stable name.
func (v Verdict) String() string {
	return [...]string{"not-enough-brews", "other-methods", "no-difference", "may-be-brewing", "not-the-coffee", "can-be-coffee"}[v]
}

// A Difference is that of one quantity, the second less the first. For what is
// measured it is in logarithms: 0.1 is about a tenth more.
type Difference struct {
	Known  bool     // read on both sides
	Enough bool     // and there is own repeatability to judge it by
	By     Estimate // 90 % interval; that of an attribute at the level of its step of Holm's
	Chance float64  // of a difference as large between cups of one recipe
	Beyond bool     // larger than cups of one recipe differ, nine times in ten: By is all on one side of 0
}

// A Comparison is that of two cups, or of two handfuls of cups.
type Comparison struct {
	Verdict Verdict
	By      [quantities]Difference
	Reasons []Reason
}

// A Reason is one part of the sentence that explains a verdict. The screen has the
// words; N is the figure that the code speaks of.
type Reason struct {
	Code     string
	Quantity Quantity
	N        float64
}

// Codes of reasons; they never change.
const (
	ReasonBeyond  = "beyond"             // the quantity differs by N, more than cups of one recipe do
	ReasonWithin  = "within"             // the quantity differs by N, no more than cups of one recipe do
	ReasonFreedom = "repeats"            // judged by N degrees of freedom of own repeated brews
	ReasonTooFew  = "not-enough-repeats" // only N degrees of freedom for the quantity
	ReasonUntold  = "not-tasted"         // nothing was tasted on both sides: N is 0
	ReasonUnread  = "not-measured"       // neither time nor TDS is known on both sides, so alike is not certain
	ReasonMethods = "methods-differ"     // one is brewed, one a bowl
)

// once in how many a difference may be called one by mistake.
const mistake = 0.10

// Compare compares cups of one kind with cups of another, by one's own
// repeatability. All cups of a side are of one recipe, coffee and method.
func (o *Own) Compare(first, second []Cup) (Comparison, error) {
	for _, c := range append(first[:len(first):len(first)], second...) {
		if err := c.Check(); err != nil {
			return Comparison{}, err
		}
		if c.Method != o.Method {
			return Comparison{Verdict: OtherMethods, Reasons: []Reason{{Code: ReasonMethods}}}, nil
		}
	}
	var out Comparison
	for q := range quantities {
		out.By[q] = o.difference(values(first, q), values(second, q), q)
	}
	out.holm(o)
	sameCoffee := len(first) > 0 && len(second) > 0 && first[0].Coffee == second[0].Coffee
	out.judge(o, sameCoffee)
	return out, nil
}

func (o *Own) difference(a, b []float64, q Quantity) (out Difference) {
	if len(a) == 0 || len(b) == 0 {
		return out
	}
	out.Known, out.By.Value = true, mean(b)-mean(a)
	out.By.Low, out.By.High = math.Inf(-1), math.Inf(1)
	out.Chance = 1
	freedom := float64(o.sums[q].freedom)
	if out.Enough = freedom >= leastFreedom; !out.Enough {
		return out
	}
	spread := o.deviation(q) * math.Sqrt(1/float64(len(a))+1/float64(len(b)))
	half := chance.TQuantile(1-mistake/2, freedom) * spread
	out.By.Low, out.By.High = out.By.Value-half, out.By.Value+half
	out.Chance = 2 * chance.T(-math.Abs(out.By.Value)/spread, freedom)
	out.Beyond = out.Chance < mistake
	return out
}

// holm corrects the attributes, of which there are several. Intervals are widened
// to the level that each was judged at, so that none leaves 0 out by itself.
func (c *Comparison) holm(own *Own) {
	var tasted []Quantity
	for q := Acid; q < quantities; q++ {
		if c.By[q].Enough {
			tasted = append(tasted, q)
		}
	}
	sort.SliceStable(tasted, func(i, j int) bool { return c.By[tasted[i]].Chance < c.By[tasted[j]].Chance })
	standing, level := true, mistake
	for i, q := range tasted {
		d := &c.By[q]
		if standing {
			level = mistake / float64(len(tasted)-i)
			standing = d.Chance < level
		}
		d.Beyond = standing
		d.By = d.By.at(level, float64(own.sums[q].freedom))
	}
}

// at widens an interval to another level.
func (e Estimate) at(level, freedom float64) Estimate {
	half := (e.High - e.Value) * chance.TQuantile(1-level/2, freedom) / chance.TQuantile(1-mistake/2, freedom)
	return Estimate{e.Value, e.Value - half, e.Value + half}
}

// judge draws the conclusion.
func (c *Comparison) judge(own *Own, sameCoffee bool) {
	tasted, judged := c.count(true)
	switch {
	case tasted == 0:
		c.Reasons = []Reason{{Code: ReasonUntold}}
		return
	case judged == 0:
		c.Reasons = own.lacking(c)
		return
	}
	differ, unlike := c.beyond(true), c.beyond(false)
	switch {
	case len(differ) == 0:
		c.Verdict, c.Reasons = NoDifference, c.largest()
	case len(unlike) > 0:
		c.Verdict, c.Reasons = MayBeBrewing, append(differ, unlike...)
	case sameCoffee:
		c.Verdict, c.Reasons = NotTheCoffee, differ
	default:
		c.Verdict, c.Reasons = CanBeCoffee, differ
	}
	if !c.By[Seconds].Enough && !c.By[TDS].Enough && len(differ) > 0 {
		c.Reasons = append(c.Reasons, Reason{Code: ReasonUnread})
	}
	q := c.Reasons[0].Quantity
	c.Reasons = append(c.Reasons, Reason{ReasonFreedom, q, float64(own.sums[q].freedom)})
}

// count returns how many quantities are known on both sides, and how many can be
// judged.
func (c *Comparison) count(tasted bool) (known, judged int) {
	for q, d := range c.By {
		if Quantity(q).Tasted() == tasted && d.Known {
			known++
			if d.Enough {
				judged++
			}
		}
	}
	return known, judged
}

// beyond names the quantities that differ by more than cups of one recipe do.
func (c *Comparison) beyond(tasted bool) (out []Reason) {
	for q, d := range c.By {
		if Quantity(q).Tasted() == tasted && d.Beyond {
			out = append(out, Reason{ReasonBeyond, Quantity(q), d.By.Value})
		}
	}
	return out
}

// largest names the attribute that differs most for its spread.
func (c *Comparison) largest() []Reason {
	best := Reason{Code: ReasonWithin}
	least := math.Inf(1)
	for q, d := range c.By {
		if Quantity(q).Tasted() && d.Enough && d.Chance < least {
			best.Quantity, best.N, least = Quantity(q), d.By.Value, d.Chance
		}
	}
	return []Reason{best}
}

// lacking names the attribute with most repeats, which are too few.
func (o *Own) lacking(c *Comparison) []Reason {
	best := Reason{Code: ReasonTooFew, N: -1}
	for q, d := range c.By {
		if freedom := float64(o.sums[q].freedom); Quantity(q).Tasted() && d.Known && freedom > best.N {
			best.Quantity, best.N = Quantity(q), freedom
		}
	}
	return []Reason{best}
}
