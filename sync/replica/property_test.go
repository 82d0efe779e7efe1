package replica_test

import (
	"fmt"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"

	"pgregory.net/rapid"
)

// Whatever two phones write, while lines break and apps crash in the middle of writes: at rest all hold the same, and every part shows the last revision that its phone called saved.
func TestAnyEveningConverges_REPLICA_2_REPLICA_4(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(t)
		vega, mira := w.phone("vega"), w.phone("mira")
		book := w.found(vega, mira)
		phones := []*phone{vega, mira}
		type part struct {
			p   *phone
			doc byte
		}
		type owed struct {
			at     part
			number int
		}
		said := map[part]int{}    // number of the newest revision
		durable := map[part]int{} // number of the newest one that was called saved
		tickets := map[*phone]map[replica.Ticket]owed{vega: {}, mira: {}}
		note := func() {
			for p, waiting := range tickets {
				for ticket, o := range waiting {
					if p.saved[ticket] {
						durable[o.at] = max(durable[o.at], o.number)
					}
				}
			}
		}
		for range rapid.IntRange(5, 40).Draw(rt, "steps") {
			p := phones[rapid.IntRange(0, 1).Draw(rt, "phone")]
			switch rapid.IntRange(0, 7).Draw(rt, "what") {
			case 0, 1, 2:
				at := part{p, byte(rapid.IntRange(1, 4).Draw(rt, "doc"))}
				said[at]++
				ticket := p.put(book, at.doc, 1, replica.UnderEpoch, fmt.Sprint(said[at]))
				tickets[p][ticket] = owed{at, said[at]}
			case 3:
				w.rest()
			case 4:
				w.pass(int64(rapid.IntRange(0, 3000).Draw(rt, "ms")))
			case 5:
				p.goOffline()
			case 6:
				p.goOnline()
			case 7:
				note()
				clear(tickets[p]) // they are of one life of the app
				p.crash(rapid.IntRange(0, 1).Draw(rt, "kept"))
			}
			note()
		}
		for _, p := range phones {
			p.goOnline()
		}
		w.pass(60_000)
		note()
		w.same(book, vega, mira)
		w.quiet(vega, mira)
		for at, number := range durable {
			for _, p := range phones {
				got, status, _ := p.body(book, at.p.me(book), oplog.DocID{at.doc}, 1)
				var shown int
				if _, err := fmt.Sscan(got, &shown); err != nil || shown < number {
					rt.Fatalf("%s shows %q (%v) of what %s had saved as %d", p.name, got, status, at.p.name, number)
				}
			}
		}
	})
}
