package response

import (
	"math"
	"slices"

	"hushcup/pwa/core/chance"
	"hushcup/pwa/core/dense"
)

// mostCups bounds the work: the newest count.
const mostCups = 60

// A Model is what a person's cups tell about their responses.
type Model struct {
	space   Space
	cups    []Cup
	dropped int // older cups that no longer count
	tds     mixture
	ey      mixture
	time    mixture
	tastes  [attributes]mixture
}

// A mixture is a process for each noise thought possible, weighed by how well it
// explains the readings.
type mixture struct {
	expect  func(place) float64
	of      output
	ground  *ground
	parts   []*process
	weights []float64 // of the parts
	pooled  []float64 // of the readings in the mean
}

// New learns from cups, oldest first. It refuses a space or cup that cannot be.
func New(space Space, cups []Cup) (*Model, error) {
	if err := space.Check(); err != nil {
		return nil, err
	}
	for _, c := range cups {
		if err := c.Check(); err != nil {
			return nil, err
		}
	}
	dropped := max(0, len(cups)-mostCups)
	m := &Model{space: space, cups: cups[dropped:], dropped: dropped}
	return m, m.learn()
}

// learn fits what is measured first: the balance is expected to follow it.
func (m *Model) learn() (err error) {
	percent := func(of func(Cup) Reading) func(Cup) Reading {
		return func(c Cup) Reading { r := of(c); return Reading{100 * r.Value, r.Known} }
	}
	if m.tds, err = m.mix(strength, strength.expect, percent(func(c Cup) Reading { return c.TDS })); err != nil {
		return err
	}
	if m.ey, err = m.mix(extraction, extraction.expect, percent(func(c Cup) Reading { return c.EY })); err != nil {
		return err
	}
	logTime := func(c Cup) Reading { return Reading{math.Log(c.Seconds.Value), c.Seconds.Known} }
	if m.time, err = m.mix(duration, duration.expect, logTime); err != nil {
		return err
	}
	for a := range attributes {
		expect := func(at place) float64 {
			return perStrength[a]*(m.tds.mean(at)-strength.usual) + perExtraction[a]*(m.ey.mean(at)-extraction.usual)
		}
		if m.tastes[a], err = m.mix(taste, expect, func(c Cup) Reading { return c.Balance[a] }); err != nil {
			return err
		}
	}
	m.shareNoise()
	return nil
}

// mix learns one output for each noise.
func (m *Model) mix(of output, expect func(place) float64, reading func(Cup) Reading) (mixture, error) {
	out := mixture{expect: expect, of: of}
	var places []place
	var y []float64
	for _, c := range m.cups {
		if r := reading(c); r.Known {
			at := m.place(c)
			places, y = append(places, at), append(y, r.Value-expect(at))
		}
	}
	if before := m.tastes[0].ground; of.shares && before != nil && slices.Equal(before.places, places) {
		out.ground = before
	} else {
		ground, err := newGround(of.kernel, places, of.noises)
		if err != nil {
			return out, err
		}
		out.ground = ground
	}
	var evidence []float64
	for part := range of.noises {
		p := out.ground.learn(y, part)
		out.parts, evidence = append(out.parts, p), append(evidence, p.evidence)
	}
	out.weigh(evidence)
	return out, nil
}

func (m *Model) place(c Cup) place { return place{m.space.scaled(c.At), c.Coffee} }

// weigh takes the parts by their log evidences.
func (m *mixture) weigh(evidence []float64) {
	m.weights = weigh(evidence)
	m.pooled = make([]float64, len(m.ground.places))
	for i, p := range m.parts {
		for j, w := range p.weights {
			m.pooled[j] += m.weights[i] * w
		}
	}
}

// weigh turns log evidences into weights that add up to one.
func weigh(evidence []float64) []float64 {
	most, sum := math.Inf(-1), 0.0
	for _, e := range evidence {
		most = math.Max(most, e)
	}
	out := make([]float64, len(evidence))
	for i, e := range evidence {
		out[i] = math.Exp(e - most)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// shareNoise weighs the noises by all attributes together: one tongue tastes them.
func (m *Model) shareNoise() {
	evidence := make([]float64, len(taste.noises))
	for _, mix := range m.tastes {
		for i, p := range mix.parts {
			evidence[i] += p.evidence
		}
	}
	for a := range m.tastes {
		m.tastes[a].weigh(evidence)
	}
}

// mean is the expected value at a place.
func (m *mixture) mean(at place) float64 {
	return m.expect(at) + dense.Dot(m.ground.at(at).toward, m.pooled)
}

// noise is the expected variance of a reading around its value.
func (m *mixture) noise() (sum float64) {
	for i, p := range m.parts {
		sum += m.weights[i] * p.noise * p.noise
	}
	return sum
}

// at is the belief about two places, the noises mixed by their moments.
func (m *mixture) at(a, b place) (out pair) {
	// The parts differ in noise only: they see the same covariances.
	ka, kb, before := m.ground.at(a), m.ground.at(b), m.of.prior(a, b)
	parts := make([]pair, len(m.parts))
	for i, p := range m.parts {
		parts[i] = p.belief(ka, kb, before)
		for j := range out.mean {
			out.mean[j] += m.weights[i] * parts[i].mean[j]
		}
	}
	for i, p := range parts {
		off := [2]float64{p.mean[0] - out.mean[0], p.mean[1] - out.mean[1]}
		for j := range out.variance {
			out.variance[j] += m.weights[i] * (p.variance[j] + off[j]*off[j])
		}
		out.covariance += m.weights[i] * (p.covariance + off[0]*off[1])
	}
	out.mean[0] += m.expect(a)
	out.mean[1] += m.expect(b)
	return out
}

// An Estimate is a value with the 90 % interval around it.
type Estimate struct {
	Value, Low, High float64
}

func estimate(value, variance float64) Estimate {
	half := chance.NormalQuantile(0.95) * math.Sqrt(variance)
	return Estimate{value, value - half, value + half}
}

// An Effect is what a change is expected to do to one output.
type Effect struct {
	Before Estimate // where it stands, noise taken off
	Change Estimate // how far it moves
	Next   Estimate // what the next cup may read, noise included
}

func (m *mixture) effect(from, to place) Effect {
	p := m.at(from, to)
	return Effect{
		Before: estimate(p.mean[0], p.variance[0]),
		Change: estimate(p.mean[1]-p.mean[0], math.Max(0, p.variance[0]+p.variance[1]-2*p.covariance)),
		Next:   estimate(p.mean[1], p.variance[1]+m.noise()),
	}
}
