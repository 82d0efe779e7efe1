package club_test

import (
	"regexp"
	"strings"
	"testing"

	"hushcup/sync/club"
)

// Every rule has a code of its own, in kebab-case, and a sentence in the house's form; a hint is a sentence for a person.
func TestCLUB43_TheTableIsWhole(t *testing.T) {
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for i, rule := range club.Table() {
		if !code.MatchString(rule.Code) || seen[rule.Code] {
			t.Errorf("rule %d: code %q is not of its own kind", i+1, rule.Code)
		}
		seen[rule.Code] = true
		if rule.Text == "" || rule.Text != strings.ToLower(rule.Text[:1])+rule.Text[1:] || strings.HasSuffix(rule.Text, ".") {
			t.Errorf("%s: text %q", rule.Code, rule.Text)
		}
		if rule.Hint != "" && !strings.HasSuffix(rule.Hint, ".") {
			t.Errorf("%s: hint %q", rule.Code, rule.Hint)
		}
	}
}

// What a code means to a phone is part of the protocol: folding stops for these, and for no others.
func TestCLUB3_CLUB5_WhatStopsFolding(t *testing.T) {
	stops := map[string]string{
		"position-gap": "tampering", "chain-broken": "tampering", "time-fell": "tampering", "wrong-book": "tampering",
		"seq-taken": "tampering", "chain-gap": "tampering", "seen-contradicts": "tampering", "seen-ahead": "tampering",
		"body-missing": "tampering", "no-create": "tampering", "unknown-kind": "stop", "newer-rules": "stop",
	}
	for _, code := range club.Codes() {
		want := stops[code]
		if want == "" {
			want = "void"
		}
		if class, said := classOf(club.ErrorOf(code)); class != want || said != code {
			t.Errorf("%s is %s %s, not %s", code, class, said, want)
		}
	}
}
