package spell_test

import (
	"encoding/hex"
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"hushcup/sync/spell"
)

type named string

func (n named) String() string { return "<" + string(n) + ">" }

func TestTextIsWhatFmtWrites(t *testing.T) {
	for _, c := range []struct {
		format string
		args   []any
	}{
		{"position %d of %d", []any{uint64(7), 12}}, {"%d %d %d %d %d", []any{int64(-3), uint8(255), uint32(9), int32(-9), uint16(3)}},
		{"book %q", []any{"a\"b\n"}}, {"%v: %s", []any{errors.New("no room"), named("vega")}}, {"100 %%, %v", []any{true}}, {"", nil}, {"ends with %%", nil},
		{"%s and %q", []any{[]byte("bytes"), []byte("more")}}, {"%q", []any{named("x")}},
	} {
		if got, want := spell.Text(c.format, c.args...), fmt.Sprintf(c.format, c.args...); got != want {
			t.Errorf("%q: got %q, want %q", c.format, got, want)
		}
	}
}

func TestTextMakesNoFaultOfItsOwn(t *testing.T) {
	if got := spell.Text("%d %v", 1); got != "1 ?" {
		t.Errorf("one too few: %q", got)
	}
	if got := spell.Text("%v%", struct{}{}); got != "?%" {
		t.Errorf("what it does not know: %q", got)
	}
}

func TestHexIsThatOfTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")
		if got, want := spell.Hex(b), hex.EncodeToString(b); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
		text := rapid.OneOf(rapid.Just(spell.Hex(b)), rapid.StringMatching(`[0-9a-fA-FgG :]{0,9}`)).Draw(t, "text")
		got, ok := spell.Unhex(text)
		want, err := hex.DecodeString(text)
		if ok != (err == nil) || ok && string(got) != string(want) {
			t.Fatalf("%q: got %x, %v; want %x, %v", text, got, ok, want, err)
		}
	})
}
