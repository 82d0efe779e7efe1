// Package web serves the built app, and what a host wants to know of a server: /healthz, /readyz and /metrics.
//
// The app is a folder of files. A name that carries a hash of its content (name-HASH.ext) is kept by browsers for ever; every
// other name is asked for again each time. Beside a file may stand file.br and file.gz, which are sent instead where the
// browser takes them. A path that names no file and looks like a screen gets the page.
package web

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"regexp"
	"strconv"
	"strings"
)

// App serves a built app. It is read into memory once.
type App struct {
	files map[string]*file
}

// file is one file of the app with its compressed forms.
type file struct {
	kind     string
	forever  bool
	plain    form
	br, gzip form
}

type form struct {
	bytes []byte
	etag  string
}

const index = "index.html"

// NewApp reads a built app, index.html at its root.
func NewApp(built fs.FS) (*App, error) {
	a := &App{files: map[string]*file{}}
	err := fs.WalkDir(built, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || strings.HasPrefix(path.Base(name), ".") {
			return err
		}
		content, err := fs.ReadFile(built, name)
		if err != nil {
			return err
		}
		a.add(name, content)
		return nil
	})
	if err != nil {
		return nil, err
	}
	if a.files[index] == nil {
		return nil, fmt.Errorf("the app has no %s", index)
	}
	return a, nil
}

func (a *App) add(name string, content []byte) {
	base, compression := name, ""
	if ext := path.Ext(name); ext == ".br" || ext == ".gz" {
		base, compression = strings.TrimSuffix(name, ext), ext
	}
	f := a.files[base]
	if f == nil {
		f = &file{kind: kindOf(base), forever: hashed.MatchString(path.Base(base))}
		a.files[base] = f
	}
	sum := sha256.Sum256(content)
	made := form{content, `"` + hex.EncodeToString(sum[:12]) + `"`}
	switch compression {
	case ".br":
		f.br = made
	case ".gz":
		f.gzip = made
	default:
		f.plain = made
	}
}

// hashed is a name with a hash before its extension, of eight or more letters and digits.
var hashed = regexp.MustCompile(`-[0-9A-Za-z]{8,}\.[0-9a-z]+$`)

func kindOf(name string) string {
	switch path.Ext(name) {
	case ".wasm":
		return "application/wasm"
	case ".webmanifest":
		return "application/manifest+json"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".woff2":
		return "font/woff2"
	}
	if kind := mime.TypeByExtension(path.Ext(name)); kind != "" {
		return kind
	}
	return "application/octet-stream"
}

func (a *App) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "the app is only read", http.StatusMethodNotAllowed)
		return
	}
	f := a.find(r)
	if f == nil {
		w.Header().Set("Cache-Control", "no-cache")
		http.Error(w, "there is nothing here", http.StatusNotFound)
		return
	}
	f.serve(w, r)
}

// find gives the file, or the page for what looks like a screen's address: the app itself says what it does not know.
func (a *App) find(r *http.Request) *file {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if name == "" {
		name = index
	}
	if f := a.files[name]; f != nil && f.plain.bytes != nil {
		return f
	}
	if path.Ext(name) == "" {
		return a.files[index]
	}
	return nil
}

func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Vary", "Accept-Encoding")
	if f.forever {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	chosen := f.plain
	switch accepted := r.Header.Get("Accept-Encoding"); {
	case f.br.bytes != nil && accepts(accepted, "br"):
		chosen = f.br
		h.Set("Content-Encoding", "br")
	case f.gzip.bytes != nil && accepts(accepted, "gzip"):
		chosen = f.gzip
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("ETag", chosen.etag)
	if strings.Contains(r.Header.Get("If-None-Match"), chosen.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Length", strconv.Itoa(len(chosen.bytes)))
	if r.Method == http.MethodGet {
		_, _ = w.Write(chosen.bytes)
	}
}

// accepts reads an Accept-Encoding; a weight of zero is a refusal.
func accepts(header, coding string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(part, ";")
		if strings.TrimSpace(name) != coding {
			continue
		}
		value := strings.TrimPrefix(strings.ReplaceAll(weight, " ", ""), "q=")
		return strings.Trim(value, "0.") != "" || value == ""
	}
	return false
}
