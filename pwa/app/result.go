package app

import (
	"sort"
	"strings"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/score"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

func (a *App) lookResult(params SampleParams) (ResultView, *Error) {
	c, s, f, err := a.sample(params.Club, params.Sample)
	if err != nil {
		return ResultView{}, err
	}
	words, _ := a.flightWords(&c, f.ID)
	v := ResultView{
		Club: c.ID.String(), Flight: f.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title,
		ClosedHow: a.closedHow(f, s), Opened: s.UnsealedAt, Standing: c.bookStatus(),
	}
	kept, asks := a.keeping(&c, s, a.guessState(&c, s))
	switch {
	case s.UnsealedPos == 0 && c.away():
		v.State = "away"
	case s.UnsealedPos == 0:
		v.State = "sealed"
	case kept:
		v.State = "kept"
	case asks:
		v.State = "asks"
	default:
		o := a.opening(&c, f, s)
		v.State = o.status
		a.fillResult(&v, &o)
	}
	return v, nil
}

func (a *App) fillResult(v *ResultView, o *opening) {
	if o.status != "open" {
		return
	}
	answer := o.answer.answer()
	v.Answer = &answer
	people := a.people(o)
	var joints []*atlas.Joint
	for i := range people {
		p := &people[i]
		v.Table = append(v.Table, a.tableLine(o, p))
		if p.Status == "scored" {
			joints = append(joints, p.Joint)
		}
		if p.Member == o.club.Member {
			v.mine(o, p)
		}
	}
	sortTable(v.Table)
	v.Truth = o.answer.truthNodes(func(f atlas.Facet) bool { return scoredFacet(o, f) })
	v.pool(o, joints)
	if first, ok := a.firstImpression(o, o.club.Member); ok {
		factor := factorOfBits(int(first.Result.Total))
		v.First = &factor
	}
	v.Brews = a.tableBrews(o)
	v.Noticed = a.tableNoticed(o)
}

// scoredFacet says whether a facet of the answer is scored in this flight.
func scoredFacet(o *opening, f atlas.Facet) bool {
	if o.pinned.Status != "yes" {
		return false
	}
	nobody := score.Score(o.pinned.Rules, o.pinned.Joint, o.pinned.Joint, o.answer.truth())
	return nobody.Unscored[f] == score.Scored
}

// people scores everybody: who is in, and who guessed and left.
func (a *App) people(o *opening) (out []scored) {
	for _, m := range o.club.Ordered.Members() {
		p := a.person(o, m.ID)
		if m.In() || p.Status != "none" {
			out = append(out, p)
		}
	}
	return out
}

func (a *App) tableLine(o *opening, p *scored) TableLine {
	line := TableLine{
		Member: p.Member.String(), Name: a.name(o.club, p.Member), Me: p.Member == o.club.Member, Status: p.Status,
	}
	if p.Joint != nil && p.Status == "scored" {
		factor := factorOfBits(int(p.Result.Total))
		line.Score = &factor
	}
	if p.Joint != nil {
		line.Top = topNodes(o, p)
	}
	return line
}

// sortTable puts the nearest first, then the late ones, then those without a score; equal ones stay as they came in.
func sortTable(lines []TableLine) {
	rank := map[string]int{"scored": 0, "late": 1, "reading": 2, "unstated": 3, "unreadable": 4, "holder": 5, "none": 6}
	sort.SliceStable(lines, func(i, j int) bool {
		x, y := &lines[i], &lines[j]
		if x.Status != y.Status {
			return rank[x.Status] < rank[y.Status]
		}
		return x.Score != nil && y.Score != nil && x.Score.Bits > y.Score.Bits
	})
}

// topNodes are what somebody thought likeliest, for each facet about which they said something: the deepest node that they
// gave at least half of what its parent has.
func topNodes(o *opening, p *scored) (out []TopNode) {
	truth := o.answer.truth()
	for f := range atlas.Facets {
		if len(p.Belief.Of(f)) == 0 {
			continue
		}
		tree := o.pinned.Prior.Atlas().Tree(f)
		at, share := likeliest(tree, p.Joint.Marginal(f))
		node := tree.At(at)
		out = append(out, TopNode{
			Facet: f.String(), Node: string(node.ID), Name: node.Label,
			Share: exact.Round(share * atlas.Whole), Right: isTrue(truth, node.ID),
		})
	}
	return out
}

// likeliest walks down from the root to the likeliest child, as long as that child has at least half of everything: a finer
// name would be put into the mouth of somebody who did not say it.
func likeliest(tree *atlas.Tree, mass []float64) (at int, share float64) {
	for {
		best, most := -1, 0.0
		for child := range tree.Children(at) {
			if mass[child] > most {
				best, most = child, mass[child]
			}
		}
		if best < 0 || at != 0 && most < mass[0]/2 {
			return at, mass[at]
		}
		at = best
	}
}

// isTrue says whether the truth lies under a node, or the node under what is stated.
func isTrue(truth score.Truth, node atlas.NodeID) bool {
	for _, fact := range truth {
		for _, stated := range fact.Nodes {
			if stated.Under(node) || node.Under(stated) {
				return true
			}
		}
	}
	return false
}

// mine fills in how this person did, level by level.
func (v *ResultView) mine(o *opening, p *scored) {
	if p.Status != "scored" && p.Status != "late" {
		return
	}
	factor := factorOfBits(int(p.Result.Total))
	v.Mine = &factor
	for _, step := range p.Result.InTellingOrder() {
		v.Lines = append(v.Lines, ResultLine{
			Facet: step.Facet.String(), Level: step.Level, Node: firstNode(step.Truth), Name: nodeNames(step.Truth),
			Right: step.Right(), Mine: step.Gave, Before: step.Before, Factor: factorOfBits(int(step.Bits)),
		})
	}
	regret, ok := score.Costliest(o.pinned.Rules, o.pinned.Prior, p.Belief, o.answer.truth(), p.Result)
	if !ok {
		return
	}
	v.Cost = &ResultCost{
		Facet: regret.Step.Facet.String(), Node: string(regret.Node), Share: regret.Said,
		Cost: factorOfBits(int(regret.Step.Bits)), Better: regret.Instead, Less: factorOfBits(int(regret.Bits)),
	}
	if regret.Node != "" {
		v.Cost.Name = nodeName(regret.Node)
	}
}

func firstNode(nodes []atlas.NodeID) string {
	if len(nodes) == 0 {
		return ""
	}
	return string(nodes[0])
}

func nodeNames(nodes []atlas.NodeID) string {
	labels := make([]string, len(nodes))
	for i, node := range nodes {
		labels[i] = nodeName(node)
	}
	return strings.Join(labels, ", ")
}

// pool fills in what the table knows together, from the guesses that score.
func (v *ResultView) pool(o *opening, joints []*atlas.Joint) {
	if len(joints) == 0 || o.pinned.Status != "yes" {
		return
	}
	together := score.Score(o.pinned.Rules, o.pinned.Joint, score.Linear(joints), o.answer.truth())
	factor := factorOfBits(int(together.Total))
	v.Together = &factor
	for f := range atlas.Facets {
		if o.pinned.Rules.Asks(f) {
			v.Pool = append(v.Pool, poolQuestion(o, joints, f))
		}
	}
}

// poolQuestion is a facet's tree with the mean of all beliefs, and how many held a node to be the likeliest of its level.
func poolQuestion(o *opening, joints []*atlas.Joint, f atlas.Facet) GuessQuestion {
	q := GuessQuestion{Facet: f.String(), Asked: true, Ordered: f.Ordered()}
	tree := o.pinned.Prior.Atlas().Tree(f)
	before := o.pinned.Joint.Marginal(f)
	think, named := make([]float64, tree.Len()), make([]int, tree.Len())
	for _, joint := range joints {
		mass := joint.Marginal(f)
		for i := range think {
			think[i] += mass[i]
		}
		top, _ := likeliest(tree, mass)
		for at := top; at > 0; at = tree.Parent(at) {
			named[at]++
		}
	}
	for i := 1; i < tree.Len(); i++ {
		node := tree.At(i)
		if !o.pinned.Prior.Allows(node.ID) {
			continue
		}
		q.Nodes = append(q.Nodes, GuessNode{
			Node: string(node.ID), Name: node.Label, Parent: parentOf(node.ID), Depth: node.ID.Depth() - 1, Leaf: tree.IsLeaf(i),
			Before: exact.Round(before[i] * atlas.Whole),
			Think:  exact.Round(think[i] / float64(len(joints)) * atlas.Whole), Said: named[i],
		})
	}
	return q
}

// tableBrews are everybody's brews of an opened sample, in the order of the members.
func (a *App) tableBrews(o *opening) (out []TableBrew) {
	a.replica.Docs(o.club.ID, func(part replica.DocPart) bool {
		if part.Part != partBrew || part.Erased || part.Sample == nil || *part.Sample != o.sample.Body.ID {
			return true
		}
		var content brewContent
		plain, status := a.body(o.club.ID, part)
		if decodePart(plain, status, &content) != replica.BodyReady || content.State == brewGone {
			return true
		}
		out = append(out, TableBrew{
			Member: part.Member.String(), Name: a.name(o.club, part.Member),
			Brew:  content.digest(o.club.ID, part.Doc, o.sample.Body.ID, int(o.sample.Body.Code)),
			Notes: a.brewNotes(o.club.ID, part.Member, part.Doc),
		})
		return true
	})
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Member != out[j].Member {
			return out[i].Member < out[j].Member
		}
		return out[i].Brew.Began < out[j].Brew.Began
	})
	return out
}

func (a *App) brewNotes(book oplog.BookID, member oplog.MemberID, doc oplog.DocID) string {
	var notes notesContent
	plain, status := a.readPlain(book, replica.DocKey{Member: member, Doc: doc, Part: partBrewNotes})
	if status == replica.BodyReady && codec.UnmarshalOpen(plain, &notes) != nil {
		return ""
	}
	return notes.Notes
}
