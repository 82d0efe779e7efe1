package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func (t *table) water(p *village.Phone) app.ClubWaterView {
	t.Helper()
	return see[app.ClubWaterView](t.T, p, app.ViewClubWater, app.ClubParams{Club: t.club})
}

// says is what one of the club says of its water, as another sees it.
func saidBy(v app.ClubWaterView, name string) string {
	for _, line := range v.Members {
		if line.Name == name {
			return line.Says
		}
	}
	return "missing"
}

func TestAClubsWaterIsSetSharedAndAnswered(t *testing.T) {
	s := sitDown(t)
	if v := s.water(s.mira); v.Target != nil || v.May {
		t.Fatalf("before it is set: %+v", v)
	}
	target := app.WaterTarget{Hardness: 80, Alkalinity: 40, Magnesium: -1}
	set := app.ClubWaterSet{Club: s.club, Target: &target, Note: "one part spring, two parts pure"}
	refused[app.Nothing](t, s.mira, app.CmdClubWater, set, app.CodeNotAllowed, "")
	refused[app.Nothing](t, s.mira, app.CmdClubReach, app.ClubWaterSay{Club: s.club, Says: "yes"}, app.CodeNotYet, "")
	refused[app.Nothing](t, s.vega, app.CmdClubWater, app.ClubWaterSet{Club: s.club, Target: &app.WaterTarget{Hardness: -1}}, app.CodeImpossible, "hardness")
	do[app.Nothing](t, s.vega, app.CmdClubWater, set)
	s.v.Advance(2000)
	if v := s.water(s.mira); v.Target == nil || *v.Target != target || v.Note != set.Note || v.Mine != nil || len(v.Members) != 4 {
		t.Fatalf("Mira sees %+v", v)
	}

	do[app.Nothing](t, s.mira, app.CmdClubReach, app.ClubWaterSay{Club: s.club, Says: "yes"})
	do[app.Nothing](t, s.lyra, app.CmdClubReach, app.ClubWaterSay{Club: s.club, Says: "no"})
	refused[app.Nothing](t, s.lyra, app.CmdClubReach, app.ClubWaterSay{Club: s.club, Says: "perhaps"}, app.CodeImpossible, "says")
	s.v.Advance(2000)
	seen := s.water(s.vega)
	for name, want := range map[string]string{"Mira": "yes", "Lyra": "no", "Altair": ""} {
		if got := saidBy(seen, name); got != want {
			t.Errorf("%s said %q, not %q", name, got, want)
		}
	}

	set.Target = &app.WaterTarget{Hardness: 90, Alkalinity: 40, Magnesium: 0.3}
	do[app.Nothing](t, s.vega, app.CmdClubWater, set)
	s.v.Advance(2000)
	if got := saidBy(s.water(s.vega), "Mira"); got != "" {
		t.Errorf("of another water Mira said %q", got)
	}
	do[app.Nothing](t, s.vega, app.CmdClubWater, app.ClubWaterSet{Club: s.club})
	s.v.Advance(2000)
	if v := s.water(s.lyra); v.Target != nil {
		t.Errorf("what was taken back is still there: %+v", v)
	}
}

// TestEachPhoneWorksOutWhetherItReachesTheClubsWater: 1 part of a water of 320 and 160 and three parts of none is 80 and 40.
func TestEachPhoneWorksOutWhetherItReachesTheClubsWater(t *testing.T) {
	s := sitDown(t)
	do[app.Nothing](t, s.vega, app.CmdClubWater, app.ClubWaterSet{Club: s.club, Target: &app.WaterTarget{Hardness: 80, Alkalinity: 40, Magnesium: -1}})
	do[app.Saved](t, s.mira, app.CmdWaterSave, app.Water{Name: "tap in the valley", Source: "test", Hardness: 320, Alkalinity: 160})
	s.v.Advance(2000)
	v := s.water(s.mira)
	if v.Mine == nil || len(v.Mine.Misses) != 2 || !v.Mine.Misses[0].TooMuch {
		t.Fatalf("hard water alone: %+v", v.Mine)
	}
	do[app.Saved](t, s.mira, app.CmdWaterSave, app.Water{Name: "rain from the dome", Source: "label"})
	v = s.water(s.mira)
	if v.Mine == nil || len(v.Mine.Misses) != 0 || len(v.Mine.Parts) != 2 {
		t.Fatalf("with rain: %+v", v.Mine)
	}
	for _, part := range v.Mine.Parts {
		want := map[string]float64{"tap in the valley": 0.25, "rain from the dome": 0.75}[part.Name]
		closeTo(t, part.Name, part.Share, want, 0.002)
	}
	if s.water(s.lyra).Mine != nil {
		t.Error("Lyra has no water, and is told a blend")
	}
}
