// Package proc runs the real server binary: built once per test run, started on
// a free loopback port, stopped in order or killed as a power cut would.
//
//	func TestMain(m *testing.M) { os.Exit(proc.Main(m)) }
//
//	s := proc.Start(t, "-database", postgres.Fresh(t))
//	phone := browser.Launch(t).Phone("vega", s.Address())
//	s.Kill()
//	s.Restart() // same port, same database
package proc

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

var built struct {
	once   sync.Once
	folder string
	err    error
}

// Main runs the tests and then removes the binary that they built.
func Main(m *testing.M) (code int) {
	defer Clean()
	return m.Run()
}

// Clean removes the built binary. Nothing can be started afterwards.
func Clean() {
	if built.folder != "" {
		os.RemoveAll(built.folder)
	}
}

// Binary builds the server, the first time, and returns its path.
func Binary() (string, error) {
	built.once.Do(build)
	return filepath.Join(built.folder, "hushcup"), built.err
}

func build() {
	if _, err := os.Stat(filepath.Join(root(), "pwa", "dist", "index.html")); err != nil {
		built.err = errors.New("the app is not built (there is no pwa/dist/index.html): run e2e/setup")
		return
	}
	if built.folder, built.err = os.MkdirTemp("", "hushcup-server-"); built.err != nil {
		return
	}
	compile := exec.Command("go", "build", "-o", filepath.Join(built.folder, "hushcup"), "./server")
	compile.Dir = root()
	if out, err := compile.CombinedOutput(); err != nil {
		built.err = fmt.Errorf("go build ./server: %w\n%s", err, out)
	}
}

// root is the project's folder, wherever the test runs.
func root() string {
	_, here, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(here), "..", "..")
}
