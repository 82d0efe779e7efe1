package app_test

import (
	"testing"

	"hushcup/pwa/app"
)

func TestAClockThatIsFarOffIsSaidAndHoldsNothingUp(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	vega.Skew = 90 * 24 * 3600 * 1000
	do[app.Nothing](t, vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	v.Advance(120_000)
	mark := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{})
	if mark.Problem != "clock" || mark.Mark != "shared" || mark.Waiting != 0 {
		t.Errorf("a clock three months ahead shows as %+v", mark)
	}
	vega.Skew = 0
	vega.Offline(true)
	vega.Offline(false)
	v.Advance(120_000)
	if mark := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{}); mark.Problem != "" {
		t.Errorf("a clock that is right again shows as %+v", mark)
	}
}
