package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Budgets of the design, in bytes after brotli. Every file that holds program or style counts in one of the two: the core is the
// program in WebAssembly and the worker around it, which holds Go's own runtime for browsers; the interface is all the rest.
const (
	coreBudget = 1_300_000
	uiBudget   = 110_000
)

// printSizes prints what a phone downloads, beside the budgets.
func (h house) printSizes() error {
	core, ui, err := h.downloads()
	if err != nil {
		return err
	}
	print := func(what string, size, budget int64) {
		note := ""
		if size > budget {
			note = "  OVER BUDGET"
		}
		fmt.Printf("%-4s %8d bytes brotli, budget %d%s\n", what, size, budget, note)
	}
	print("core", core, coreBudget)
	print("ui", ui, uiBudget)
	if h.quick {
		fmt.Println("compressed fast: these sizes are larger than those of a full build")
	}
	return nil
}

// downloads sums the compressed forms that stand in dist.
func (h house) downloads() (core, ui int64, err error) {
	files, err := filepath.Glob(filepath.Join(h.dist, "*.br"))
	if err != nil {
		return 0, 0, err
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".br")
		size, err := h.size(name)
		if err != nil {
			return 0, 0, err
		}
		switch filepath.Ext(name) {
		case ".wasm":
			core += size
		case ".js", ".css", ".html":
			if strings.HasPrefix(name, "worker-") {
				core += size
			} else {
				ui += size
			}
		}
	}
	return core, ui, nil
}

// size is that of the compressed form.
func (h house) size(name string) (int64, error) {
	info, err := os.Stat(filepath.Join(h.dist, name+".br"))
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}
