package app_test

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"hushcup/pwa/app"
)

// TestTheFileIsDocumented: every field that a file may carry is told in its description.
func TestTheFileIsDocumented(t *testing.T) {
	text, err := os.ReadFile("../ui/model/FILE.md")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[reflect.Type]bool{}
	var look func(reflect.Type)
	look = func(of reflect.Type) {
		for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || seen[of] {
			return
		}
		seen[of] = true
		for field := range of.Fields() {
			name, _, _ := strings.Cut(field.Tag.Get("cbor"), ",")
			if !strings.Contains(string(text), "`"+name+"`") {
				t.Errorf("%s of %s is not told", name, of.Name())
			}
			look(field.Type)
		}
	}
	look(reflect.TypeFor[app.DataRecord]())
	if len(seen) < 20 {
		t.Errorf("only %d shapes were looked at", len(seen))
	}
	for _, kind := range app.WordSets() {
		if kind.Name != "DataKind" {
			continue
		}
		for _, word := range kind.Words {
			if !strings.Contains(string(text), "| `"+word+"` |") {
				t.Errorf("records of kind %s are not told", word)
			}
		}
	}
}
