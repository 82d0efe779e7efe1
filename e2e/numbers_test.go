package e2e

import (
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// noteAt is what stands below the field of this label: its error or its question.
func noteAt(t *testing.T, p *browser.Phone, label string) (note string) {
	t.Helper()
	if err := p.Eval(`(() => {
		const named = [...document.querySelectorAll("label")].find((each) => each.textContent === "`+label+`");
		return document.getElementById(named.htmlFor + "-note").textContent.replace(/\s+/g, " ");
	})()`, &note); err != nil {
		t.Fatal(err)
	}
	return note
}

// TestNumbersAreJudgedAtTheirFieldHighUp types, in a kitchen at 2,600 m, what cannot be
// and what surprises: each is answered at its field, with its limit in its unit, and what
// is confirmed is kept.
func TestNumbersAreJudgedAtTheirFieldHighUp(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("vega")
	installed(t, p)
	p.Offline(true)
	p.Follow("/cupboard/home")
	p.Fill("Altitude", "2600")
	p.See("Water boils at about 91 °C.")
	p.See("trade range, Norway: TDS 1.30–1.55 %, EY 18–22 %")
	p.Choose("Range on the brewing chart", "trade range, Europe: TDS 1.20–1.45 %, EY 18–22 %")
	p.ShotWhole("home")
	p.Tap("Save")
	p.NotSee("Range on the brewing chart")
	p.Follow("/bench/new")
	p.Fill("Coffee", "Valley lot 3")
	p.Fill("Dose", "15,5")
	p.Fill("Water", "250")
	p.Fill("Kettle", "90,5")
	typed(t, p, []asked{
		{"Dose", "-1", "From 0.3 to 1000 g."}, {"Dose", "150", "150 g is unusual. Is it right?"}, {"Dose", "1.234,5", "This is not a number. Write it as 15.5 or 15,5."},
		{"Kettle", "130", "From 1 to 102 °C."}, {"Kettle", "100", "100 °C is unusual. Is it right?"},
	})
	p.Fill("Kettle", "100")
	p.Tap("To the clock")
	p.See("Kettle: at your home water boils at about 91 °C. Is this right, and the altitude of your home?")
	if note := noteAt(t, p, "Kettle"); note != "Kettle: at your home water boils at about 91 °C. Is this right, and the altitude of your home?" {
		t.Errorf("at its field the kettle is asked about with %q", note)
	}
	p.ShotWhole("100 degrees at 2,600 m")
	p.Fill("Kettle", "90,5")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.Hold("The bed is dry: stop", held)
	p.Fill("Drawdown", "2:40")
	p.Tap("More: the bed, water added, pours")
	for field, usual := range map[string]string{"TDS": "1,43", "In the cup": "218,5", "In the bed": "88,5"} {
		p.Fill(field, usual)
	}
	typed(t, p, []asked{
		{"TDS", "-1", "From 0.05 to 30 %."}, {"TDS", "14", "14 % is unusual. Is it right?"}, {"In the cup", "-1", "From 1 to 10,000 g."},
		{"In the bed", "130", "From 0.1 to 102 °C."}, {"In the bed", "97", "97 °C is unusual. Is it right?"},
	})
	p.Fill("In the cup", "400")
	p.Fill("What you noticed", notice)
	p.Tap("Save the brew")
	p.See("In the cup: no more than 255.2 g can come of this dose and water.")
	p.Fill("In the cup", "218,5")
	p.Fill("TDS", "14")
	p.Tap("Save the brew")
	p.See("TDS with this dose and water: more than 45 % of the coffee in the cup cannot be.")
	if note := noteAt(t, p, "TDS"); note == "" {
		t.Error("the extraction that cannot be is not refused at the TDS")
	}
	p.ShotWhole("14 percent")
	if kept := p.Value("What you noticed"); kept != notice {
		t.Errorf("what was noticed became %q", kept)
	}
	p.Fill("TDS", "1,43")
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.See(notice)
	p.See("218.5 g")
	p.See("Against the trade range, Europe")
	p.See("strength perhaps within")
	p.Axe()
	p.ShotWhole("saved")
}

// asked is what a field says to something typed.
type asked struct{ field, typed, says string }

func typed(t *testing.T, p *browser.Phone, all []asked) {
	t.Helper()
	for _, a := range all {
		before := p.Value(a.field)
		p.Fill(a.field, a.typed)
		p.See(a.says)
		if note := noteAt(t, p, a.field); note != a.says {
			t.Errorf("%s of %q says %q at its field, not %q", a.field, a.typed, note, a.says)
		}
		if kept := p.Value(a.field); kept != a.typed {
			t.Errorf("%s of %q was changed to %q", a.field, a.typed, kept)
		}
		p.Fill(a.field, before)
		p.NotSee(a.says)
	}
}
