package app

import (
	"slices"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// saveGuess keeps a guess: the one that scores, which may be revised, or the first one, written once.
func (a *App) saveGuess(args GuessSave) *Error {
	c, s, f, err := a.sample(args.Club, args.Sample)
	if err != nil {
		return err
	}
	if err := a.checkGuess(&c, f, s, args.First); err != nil {
		return err
	}
	belief, err := a.parseBelief(&c, f, args.Facets)
	if err != nil {
		return err
	}
	content := guessContent{}
	for _, m := range belief {
		content.Said = append(content.Said, saidContent{Node: string(m.Node), Share: uint16(m.Share)})
	}
	if len(codec.MustMarshal(content)) > seal.MaxUniform-200 {
		return &Error{Code: CodeTooMany, Field: "facets", Text: "this is more than a guess can hold"}
	}
	part := partGuess
	if args.First {
		part = partFirstGuess
	}
	return a.write(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), part, replica.UnderEnvelope(s.Body.ID), content)
}

func (a *App) checkGuess(c *clubBook, f club.FlightInfo, s club.SampleInfo, first bool) *Error {
	g := a.guessState(c, s)
	switch {
	case !c.in():
		return notAllowed("you are not in this club")
	case g.Holder:
		return notAllowed("you know the answer of this sample")
	case s.UnsealedPos != 0 && !a.unseen(c, s, g):
		return &Error{Code: "already-open", Text: "it is open"}
	case first && g.First:
		return &Error{Code: CodeAlready, Text: "a first guess is written once"}
	case first && a.sampleState(f, s) != "open":
		return &Error{Code: "sample-closed", Text: "it is closed"}
	}
	return nil
}

// unseen says that an opened sample is still closed for this person, who may say what they think: late, and theirs to compare.
func (a *App) unseen(c *clubBook, s club.SampleInfo, g GuessState) bool {
	kept, asks := a.keeping(c, s, g)
	return kept || asks
}

// parseBelief checks what was said against the flight's prior. Of a flight whose prior is not here yet only the atlas is
// asked: the guess is kept, and what it is worth shows later.
func (a *App) parseBelief(c *clubBook, f club.FlightInfo, facets []SaidFacet) (guess.Belief, *Error) {
	var belief guess.Belief
	for i, facet := range facets {
		for j, said := range facet.Said {
			node := atlas.NodeID(said.Node)
			if of, err := node.Facet(); err != nil || of.String() != facet.Facet {
				return nil, unknown("facets." + decimal(i) + ".said." + decimal(j) + ".node")
			}
			belief = append(belief, guess.Mass{Node: node, Share: said.Share})
		}
	}
	if len(belief) == 0 {
		return nil, refuse(CodeRequired, "facets", "say something about at least one question")
	}
	belief = belief.Canonical()
	prior := a.pinned(c, f).Prior
	switch {
	case prior == nil && a.watches.reading:
		return nil, errReading
	case prior == nil:
		prior = atlas.Builtin().Prior()
	}
	if problems := guess.Check(prior, belief); len(problems) > 0 {
		return nil, withField(asError(problems[0]), fieldOf(facets, problems[0].Node))
	}
	return belief, nil
}

// fieldOf finds where a node was said.
func fieldOf(facets []SaidFacet, node atlas.NodeID) string {
	for i, facet := range facets {
		for j, said := range facet.Said {
			if said.Node == string(node) {
				return "facets." + decimal(i) + ".said." + decimal(j) + ".share"
			}
		}
	}
	for i, facet := range facets {
		if facet.Facet == string(node) {
			return "facets." + decimal(i)
		}
	}
	return "facets"
}

func (content *guessContent) belief() (belief guess.Belief) {
	for _, said := range content.Said {
		belief = append(belief, guess.Mass{Node: atlas.NodeID(said.Node), Share: int(said.Share)})
	}
	return belief
}

func saidFacets(belief guess.Belief) (out []SaidFacet) {
	for f := range atlas.Facets {
		facet := SaidFacet{Facet: f.String()}
		for _, m := range belief.Of(f).Canonical() {
			facet.Said = append(facet.Said, Said{Node: string(m.Node), Share: m.Share})
		}
		if len(facet.Said) > 0 {
			out = append(out, facet)
		}
	}
	return out
}

