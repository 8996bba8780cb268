//go:build js && wasm

// Command wasm is the page's computing, for a browser: it gives the worker one function,
// from the bytes of a request to those of its answer.
package main

import (
	"syscall/js"

	"example.com/steptest/examples/page/app"
)

func main() {
	js.Global().Set("answer", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(app.Do([]byte(args[0].String())))
	}))
	js.Global().Call("started")
	select {}
}
