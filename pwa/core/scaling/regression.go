package scaling

import (
	"math"

	"hushcup/pwa/core/chance"
	"hushcup/pwa/core/dense"
)

// A prior of a regression y = X b + noise: each coefficient is normal around its
// mean, with a standard deviation in units of the noise's; the noise's variance
// is scaled inverse chi-squared.
type prior struct {
	mean, spread []float64
	noise        float64 // the noise's standard deviation, as first thought
	freedom      float64 // how many brews that thought is worth
}

// A posterior is the same after some rows of X and y.
type posterior struct {
	mean      []float64
	precision *dense.Factor // of the coefficients, in units of the noise's
	variance  float64       // of the noise
	freedom   float64
}

// update computes the posterior (Gelman and others, Bayesian Data Analysis, 3rd
// edition, 14.8: prior knowledge as additional rows).
func (p prior) update(rows [][]float64, y []float64) (posterior, error) {
	precision, pull := dense.New(len(p.mean)), make([]float64, len(p.mean))
	for i, s := range p.spread {
		precision.Add(i, i, 1/(s*s))
		pull[i] = p.mean[i] / (s * s)
	}
	for i, row := range rows {
		precision.AddOuter(1, row)
		for j, x := range row {
			pull[j] += x * y[i]
		}
	}
	factor, err := dense.Cholesky(precision)
	if err != nil {
		return posterior{}, err
	}
	out := posterior{mean: factor.Solve(pull), precision: factor, freedom: p.freedom + float64(len(y))}
	squares := p.freedom * p.noise * p.noise
	for i, m := range p.mean {
		off := (out.mean[i] - m) / p.spread[i]
		squares += off * off
	}
	for i, row := range rows {
		off := y[i] - dense.Dot(row, out.mean)
		squares += off * off
	}
	out.variance = squares / out.freedom
	return out, nil
}

// level is what every interval holds.
const level = 0.90

// An Estimate is a value with the 90 % interval around it.
type Estimate struct {
	Value, Low, High float64
}

// of estimates a combination of the coefficients; more is further variance, in
// units of the noise's: 1 for a single brew.
func (p posterior) of(combination []float64, more float64) Estimate {
	value := dense.Dot(combination, p.mean)
	spread := math.Sqrt(p.variance * (p.precision.Form(combination) + more))
	half := chance.TQuantile((1+level)/2, p.freedom) * spread
	return Estimate{value, value - half, value + half}
}

// exp turns an estimate of a logarithm into one of the number.
func (e Estimate) exp() Estimate {
	return Estimate{math.Exp(e.Value), math.Exp(e.Low), math.Exp(e.High)}
}

func (e Estimate) shift(by float64) Estimate {
	return Estimate{e.Value + by, e.Low + by, e.High + by}
}
