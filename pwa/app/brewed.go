package app

import (
	"math"

	"hushcup/sync/oplog"
)

func (content *brewContent) outcome() BrewOutcome {
	o := content.Outcome
	out := BrewOutcome{Drawdown: o.Drawdown, Beverage: o.Beverage, TDS: o.TDS, Asked: o.Asked, Slurry: o.Slurry, Bypass: o.Bypass}
	for _, b := range o.Balance {
		out.Balance = append(out.Balance, BalanceMark{Of: b.Of, Mark: b.Mark})
	}
	for _, pour := range o.Pours {
		out.Pours = append(out.Pours, Pour{At: pour.At, Grams: pour.Grams})
	}
	return out
}

// pours are those that count: put right by hand, or as marked.
func (content *brewContent) pours() (out []Pour) {
	if len(content.Outcome.Pours) > 0 {
		return content.outcome().Pours
	}
	begun := -1 // the step whose pour is the last one
	for i, m := range content.Marks {
		switch m.Mark {
		case "bloom", "pour":
			begun = content.ofStep(i)
		case "poured":
			if len(out) > 0 && content.ofStep(i) == begun { // what the scale showed after it
				out[len(out)-1].Grams = m.Grams
				continue
			} // nobody noted its begin
		default:
			continue
		}
		out = append(out, Pour{At: float64(m.At) / 1000, Grams: m.Grams})
	}
	return out
}

// drawdown is the time that counts, in seconds from the start: put right by hand, or as marked; 0 when nobody knows.
func (content *brewContent) drawdown() float64 {
	if content.Outcome.Drawdown > 0 {
		return content.Outcome.Drawdown
	}
	for i := len(content.Marks) - 1; i >= 0; i-- {
		if content.Marks[i].Mark == "end" {
			return math.Round(float64(content.Marks[i].At)/100) / 10
		}
	}
	return 0
}

func (content *brewContent) digest(book oplog.BookID, doc oplog.DocID, sample oplog.SampleID, code int) BrewDigest {
	d := BrewDigest{
		Book: book.String(), Brew: doc.String(), Code: code, Coffee: content.Setup.Coffee, Began: content.Began,
		State: stateWord(content.State), Method: content.Setup.Method, Dose: content.Setup.Dose, Scoops: content.Setup.Scoops, Water: content.Setup.Water,
		Grind: content.Setup.Grind, Drawdown: content.drawdown(), TDS: content.Outcome.TDS,
		Brewer: content.Setup.Brewer, Recipe: content.Setup.Recipe, Table: content.Table, Bowl: content.Bowl, Abandoned: content.Abandoned,
	}
	if y := content.yield(); y != nil {
		d.Yield = y.Value
	}
	if sample != (oplog.SampleID{}) {
		d.Sample = sample.String()
	}
	if d.Began == 0 {
		d.Began = content.Created
	}
	return d
}
