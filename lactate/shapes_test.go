package lactate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/stat"
)

// A trueShape is a kind of true curve over u from 0 to 1; some are drawn afresh for each
// test.
type trueShape struct {
	name string
	draw func(rng *rand.Rand) func(u float64) float64
	// except are the readings whose intervals are not promised here.
	except []lactate.Method
}

// always makes a shape that is the same for each test.
func always(f func(u float64) float64) func(*rand.Rand) func(float64) float64 {
	return func(*rand.Rand) func(float64) float64 { return f }
}

// shapesOfLactate are the true curves that the intervals are tried on, in mmol/L.
var shapesOfLactate = []trueShape{
	{"exponential", always(func(u float64) float64 { return 1 + 7*math.Exp(14*0.35*(u-1)) }), nil},
	// Rises from the first stage on, where the prior expects it to be flatter.
	{"low exponential", always(func(u float64) float64 { return 1 + 3.5*math.Exp(3*(u-1)) }), nil},
	{"power", always(func(u float64) float64 { return 0.9 + 7*math.Pow((1.1+0.35*u)/1.45, 19) }), nil},
	{"cubic", always(func(u float64) float64 { return 1.1 + 0.3*u + 6.6*u*u*u }), nil},
	// A corner as sharp as no muscle makes it: 78 % at six stages and the larger noise.
	{"two lines", always(func(u float64) float64 { return 1.1 + 0.5*u + 11*max(0, u-0.43) }), []lactate.Method{lactate.AboveBaseline{Rise: 0.5}}},
	{"bent cable", always(func(u float64) float64 {
		// two lines joined by a parabola over a tenth of the range either side
		const at, half, rise = 0.55, 0.1, 15
		switch {
		case u < at-half:
			return 1.1 + 0.3*u
		case u > at+half:
			return 1.1 + 0.3*u + rise*(u-at)
		}
		return 1.1 + 0.3*u + rise*(u-at+half)*(u-at+half)/(4*half)
	}), nil},
	// 84.9 % at eight stages and the larger noise, where two other shapes fit as well.
	{"soft hinge", always(func(u float64) float64 { return 1.1 + 14*0.08*math.Log1p(math.Exp((u-0.5)/0.08)) }), []lactate.Method{lactate.AboveBaseline{Rise: 1.5}}},
	{"early dip", always(func(u float64) float64 { return 1.6 - 1.2*u + 7.6*math.Exp(4.5*(u-1)) }), nil},
	// Starts to rise within a gap between two stages.
	{"delayed", always(func(u float64) float64 { return 1.2 + 6.5*math.Expm1(3*max(0, u-0.35))/math.Expm1(3*0.65) }), []lactate.Method{lactate.AboveBaseline{Rise: 0.5}, lactate.MaxDistance{}}},
	{"random convex", randomConvex, nil},
	// Most of these bend twice or oftener, more sharply than six stages can show.
	{"random kinks", randomKinks, []lactate.Method{lactate.MaxDistance{}}},
	// Dmax is the second kink, which no sample marks.
	{"three lines", always(func(u float64) float64 { return 1 + 0.3*u + 5*max(0, u-0.4) + 15*max(0, u-0.75) }), []lactate.Method{lactate.MaxDistance{}}},
	// Nearly all of the rise lies in the last gap.
	{"hyperbola", always(func(u float64) float64 { return 0.9 + 0.4/(1.06-u) }),
		[]lactate.Method{lactate.AboveBaseline{Rise: 0.5}, lactate.Fixed{Lactate: 4}, lactate.MaxDistance{}}},
}

// randomConvex draws a curve whose curvature is spread over the range in three to six
// broad bumps.
func randomConvex(rng *rand.Rand) func(u float64) float64 {
	return randomBumps(rng, 3+rng.IntN(4), 0.06, 0.20)
}

// randomKinks draws a curve whose curvature sits in one to four narrow places.
func randomKinks(rng *rand.Rand) func(u float64) float64 {
	return randomBumps(rng, 1+rng.IntN(4), 0.02, 0.12)
}

// randomBumps draws a curve that bends in n places of random weight, each a logistic
// bump of curvature of a random width.
func randomBumps(rng *rand.Rand, n int, narrow, wide float64) func(u float64) float64 {
	at, weight, width := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		at[i] = 0.15 + 0.8*rng.Float64()
		weight[i] = rng.ExpFloat64()
		width[i] = narrow + (wide-narrow)*rng.Float64()
	}
	hinge := func(u float64) (y float64) {
		for i := range n {
			y += weight[i] * width[i] * math.Log1p(math.Exp((u-at[i])/width[i]))
		}
		return y
	}
	start, rise := hinge(0), 4+5*rng.Float64()
	scale := rise / (hinge(1) - start)
	low, slope := 0.8+0.6*rng.Float64(), 0.2*rng.NormFloat64()
	return func(u float64) float64 { return low + slope*u + scale*(hinge(u)-start) }
}

