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
	fonts, icons                     []string
	fixed                            []string // index.html, the manifest: names without a hash
	offline                          string   // the service worker; not in its own list
}

// cached lists what the service worker keeps for offline use.
func (b built) cached() []string {
	names := []string{b.core, b.worker, b.early, b.page, b.style}
	names = append(append(append(names, b.fonts...), b.icons...), b.fixed...)
	sort.Strings(names)
	return names
}

func (b built) all() []string { return append(b.cached(), b.offline) }

// esbuild runs the bundler and returns what it wrote, by ending: ".js", ".css", ".woff2".
func (h house) esbuild(args ...string) (map[string][]string, error) {
	report := filepath.Join(h.dist, "bundle.json.part")
	defer os.Remove(report)
	common := []string{
		"--bundle", "--minify-syntax", "--minify-whitespace", "--target=es2022", "--charset=utf8", "--log-level=warning", "--legal-comments=none",
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
	names := built{core: core}
	if names.worker, err = h.script("worker", "worker/main.ts", "--alias:wasm_exec="+runtime, "--define:CORE_URL="+quoted("/"+core)); err != nil {
		return built{}, err
	}
	if names.early, err = h.script("early", "ui/early.ts", "--define:WORKER_URL="+quoted("/"+names.worker)); err != nil {
		return built{}, err
	}
	page, err := h.esbuild("ui/main.tsx", "--format=esm", "--entry-names=page-[hash]", "--asset-names=[name]-[hash]", "--jsx=transform",
		"--jsx-factory=h", "--jsx-fragment=Fragment", "--inject:ui/jsx.ts", "--loader:.woff2=file", "--external:/early-*", "--define:EARLY_URL="+quoted("/"+names.early))
	if err != nil {
		return built{}, err
	}
	names.style, names.fonts = one(page[".css"]), page[".woff2"]
	if names.page, err = h.shrink("page", one(page[".js"])); err != nil {
		return built{}, err
	}
	if names.style == "" || len(names.fonts) == 0 {
		return built{}, fmt.Errorf("the bundler left something out: %+v", names)
	}
	return names, nil
}

// script bundles a program without a style, and returns its hashed name.
func (h house) script(name, entry string, args ...string) (string, error) {
	out, err := h.esbuild(append(args, entry, "--format=esm", "--entry-names="+name+"-[hash]")...)
	if err != nil {
		return "", err
	}
	return h.shrink(name, one(out[".js"]))
}

// shrink passes a bundled script on to terser, and returns its new name. The bundler joins the modules; terser looks across all of
// them: it takes the catalogue of words apart, puts each where it is said, and leaves out those that nobody says.
func (h house) shrink(name, bundled string) (string, error) {
	if bundled == "" {
		return "", fmt.Errorf("the bundler made no %s", name)
	}
	source := filepath.Join(h.dist, bundled)
	small := source + ".part"
	defer os.Remove(small)
	terser := filepath.Join(h.pwa, "node_modules", ".bin", "terser")
	err := h.command(terser, source, "--output", small, "--module", "--ecma", "2022", "--mangle",
		"--compress", "passes=3,hoist_props,keep_fargs=false,inline=1")
	if err != nil {
		return "", err
	}
	content, err := os.ReadFile(small)
	if err != nil {
		return "", err
	}
	if bundled == offline { // the browser asks for it by this name
		return bundled, h.write(bundled, content)
	}
	hashed := hashedName(name+".js", content)
	return hashed, h.write(hashed, content)
}

// offline is the service worker.
const offline = "sw.js"

// bundleOffline makes the service worker, which carries the list of everything else.
func (h house) bundleOffline(names built) error {
	list, err := h.precacheList(names)
	if err != nil {
		return err
	}
	if _, err := h.esbuild("offline/sw.ts", "--format=esm", "--entry-names=[name]", "--define:self.__WB_MANIFEST="+list); err != nil {
		return err
	}
	_, err = h.shrink("offline", offline)
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
