// Package outside holds programs as strangers write them around the library: each is a
// test, uses what is exported alone, and needs no adapter of its own.
package outside
