// Package api holds no code: its test compares what the library exports with
// what is written down in testdata/api, so that nobody changes a promise without
// a reviewer seeing it.
package api
