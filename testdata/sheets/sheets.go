// Package sheets holds the demonstration sheets of this folder, so that the
// examples find them wherever they are run. Everything in them is invented.
package sheets

import _ "embed"

//go:embed single.csv
var single []byte

//go:embed retest.csv
var retest []byte

//go:embed season.csv
var season []byte

// Single is one test of one swimmer in a 25 yd pool.
func Single() []byte { return single }

// Retest is the same test and the swimmer's next one, seven weeks later.
func Retest() []byte { return retest }

// Season is five tests of one swimmer over nine months in a 25 m pool.
func Season() []byte { return season }

//go:embed squad.csv
var squad []byte

// Squad is one day of several swimmers in a 25 m pool.
func Squad() []byte { return squad }
