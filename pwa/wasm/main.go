//go:build js && wasm

// Command wasm is the app's core as the browser runs it, and nothing but the bridge: it registers one function on the
// worker's global object,
//
//	hushcupCore(input: Uint8Array): Uint8Array
//
// which takes one app.Input and returns the list of effects, both as CBOR. A panic ends the program; the worker sees that,
// and starts a new one from what is saved.
package main

import (
	"crypto/rand"
	"syscall/js"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

func main() {
	core := app.New(rand.Reader)
	uint8Array := js.Global().Get("Uint8Array")
	step := js.FuncOf(func(_ js.Value, args []js.Value) any {
		bytes := make([]byte, args[0].Length())
		js.CopyBytesToGo(bytes, args[0])
		var input app.Input
		if err := codec.Unmarshal(bytes, &input); err != nil {
			panic("the worker and the core are not of one build: " + err.Error())
		}
		effects := codec.MustMarshal(core.Step(input))
		out := uint8Array.New(len(effects))
		js.CopyBytesToJS(out, effects)
		return out
	})
	js.Global().Set("hushcupCore", step)
	select {}
}
