package app

import (
	"hushcup/pwa/core/evening"
)

const (
	eveningTime = 18 * hour
	mostTrials  = 60
)

// lookTrials is the tree of the trials of one coffee around a brew.
func (a *App) lookTrials(params BrewParams) (v TrialsView, refusal *Error) {
	asked, _, err := a.ownEntry(params)
	if err == errReading {
		return v, nil
	}
	if err != nil {
		return v, err
	}
	brews, ready := a.evening(asked)
	setups, read := a.setups(brews)
	v.Ready = ready && read
	if v.Ready {
		v.Rows = trialRows(brews, setups)
	}
	return v, nil
}

// evening are the brews of a coffee within an evening of one of them, oldest first, the nearest when there are very many.
func (a *App) evening(asked *entry) (oldest []*entry, ready bool) {
	middle := when(asked)
	found, ready := a.between(middle-eveningTime, middle+eveningTime, func(e *entry) bool {
		return e.Facts.Coffee == asked.Facts.Coffee && e.Facts.Bowl == asked.Facts.Bowl
	})
	return reversed(found[:min(len(found), mostTrials)]), ready
}

// setups are those of some brews; false while one is still being read.
func (a *App) setups(brews []*entry) (out []trialSetup, ready bool) {
	ready = true
	for _, e := range brews {
		b, err := a.brew(e.params().Book, e.params().Brew)
		if err != nil {
			ready = ready && err != errReading
		}
		out = append(out, trialOf(e, b.content.Setup.setup()))
	}
	return out, ready
}

func trialRows(brews []*entry, setups []trialSetup) (rows []Trial) {
	trials := make([]evening.Trial, len(brews))
	for i, e := range brews {
		trials[i] = evening.Trial{ID: e.Doc.String(), At: when(e)}
		if e.Facts.Parent != ([16]byte{}) {
			trials[i].Parent = e.Facts.Parent.String()
		}
	}
	nodes, err := evening.Grow(trials, evening.Usual())
	if err != nil { // a circle of parents: told in order of time
		for i := range trials {
			trials[i].Parent = ""
		}
		nodes, _ = evening.Grow(trials, evening.Usual())
	}
	for _, n := range nodes {
		e := brews[n.Trial]
		row := Trial{
			Brew: e.Digest, Parent: n.Parent, Lane: n.Lane, Depth: n.Depth, Balance: e.Facts.marks(), Yield: e.Facts.yield(), Orphan: n.Orphan,
		}
		if n.Parent >= 0 {
			row.Since = changesBetween(&setups[nodes[n.Parent].Trial], &setups[n.Trial])
		}
		rows = append(rows, row)
	}
	return rows
}
