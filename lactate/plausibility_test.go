package lactate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/stat"
)

// Plausibility: published group results on tests simulated in the shape of the
// study. The athletes are invented; that a result comes out the same way round
// says that a definition was not mistaken for another, and no more.

// athlete simulates a test: from first to peak in equal steps, lactate rest +
// height·exp(bend·(x−peak)/(peak−first)) with an error of absolute mmol/L and 3
// %.
func athlete(rng *rand.Rand, first, peak float64, n int, rest, height, bend, absolute float64) lactate.Test {
	var t lactate.Test
	for i := range n {
		u := float64(i) / float64(n-1)
		y := rest + height*math.Exp(bend*(u-1))
		y += rng.NormFloat64() * math.Hypot(absolute, 0.03*y)
		t.Stages = append(t.Stages, lactate.Stage{Intensity: first + u*(peak-first), Lactate: max(y, 0.3)})
	}
	return t
}

// Machado and others, Rev Bras Cienc Esporte (abstract seen): in 17 runners
// Dmax on the cubic lay systematically below Dmax on the exponential (10.4 ±
// 1.1 and 10.9 ± 0.8 km/h).
func TestPlausibleCubicDmaxBelowExponential(t *testing.T) {
	rng := rand.New(rand.NewPCG(2012, 17))
	const groups, runners = 20, 17
	for g := range groups {
		var exponential, cubic []float64
		for range runners {
			n := 6 + rng.IntN(4) // km/h, from 8 in steps of 1
			test := athlete(rng, 8, 8+float64(n-1), n, 1.2, 7, 3.5+2*rng.Float64(), 0.2)
			a, err := lactate.MaxDistance{}.Locate(test, fitted(t, new(curve.Exponential), test))
			if err != nil {
				t.Fatal(err)
			}
			b, err := lactate.MaxDistance{}.Locate(test, fitted(t, new(curve.Polynomial), test))
			if err != nil {
				t.Fatal(err)
			}
			exponential, cubic = append(exponential, a), append(cubic, b)
		}
		if e, c := stat.Mean(exponential, nil), stat.Mean(cubic, nil); !(c < e) {
			t.Errorf("group %d: mean Dmax %.2f on the cubic, %.2f on the exponential", g, c, e)
		}
	}
}

// Bishop, Jenkins & Mackinnon (1998) (abstract seen): in 24 women on a cycle
// log–log (144 W) < Dmax (179 W) ≈ first stage of + 1 mmol/L (179 W) < 4 mmol/L
// (198 W). Simulated: 25 W steps from 50 W to a peak of 240 ± 30 W and about
// 9 mmol/L.
func TestPlausibleOrderOfMethods(t *testing.T) {
	rng := rand.New(rand.NewPCG(1998, 24))
	const women = 24 * 20
	var logLog, dmax, observed, obla []float64
	for range women {
		n := 2 + int(math.Round((240+30*rng.NormFloat64()-50)/25))
		n = max(n, 6)
		test := athlete(rng, 50, 50+25*float64(n-1), n, 1+0.2*rng.NormFloat64(), 8, 3.5+1.5*rng.Float64(), 0.15)
		c := fitted(t, new(curve.Polynomial), test)
		for _, m := range []struct {
			method lactate.Method
			to     *[]float64
		}{
			{lactate.LogLog{}, &logLog},
			{lactate.MaxDistance{}, &dmax},
			{lactate.ObservedRise{From: lactate.BaselineLowestStage}, &observed},
			{lactate.Fixed{}, &obla},
		} {
			if x, err := m.method.Locate(test, c); err == nil {
				*m.to = append(*m.to, x)
			}
		}
	}
	for _, xs := range [][]float64{logLog, dmax, observed, obla} {
		if len(xs) < women*95/100 {
			t.Fatalf("a method answered in %d of %d tests only", len(xs), women)
		}
	}
	l, d, o, v4 := stat.Mean(logLog, nil), stat.Mean(dmax, nil), stat.Mean(observed, nil), stat.Mean(obla, nil)
	t.Logf("log–log %.0f W, Dmax %.0f W, + 1 mmol/L %.0f W, 4 mmol/L %.0f W", l, d, o, v4)
	if !(l < d && l < o && d < v4 && o < v4) {
		t.Error("not in the order of the study")
	}
	if !(math.Abs(d-o) < 25) {
		t.Error("Dmax and + 1 mmol/L lie more than a step of the test apart")
	}
}
