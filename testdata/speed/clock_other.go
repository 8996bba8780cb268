//go:build !unix

package main

import "time"

var start = time.Now()

// clock returns the time since the start.
func clock() time.Duration { return time.Since(start) }
