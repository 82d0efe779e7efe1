package app

import (
	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/score"
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// pinned is what a flight is scored with, checked against the hashes that it pins. Status is a Pinned word; the rest is
// there when it is "yes".
type pinned struct {
	Status string
	Prior  *atlas.Prior
	Joint  *atlas.Joint
	Rules  score.Rules
}

// pinned reads what a flight is scored with. The declared prior stands sealed in the flight's document; whoever wrote it
// there, it counts only if it has the hash that the flight's op names.
func (a *App) pinned(c *clubBook, f club.FlightInfo) pinned {
	if known, ok := a.scores.pinned[f.Pins]; ok {
		return known
	}
	if f.Pins.Atlas != oplog.Hash(atlas.Builtin().Hash()) {
		return pinned{Status: "other-version"}
	}
	var content pinsContent
	switch a.read(c.ID, shared(oplog.FlightDoc(f.ID), partFlightPins), &content) {
	case replica.BodyReady:
	case replica.BodyLoading, replica.BodyMissing:
		return pinned{Status: "waiting"}
	default:
		return pinned{Status: "altered"}
	}
	p := content.check(f.Pins)
	if p.Status == "yes" {
		a.scores.keepPinned(f.Pins, p)
	}
	return p
}

func (content *pinsContent) check(pins club.Pins) pinned {
	var rules score.Rules
	for f, weight := range content.Weights {
		if f < len(rules.Weights) {
			rules.Weights[f] = int(weight)
		}
	}
	prior, err := atlas.Builtin().DecodePrior(content.Prior)
	switch {
	case oplog.Hash(rules.Pin()) != pins.Scoring && err == nil:
		return pinned{Status: "other-version"}
	case err != nil || oplog.Hash(prior.Hash()) != pins.Prior:
		return pinned{Status: "altered"}
	}
	return pinned{Status: "yes", Prior: prior, Joint: prior.Joint(), Rules: rules}
}

// declare makes what a new flight is scored with: the atlas moved by what the club has opened, then narrowed.
func (a *App) declare(c *clubBook, narrowing []Narrowing, questions []atlas.Facet) (pinsContent, club.Pins, *Error) {
	opened, err := a.openedSamples(c)
	if err != nil {
		return pinsContent{}, club.Pins{}, err
	}
	prior := atlas.Builtin().Prior().Learn(opened)
	for i, n := range narrowing {
		if prior, err = narrow(prior, n, i); err != nil {
			return pinsContent{}, club.Pins{}, err
		}
	}
	rules := score.Standard()
	for _, f := range questions {
		rules.Weights[f] = 100
	}
	content := pinsContent{Prior: prior.Encode()}
	for _, weight := range rules.Weights {
		content.Weights = append(content.Weights, uint16(weight))
	}
	return content, club.Pins{
		Atlas: atlas.Builtin().Hash(), Prior: prior.Hash(), Scoring: rules.Pin(),
	}, nil
}

func narrow(prior *atlas.Prior, n Narrowing, number int) (*atlas.Prior, *Error) {
	field := "narrowing." + decimal(number) + ".nodes"
	if len(n.Nodes) == 0 {
		return prior, nil
	}
	if err := tooMany(field, len(n.Nodes), 60); err != nil {
		return nil, err
	}
	nodes := make([]atlas.NodeID, len(n.Nodes))
	for i, node := range n.Nodes {
		nodes[i] = atlas.NodeID(node)
		if f, err := nodes[i].Facet(); err != nil || f.String() != n.Facet {
			return nil, unknown(field)
		}
	}
	narrowed, err := prior.Narrow(nodes...)
	if err != nil {
		return nil, withField(asError(err), field)
	}
	return narrowed, nil
}

// openedSamples are the answers that the club has opened so far, as the prior learns from them: what is only hearsay
// teaches nothing.
func (a *App) openedSamples(c *clubBook) (out []atlas.Sample, err *Error) {
	for _, f := range c.Ordered.Flights() {
		for _, s := range c.Ordered.Samples(f.ID) {
			if s.UnsealedPos == 0 {
				continue
			}
			content, status := a.answer(c, s.Body.ID)
			if status == replica.BodyLoading {
				return nil, errReading
			}
			var nodes atlas.Sample
			for _, fact := range content.truth() {
				if fact.Source != score.Hearsay {
					nodes = append(nodes, fact.Nodes...)
				}
			}
			out = append(out, nodes)
		}
	}
	return out, nil
}

// answer opens a sample's answer, for whoever can.
func (a *App) answer(c *clubBook, sample oplog.SampleID) (content answerContent, status replica.BodyStatus) {
	plain, status := a.replica.Answer(c.ID, sample)
	if status == replica.BodyLoading {
		a.watches.reading = true
	}
	if status == replica.BodyReady && codec.UnmarshalOpen(plain, &content) != nil {
		status = replica.BodyUnreadable
	}
	return content, status
}

func (content *answerContent) truth() (truth score.Truth) {
	for _, known := range content.Known {
		fact := score.Fact{Source: score.Source(known.Source)}
		for _, node := range known.Nodes {
			fact.Nodes = append(fact.Nodes, atlas.NodeID(node))
		}
		truth = append(truth, fact)
	}
	return truth
}
