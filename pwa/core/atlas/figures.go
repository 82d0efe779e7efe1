package atlas

import (
	"strconv"
	"strings"
	"sync"
)

// Figures are the facts about one country, as the facts file gives them.
type Figures struct {
	Country       NodeID
	Arabica       float64  // yearly production, thousand bags of 60 kg
	Canephora     float64  // the same
	Produces      bool     // production was read
	Species       []string // commonest first
	Low, High     float64  // metres where arabica grows
	Quantiles     Quantiles
	Processes     []Count  // declared
	UsualFamilies []NodeID // commonest first
	Varieties     []Count  // declared
	Known         []Count  // percent of the arabica sold by name
	Shares        []Count  // shares among siblings, 1/10,000
}

// Quantiles of the altitude of declared arabica samples, in metres.
type Quantiles struct {
	Samples          int
	P10, Median, P90 float64
}

// A Count says how often a node was met.
type Count struct {
	Node NodeID
	N    int
}

// declared returns how many samples stated their process.
func (f *Figures) declared() int { return total(f.Processes) }

func total(counts []Count) (n int) {
	for _, c := range counts {
		n += c.N
	}
	return n
}

// figures holds the facts by country; they are read once.
var figures = sync.OnceValue(func() map[NodeID]*Figures {
	out := map[NodeID]*Figures{}
	var current *Figures
	for _, line := range lines(countryFacts) {
		words := strings.Fields(line)
		if words[0] == "country" {
			current = &Figures{Country: Origin.Root() + "/" + NodeID(words[1])}
			out[current.Country] = current
			continue
		}
		current.read(words[0], words[1:])
	}
	return out
})

func (f *Figures) read(keyword string, words []string) {
	switch keyword {
	case "bags":
		f.Produces, f.Arabica, f.Canephora = true, number(words[0]), number(words[1])
	case "species":
		f.Species = words
	case "range":
		f.Low, f.High = number(words[0]), number(words[1])
	case "altitude":
		f.Quantiles = Quantiles{int(number(words[0])), number(words[1]), number(words[2]), number(words[3])}
	case "process":
		f.Processes = counts(Process.Root()+"/", words)
	case "usual":
		for _, word := range words {
			f.UsualFamilies = append(f.UsualFamilies, Process.Root()+"/"+NodeID(word))
		}
	case "variety":
		f.Varieties = counts(Variety.Root()+"/", words)
	case "known":
		f.Known = counts(Variety.Root()+"/", words)
	case "share":
		f.Shares = append(f.Shares, counts("", words)...)
	default:
		panic("atlas: unknown keyword " + strconv.Quote(keyword) + " in the facts about countries")
	}
}

// counts reads pairs of a node, below the prefix, and a number.
func counts(prefix NodeID, words []string) []Count {
	var out []Count
	for i := 0; i+1 < len(words); i += 2 {
		out = append(out, Count{prefix + NodeID(words[i]), int(number(words[i+1]))})
	}
	return out
}

func number(word string) float64 {
	x, err := strconv.ParseFloat(word, 64)
	if err != nil {
		panic("atlas: " + strconv.Quote(word) + " in the facts about countries is no number")
	}
	return x
}