func (a *App) previewGuess(args GuessPreview) (GuessView, *Error) {
	c, s, f, err := a.sample(args.Club, args.Sample)
	if err != nil {
		return GuessView{}, err
	}
	var belief guess.Belief
	if len(args.Facets) > 0 {
		if belief, err = a.parseBelief(&c, f, args.Facets); err != nil {
			return GuessView{}, err
		}
	}
	return a.guessView(&c, f, s, belief, false)
}

func (a *App) lookGuess(params GuessParams) (GuessView, *Error) {
	c, s, f, err := a.sample(params.Club, params.Sample)
	if err != nil {
		return GuessView{}, err
	}
	part := partGuess
	if params.First {
		part = partFirstGuess
	}
	var content guessContent
	a.read(c.ID, a.mine(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), part), &content)
	return a.guessView(&c, f, s, content.belief(), params.First)
}

func (a *App) guessView(c *clubBook, f club.FlightInfo, s club.SampleInfo, belief guess.Belief, first bool) (GuessView, *Error) {
	pinned := a.pinned(c, f)
	words, _ := a.flightWords(c, f.ID)
	v := GuessView{
		Club: c.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), State: a.sampleState(f, s), Closes: f.Closes,
		Guess: a.guessState(c, s), Pinned: pinned.Status, Facets: saidFacets(belief),
		May: a.checkGuess(c, f, s, first) == nil,
	}
	prior := pinned.Prior
	if prior == nil {
		prior = atlas.Builtin().Prior()
	}
	joint, err := guess.Project(prior, belief)
	if err != nil {
		joint, belief = prior.Joint(), nil
	}
	for _, facet := range questionOrder(words.Questions) {
		q := question(prior, joint, facet, belief)
		q.Asked = slices.Contains(words.Questions, facet.String())
		v.Questions = append(v.Questions, q)
	}
	return v, nil
}

// questionOrder gives the flight's questions first, then the others.
func questionOrder(asked []string) (out []atlas.Facet) {
	for _, name := range asked {
		if f, err := atlas.ParseFacet(name); err == nil && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	for f := range atlas.Facets {
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// question is one facet with what was likely before, what the belief thinks, and what was said.
func question(prior *atlas.Prior, belief *atlas.Joint, f atlas.Facet, said guess.Belief) GuessQuestion {
	q := GuessQuestion{Facet: f.String(), Ordered: f.Ordered()}
	tree := prior.Atlas().Tree(f)
	before, think := prior.Joint().Marginal(f), belief.Marginal(f)
	for i := 1; i < tree.Len(); i++ {
		node := tree.At(i)
		if !prior.Allows(node.ID) {
			continue
		}
		share, ok := said.Said(node.ID)
		if !ok {
			share = -1
		}
		q.Nodes = append(q.Nodes, GuessNode{
			Node: string(node.ID), Name: node.Label, Parent: parentOf(node.ID), Depth: node.ID.Depth() - 1, Leaf: tree.IsLeaf(i),
			Before: exact.Round(before[i] * atlas.Whole), Think: exact.Round(think[i] * atlas.Whole), Said: share,
		})
	}
	if stakes, ok := guess.Preview(prior.Joint(), belief, f, said); ok {
		q.Preview = &Preview{
			Node: string(stakes.Node), Hit: factorOf(stakes.Hit), Near: factorOf(stakes.NearMiss), Far: factorOf(stakes.FarOff),
		}
	}
	return q
}

// parentOf is the id above a node, empty at the top.
func parentOf(node atlas.NodeID) string {
	if node.Depth() <= 1 {
		return ""
	}
	return string(node.Parent())
}

// factorOf words a ratio; zero, for what cannot be, stays zero times.
func factorOf(ratio float64) Factor {
	if ratio <= 0 {
		return Factor{}
	}
	return factorOfBits(exact.Round(exact.Log2(ratio) * 1000))
}

// factorOfBits words thousandths of a bit: tenths below ten, whole numbers above, so that nobody reads precision into it
// that is not there.
func factorOfBits(bits int) Factor {
	f := Factor{Up: bits >= 0, Bits: bits}
	times := exact.Exp2(float64(max(bits, -bits)) / 1000)
	if times >= 10 {
		f.Times = float64(exact.Round(times))
	} else {
		f.Times = float64(exact.Round(times*10)) / 10
	}
	return f
}
