// Command tsgen writes the TypeScript types of the bridge from the Go structs in pwa/app, with their comments, so that
// nothing is mirrored by hand:
//
//	go run ./pwa/app/tsgen            writes pwa/ui/gen/types.ts, and limits.ts: what the numbers of a brew may be
//	go run ./pwa/app/tsgen -check     fails when those files are not what it would write
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	check := flag.Bool("check", false, "only compare")
	flag.Parse()
	if err := run(*check); err != nil {
		fmt.Fprintln(os.Stderr, "tsgen:", err)
		os.Exit(1)
	}
}

func run(check bool) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	types, err := generate(filepath.Join(root, "pwa", "app"))
	if err != nil {
		return err
	}
	gen := filepath.Join(root, "pwa", "ui", "gen")
	if err := put(filepath.Join(gen, "types.ts"), types, check); err != nil {
		return err
	}
	return put(filepath.Join(gen, "limits.ts"), limits(), check)
}

func put(target string, text []byte, check bool) error {
	have, err := os.ReadFile(target)
	switch {
	case err == nil && bytes.Equal(have, text):
		return nil
	case check:
		return fmt.Errorf("%s is not current: run go run ./pwa/app/tsgen", target)
	}
	if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
		return err
	}
	return os.WriteFile(target, text, 0o644)
}

func moduleRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("ask go for the module: %w", err)
	}
	return filepath.Dir(strings.TrimSpace(string(out))), nil
}
