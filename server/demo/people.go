package demo

import (
	"hash/fnv"
	"strings"

	"hushcup/pwa/app"
)

// habits are how somebody brews, and how well they read coffee.
type habits struct {
	name   string
	setup  app.BrewSetup
	ground float64 // where the grinder usually stands, on its own scale
	unit   float64 // how far on it an eighth more time is; finer is lower
	meter  bool    // has a refractometer and weighs the cup
	dry    bool    // makes the ten-second guess

	eye    int // of ten cups, how often the country is near
	nose   int // of ten cups, how often the process is right
	bold   int // how sure they are of it, in percent
	muddle map[string]string
}

// cast is the club. Water boils at about 92 degrees at the observatory, so nobody's kettle is hotter.
var cast = []habits{
	{name: "Vega", setup: drip("cone, 60 degrees, spiral ribs", 15, 16.5, 92, "conical, 40 clicks a turn", "22"), ground: 22, unit: 2, meter: true, dry: true,
		eye: 7, nose: 8, bold: 60},
	{name: "Mira", setup: drip("flat bed, three holes", 14, 16, 91, "flat, 30 numbers", "14.5"), ground: 14.5, unit: 1, dry: true,
		eye: 6, nose: 9, bold: 75},
	{name: "Lyra", setup: steep("steep and drain, cone", 13, 16, 92, "conical, 60 clicks a turn", "30"), ground: 30, unit: 3,
		eye: 5, nose: 6, bold: 40, muddle: map[string]string{"colombia": "guatemala"}},
	{name: "Altair", setup: drip("cone, 60 degrees, straight ribs", 16, 15.5, 90, "conical, 24 clicks a turn", "1+2"), ground: 26, unit: 2, dry: true,
		eye: 7, nose: 7, bold: 70, muddle: map[string]string{"kenya": "ethiopia"}},
	{name: "Rigel", setup: steep("glass press", 18, 15, 92, "blades, counted to twenty", "20 s"), unit: 1,
		eye: 3, nose: 4, bold: 45},
	{name: "Deneb", setup: drip("flat bed, one hole", 12, 16, 91, "conical, 36 clicks a turn", "19"), ground: 19, unit: 2, meter: true,
		eye: 6, nose: 6, bold: 55, muddle: map[string]string{"guatemala": "colombia"}},
}

func drip(brewer string, dose, ratio, kettle float64, grinder, grind string) app.BrewSetup {
	return app.BrewSetup{Method: "drip", Brewer: brewer, Dose: dose, Ratio: ratio, Kettle: kettle, Grinder: grinder, Grind: grind, Filter: "paper, rinsed"}
}

func steep(brewer string, dose, ratio, kettle float64, grinder, grind string) app.BrewSetup {
	s := drip(brewer, dose, ratio, kettle, grinder, grind)
	s.Method, s.Filter = "steep", ""
	return s
}

// roll gives the same number from 0 to 9 for the same person, lot and question.
func (h *habits) roll(l lot, question string) int {
	sum := fnv.New32a()
	_, _ = sum.Write([]byte(h.name + "|" + l.name + "|" + question))
	return int(sum.Sum32()>>8) % 10
}

func (h *habits) skips(l lot) bool { return h.roll(l, "time") == 0 }

// late says that somebody tasted and never came to say what they think.
func (h *habits) late(l lot) bool { return h.name == "Deneb" && l.last }

// thinks is what somebody says about a lot. Before brewing they see and smell only, and dare less.
func (h *habits) thinks(l lot, dry bool) []app.SaidFacet {
	bold, daring := h.bold, "after"
	if dry {
		bold, daring = h.bold/2+5, "before"
	}
	process := l.process
	if h.roll(l, "process "+daring) >= h.nose {
		process = mistaken(process)
	}
	said := []app.SaidFacet{facet("process", "process/"+firstOf(process), bold+5*h.roll(l, "p")/3)}
	country := h.country(l, daring)
	if dry {
		country = area(country)
	}
	said = append(said, facet("origin", "origin/"+country, bold-5+5*h.roll(l, "o")/3))
	if l.decaf != "" || h.roll(l, "d") > 6 {
		said = append(said, h.caffeine(l))
	}
	return said
}

func (h *habits) country(l lot, daring string) string {
	parts := strings.Split(l.origin, "/")
	country := strings.Join(parts[:2], "/")
	if other, muddled := h.muddle[parts[1]]; muddled {
		return countries[other]
	}
	switch roll := h.roll(l, "country "+daring); {
	case roll < h.eye-2:
		return country
	case roll < h.eye:
		return area(country)
	}
	return neighbour(country)
}

func (h *habits) caffeine(l lot) app.SaidFacet {
	if l.decaf != "" && h.roll(l, "caffeine") < h.nose {
		return facet("decaf", "decaf/yes", 55)
	}
	return facet("decaf", "decaf/no", 97)
}

func facet(name, node string, percent int) app.SaidFacet {
	return app.SaidFacet{Facet: name, Said: []app.Said{{Node: node, Share: min(max(percent, 5), 98) * 100}}}
}

func firstOf(path string) string { first, _, _ := strings.Cut(path, "/"); return first }

func area(country string) string { return firstOf(country) }

// mistaken is the process that one takes another for.
func mistaken(process string) string {
	switch firstOf(process) {
	case "washed":
		return "honey"
	case "natural":
		return "honey"
	}
	return "washed"
}

// words are what somebody writes beside the cup.
func (h *habits) words(l lot) string {
	var out []string
	for i, word := range l.tastes {
		if h.roll(l, word) < 6 || i == 0 {
			out = append(out, word)
		}
	}
	return strings.Join(out, ", ")
}
