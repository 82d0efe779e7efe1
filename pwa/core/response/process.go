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

// A process is a Gaussian process after some readings (Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, algorithm 2.1). Its prior mean is
// taken off before and added after.
type process struct {
	covers   kernel
	places   []place
	factor   *dense.Factor // of K + noise² I
	weights  []float64     // (K + noise² I)⁻¹ y
	noise    float64
	evidence float64 // log marginal likelihood
}

// learn conditions a process on readings, the prior mean taken off.
func learn(covers kernel, places []place, y []float64, noise float64) (*process, error) {
	k := dense.New(len(places))
	for i, a := range places {
		for j, b := range places[:i+1] {
			k.Add(i, j, covers(a, b))
		}
		k.Add(i, i, noise*noise)
	}
	factor, err := dense.Cholesky(k)
	if err != nil {
		return nil, err
	}
	p := &process{covers: covers, places: places, factor: factor, noise: noise, weights: factor.Solve(y)}
	p.evidence = -(dense.Dot(y, p.weights) + factor.LogDeterminant() + float64(len(y))*math.Log(2*math.Pi)) / 2
	return p, nil
}

// toward returns the covariances of a place with the readings.
func (p *process) toward(at place) []float64 {
	out := make([]float64, len(p.places))
	for i, b := range p.places {
		out[i] = p.covers(at, b)
	}
	return out
}

// A pair is the belief about a process at two places.
type pair struct {
	mean       [2]float64
	variance   [2]float64
	covariance float64
}

// at returns the belief about two places.
func (p *process) at(a, b place) pair {
	return p.belief(p.toward(a), p.toward(b), pair{
		variance:   [2]float64{p.covers(a, a), p.covers(b, b)},
		covariance: p.covers(a, b),
	})
}

// belief returns the same from the covariances with the readings and the prior.
func (p *process) belief(ka, kb []float64, prior pair) (out pair) {
	fa, fb := p.factor.Forward(ka), p.factor.Forward(kb)
	out.mean = [2]float64{dense.Dot(ka, p.weights), dense.Dot(kb, p.weights)}
	out.variance = [2]float64{
		math.Max(0, prior.variance[0]-dense.Dot(fa, fa)),
		math.Max(0, prior.variance[1]-dense.Dot(fb, fb)),
	}
	out.covariance = prior.covariance - dense.Dot(fa, fb)
	return out
}
