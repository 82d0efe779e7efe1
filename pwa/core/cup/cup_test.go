package cup

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestStagesStandInOrder(t *testing.T) {
	for _, s := range Stages() {
		if !s.Valid() {
			t.Errorf("%s is no stage", s)
		}
		if s.Tasted() != slices.Contains(s.Lines(), Acidity) {
			t.Errorf("%s: lines %v", s, s.Lines())
		}
	}
	if Beans.Lines() != nil || Stage("cold").Valid() {
		t.Error("stages")
	}
	for mark, want := range map[Mark]bool{Untouched: true, 0: true, MostMark: true, MostMark + 1: false, Untouched - 1: false} {
		if mark.Valid() != want {
			t.Errorf("mark %d", mark)
		}
	}
}

func TestWordsAreTidyAndOnlyOnce(t *testing.T) {
	seen, words := map[string]string{}, 0
	for _, d := range Drawers() {
		if d.ID == "" || d.Label == "" || len(d.Words) < 5 {
			t.Errorf("drawer %+v", d)
		}
		for _, w := range d.Words {
			words++
			for _, name := range append([]string{w.ID}, w.Aka...) {
				if before, twice := seen[name]; twice {
					t.Errorf("%q stands in %s and %s", name, before, d.ID)
				}
				if name == "" || name != strings.ToLower(strings.TrimSpace(name)) {
					t.Errorf("%q is untidy", name)
				}
				seen[name] = d.ID
			}
		}
	}
	if words < 120 {
		t.Errorf("%d words", words)
	}
}

func TestFindAndOwn(t *testing.T) {
	if got := Find("bl"); len(got) < 3 || !strings.HasPrefix(got[0].ID, "bl") {
		t.Errorf("bl finds %v", got)
	}
	if got := Find("tangerine"); len(got) != 1 || got[0].ID != "mandarin" {
		t.Errorf("tangerine finds %v", got)
	}
	if got := Find("tea"); len(got) < 3 {
		t.Errorf("tea finds %v", got)
	}
	if Find(" ") != nil {
		t.Error("nothing finds something")
	}
	for typed, want := range map[string]string{"  Black   Tea ": "black tea", "Cacao": "cocoa powder", "Grandmother's Cellar": "Grandmother's Cellar", "": "", strings.Repeat("x", 61): ""} {
		if got, listed := Own(typed); got != want || listed != (want == "black tea" || want == "cocoa powder") {
			t.Errorf("%q is %q, listed %v", typed, got, listed)
		}
	}
}

// TestScreensAgainstPublishedSizes: hole diameters by screen number, ITC Coffee
// Guide.
func TestScreensAgainstPublishedSizes(t *testing.T) {
	for screen, mm := range map[Screen]float64{8: 3.17, 12: 4.76, 15: 5.95, 18: 7.14, 20: 7.94} {
		if got, ok := screen.Millimetres(); !ok || math.Abs(got-mm) > 0.01 {
			t.Errorf("screen %d: %v mm, want %v", screen, got, mm)
		}
	}
	if _, ok := Screen(7).Millimetres(); ok {
		t.Error("a screen of 7")
	}
}

func TestSightsHaveChoices(t *testing.T) {
	for _, s := range Sights() {
		if len(s.Choices) < 3 || s.ID == "" {
			t.Errorf("%+v", s)
		}
	}
}

// TestCoolingByHand: what is above the room halves in equal times: 84 in a room
// of 20, ten minutes later 52, is 64 above, then 32; after ten more, 36.
func TestCoolingByHand(t *testing.T) {
	c, err := Calibrate(20, Reading{0, 84}, Reading{600, 52})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.At(1200); math.Abs(got-36) > 1e-9 {
		t.Errorf("after twenty minutes %v", got)
	}
	if at, ok := c.When(36); !ok || math.Abs(at-1200) > 1e-6 {
		t.Errorf("36 °C at %v", at)
	}
	if _, ok := c.When(19); ok {
		t.Error("colder than the room")
	}
	calls := c.Calls()
	if len(calls) != 4 || calls[0].Celsius != 65 || calls[3].Stage != Cool {
		t.Errorf("calls %+v", calls)
	}
	for i, call := range calls {
		if math.Abs(c.At(call.Seconds)-call.Celsius) > 1e-9 || i > 0 && call.Seconds <= calls[i-1].Seconds {
			t.Errorf("call %+v", call)
		}
		if call.Celsius > HottestSip {
			t.Errorf("told to drink at %v °C", call.Celsius)
		}
	}
}

func TestCoolingComesBackFromItsOwnReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := Cooling{Room: rapid.Float64Range(5, 35).Draw(t, "room"), Rate: rapid.Float64Range(2e-4, 3e-3).Draw(t, "rate"), From: Reading{0, rapid.Float64Range(75, 98).Draw(t, "hot")}}
		later := rapid.Float64Range(300, 900).Draw(t, "later")
		got, err := Calibrate(want.Room, want.From, Reading{later, want.At(later)})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Rate-want.Rate) > 1e-9 {
			t.Fatalf("rate %v, want %v", got.Rate, want.Rate)
		}
		again, err := got.Again(want.Room, want.From)
		if err != nil || math.Abs(again.At(500)-want.At(500)) > 1e-6 {
			t.Fatalf("the next cup: %v, %v", again, err)
		}
	})
}

func TestReadingsThatCannotBeAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		room          float64
		first, second Reading
		field         string
	}{
		"a warmer cup":       {20, Reading{0, 60}, Reading{300, 70}, "second"},
		"the same moment":    {20, Reading{0, 80}, Reading{5, 60}, "second"},
		"hardly any cooler":  {20, Reading{0, 80}, Reading{60, 79}, "second"},
		"above boiling":      {20, Reading{0, 120}, Reading{60, 80}, "first"},
		"colder than a room": {20, Reading{0, 15}, Reading{60, 10}, "first"},
		"below the room":     {20, Reading{0, 80}, Reading{3000, 19}, "second"},
		"no room":            {math.NaN(), Reading{0, 80}, Reading{300, 60}, "room"},
	} {
		var e *CoolingError
		if _, err := Calibrate(c.room, c.first, c.second); !errors.As(err, &e) || e.Field != c.field {
			t.Errorf("%s: %v", name, err)
		}
	}
}
