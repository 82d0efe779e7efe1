package sim

import (
	"fmt"

	"hushcup/sync/oplog"
)

var names = []string{"vega", "mira", "lyra", "altair", "rigel", "deneb", "spica", "capella"}

// person has phones, a recovery code perhaps, and writes things.
type person struct {
	name   string
	phones []*Phone
	erased map[docOf]int // the last words when a document was erased
	code   string        // the newest recovery code, kept in a drawer
	link   string        // a pairing link for the next phone
}

// clubhouse is what the people of a world talk about beside the kettle: ids and links that go from mouth to mouth.
type clubhouse struct {
	book    oplog.BookID
	links   []string
	flights []oplog.FlightID
	samples []sealed
}

type sealed struct {
	flight oplog.FlightID
	sample oplog.SampleID
	keeper *person
}

func (w *World) addPerson(name string) *person {
	p := &person{name: name, erased: map[docOf]int{}}
	w.people = append(w.people, p)
	w.addPhone(p).start()
	return p
}

// addPhone gives a person a phone that was never started.
func (w *World) addPhone(of *person) *Phone {
	p := &Phone{w: w, name: fmt.Sprintf("%s-%d", of.name, len(of.phones)+1), person: of, rng: w.rng.fork(), disk: newDisk(),
		online: !w.rng.oneIn(5), debts: debts{acked: map[thing]*writing{}, made: map[oplog.BookID][]made{}},
		misled: map[oplog.BookID]bool{}, warned: map[oplog.BookID]bool{}}
	p.drawClock()
	of.phones = append(of.phones, p)
	w.phones = append(w.phones, p)
	return p
}

// drawClock sets a phone's clock right, a little off, or years off.
func (p *Phone) drawClock() {
	r := &p.w.rng
	const year = 365 * 24 * 3600 * 1000
	switch r.upTo(8) {
	case 0:
		p.w.count("clock years off")
		p.skew = r.between(-10*year, 10*year)
	case 1:
		p.w.count("clock minutes off")
		p.skew = r.between(-600_000, 600_000)
	case 2:
		p.w.count("clock drifts")
		p.drift = r.between(-50, 50)
	case 3:
		if r.oneIn(6) {
			p.w.count("clock at the end of time")
			p.frozen = 1<<48 - 1
		}
	default:
		p.skew, p.drift, p.frozen = r.between(-2000, 2000), 0, 0
	}
}

// awake picks a running phone of anybody's.
func (w *World) awake() *Phone {
	var up []*Phone
	for _, p := range w.phones {
		if p.up() {
			up = append(up, p)
		}
	}
	if len(up) == 0 {
		return nil
	}
	return pick(&w.rng, up)
}
