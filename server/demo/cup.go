package demo

import (
	"hash/fnv"
	"math"
	"strconv"

	"hushcup/pwa/app"
)

// setting is what somebody's hands can change, each as they count it.
type setting struct {
	grind, ratio, kettle, dose float64
	stirs                      int
}

// cup is what comes of a brew.
type cup struct {
	seconds, beverage, tds float64
	balance                []app.BalanceMark
}

// brewed tells what comes of a setting: in the trade's directions, the more the further it is from what this coffee wants, and
// never twice the same. So the demonstration's advice has something to find.
func (p *person) brewed(at setting, coffee, which string) cup {
	finer := (p.ground - at.grind) / p.unit
	ratio, hotter, stirs := at.ratio-p.setup.Ratio, (at.kettle-p.setup.Kettle)/3, float64(at.stirs-usualStirs)
	off := func(what string) float64 { return noise(p.name, coffee, which, what) }
	out := cup{
		tds:      1.33 + 0.055*finer - 0.07*ratio + 0.02*hotter + 0.035*stirs + 0.015*off("tds"),
		seconds:  p.ends() * math.Pow(at.dose/p.setup.Dose, 0.45) * math.Exp(0.118*finer+0.06*ratio+0.02*stirs+0.035*off("time")),
		beverage: at.dose * (at.ratio - 2.1 + 0.04*off("beverage")),
	}
	wants := wanted(coffee)
	strength, extraction := out.tds-wants.tds, out.tds*out.beverage/at.dose-wants.yield
	for _, side := range []struct {
		of                   string
		strength, extraction float64
	}{{"acid", 1.5, -0.2}, {"sweet", -1.5, 0}, {"bitter", 2, 0.2}, {"body", 2.5, 0}, {"finish", 1.5, 0.05}} {
		mark := side.strength*strength + side.extraction*extraction + 0.07*off(side.of)
		out.balance = append(out.balance, app.BalanceMark{Of: side.of, Mark: 50 * int(math.Round(20*math.Tanh(mark)))})
	}
	return out
}

const usualStirs = 3

// ends is how long somebody's recipe takes, s.
func (p *person) ends() float64 {
	if n := len(p.recipe.Steps); n > 0 {
		return p.recipe.Steps[n-1].Until
	}
	return 240
}

// wants is the strength and extraction, in percent, at which a coffee is in agreement.
type wants struct{ tds, yield float64 }

func wanted(coffee string) wants {
	roll := func(what string) float64 { return float64(hash(coffee, what)%100) / 100 }
	return wants{tds: 1.36 + 0.1*roll("strength"), yield: 20.3 + 1.2*roll("yield")}
}

// noise is about normal, and always the same of the same.
func noise(words ...string) (sum float64) {
	for i := range 3 {
		sum += float64(hash(append(words, strconv.Itoa(i))...)%2001)/1000 - 1
	}
	return sum
}

func hash(words ...string) uint32 {
	sum := fnv.New32a()
	for _, w := range words {
		_, _ = sum.Write([]byte(w + "|"))
	}
	return sum.Sum32() >> 4
}
