package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"
)

// built collects the names in dist of everything the app is made of.
type built struct {
	core, worker, early, page, style string
	parts                            []string // of the page's script: what it shares with the rooms, and the rooms
	fonts, icons                     []string
	fixed                            []string // index.html, the manifest: names without a hash
	offline                          string   // the service worker; not in its own list
}

// cached lists what the service worker keeps for offline use.
func (b built) cached() []string {
	names := []string{b.core, b.worker, b.early, b.page, b.style}
	names = append(append(append(append(names, b.parts...), b.fonts...), b.icons...), b.fixed...)
	sort.Strings(names)
	return names
}

func (b built) all() []string { return append(b.cached(), b.offline) }

// esbuild runs the bundler and returns what it wrote, by ending: ".js", ".css", ".woff2".
func (h house) esbuild(args ...string) (map[string][]string, error) {
	report := filepath.Join(h.dist, "bundle.json.part")
	defer os.Remove(report)
	common := []string{
		"--bundle", "--minify", "--target=es2022", "--charset=utf8", "--log-level=warning", "--legal-comments=none",
		"--outdir=" + h.dist, "--metafile=" + report,
		`--define:process.env.NODE_ENV="production"`,
	}
	esbuild := filepath.Join(h.pwa, "node_modules", ".bin", "esbuild")
	if err := h.command(esbuild, append(common, args...)...); err != nil {
		return nil, err
	}
	content, err := os.ReadFile(report)
	if err != nil {
		return nil, err
	}
	var parsed struct {
		Outputs map[string]json.RawMessage `json:"outputs"`
	}
	if err := json.Unmarshal(content, &parsed); err != nil {
		return nil, fmt.Errorf("read the bundler's report: %w", err)
	}
	out := map[string][]string{}
	for file := range parsed.Outputs {
		name := path.Base(file)
		out[path.Ext(name)] = append(out[path.Ext(name)], name)
	}
	for _, names := range out {
		sort.Strings(names)
	}
	return out, nil
}

// bundle makes worker, page and what starts the worker before the page; they name core and worker by their hashed names.
func (h house) bundle(core string) (built, error) {
	runtime, err := goRuntime()
	if err != nil {
		return built{}, err
	}
	worker, err := h.esbuild("worker/main.ts", "--format=esm", "--entry-names=worker-[hash]",
		"--alias:wasm_exec="+runtime, "--define:CORE_URL="+quoted("/"+core))
	if err != nil {
		return built{}, err
	}
	names := built{core: core, worker: one(worker[".js"])}
	workerURL := "--define:WORKER_URL=" + quoted("/"+names.worker)
	early, err := h.esbuild("ui/early.ts", "--format=esm", "--entry-names=early-[hash]", workerURL)
	if err != nil {
		return built{}, err
	}
	page := []string{
		"ui/main.tsx", "--format=esm", "--entry-names=page-[hash]", "--asset-names=[name]-[hash]", "--jsx=automatic",
		"--jsx-import-source=preact", "--loader:.woff2=file", workerURL,
	}
	// Once in one piece, for a style that holds for all screens, and once with what is not needed first as files of their own.
	whole, err := h.esbuild(page...)
	if err != nil {
		return built{}, err
	}
	split, err := h.esbuild(append(page, "--splitting", "--chunk-names=[name]-[hash]")...)
	if err != nil {
		return built{}, err
	}
	names.early, names.style, names.fonts = one(early[".js"]), one(whole[".css"]), whole[".woff2"]
	for _, name := range split[".js"] {
		if strings.HasPrefix(name, "page-") {
			names.page = name
		} else {
			names.parts = append(names.parts, name)
		}
	}
	if names.worker == "" || names.early == "" || names.page == "" || len(names.parts) == 0 || names.style == "" || len(names.fonts) == 0 {
		return built{}, fmt.Errorf("the bundler left something out: %+v", names)
	}
	return names, nil
}

// first are the parts without which the page does not start.
func (b built) first() (out []string) {
	for _, name := range b.parts {
		if !strings.HasPrefix(name, "rooms-") {
			out = append(out, name)
		}
	}
	return out
}

func (b built) rooms() (out []string) {
	for _, name := range b.parts {
		if strings.HasPrefix(name, "rooms-") {
			out = append(out, name)
		}
	}
	return out
}

// bundleOffline makes the service worker, which carries the list of everything else.
func (h house) bundleOffline(names built) error {
	list, err := h.precacheList(names)
	if err != nil {
		return err
	}
	_, err = h.esbuild("offline/sw.ts", "--format=iife", "--entry-names=[name]", "--define:self.__WB_MANIFEST="+list)
	return err
}

func quoted(text string) string {
	return `"` + strings.ReplaceAll(text, `"`, `\"`) + `"`
}

func one(names []string) string {
	if len(names) != 1 {
		return ""
	}
	return names[0]
}
