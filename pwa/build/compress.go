package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"
)

// compressAll writes name.br and name.gz beside what shrinks; fonts and PNG are compressed already.
func (h house) compressAll(names []string) error {
	for _, name := range names {
		switch filepath.Ext(name) {
		case ".js", ".css", ".html", ".webmanifest", ".svg":
			if err := h.compress(name); err != nil {
				return err
			}
		}
	}
	return nil
}

// compress skips a file whose name carries its hash and whose compressed forms stand: they are of the same content.
// The .br is written last, so it vouches for the .gz.
func (h house) compress(name string) error {
	source := filepath.Join(h.dist, name)
	if strings.Contains(name, "-") && h.exists(name+".br") && h.exists(name+".gz") {
		return nil
	}
	content, err := os.ReadFile(source)
	if err != nil {
		return err
	}
	level, gzipLevel := brotli.BestCompression, gzip.BestCompression
	if h.quick {
		level, gzipLevel = 4, gzip.BestSpeed
	}
	zipped, err := squeeze(content, func(w io.Writer) (io.WriteCloser, error) { return gzip.NewWriterLevel(w, gzipLevel) })
	if err != nil {
		return err
	}
	if err := h.write(name+".gz", zipped); err != nil {
		return err
	}
	broken, err := squeeze(content, func(w io.Writer) (io.WriteCloser, error) { return brotli.NewWriterLevel(w, level), nil })
	if err != nil {
		return err
	}
	return h.write(name+".br", broken)
}

func squeeze(content []byte, open func(io.Writer) (io.WriteCloser, error)) ([]byte, error) {
	var out bytes.Buffer
	w, err := open(&out)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(content); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func (h house) exists(name string) bool {
	_, err := os.Stat(filepath.Join(h.dist, name))
	return err == nil
}

// forgetQuick drops the compressed forms that a quick build left, since their names do not tell how they were made.
func (h house) forgetQuick() error {
	mark := filepath.Join(h.dist, ".quick")
	if h.quick {
		return os.WriteFile(mark, nil, 0o644)
	}
	if _, err := os.Stat(mark); err != nil {
		return nil
	}
	for _, pattern := range []string{"*.br", "*.gz"} {
		files, err := filepath.Glob(filepath.Join(h.dist, pattern))
		if err != nil {
			return err
		}
		for _, file := range files {
			if err := os.Remove(file); err != nil {
				return err
			}
		}
	}
	return os.Remove(mark)
}

// removeStale clears what earlier builds left in dist.
func (h house) removeStale(names []string) error {
	keep := map[string]bool{".keep": true, ".quick": h.quick}
	for _, name := range names {
		keep[name], keep[name+".br"], keep[name+".gz"] = true, true, true
	}
	entries, err := os.ReadDir(h.dist)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if !keep[entry.Name()] {
			if err := os.RemoveAll(filepath.Join(h.dist, entry.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}
