package response

import "testing"

// TestWhatNobodyNotedIsNotJudgedBy: a weak cup of which only the acid was noted is expected
// to be short of body as well; that is no reason that a person gave.
func TestWhatNobodyNotedIsNotJudgedBy(t *testing.T) {
	cups := func(acid float64) []Cup {
		weak := Cup{Coffee: "417", At: usual, TDS: Read(0.0105), EY: Read(0.16)}
		weak.Balance[Acid] = Read(acid)
		return []Cup{weak, weak}
	}
	p := model(t, cups(0.5)...).Propose("417")
	if want := [attributes]bool{Acid: true}; p.Noted != want {
		t.Errorf("noted is %v", p.Noted)
	}
	for _, r := range p.Reasons {
		if r.Attribute != Acid {
			t.Errorf("of an attribute that nobody noted: %+v", r)
		}
	}
	if p.Verdict != Change || p.Reasons[0].Code != ReasonMostOff || p.Reasons[0].N <= 0 {
		t.Errorf("too acid: %v, %+v", p.Verdict, p.Reasons)
	}
	if p := model(t, cups(0)...).Propose("417"); p.Verdict == Change {
		t.Errorf("all that was noted is in agreement, and %v is to change", p.Variable)
	}
}
