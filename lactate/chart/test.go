package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// deviations is how many standard deviations of a sample a bar reaches to each
// side.
const deviations = 2

// drawable returns the test of an analysis, or reports what cannot be drawn.
func drawable(a *lactate.Analysis) (lactate.Test, error) {
	if a == nil || a.Curve == nil {
		return lactate.Test{}, errors.New("chart: found no analysis, want one that Analyze made")
	}
	t := a.Test()
	errs := []error{t.Check()}
	if !(a.Lowest < a.Highest) {
		errs = append(errs, fmt.Errorf("chart: analysis: found a tested range from %v to %v, want two different intensities", a.Lowest, a.Highest))
	}
	if len(t.Sampled()) == 0 {
		errs = append(errs, errors.New("chart: found a test without a lactate sample, want the stages that were analysed"))
	}
	return t, errors.Join(errs...)
}

// span returns what the horizontal axis covers: the stages and a margin.
func span(ts ...lactate.Test) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, t := range ts {
		for _, s := range t.Stages {
			lo, hi = math.Min(lo, s.Intensity), math.Max(hi, s.Intensity)
		}
	}
	margin := 0.06 * (hi - lo)
	return math.Max(lo-margin, lo/2), hi + margin
}

// bandPoints are enough for a band that looks smooth at any width.
const bandPoints = 41

// bandOf returns the band of an analysis' curve: none without resamples.
func bandOf(a *lactate.Analysis) []lactate.BandPoint {
	band, err := a.Band(bandPoints)
	if err != nil || slices.ContainsFunc(band, func(b lactate.BandPoint) bool { return !say.Finite(b.Intensity, b.Lactate.Low, b.Lactate.High) }) {
		return nil
	}
	return band
}

// highest returns the highest lactate that is drawn.
func highest(t lactate.Test, o Options, band []lactate.BandPoint) float64 {
	top := 0.0
	for _, s := range t.Sampled() {
		top = math.Max(top, s.Lactate+deviations*o.Noise.Lactate(s.Lactate))
	}
	for _, b := range band {
		top = math.Max(top, b.Lactate.High)
	}
	return top
}

// curve draws the band and the fitted curve from end to end of the tested range
// and returns it as a line.
func (pl *plate) curve(f draw.Frame, a *lactate.Analysis, band []lactate.BandPoint, dashes []vg.Length) []vg.Point {
	if len(band) > 1 {
		var edges []vg.Point
		for _, b := range band {
			edges = append(edges, vg.Point{X: f.X(b.Intensity), Y: f.ClampY(b.Lactate.Low)})
		}
		for i := len(band) - 1; i >= 0; i-- {
			edges = append(edges, vg.Point{X: f.X(band[i].Intensity), Y: f.ClampY(band[i].Lactate.High)})
		}
		pl.Patch(pl.Band, edges...)
	}
	const n = 80
	var line []vg.Point
	for i := range n + 1 {
		x := a.Lowest + (a.Highest-a.Lowest)*float64(i)/n
		if y := a.Curve.Predict(x); say.Finite(y) {
			line = append(line, vg.Point{X: f.X(x), Y: f.ClampY(y)})
		}
	}
	pl.Line(pl.Ink, 1.7, dashes, line...)
	return line
}
