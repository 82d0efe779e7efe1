package grinder

import (
	"math"
	"sort"

	"hushcup/pwa/core/chance"
)

// A Brew is what one brew says about its grinder.
type Brew struct {
	Grinder  string // an id
	Brewer   string // an id
	Position Position
	Dose     float64 // grams
	Exponent float64 // of the dose in this brewer, as package scaling has it
	Seconds  float64
}

// Check refuses what cannot be.
func (b Brew) Check() error {
	switch {
	case !finite(float64(b.Position)):
		return badNumber("setting", float64(b.Position))
	case !(b.Dose > 0 && b.Dose <= 5000):
		return badNumber("dose", b.Dose)
	case !(math.Abs(b.Exponent) <= 5):
		return badNumber("exponent", b.Exponent)
	case !(b.Seconds > 0 && b.Seconds <= 2*24*3600):
		return badNumber("seconds", b.Seconds)
	}
	return nil
}

// A Place is where a setting is used.
type Place struct {
	Grinder, Brewer string
	Dose            float64 // grams
}

// A Curve is log(time) over the position of one grinder in one brewer at one dose.
type Curve struct {
	slope, slopeError float64 // infinite error when unknown
	middle            float64 // the position where the level stands
	level, levelError float64
	noise, freedom    float64
	low, high         float64 // the positions brewed at
	brews             int     // all of the grinder's
	here              int     // of those, in the place's brewer
	known             bool    // whether there is a level at all
	otherDoses        bool
}

// Our own estimates.
const (
	usualNoise   = 0.08
	noiseFreedom = 4
	mostBrews    = 60   // the newest of a grinder
	otherDose    = 0.25 // in log: doses further off lean on their exponent
)

// Fit learns the curve of a place from a person's brews, oldest first. It refuses a
// brew that cannot be.
func Fit(brews []Brew, at Place) (*Curve, error) {
	if !(at.Dose > 0 && at.Dose <= 5000) {
		return nil, badNumber("dose", at.Dose)
	}
	var used []Brew
	for _, b := range brews {
		if err := b.Check(); err != nil {
			return nil, err
		}
		if b.Grinder == at.Grinder {
			used = append(used, b)
		}
	}
	if extra := len(used) - mostBrews; extra > 0 {
		used = used[extra:]
	}
	c := &Curve{slopeError: math.Inf(1), noise: usualNoise, freedom: noiseFreedom, brews: len(used)}
	points := c.points(used, at)
	c.fitSlope(points)
	c.fitNoise(points)
	c.fitLevel(points, at.Brewer)
	return c, nil
}

// points brings all times to the place's dose.
func (c *Curve) points(used []Brew, at Place) (out []point) {
	c.low, c.high = math.Inf(1), math.Inf(-1)
	for _, b := range used {
		dose := math.Log(at.Dose / b.Dose)
		out = append(out, point{float64(b.Position), math.Log(b.Seconds) + b.Exponent*dose, b.Brewer})
		c.low, c.high = math.Min(c.low, float64(b.Position)), math.Max(c.high, float64(b.Position))
		c.otherDoses = c.otherDoses || math.Abs(dose) > otherDose
	}
	return out
}

func (c *Curve) fitSlope(points []point) {
	sorted := slopes(points)
	if len(sorted) == 0 {
		return
	}
	c.slope = median(sorted)
	low, high := interval(points, sorted)
	c.slopeError = (high - low) / (2 * chance.NormalQuantile(0.95))
}

// fitNoise takes each group's residuals around its own median.
func (c *Curve) fitNoise(points []point) {
	var residuals []float64
	groups := 0
	for i, p := range points {
		if first(points[:i], p.group) {
			own := c.residuals(points, p.group)
			middle := median(own)
			for _, r := range own {
				residuals = append(residuals, r-middle)
			}
			groups++
		}
	}
	free := float64(len(residuals) - groups - 1)
	if free < 1 {
		return
	}
	// A slope and a median per group have been taken out of the residuals.
	s := deviation(residuals) * math.Sqrt(float64(len(residuals))/(float64(len(residuals))-1))
	c.noise = math.Sqrt((noiseFreedom*usualNoise*usualNoise + free*s*s) / (noiseFreedom + free))
	c.freedom = noiseFreedom + free
}

func first(before []point, group string) bool {
	for _, p := range before {
		if p.group == group {
			return false
		}
	}
	return true
}

// residuals of a group from the line through position 0, ascending.
func (c *Curve) residuals(points []point, group string) (out []float64) {
	for _, p := range points {
		if p.group == group {
			out = append(out, p.y-c.slope*p.x)
		}
	}
	sort.Float64s(out)
	return out
}

// fitLevel places the line at the middle of the brewer's positions, where the
// slope's error does not matter.
func (c *Curve) fitLevel(points []point, brewer string) {
	own := c.residuals(points, brewer)
	if c.here = len(own); c.here == 0 {
		return
	}
	var positions []float64
	for _, p := range points {
		if p.group == brewer {
			positions = append(positions, p.x)
		}
	}
	sort.Float64s(positions)
	c.known, c.middle = true, median(positions)
	c.level = median(own) + c.slope*c.middle
	c.levelError = math.Sqrt(medianLoss(c.here)/float64(c.here)) * c.noise
}

// medianLoss is how much more a median varies than a mean: pi/2 for many values,
// nothing for one or two.
func medianLoss(n int) float64 {
	if n <= 2 {
		return 1
	}
	return math.Pi / 2
}
