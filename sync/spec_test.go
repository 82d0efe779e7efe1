package sync_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	stated = regexp.MustCompile(`(?m)^\*\*([A-Z]+-\d+)\*\*`)
	cited  = regexp.MustCompile(`(?:Test|Fuzz|# )[A-Za-z_]*?((?:LOG|SEAL|CLUB|WIRE|RELAY|REPLICA|SIM)[-_]?\d+(?:[_, ]*(?:LOG|SEAL|CLUB|WIRE|RELAY|REPLICA|SIM)[-_]?\d+)*)`)
	single = regexp.MustCompile(`([A-Z]+)[-_]?(\d+)`)
)

// Every rule of SPEC.md is cited by the name of a test or the title of a scenario, and every citation names a rule.
func TestSpecAndTestsNameEachOther(t *testing.T) {
	text, err := os.ReadFile("SPEC.md")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]bool{}
	for _, m := range stated.FindAllStringSubmatch(string(text), -1) {
		if rules[m[1]] {
			t.Errorf("rule %s is stated twice", m[1])
		}
		rules[m[1]] = true
	}
	if len(rules) == 0 {
		t.Fatal("SPEC.md states no rule")
	}
	citations := collect(t)
	for rule := range rules {
		if citations[rule] == "" {
			t.Errorf("rule %s is cited by no test", rule)
		}
	}
	for rule, where := range citations {
		if !rules[rule] {
			t.Errorf("%s cites %s, which SPEC.md does not state", where, rule)
		}
	}
}

// collect maps each cited rule to a file that cites it.
func collect(t *testing.T) map[string]string {
	citations := map[string]string{}
	for _, root := range []string{".", "../server"} {
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			scenario := strings.Contains(path, "testdata") && strings.HasSuffix(path, ".txt")
			if !scenario && !strings.HasSuffix(path, "_test.go") {
				return nil
			}
			text, err := os.ReadFile(path)
			for _, m := range cited.FindAllStringSubmatch(string(text), -1) {
				for _, rule := range single.FindAllStringSubmatch(m[1], -1) {
					citations[rule[1]+"-"+rule[2]] = path
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return citations
}
