package main

import (
	"bytes"
	"fmt"
	"reflect"
	"sort"
	"strings"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

const head = `// Made by go run ./pwa/app/tsgen from the Go sources. Do not edit.

`

// generate writes the whole file. dir is where the Go structs stand, for their comments.
func generate(dir string) ([]byte, error) {
	comments, err := readComments(dir)
	if err != nil {
		return nil, err
	}
	w := writer{comments: comments, found: map[string]reflect.Type{}}
	w.WriteString(head)
	for _, set := range app.WordSets() {
		w.words(set.Name, comments[wordsOf(set.Name)], set.Words)
	}
	w.contract()
	w.structs()
	return w.Bytes(), w.err
}

type writer struct {
	bytes.Buffer
	comments comments
	found    map[string]reflect.Type
	err      error
}

func (w *writer) printf(format string, args ...any) { fmt.Fprintf(w, format, args...) }

func (w *writer) doc(indent, text string) {
	if text = strings.Join(strings.Fields(text), " "); text != "" {
		w.printf("%s/** %s */\n", indent, text)
	}
}

func (w *writer) words(name, doc string, words []string) {
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = fmt.Sprintf("%q", word)
	}
	w.doc("", doc)
	w.printf("export type %s = %s;\n\n", name, strings.Join(quoted, " | "))
}

func (w *writer) contract() {
	w.printf("/** Every command with its arguments and its result. */\nexport interface Commands {\n")
	for _, c := range app.Commands() {
		w.printf("  %q: { args: %s; result: %s };\n", c.Name, w.typeOf(c.Args), w.typeOf(c.Result))
	}
	w.printf("}\n\n/** Every view with its parameters and its value. */\nexport interface Views {\n")
	for _, v := range app.Views() {
		w.printf("  %q: { params: %s; value: %s };\n", v.Name, w.typeOf(v.Params), w.typeOf(v.Value))
	}
	w.printf("}\n\n/** Everything that comes out of the core, to be carried out in order. */\nexport type Effect =")
	for _, e := range app.Effects() {
		w.printf("\n  | %s", w.typeOf(e))
	}
	w.printf(";\n\n")
}

// structs writes every struct that was named, and those that they name, in order of their names.
func (w *writer) structs() {
	written := map[string]bool{}
	for {
		var names []string
		for name := range w.found {
			if !written[name] {
				names = append(names, name)
			}
		}
		if len(names) == 0 {
			return
		}
		sort.Strings(names)
		for _, name := range names {
			written[name] = true
			w.structure(w.found[name])
		}
	}
}

func (w *writer) structure(t reflect.Type) {
	w.doc("", w.comments[t.Name()])
	if t.NumField() == 0 {
		w.printf("export type %s = Record<string, never>;\n\n", t.Name())
		return
	}
	w.printf("export interface %s {\n", t.Name())
	for field := range t.Fields() {
		w.field(t, field)
	}
	w.printf("}\n\n")
}

func (w *writer) field(owner reflect.Type, f reflect.StructField) {
	name, options, _ := strings.Cut(f.Tag.Get("cbor"), ",")
	if name == "" {
		w.err = fmt.Errorf("%s.%s has no cbor name", owner.Name(), f.Name)
		return
	}
	optional := ""
	if strings.Contains(options, "omitempty") {
		optional = "?"
	}
	w.doc("  ", w.comments[owner.Name()+"."+f.Name])
	w.printf("  %s%s: %s;\n", name, optional, w.fieldType(f))
}

func (w *writer) fieldType(f reflect.StructField) string {
	if ts := f.Tag.Get("ts"); ts != "" {
		if f.Type.Kind() == reflect.Slice {
			return ts + "[]"
		}
		return ts
	}
	return w.typeOf(f.Type)
}

var (
	bytesType = reflect.TypeFor[[]byte]()
	rawType   = reflect.TypeFor[codec.Raw]()
)

func (w *writer) typeOf(t reflect.Type) string {
	switch {
	case t == bytesType:
		return "Uint8Array"
	case t == rawType:
		return "unknown"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.typeOf(t.Elem())
	case reflect.Slice:
		return w.typeOf(t.Elem()) + "[]"
	case reflect.Struct:
		w.found[t.Name()] = t
		return t.Name()
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Int64, reflect.Uint64, reflect.Uint16, reflect.Float64:
		return "number"
	case reflect.Interface:
		return "unknown"
	}
	w.err = fmt.Errorf("no TypeScript type for %s", t)
	return "never"
}
