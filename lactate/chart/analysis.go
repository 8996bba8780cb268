package chart

import "example.com/steptest/lactate"

// bandPoints are enough for a band that looks smooth at any width.
const bandPoints = 61

// Analysis draws an analysis as [OneTest] does, with the test that it holds and the band of
// its curve, if there are resamples and the options have none.
func Analysis(a *lactate.Analysis, o Options) (*Picture, error) {
	if a == nil {
		return OneTest(lactate.Test{}, nil, o)
	}
	if o.Band == nil {
		if band, err := a.Band(bandPoints); err == nil { // an error: no resamples
			o.Band = band
		}
	}
	return OneTest(a.Test(), a, o)
}
