package app

import (
	"slices"
	"sort"
	"strings"

	"hushcup/pwa/core/atlas"
	"hushcup/sync/club"
	"hushcup/sync/replica"
)

// facets are the fields of an answer that state something, in the order of the facets.
func (answer *Answer) facets() [atlas.Facets]**Known {
	return [atlas.Facets]**Known{
		atlas.Origin: &answer.Origin, atlas.Process: &answer.Process, atlas.Variety: &answer.Variety,
		atlas.Decaf: &answer.Decaf, atlas.Altitude: &answer.Altitude, atlas.Roast: &answer.Roast,
	}
}

// content checks an answer and gives it as it is sealed.
func (answer *Answer) content() (answerContent, *Error) {
	if err := answer.checkWords(); err != nil {
		return answerContent{}, err
	}
	answer.bandFromMetres()
	out := answerContent{
		RoastMeter: answer.RoastMeter, AltLow: answer.AltLow, AltHigh: answer.AltHigh,
		Lot: answer.Lot, Producer: answer.Producer, Roasted: answer.Roasted, Note: answer.Note,
	}
	for f, known := range answer.facets() {
		if *known == nil {
			continue
		}
		name := atlas.Facet(f).String()
		if err := (*known).check(atlas.Facet(f), "answer."+name); err != nil {
			return answerContent{}, err
		}
		nodes := slices.Clone((*known).Nodes)
		sort.Strings(nodes)
		out.Known = append(out.Known, knownContent{Facet: name, Source: (*known).Source, Nodes: nodes})
	}
	if len(out.Known) == 0 {
		return answerContent{}, refuse(CodeRequired, "answer", "an answer states at least one thing")
	}
	return out, nil
}

func (answer *Answer) checkWords() *Error {
	err := first(
		text("answer.roastMeter", &answer.RoastMeter, 60, false), text("answer.lot", &answer.Lot, 120, false),
		text("answer.producer", &answer.Producer, 120, false), text("answer.roasted", &answer.Roasted, 40, false),
		text("answer.note", &answer.Note, 600, false))
	switch {
	case err != nil:
		return err
	case answer.AltLow < 0 || answer.AltLow > 3500:
		return refuse(CodeImpossible, "answer.altitudeLow", "no coffee grows there")
	case answer.AltHigh < 0 || answer.AltHigh > 3500:
		return refuse(CodeImpossible, "answer.altitudeHigh", "no coffee grows there")
	case answer.AltHigh != 0 && answer.AltHigh < answer.AltLow:
		return refuse(CodeImpossible, "answer.altitudeHigh", "this is lower than the lower one")
	}
	return nil
}

// bandFromMetres states the altitude bands that metres lie in, when no band is stated.
func (answer *Answer) bandFromMetres() {
	if answer.Altitude != nil && len(answer.Altitude.Nodes) > 0 || answer.AltLow == 0 {
		return
	}
	source := "label"
	if answer.Altitude != nil {
		source = answer.Altitude.Source
	}
	low := atlas.Builtin().AltitudeBand(float64(answer.AltLow))
	high := atlas.Builtin().AltitudeBand(float64(max(answer.AltHigh, answer.AltLow)))
	known := &Known{Source: source}
	tree, inside := atlas.Builtin().Tree(atlas.Altitude), false
	for i := range tree.Len() {
		node := tree.At(i).ID
		inside = inside || node == low
		if inside && i > 0 {
			known.Nodes = append(known.Nodes, string(node))
		}
		if node == high {
			break
		}
	}
	answer.Altitude = known
}

func (k *Known) check(f atlas.Facet, field string) *Error {
	if len(k.Nodes) == 0 {
		return refuse(CodeRequired, field, "name it, or leave it out")
	}
	if err := first(tooMany(field, len(k.Nodes), 12), oneOf(field+".source", k.Source, "Source")); err != nil {
		return err
	}
	for i, name := range k.Nodes {
		node := atlas.NodeID(name)
		if _, err := atlas.Builtin().Node(node); err != nil || !node.Under(f.Root()) || node == f.Root() {
			return refuse(CodeUnknown, field, "the atlas has no such "+f.String())
		}
		if slices.Contains(k.Nodes[:i], name) {
			return refuse(CodeImpossible, field, "the same twice")
		}
	}
	return nil
}

// answer is an opened answer as the screens show it.
func (content *answerContent) answer() Answer {
	out := Answer{
		RoastMeter: content.RoastMeter, AltLow: content.AltLow, AltHigh: content.AltHigh,
		Lot: content.Lot, Producer: content.Producer, Roasted: content.Roasted, Note: content.Note,
	}
	fields := out.facets()
	for _, known := range content.Known {
		if f, err := atlas.ParseFacet(known.Facet); err == nil {
			*fields[f] = &Known{Nodes: known.Nodes, Source: known.Source}
		}
	}
	return out
}

// answerLabel is an opened sample in few words: the finest origin that its answer states, and its name.
func (a *App) answerLabel(c *clubBook, s club.SampleInfo) (node, label string) {
	content, status := a.answer(c, s.Body.ID)
	if status != replica.BodyReady {
		return "", ""
	}
	for _, known := range content.Known {
		if len(known.Nodes) > 0 {
			return known.Nodes[0], strings.Join(names(atlas.NodeID(known.Nodes[0])), ", ")
		}
	}
	return "", ""
}

// names are the labels on the path to a node, without the top one of an origin's area when there is something finer.
func names(node atlas.NodeID) (out []string) {
	for at := node; at.Depth() > 0; at = at.Parent() {
		if at.Depth() == 1 && len(out) > 0 {
			break
		}
		n, err := atlas.Builtin().Node(at)
		if err != nil {
			return []string{node.Slug()}
		}
		out = append([]string{n.Label}, out...)
	}
	return out
}

// nodeName is one node's label; a node that the atlas does not have is called by its slug.
func nodeName(node atlas.NodeID) string {
	if n, err := atlas.Builtin().Node(node); err == nil {
		return n.Label
	}
	return node.Slug()
}

// truthNodes say what an answer states, facet by facet.
func (content *answerContent) truthNodes(scored func(atlas.Facet) bool) (out []TruthNode) {
	for _, known := range content.Known {
		f, err := atlas.ParseFacet(known.Facet)
		if err != nil {
			continue
		}
		truth := TruthNode{Facet: known.Facet, Nodes: known.Nodes, Source: known.Source, Scored: scored(f)}
		if len(known.Nodes) == 1 {
			truth.Names = names(atlas.NodeID(known.Nodes[0]))
		} else {
			for _, node := range known.Nodes {
				truth.Names = append(truth.Names, nodeName(atlas.NodeID(node)))
			}
		}
		out = append(out, truth)
	}
	return out
}
