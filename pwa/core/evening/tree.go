package evening

import "sort"

// A Trial is one brew of the evening.
type Trial struct {
	ID     string
	Parent string // "" for none
	At     int64  // when it began; only its order counts
	Setup  Setup
}

// A Node is a trial in its tree, as it is drawn: rows from the top, a lane to the
// right for every branch.
type Node struct {
	Trial    int // counted as given to Grow
	Parent   int // the row of the parent, -1 for none
	Children []int
	Depth    int // how many changes away from the first
	Lane     int
	Orphan   bool       // its parent is not among the trials
	Since    Difference // from its parent; nothing for a first trial
}

// Grow arranges trials in rows: every first trial in order of time, each followed
// by its branches. The first child goes on in its parent's lane, later ones open a
// lane of their own. It refuses setups that cannot be, two trials with one id and
// circles.
func Grow(trials []Trial, within Tolerances) ([]Node, error) {
	at := map[string]int{}
	for i, t := range trials {
		if _, ok := at[t.ID]; ok {
			return nil, &Error{CodeTwice, "id", t.ID}
		}
		if err := t.Setup.Check(); err != nil {
			return nil, err
		}
		at[t.ID] = i
	}
	g := grower{trials: trials, within: within, children: map[int][]int{}}
	for i, t := range trials {
		parent, ok := at[t.Parent]
		if t.Parent == "" || !ok {
			parent = none
		}
		g.children[parent] = append(g.children[parent], i)
	}
	for _, siblings := range g.children {
		g.sort(siblings)
	}
	for _, first := range g.children[none] {
		g.grow(first, none, 0, g.lane())
	}
	if len(g.rows) < len(trials) {
		return nil, &Error{CodeCircle, "parent", g.circle()}
	}
	return g.rows, nil
}

const none = -1

type grower struct {
	trials   []Trial
	within   Tolerances
	children map[int][]int
	rows     []Node
	lanes    int
}

// sort orders trials by time, then id.
func (g *grower) sort(trials []int) {
	sort.Slice(trials, func(i, j int) bool {
		a, b := g.trials[trials[i]], g.trials[trials[j]]
		if a.At != b.At {
			return a.At < b.At
		}
		return a.ID < b.ID
	})
}

// lane opens a lane.
func (g *grower) lane() int {
	g.lanes++
	return g.lanes - 1
}

// grow places a trial and all below it. An evening is short, so the depth of the
// recursion is that of a few dozen brews.
func (g *grower) grow(trial, parent, depth, lane int) {
	row := len(g.rows)
	t := g.trials[trial]
	node := Node{Trial: trial, Parent: parent, Depth: depth, Lane: lane, Orphan: t.Parent != "" && parent == none}
	if parent != none {
		node.Since = compare(g.trials[g.rows[parent].Trial].Setup, t.Setup, g.within)
		g.rows[parent].Children = append(g.rows[parent].Children, row)
	}
	g.rows = append(g.rows, node)
	for i, child := range g.children[trial] {
		if i > 0 {
			lane = g.lane()
		}
		g.grow(child, row, depth+1, lane)
	}
}

// circle names the earliest trial that no first trial leads to.
func (g *grower) circle() string {
	placed := make([]bool, len(g.trials))
	for _, n := range g.rows {
		placed[n.Trial] = true
	}
	var left []int
	for i := range g.trials {
		if !placed[i] {
			left = append(left, i)
		}
	}
	g.sort(left)
	return g.trials[left[0]].ID
}

// A Pair is two trials, the earlier first, of which one thing differs.
type Pair struct {
	First, Second int // counted as given
	Since         Difference
}

// Readable finds all pairs of trials between which exactly one thing changed,
// whether or not one is the other's parent: from these a cause can be read. It
// refuses setups that cannot be.
func Readable(trials []Trial, within Tolerances) (out []Pair, err error) {
	order := make([]int, len(trials))
	for i, t := range trials {
		if err := t.Setup.Check(); err != nil {
			return nil, err
		}
		order[i] = i
	}
	g := grower{trials: trials}
	g.sort(order)
	for i, second := range order {
		for _, first := range order[:i] {
			since := compare(trials[first].Setup, trials[second].Setup, within)
			if since.Verdict == OneChange && !since.Mixed {
				out = append(out, Pair{first, second, since})
			}
		}
	}
	return out, nil
}

// Closest finds the trial that a setup is most likely a change of: the one with the
// fewest changes, the latest of equals, of the same coffee if there is any. It
// returns -1 for no trials, and refuses a setup that cannot be.
func Closest(trials []Trial, setup Setup, within Tolerances) (int, error) {
	if err := setup.Check(); err != nil {
		return none, err
	}
	best, least, latest := none, 0, int64(0)
	for i, t := range trials {
		if err := t.Setup.Check(); err != nil {
			return none, err
		}
		changes := len(compare(t.Setup, setup, within).Changes)
		if t.Setup.Coffee != setup.Coffee {
			changes += int(fields) * mostSteps
		}
		if best == none || changes < least || changes == least && t.At >= latest {
			best, least, latest = i, changes, t.At
		}
	}
	return best, nil
}
