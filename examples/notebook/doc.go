// Package notebook holds one step test worked through as a notebook. Its test builds
// the code cells as one program, runs it, and compares what they show with what is
// stored; go test ./examples/notebook -update stores it.
package notebook
