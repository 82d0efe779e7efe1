package response

import (
	"math"

	"hushcup/pwa/core/dense"
)

// A place is where a process is asked: scaled variables and a coffee.
type place struct {
	x      [variables]float64
	coffee string
}

// A kernel is the prior covariance of a process at two places.
type kernel func(a, b place) float64

// A ground is the places of some readings, factored for each noise thought possible. All outputs that were read at the same
// places share one: nothing in it depends on what was read. What is worked out for a place is kept, since proposals come back
// to the same ones.
type ground struct {
	covers  kernel
	places  []place
	noises  []float64
	factors []*dense.Factor // of K + noise² I
	seen    map[place]*sight
}

// A sight is what a ground tells of a place: the covariances with the readings, and L⁻¹ of them for each noise.
type sight struct {
	toward  []float64
	forward [][]float64
}

func newGround(covers kernel, places []place, noises []float64) (*ground, error) {
	g := &ground{covers: covers, places: places, noises: noises, seen: map[place]*sight{}}
	k := make([]float64, 0, len(places)*(len(places)+1)/2)
	for i, a := range places {
		for _, b := range places[:i+1] {
			k = append(k, covers(a, b))
		}
	}
	for _, noise := range noises {
		factor, err := factored(k, len(places), noise)
		if err != nil {
			return nil, err
		}
		g.factors = append(g.factors, factor)
	}
	return g, nil
}

// factored adds the noise to a lower triangle, row after row, and factors it.
func factored(lower []float64, size int, noise float64) (*dense.Factor, error) {
	m, next := dense.New(size), 0
	for i := range size {
		for j := range i + 1 {
			m.Add(i, j, lower[next])
			next++
		}
		m.Add(i, i, noise*noise)
	}
	return dense.Cholesky(m)
}

func (g *ground) at(p place) *sight {
	s := g.seen[p]
	if s == nil {
		s = &sight{toward: make([]float64, len(g.places)), forward: make([][]float64, len(g.factors))}
		for i, b := range g.places {
			s.toward[i] = g.covers(p, b)
		}
		g.seen[p] = s
	}
	return s
}

// forwards is L⁻¹ of a place's covariances for one of the noises.
func (g *ground) forwards(s *sight, part int) []float64 {
	if s.forward[part] == nil {
		s.forward[part] = g.factors[part].Forward(s.toward)
	}
	return s.forward[part]
}

// A process is a Gaussian process after some readings (Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, algorithm 2.1). Its prior mean is
// taken off before and added after.
type process struct {
	ground   *ground
	part     int           // which of the ground's noises
	factor   *dense.Factor // of K + noise² I
	weights  []float64     // (K + noise² I)⁻¹ y
	noise    float64
	evidence float64 // log marginal likelihood
}

// learn conditions a process on readings, the prior mean taken off.
func learn(covers kernel, places []place, y []float64, noise float64) (*process, error) {
	g, err := newGround(covers, places, []float64{noise})
	if err != nil {
		return nil, err
	}
	return g.learn(y, 0), nil
}

func (g *ground) learn(y []float64, part int) *process {
	factor := g.factors[part]
	p := &process{ground: g, part: part, factor: factor, noise: g.noises[part], weights: factor.Solve(y)}
	p.evidence = -(dense.Dot(y, p.weights) + factor.LogDeterminant() + float64(len(y))*math.Log(2*math.Pi)) / 2
	return p
}

// toward returns the covariances of a place with the readings.
func (p *process) toward(at place) []float64 { return p.ground.at(at).toward }

// A pair is the belief about a process at two places.
type pair struct {
	mean       [2]float64
	variance   [2]float64
	covariance float64
}

// at returns the belief about two places.
func (p *process) at(a, b place) pair {
	covers := p.ground.covers
	return p.belief(p.ground.at(a), p.ground.at(b), pair{variance: [2]float64{covers(a, a), covers(b, b)}, covariance: covers(a, b)})
}

// belief returns the same from what the ground tells of them and the prior.
func (p *process) belief(a, b *sight, prior pair) (out pair) {
	fa, fb := p.ground.forwards(a, p.part), p.ground.forwards(b, p.part)
	out.mean = [2]float64{dense.Dot(a.toward, p.weights), dense.Dot(b.toward, p.weights)}
	out.variance = [2]float64{
		math.Max(0, prior.variance[0]-dense.Dot(fa, fa)),
		math.Max(0, prior.variance[1]-dense.Dot(fb, fb)),
	}
	out.covariance = prior.covariance - dense.Dot(fa, fb)
	return out
}
