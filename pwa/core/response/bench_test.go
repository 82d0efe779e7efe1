package response

import "testing"

// BenchmarkGuided prints how many brews the proposals need until a recipe near
// agreement is recommended, and how many in a hundred tasters got there in 5 and
// in 10.
func BenchmarkGuided(b *testing.B) {
	var t tally
	for b.Loop() {
		t = race(200, 20, 0.14, func() search { return &guided{} })
	}
	report(b, t)
}

// BenchmarkInTurn prints the same for changing variables in turn, by the step that
// serves it best.
func BenchmarkInTurn(b *testing.B) {
	var t tally
	for b.Loop() {
		t = race(200, 20, 0.14, func() search { return newInTurn(1.5, false) })
	}
	report(b, t)
}

func report(b *testing.B, t tally) {
	b.ReportMetric(t.mean(), "brews")
	b.ReportMetric(100*t.within(5), "%-within-5")
	b.ReportMetric(100*t.within(10), "%-within-10")
}

// BenchmarkIntervals prints how many in a hundred 90 % intervals held.
func BenchmarkIntervals(b *testing.B) {
	var r reckoning
	for b.Loop() {
		r = reckon(200, 8, 0.14)
	}
	b.ReportMetric(100*r.readings.part(), "%-readings-held")
	b.ReportMetric(100*r.changes.part(), "%-changes-held")
	b.ReportMetric(100*r.better.part(), "%-came-nearer")
	b.ReportMetric(100*r.claimed/float64(r.better.of), "%-claimed")
}

// BenchmarkPropose is one proposal from the most cups that count.
func BenchmarkPropose(b *testing.B) {
	ta := newTaster(1, 0.14)
	var cups []Cup
	for i := range mostCups {
		c := ta.taste("417", kitchen.reach(usual, Variable(i%4), float64(i%7-3)))
		c.TDS, c.EY, c.Seconds = Read(0.0135), Read(0.2), Read(180)
		cups = append(cups, c)
	}
	for b.Loop() {
		m, err := New(kitchen, cups)
		if err != nil {
			b.Fatal(err)
		}
		m.Propose("417")
	}
}
