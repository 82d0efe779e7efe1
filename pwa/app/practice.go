package app

import (
	"sort"

	"hushcup/pwa/core/atlas"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// mineAlone is how many scored samples a member has for themselves before anything of them is compared.
const mineAlone = 6

func (a *App) lookPractice(Nothing) (PracticeView, *Error) {
	var v PracticeView
	var first, tasted int
	for _, c := range a.clubs() {
		for _, f := range c.Ordered.Flights() {
			for _, s := range c.Ordered.Samples(f.ID) {
				if !a.openToMe(&c, s) {
					continue
				}
				v.Opened++
				if !a.learned.ready(a) {
					continue
				}
				r, known := a.learn(&c, f, s)
				if !known {
					v.Pending++
					continue
				}
				v.take(&r, a.practiceLine(&c, f, s, &r))
				if r.Status == "scored" && r.Both {
					first, tasted = first+r.First, tasted+r.Total
				}
			}
		}
	}
	sort.SliceStable(v.Results, func(i, j int) bool { return v.Results[i].Opened > v.Results[j].Opened })
	if v.Both > 0 {
		before, after := factorOfBits(first/v.Both), factorOfBits(tasted/v.Both)
		v.First, v.Tasted = &before, &after
	}
	a.learned.save(a)
	v.Private = v.Scored < mineAlone
	v.Pair = confusedPair(v.Results)
	return v, nil
}

// openToMe says whether an unsealed sample's answer may be shown to this person.
func (a *App) openToMe(c *clubBook, s club.SampleInfo) bool {
	if s.UnsealedPos == 0 {
		return false
	}
	kept, asks := a.keeping(c, s, a.guessState(c, s))
	return !kept && !asks
}

// take adds a result of one's own; of what one did not guess, or knew, there is none.
func (v *PracticeView) take(r *learnedResult, line PracticeLine) {
	if r.Status == "none" || r.Status == "holder" {
		return
	}
	v.Results = append(v.Results, line)
	if r.Status == "scored" {
		v.Scored++
		if r.Both {
			v.Both++
		}
	}
}

func (a *App) practiceLine(c *clubBook, f club.FlightInfo, s club.SampleInfo, r *learnedResult) PracticeLine {
	words, _ := a.flightWords(c, f.ID)
	line := PracticeLine{
		Club: c.ID.String(), Flight: f.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title,
		Opened: s.UnsealedAt, Status: r.Status, Was: r.Was, Said: r.Said, Notes: a.lastNotes(c, s.Body.ID),
	}
	if r.Placed {
		factor := factorOfBits(r.Total)
		line.Score = &factor
	}
	return line
}

// wasNodes are what an answer states, a facet each.
func wasNodes(content *answerContent) (out []TopNode) {
	for _, known := range content.Known {
		if len(known.Nodes) > 0 {
			node := atlas.NodeID(known.Nodes[0])
			out = append(out, TopNode{Facet: known.Facet, Node: known.Nodes[0], Name: nodeName(node), Share: atlas.Whole, Right: true})
		}
	}
	return out
}

// lastNotes are those of this person's last brew of a sample.
func (a *App) lastNotes(c *clubBook, sample oplog.SampleID) string {
	brews := a.sampleBrews(c, sample)
	for _, b := range brews {
		doc, err := docID(b.Brew)
		if err != nil {
			continue
		}
		if notes := a.brewNotes(c.ID, c.Member, doc); notes != "" {
			return notes
		}
	}
	return ""
}

// confusedPair finds the country or process that was taken for another one most often; the newest of equal ones. It names
// cups, not rates: with few cups there are no statistics.
func confusedPair(lines []PracticeLine) *ConfusedPair {
	var best *ConfusedPair
	for _, facet := range []atlas.Facet{atlas.Origin, atlas.Process} {
		for _, line := range lines {
			pair := pairOf(facet, line)
			if pair == nil || best != nil && best.Was == pair.Was && best.Said == pair.Said {
				continue
			}
			pair.count(lines)
			if best == nil || pair.Times > best.Times {
				best = pair
			}
		}
	}
	return best
}

// pairOf is what one cup was and what it was taken for, at the depth of countries and of families of processes.
func pairOf(facet atlas.Facet, line PracticeLine) *ConfusedPair {
	was, said := coarse(facet, line.Was), coarse(facet, line.Said)
	if was == "" || said == "" || was == said || was.Under(said) || said.Under(was) {
		return nil
	}
	return &ConfusedPair{
		Facet: facet.String(), Was: string(was), WasName: nodeName(was), Said: string(said), SaidName: nodeName(said),
	}
}

func (p *ConfusedPair) count(lines []PracticeLine) {
	facet, _ := atlas.ParseFacet(p.Facet)
	for _, line := range lines {
		if string(coarse(facet, line.Was)) != p.Was {
			continue
		}
		p.Of++
		if string(coarse(facet, line.Said)) == p.Said {
			p.Times++
			p.Cups = append(p.Cups, line)
		}
	}
}

// coarse is a facet's node cut to the depth at which cups are compared.
func coarse(facet atlas.Facet, nodes []TopNode) atlas.NodeID {
	depth := 1
	if facet == atlas.Origin {
		depth = 2
	}
	for _, n := range nodes {
		if n.Facet != facet.String() {
			continue
		}
		node := atlas.NodeID(n.Node)
		for node.Depth() > depth {
			node = node.Parent()
		}
		return node
	}
	return ""
}

// sampleBrews are this person's brews of a sample, newest first.
func (a *App) sampleBrews(c *clubBook, sample oplog.SampleID) (out []BrewDigest) {
	code := 0
	if s, ok := c.State.Sample(sample); ok {
		code = int(s.Body.Code)
	}
	for ref := range a.index.of[sampleRef{c.ID, sample}] {
		var content brewContent
		status := a.read(c.ID, a.mine(c.ID, ref.doc, partBrew), &content)
		if status == replica.BodyReady && content.State != brewGone {
			out = append(out, content.digest(c.ID, ref.doc, sample, code))
		}
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Began != out[j].Began {
			return out[i].Began > out[j].Began
		}
		return out[i].Brew > out[j].Brew
	})
	return out
}
