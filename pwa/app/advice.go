package app

import (
	"math"
	"slices"

	"hushcup/pwa/core/response"
)

// lookAdvice says what to change next for the coffee of a brew, in its brewer, with its grinder.
func (a *App) lookAdvice(params BrewParams) (v AdviceView, refusal *Error) {
	asked, b, err := a.ownEntry(params)
	if err == errReading {
		return v, nil
	}
	if err != nil {
		return v, err
	}
	cups, ready := a.tasted(asked)
	if !ready {
		return v, nil
	}
	question := tasteQuestion{coffee: asked.Facts.Coffee, held: heldBy(asked, len(b.content.Setup.Steps) > 0)}
	if asked.Facts.Bowl {
		question.held = allHeld // bowls are brewed alike for all coffees
	}
	v, err = a.advise(question, cups)
	if err == errReading {
		return AdviceView{}, nil
	}
	return v, err
}

// tasteQuestion is about which coffee advice is asked, and which variables stay as they are.
type tasteQuestion struct {
	coffee string
	held   heldVariables
}

// advise asks the model.
func (a *App) advise(q tasteQuestion, cups []*entry) (AdviceView, *Error) {
	cups = pickCups(cups, q)
	model := a.taste.of(a.space(cups, q.held), cups)
	if model == nil {
		return AdviceView{Ready: true, Verdict: "few", Reasons: []Reason{{Code: response.ReasonNoCups}}}, nil
	}
	p := model.Propose(q.coffee)
	v := AdviceView{Ready: true, Verdict: adviceVerdict(p), Reasons: responseReasons(p.Reasons), Better: min(100*p.Better, surest)}
	for _, e := range cups {
		if e.Facts.Coffee == q.coffee {
			v.Cups++
		}
	}
	if p.Base < 0 {
		return v, nil
	}
	base, b, err := a.ownEntry(cups[p.Base].params())
	switch setup := b.content.Setup.setup(); {
	case err != nil:
		return v, err
	case p.Variable == response.Agitation && p.From != p.To && len(setup.Steps) == 0:
		q.held[response.Agitation] = true // there is no timeline to stir in
		return a.advise(q, cups)
	default:
		v.Base = base.params()
		v.expect(p, cups, steeped(base))
		a.propose(&v, p, setup, base)
		return v, nil
	}
}

// surest is the greatest chance in percent that is claimed: no model of a few dozen cups knows more.
const surest = 99

func adviceVerdict(p response.Proposal) string {
	switch p.Verdict {
	case response.Keep:
		return "keep"
	case response.Change:
		return "change"
	}
	few := func(r response.Reason) bool {
		return r.Code == response.ReasonNoCups || r.Code == response.ReasonFewCups
	}
	if slices.ContainsFunc(p.Reasons, few) {
		return "few"
	}
	return "unsure"
}

// propose puts the change into a setup that can be brewed.
func (a *App) propose(v *AdviceView, p response.Proposal, setup BrewSetup, base *entry) {
	if p.From == p.To {
		return
	}
	v.Variable, v.From, v.To = p.Variable.String(), p.From[p.Variable], p.To[p.Variable]
	switch p.Variable {
	case response.Grind:
		if _, told := a.grindAxis([]*entry{base}, v.From); !told {
			v.Reasons = append(v.Reasons, Reason{Code: response.ReasonCoarserUp})
		}
		v.FromName = setup.Grind
		setup.Grind = a.grindName(setup.GrinderID, v.To)
		v.ToName = setup.Grind
	case response.Ratio:
		setup.Ratio, setup.Water = v.To, math.Round(10*v.To*setup.Dose)/10
	case response.Temperature:
		setup.Kettle = v.To
	case response.Agitation:
		setup.Steps = stirred(setup.Steps, int(math.Round(v.To-base.Facts.Stirs)))
	}
	v.Setup = &setup
	club := ""
	if base.Digest.Sample != "" {
		club = base.Digest.Book
	}
	v.Left = a.ration(&setup, club, base.Digest.Sample, 1)
}

// stirred adds strokes to a recipe's stirs and swirls, or takes some away: at the step with the most, so that as few as
// possible change. Without any such step one swirl follows the first pour.
func stirred(steps []RecipeStep, more int) []RecipeStep {
	out, most := slices.Clone(steps), -1
	for i, s := range out {
		if (s.Kind == "stir" || s.Kind == "swirl") && (most < 0 || s.Times > out[most].Times) {
			most = i
		}
	}
	if most >= 0 {
		step := &out[most]
		if step.Times += more; step.Times > 0 {
			return out
		}
		rest := step.Times
		out = slices.Delete(out, most, most+1)
		if rest == 0 {
			return out
		}
		return stirred(out, rest)
	}
	for i, s := range out {
		if (s.Kind == "bloom" || s.Kind == "pour") && more > 0 {
			return slices.Insert(out, i+1, RecipeStep{Kind: "swirl", At: max(s.Until, s.At), Times: more})
		}
	}
	return out
}

// expect takes over what the change is expected to do. What was never measured or noted is not foretold, nor a time that the clock decides.
func (v *AdviceView) expect(p response.Proposal, cups []*entry, clock bool) {
	for i, effect := range p.Balance {
		if p.Noted[i] {
			e := expected(attributeNames[i], effect, 1)
			e.Before, e.Next = onScale(e.Before), onScale(e.Next)
			v.Balance = append(v.Balance, e)
		}
	}
	measured := func(of func(*brewFacts) float64) bool {
		return slices.ContainsFunc(cups, func(e *entry) bool { return of(&e.Facts) > 0 })
	}
	one := func(of string, effect response.Effect, unit float64) *Expected {
		e := expected(of, effect, unit)
		return &e
	}
	if measured(func(f *brewFacts) float64 { return f.TDS }) {
		v.TDS = one("tds", p.TDS, 100)
	}
	if measured(func(f *brewFacts) float64 { return f.EY }) {
		v.EY = one("ey", p.EY, 100)
	}
	if !clock && measured(func(f *brewFacts) float64 { return f.Seconds }) {
		v.Seconds = one("seconds", p.Seconds, 1)
	}
}

// onScale cuts off what no mark can say.
func onScale(i Interval) Interval {
	cut := func(x float64) float64 { return max(-1, min(x, 1)) }
	return Interval{cut(i.Value), cut(i.Low), cut(i.High)}
}

func expected(of string, e response.Effect, unit float64) Expected {
	in := func(e response.Estimate) Interval { return Interval{unit * e.Value, unit * e.Low, unit * e.High} }
	return Expected{Of: of, Before: in(e.Before), Change: in(e.Change), Next: in(e.Next)}
}

// responseReasons name the attribute that each is about, and the variable by which.
func responseReasons(reasons []response.Reason) (out []Reason) {
	for _, r := range reasons {
		reason := Reason{Code: r.Code, N: r.N}
		switch r.Code {
		case response.ReasonMostOff:
			reason.Of = r.Attribute.String()
		case response.ReasonMovesMost, response.ReasonCosts, response.ReasonKnown, response.ReasonLearned, response.ReasonTeaches:
			reason.Of, reason.By = r.Attribute.String(), r.Variable.String()
		case response.ReasonByTDS:
			reason.Of = r.Variable.String()
		}
		out = append(out, reason)
	}
	return out
}