// The four readings that intervals are promised for: how often the nominal 90 % must
// hold, and how much wider than on an exponential they may be if the truth is one.
var promised = []struct {
	method lactate.Method
	holds  float64 // [%]
	wider  float64
}{
	{lactate.AboveBaseline{Rise: 0.5}, 80, 1.5},
	{lactate.AboveBaseline{Rise: 1.5}, 85, 1.15},
	{lactate.Fixed{Lactate: 4}, 85, 1.3},
	{lactate.MaxDistance{}, 80, 2.2},
}

// D: on curve.Convex a nominal 90 % interval holds the true threshold in at least so
// many simulated tests, whatever the shape, and is not much wider than on an
// exponential if the truth is one. The table stands in testdata/README.md.
func TestSimulatedShapes(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	n, resamples := repetitions(120), 300
	if *long {
		resamples = 1000
	}
	sampling := 400 * math.Sqrt(0.15*0.85/float64(n)) // four standard errors, in per cent
	if n >= 2000 {
		sampling = 0
	}
	methods := make([]lactate.Method, len(promised))
	for k, p := range promised {
		methods[k] = p.method
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%-16s %-6s %-5s", "true curve", "stages", "noise")
	for _, m := range methods {
		fmt.Fprintf(&b, " | %-26s", m)
	}
	fmt.Fprintf(&b, " | in order\n")
	for _, shape := range shapesOfLactate {
		for _, stages := range []int{6, 8} {
			for _, noise := range []lactate.Noise{{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}, {Absolute: 0.1, Relative: 0.015, Resolution: 0.1}} {
				xs := even(stages)
				cells := make([]coverage, len(methods))
				ratios, errs := make([][]float64, len(methods)), make([][]float64, len(methods))
				ordered := 0
				var mu sync.Mutex
				eachSimulated(n, 23, func(rng *rand.Rand) {
					f := shape.draw(rng)
					truth := func(x float64) float64 { return f((x - 1.10) / 0.35) }
					exact := lactate.Test{}
					for _, x := range xs {
						exact.Stages = append(exact.Stages, lactate.Stage{Intensity: x, Lactate: truth(x)})
					}
					test := sample(rng, truth, xs, noise, 1)
					o := lactate.Options{Noise: noise, Methods: methods, Resamples: resamples, Seed: rng.Uint64()}
					o.Curve = func() lactate.Curve { return new(curve.Convex) }
					a, err := lactate.Analyze(test, o)
					var e *lactate.Analysis
					if shape.name == "exponential" {
						o.Curve = func() lactate.Curve { return new(curve.Exponential) }
						e, _ = lactate.Analyze(test, o)
					}
					mu.Lock()
					defer mu.Unlock()
					for k, m := range methods {
						want, gone := m.Locate(exact, closed(truth))
						if gone != nil {
							continue
						}
						cells[k].tests++
						if err != nil || a.Thresholds[k].Err != nil {
							continue
						}
						cells[k].answered++
						iv := a.Thresholds[k].Intensity
						if iv.Low <= want && want <= iv.High {
							cells[k].covered++
						}
						errs[k] = append(errs[k], iv.Value-want)
						if e != nil && e.Thresholds[k].Err == nil {
							if r := (iv.High - iv.Low) / (e.Thresholds[k].Intensity.High - e.Thresholds[k].Intensity.Low); r > 0 {
								ratios[k] = append(ratios[k], r)
							}
						}
					}
					if err == nil && a.Thresholds[0].Err == nil && a.Thresholds[1].Err == nil && a.Thresholds[0].Intensity.Value < a.Thresholds[1].Intensity.Value {
						ordered++
					}
				})
				fmt.Fprintf(&b, "%-16s %-6d %-5.1f", shape.name, stages, noise.Absolute)
				for k, p := range promised {
					got := cells[k].percent()
					wide := ""
					if len(ratios[k]) > 0 {
						slices.Sort(ratios[k])
						median := stat.Quantile(0.5, stat.Empirical, ratios[k], nil)
						wide = fmt.Sprintf(", ×%.2f", median)
						if !(median <= p.wider+sampling/100) {
							t.Errorf("%s, %d stages, noise %.1f: %v is %.2f times as wide as on an exponential, want at most %.2f", shape.name, stages, noise.Absolute, p.method, median, p.wider)
						}
					}
					bias, sd := stat.MeanStdDev(errs[k], nil)
					fmt.Fprintf(&b, " | %-26s", fmt.Sprintf("%4.1f %%%s %+.3f ± %.3f", got, wide, bias, sd))
					if !slices.Contains(shape.except, p.method) && !(got >= p.holds-sampling) {
						t.Errorf("%s, %d stages, noise %.1f: the interval of %v holds %.1f %%, want at least %.0f", shape.name, stages, noise.Absolute, p.method, got, p.holds)
					}
				}
				fmt.Fprintf(&b, " | %d\n", ordered)
			}
		}
	}
	t.Log("\n" + b.String())
}
