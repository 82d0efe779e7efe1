package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"
)

const (
	coreBudget = 1_300_000 // bytes
	uiBudget   = 110_000
)

// sizes compresses what the build made, by itself: the figures do not depend on
// what the build says. Every file that holds program or style counts in one of the
// two budgets: the worker, with Go's own runtime for browsers, counts as core.
func sizes() ([]figure, error) {
	dist := filepath.Join("pwa", "dist")
	core, ui := 0, 0
	err := filepath.WalkDir(dist, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		counted := &ui
		switch filepath.Ext(path) {
		case ".wasm":
			counted = &core
		case ".js":
			if strings.HasPrefix(entry.Name(), "worker-") {
				counted = &core
			}
		case ".css", ".html":
		default:
			return nil // fonts and icons, and the compressed forms
		}
		size, err := compressed(path)
		*counted += size
		return err
	})
	if err != nil {
		return nil, err
	}
	if core == 0 || ui == 0 {
		return nil, errors.New("pwa/dist holds no built app: run e2e/setup, and start this from the project's folder")
	}
	return []figure{
		{name: "core, brotli", measured: kilobytes(core), budget: "<= " + kilobytes(coreBudget), within: core <= coreBudget, note: "with the worker around it"},
		{name: "interface, brotli", measured: kilobytes(ui), budget: "<= " + kilobytes(uiBudget), within: ui <= uiBudget,
			note: "all of it: page, styles, what starts the worker, service worker"},
	}, nil
}

func compressed(path string) (int, error) {
	content, err := os.ReadFile(path)
	if err != nil {
		return 0, err
	}
	var out bytes.Buffer
	w := brotli.NewWriterLevel(&out, brotli.BestCompression)
	if _, err := w.Write(content); err != nil {
		return 0, err
	}
	if err := w.Close(); err != nil {
		return 0, err
	}
	return out.Len(), nil
}

func kilobytes(n int) string {
	if n < 1000 {
		return fmt.Sprintf("%d B", n)
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(n)/1000), ".0") + " kB"
}
