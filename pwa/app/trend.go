package app

import (
	"math"

	"hushcup/pwa/core/brewing"
)

const mostTrend = 500

// lookTrend gives a point for each brew that a search finds, so that time, strength, extraction and taste can be drawn over
// one's brews, or on the control chart.
func (a *App) lookTrend(params TrendParams) (v TrendView, err *Error) {
	if err := within("limit", params.Limit, 1, mostTrend); err != nil {
		return v, err
	}
	v.Ranges, v.Range, v.Lines = chartRanges(), brewing.RangeOf(a.home().Range).ID, ratioLines()
	matches := params.Search.finder()
	found, ready := a.facts(math.MaxInt, func(e *entry) bool {
		if !matches(e.line()) {
			return false
		}
		v.All++
		return v.All <= params.Limit
	})
	for _, e := range reversed(found) {
		v.Points = append(v.Points, e.point())
	}
	v.Ready = ready
	return v, nil
}

func (e *entry) point() TrendPoint {
	f := &e.Facts
	p := TrendPoint{
		Book: e.Book.String(), Brew: e.Doc.String(), Began: e.Digest.Began, Seconds: f.Seconds, TDS: 100 * f.TDS, Open: 100 * f.TDSOpen, Yield: f.yield(),
		Balance: f.marks(), Bowl: f.Bowl, Counts: f.Counts,
	}
	p.Ratio, _ = f.ratio()
	return p
}

// yield is the extraction in percent; nil when it was not measured.
func (f *brewFacts) yield() *Interval {
	if f.EY <= 0 {
		return nil
	}
	return &Interval{Value: 100 * f.EY, Low: 100 * f.EYLow, High: 100 * f.EYHigh}
}

func (f *brewFacts) marks() (out []BalanceMark) {
	for _, m := range f.Balance {
		out = append(out, BalanceMark{Of: m.Of, Mark: m.Mark})
	}
	return out
}

// chartRanges are the ranges that a person may choose from, in percent.
func chartRanges() (out []ChartRange) {
	for _, r := range brewing.Ranges() {
		out = append(out, chartRange(r))
	}
	return out
}

func chartRange(r brewing.Range) ChartRange {
	return ChartRange{
		ID:     r.ID,
		TDSLow: 100 * float64(r.TDSLow), TDSHigh: 100 * float64(r.TDSHigh), EYLow: 100 * float64(r.EYLow), EYHigh: 100 * float64(r.EYHigh),
	}
}

// drawnRatios are those that cups are brewed at.
var drawnRatios = []float64{12, 14, 16, 18, 20}

func ratioLines() (out []RatioLine) {
	for _, ratio := range drawnRatios {
		const ey = 0.2 // any: the line is straight
		tds := brewing.OnLine(brewing.Percolation, ey, ratio, brewing.RetainedDrip)
		out = append(out, RatioLine{Ratio: ratio, Slope: float64(tds) / ey})
	}
	return out
}
