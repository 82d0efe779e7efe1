// Package core_test guards what the packages of the trade may use.
package core_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// module is the import path of this folder.
const module = "hushcup/pwa/core/"

// forbidden are imports that would let a clock, chance, a disk, a socket or the
// rest of the house into the trade; a slash at the end forbids all below.
var forbidden = []string{
	"os", "os/", "net", "net/", "database/sql", "database/sql/", "math/rand", "math/rand/", "crypto/rand", "syscall", "syscall/",
	"io/fs", "log", "log/", "runtime/debug", "unsafe",
	"hushcup/sync/", "hushcup/server/", "hushcup/pwa/app", "hushcup/pwa/app/", "hushcup/pwa/wasm", "hushcup/e2e/",
	// These would cost the core its size: reflection and tables nobody needs.
	"fmt", "encoding/json", "regexp", "text/template", "html/template",
}

// forbiddenCalls are functions of allowed packages that read the outside.
var forbiddenCalls = map[string][]string{
	"time": {"Now", "Since", "Until", "After", "AfterFunc", "NewTimer", "NewTicker", "Tick", "Sleep", "LoadLocation"},
}

// source is one file of the core that is not a test.
type source struct {
	path    string
	pkg     string // folder below this one
	imports []string
	syntax  *ast.File
}

func sources(t *testing.T) (out []source) {
	t.Helper()
	set := token.NewFileSet()
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(set, path, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		s := source{path: path, pkg: filepath.ToSlash(filepath.Dir(path)), syntax: file}
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			s.imports = append(s.imports, imported)
		}
		out = append(out, s)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestTheTradeIsPure(t *testing.T) {
	files := sources(t)
	// Guards this guard: it must have seen the packages that surely exist.
	for _, pkg := range []string{"atlas", "brewing", "code", "exact", "guess", "intake", "score"} {
		if !slices.ContainsFunc(files, func(s source) bool { return s.pkg == pkg }) {
			t.Errorf("no source of %s was looked at", pkg)
		}
	}
	for _, s := range files {
		for _, imported := range s.imports {
			if isForbidden(imported) {
				t.Errorf("%s imports %q", s.path, imported)
			}
		}
		for _, fault := range impurities(s.syntax) {
			t.Errorf("%s: %s", s.path, fault)
		}
	}
}

func isForbidden(imported string) bool {
	return slices.ContainsFunc(forbidden, func(f string) bool {
		return imported == f || strings.HasSuffix(f, "/") && strings.HasPrefix(imported, f)
	})
}

// impurities names what a file does that its imports do not tell.
func impurities(file *ast.File) (out []string) {
	for _, spec := range file.Imports {
		// Under another name its functions would not be recognised below.
		if path, _ := strconv.Unquote(spec.Path.Value); spec.Name != nil && forbiddenCalls[path] != nil {
			out = append(out, "renames "+path)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			out = append(out, "starts a goroutine")
		case *ast.SelectorExpr:
			if name, ok := n.X.(*ast.Ident); ok && slices.Contains(forbiddenCalls[name.Name], n.Sel.Name) {
				out = append(out, "uses "+name.Name+"."+n.Sel.Name)
			}
		case *ast.FuncDecl:
			if n.Recv == nil && n.Name.Name == "init" {
				out = append(out, "has an init function")
			}
		}
		return true
	})
	return out
}

// TestTheGuardSees runs the guard on a file with every fault.
func TestTheGuardSees(t *testing.T) {
	const faulty = `package x
import ("time"; "os"; "net/http"; "math/rand/v2"; "hushcup/sync/club"; "hushcup/pwa/app")
func init() { go func() {}(); _ = time.Now() }`
	file, err := parser.ParseFile(token.NewFileSet(), "faulty.go", faulty, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	if got := impurities(file); len(got) != 3 {
		t.Errorf("three faults, seen %v", got)
	}
	for _, spec := range file.Imports[1:] {
		if imported, _ := strconv.Unquote(spec.Path.Value); !isForbidden(imported) {
			t.Errorf("%s is not forbidden", imported)
		}
	}
	for _, allowed := range []string{"math", "time", "strings", "crypto/sha256", "hushcup/pwa/core/atlas"} {
		if isForbidden(allowed) {
			t.Errorf("%s is forbidden", allowed)
		}
	}
}

// TestPackagesStandInOrder looks for cycles between packages of the core, and
// for imports of the module from outside the core.
func TestPackagesStandInOrder(t *testing.T) {
	uses := map[string][]string{}
	for _, s := range sources(t) {
		for _, imported := range s.imports {
			if strings.HasPrefix(imported, module) {
				uses[s.pkg] = append(uses[s.pkg], strings.TrimPrefix(imported, module))
			} else if strings.HasPrefix(imported, "hushcup/") {
				t.Errorf("%s imports %q, which is not of the core", s.path, imported)
			}
		}
	}
	if len(uses) == 0 {
		t.Fatal("no package of the core uses another: nothing was looked at")
	}
	for pkg := range uses {
		if path := cycle(uses, pkg, nil); path != nil {
			t.Errorf("packages in a circle: %v", path)
		}
	}
}

func cycle(uses map[string][]string, pkg string, path []string) []string {
	if slices.Contains(path, pkg) {
		return append(path, pkg)
	}
	path = append(path[:len(path):len(path)], pkg)
	for _, next := range uses[pkg] {
		if found := cycle(uses, next, path); found != nil {
			return found
		}
	}
	return nil
}
