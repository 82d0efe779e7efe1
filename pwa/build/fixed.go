package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
)

// writeFixed writes icons, manifest and index.html, and notes their names.
func (h house) writeFixed(names *built) error {
	icons, err := h.writeIcons()
	if err != nil {
		return err
	}
	for _, icon := range icons {
		names.icons = append(names.icons, icon.name)
	}
	if err := h.writeManifest(icons); err != nil {
		return err
	}
	if err := h.writeIndex(*names, icons); err != nil {
		return err
	}
	names.fixed = []string{"index.html", "manifest.webmanifest"}
	names.offline = offline
	return nil
}

// writeManifest writes the W3C web app manifest: it makes the app installable.
func (h house) writeManifest(icons []icon) error {
	type entry struct {
		Source  string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose,omitempty"`
	}
	var list []entry
	for _, i := range icons {
		list = append(list, entry{"/" + i.name, fmt.Sprintf("%dx%d", i.size, i.size), "image/png", i.purpose})
	}
	manifest, err := json.MarshalIndent(map[string]any{
		"id":               "/",
		"name":             "Hushcup",
		"short_name":       "Hushcup",
		"description":      "A notebook and a tasting club for people who learn coffee by tasting it blind.",
		"start_url":        "/",
		"scope":            "/",
		"display":          "standalone",
		"background_color": "#f4eee2",
		"theme_color":      "#f4eee2",
		"icons":            list,
	}, "", "  ")
	if err != nil {
		return err
	}
	return h.write("manifest.webmanifest", manifest)
}

// writeIndex fills the hashed names into the page. It stays free of inline script and style, for the strict policy.
func (h house) writeIndex(names built, icons []icon) error {
	template, err := os.ReadFile(filepath.Join(h.pwa, "ui", "index.html"))
	if err != nil {
		return err
	}
	touch := ""
	for _, i := range icons {
		if i.size == touchSize {
			touch = i.name
		}
	}
	font := ""
	for _, name := range names.fonts {
		if strings.Contains(name, "latin-wght-normal") {
			font = name
		}
	}
	replace := strings.NewReplacer(
		"%early%", "/"+html.EscapeString(names.early),
		"%page%", "/"+html.EscapeString(names.page),
		"%style%", "/"+html.EscapeString(names.style),
		"%font%", "/"+html.EscapeString(font),
		"%touch%", "/"+html.EscapeString(touch),
	)
	return h.write("index.html", []byte(replace.Replace(string(template))))
}

// precacheList is the list in workbox-precaching's form: names with a hash need no revision, the others carry one.
func (h house) precacheList(names built) (string, error) {
	type entry struct {
		URL      string  `json:"url"`
		Revision *string `json:"revision"`
	}
	var list []entry
	for _, name := range names.cached() {
		e := entry{URL: "/" + name}
		if contains(names.fixed, name) {
			content, err := os.ReadFile(filepath.Join(h.dist, name))
			if err != nil {
				return "", err
			}
			sum := sha256.Sum256(content)
			revision := hex.EncodeToString(sum[:8])
			e.Revision = &revision
		}
		list = append(list, e)
	}
	encoded, err := json.Marshal(list)
	return string(encoded), err
}

func contains(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return false
}
