// Command build makes the installable app: it fetches the npm packages that the lock file names, compiles the Go core to
// WebAssembly, bundles page, worker and service worker, draws the icons, lists everything for offline use and compresses
// it. The result is pwa/dist, which package pwa embeds.
//
// Every step writes files whose names carry a hash of their content, except the few that a browser asks for by a fixed
// name. A build that is interrupted leaves a mixture behind; the next one completes it. Nothing is deleted before the new
// index.html stands.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// A house knows where the sources are and where the built app goes.
type house struct {
	pwa   string // folder of the app's sources
	dist  string // folder of the built app
	quick bool   // leave out the slow compression: for work on screens
}

func main() {
	quick := flag.Bool("quick", false, "compress fast instead of well: for work on screens, not for hosting")
	flag.Parse()
	began := time.Now()
	if err := run(*quick); err != nil {
		fmt.Fprintln(os.Stderr, "build:", err)
		os.Exit(1)
	}
	fmt.Printf("built in %.1f s\n", time.Since(began).Seconds())
}

func run(quick bool) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	pwa := filepath.Join(root, "pwa")
	return house{pwa: pwa, dist: filepath.Join(pwa, "dist"), quick: quick}.build()
}

func (h house) build() error {
	if err := os.MkdirAll(h.dist, 0o755); err != nil {
		return err
	}
	if err := h.forgetQuick(); err != nil {
		return err
	}
	core := start(h.compileCore) // the compiler and npm wait for different things
	if err := h.fetchPackages(); err != nil {
		return err
	}
	coreName, err := core()
	if err != nil {
		return err
	}
	compressedCore := start(func() (string, error) { return coreName, h.compress(coreName) })
	names, err := h.bundle(coreName)
	if err != nil {
		return err
	}
	if err := h.writeFixed(&names); err != nil {
		return err
	}
	if err := h.bundleOffline(names); err != nil {
		return err
	}
	if err := h.compressAll(names.all()); err != nil {
		return err
	}
	if _, err := compressedCore(); err != nil {
		return err
	}
	if err := h.removeStale(names.all()); err != nil {
		return err
	}
	return h.printSizes()
}

// start runs work beside the caller; the returned function waits for it.
func start(work func() (string, error)) func() (string, error) {
	type result struct {
		name string
		err  error
	}
	done := make(chan result, 1)
	go func() {
		name, err := work()
		done <- result{name, err}
	}()
	return func() (string, error) {
		r := <-done
		return r.name, r.err
	}
}

// moduleRoot asks the go command, so that the build may be started from any folder of the module.
func moduleRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("ask go for the module: %w", err)
	}
	file := strings.TrimSpace(string(out))
	if file == "" || file == os.DevNull {
		return "", fmt.Errorf("start the build inside the hushcup module")
	}
	return filepath.Dir(file), nil
}
