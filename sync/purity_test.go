package sync_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// forbidden are the doors to a clock, a disk, a network, randomness or another part of the house. A name that ends in a slash
// stands for everything below it too.
var forbidden = []string{
	"os/", "net/", "database/sql/", "math/rand/", "crypto/rand/", "syscall/", "hushcup/server/", "hushcup/pwa/",
}

// clocks are what package time has that is not arithmetic.
var clocks = map[string]bool{
	"Now": true, "Since": true, "Until": true, "After": true, "AfterFunc": true, "Sleep": true, "Tick": true,
	"NewTimer": true, "NewTicker": true,
}

// Everything in sync is pure: events go in, effects come out. Tests may open files; what they test may not.
func TestSyncIsPure(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && strings.HasSuffix(path, "test") {
			return fs.SkipDir // support of tests, which only tests may import: see impurities
		}
		if entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		files++
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, fault := range impurities(file) {
			t.Errorf("%s: %s", set.Position(fault.at), fault.what)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 20 {
		t.Fatalf("only %d files were read: the walk misses something", files)
	}
}

type impurity struct {
	at   token.Pos
	what string
}

func impurities(file *ast.File) (found []impurity) {
	clock := ""
	for _, spec := range file.Imports {
		path, _ := strconv.Unquote(spec.Path.Value)
		for _, door := range forbidden {
			if strings.HasPrefix(path+"/", door) {
				found = append(found, impurity{spec.Pos(), "imports " + path})
			}
		}
		if strings.HasPrefix(path, "hushcup/") && strings.HasSuffix(path, "test") {
			found = append(found, impurity{spec.Pos(), "imports support of tests, " + path})
		}
		if path == "time" {
			clock = "time"
			if spec.Name != nil {
				clock = spec.Name.Name
			}
		}
	}
	ast.Inspect(file, func(node ast.Node) bool {
		switch node := node.(type) {
		case *ast.GoStmt:
			found = append(found, impurity{node.Pos(), "starts a goroutine"})
		case *ast.SelectorExpr:
			if name, ok := node.X.(*ast.Ident); ok && clock != "" && name.Name == clock && clocks[node.Sel.Name] {
				found = append(found, impurity{node.Pos(), "reads a clock: time." + node.Sel.Name})
			}
		}
		return true
	})
	return found
}

// The guard itself must be able to fail.
func TestImpuritiesAreFound(t *testing.T) {
	for source, faults := range map[string]int{
		"package a\nimport \"os\"":                                           1,
		"package a\nimport \"os/exec\"":                                      1,
		"package a\nimport \"net\"":                                          1,
		"package a\nimport \"net/http\"":                                     1,
		"package a\nimport \"math/rand/v2\"":                                 1,
		"package a\nimport \"crypto/rand\"":                                  1,
		"package a\nimport \"syscall/js\"":                                   1,
		"package a\nimport \"database/sql\"":                                 1,
		"package a\nimport \"hushcup/server/store\"":                         1,
		"package a\nimport \"hushcup/pwa/core/score\"":                       1,
		"package a\nimport \"hushcup/sync/relay/storetest\"":                 1,
		"package a\nimport \"time\"\nvar now = time.Now()":                   1,
		"package a\nimport clock \"time\"\nvar now = clock.Now":              1,
		"package a\nfunc f() { go f() }":                                     1,
		"package a\nimport \"time\"\nvar day = 24 * time.Hour":               0,
		"package a\nimport \"hushcup/sync/oplog\"\nvar _ = oplog.Version":    0,
		"package a\nimport \"crypto/ed25519\"\nvar _ = ed25519.PrivateKey{}": 0,
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "a.go", source, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		if found := impurities(file); len(found) != faults {
			t.Errorf("%q: found %d, not %d", source, len(found), faults)
		}
	}
}
