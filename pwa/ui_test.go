package pwa

import (
	"os"
	"os/exec"
	"testing"
)

// The parts of the app that are written in TypeScript are tested by Node's own test runner, which `npm test` starts.
func TestTypeScript(t *testing.T) {
	npm(t, "test")
}

func TestTypesAndLint(t *testing.T) {
	npm(t, "check")
}

func npm(t *testing.T, script string) {
	t.Helper()
	if _, err := os.Stat("node_modules/.bin/esbuild"); err != nil {
		t.Fatal("the npm packages are missing: run e2e/setup (or npm ci in pwa)")
	}
	cmd := exec.Command("npm", "run", "--silent", script)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("npm run %s: %v\n%s", script, err, out)
	}
}
