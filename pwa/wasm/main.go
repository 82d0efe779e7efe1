//go:build js && wasm

// Command wasm is the core in the browser's worker: one function, hushcupCore, bytes in, bytes out (see package app). It
// keeps nothing but the App.
package main

import (
	"crypto/rand"
	"syscall/js"

	"hushcup/pwa/app"
)

func main() {
	core := app.New(rand.Reader)
	js.Global().Set("hushcupCore", js.FuncOf(func(_ js.Value, args []js.Value) any {
		in := make([]byte, args[0].Get("byteLength").Int())
		js.CopyBytesToGo(in, args[0])
		out := core.StepBytes(in)
		array := js.Global().Get("Uint8Array").New(len(out))
		js.CopyBytesToJS(array, out)
		return array
	}))
	select {}
}
