package grinder

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
)

var (
	hand    = Scale{Kind: Clicks}
	turning = Scale{Kind: Turns, PerTurn: 40, Low: 0, High: 200}
	dial    = Scale{Kind: Numbers, Step: 0.5, Low: 4, High: 44}
	thirds  = Scale{Kind: Numbers, Step: 1.0 / 3}
	smooth  = Scale{Kind: Numbers}
	letters = Scale{Kind: Letters}
	marks   = Scale{Kind: Letters, Marks: []string{"fine", "middle", "coarse"}, PerTurn: 4}
)

func TestParse(t *testing.T) {
	for _, row := range []struct {
		scale    Scale
		text     string
		position Position
		written  string
	}{
		{hand, " 24 ", 24, "24"},
		{turning, "1+12", 52, "1+12"},
		{turning, "2", 80, "2"},
		{turning, "0 + 39", 39, "0+39"},
		{dial, "4,5", 9, "4.5"},
		{dial, "4.5", 9, "4.5"},
		{dial, "11", 22, "11.0"},
		{thirds, "4.33", 13, "4.333"},
		{smooth, "4,27", 4.27, "4.27"},
		{letters, "c", 2, "C"},
		{marks, "Middle+2", 6, "middle+2"},
		{marks, "coarse", 8, "coarse"},
	} {
		got, err := row.scale.Parse(row.text)
		if err != nil || float64(got-row.position) > 1e-9 || float64(row.position-got) > 1e-9 {
			t.Errorf("%q: %v, %v, want %v", row.text, got, err, row.position)
		}
		if written := row.scale.Format(got); written != row.written {
			t.Errorf("%q is written %q, want %q", row.text, written, row.written)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, row := range []struct {
		scale Scale
		text  string
		code  string
	}{
		{hand, "", CodeBadSetting},
		{hand, "2.5", CodeBadSetting},
		{hand, "1+2", CodeBadSetting},
		{hand, "☕", CodeBadSetting},
		{turning, "1+40", CodeBadSetting},
		{turning, "1+", CodeBadSetting},
		{turning, "5+1", CodePastStop},
		{dial, "4.2", CodeBadSetting},
		{dial, "1", CodePastStop},
		{dial, "1e1", CodeBadSetting},
		{dial, "4.5.5", CodeBadSetting},
		{smooth, "NaN", CodeBadSetting},
		{letters, "CC", CodeBadSetting},
		{letters, "C+1", CodeBadSetting},
		{marks, "medium", CodeBadSetting},
	} {
		_, err := row.scale.Parse(row.text)
		var refused *Error
		if !errors.As(err, &refused) || refused.Code != row.code || refused.Field != "setting" {
			t.Errorf("%q: %v, want %s", row.text, err, row.code)
		}
	}
}

func TestScalesAreChecked(t *testing.T) {
	for _, s := range []Scale{hand, turning, dial, thirds, smooth, letters, marks} {
		if err := s.Check(); err != nil {
			t.Error(err)
		}
	}
	for field, s := range map[string]Scale{
		"kind":     {Kind: 9},
		"per turn": {Kind: Turns},
		"step":     {Kind: Numbers, Step: -1},
		"stops":    {Kind: Clicks, Low: 5, High: 3},
		"marks":    {Kind: Letters, Marks: []string{"A", " a"}},
	} {
		var refused *Error
		if err := s.Check(); !errors.As(err, &refused) || refused.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// TestWrittenIsRead: every setting that a scale can show is read back as itself.
func TestWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]Scale{hand, turning, dial, thirds, smooth, letters, marks}).Draw(t, "scale")
		p := s.Nearest(Position(rapid.Float64Range(0, 30).Draw(t, "position")))
		got, err := s.Parse(s.Format(p))
		if err != nil || float64(got-p) > 1e-9 || float64(p-got) > 1e-9 {
			t.Fatalf("%v is written %q and read %v, %v", p, s.Format(p), got, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"24", "1+12", "4,5", "C+2", "-3", "", "+", "9999999999999999999", "\u202e12"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range []Scale{hand, turning, dial, thirds, smooth, letters, marks} {
			p, err := s.Parse(text)
			if err != nil {
				continue
			}
			if s.past(p) {
				t.Errorf("%q is read as %v, past the stops", text, p)
			}
			if again, err := s.Parse(s.Format(p)); err != nil || s.Nearest(again) != s.Nearest(p) {
				t.Errorf("%q is read as %v, written %q, read as %v, %v", text, p, s.Format(p), again, err)
			}
		}
	})
}
