// Package pwa holds the phone's side of Hushcup: the app that a browser installs.
//
// The built app is embedded from pwa/dist, which `go generate ./pwa` fills and which is never committed. Before a build
// dist holds one placeholder, so that everything compiles; Built tells the two apart.
//
// Every file in dist whose name carries a hash of its content (name-HASH.ext) may be cached for ever; the others
// (index.html, sw.js, manifest.webmanifest) must be revalidated. Beside a file worth compressing stand file.br and
// file.gz with the same content, to be served instead of it when the browser accepts them.
package pwa

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var embedded embed.FS

// Dist returns the built app, index.html at its root.
func Dist() fs.FS {
	dist, err := fs.Sub(embedded, "dist")
	if err != nil {
		panic(err) // the name is a constant and embedded above: this cannot happen in a binary that compiled
	}
	return dist
}

// Built reports whether the app was built before this binary was.
func Built() bool {
	_, err := fs.Stat(embedded, "dist/index.html")
	return err == nil
}
