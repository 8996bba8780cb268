package lactate_test

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// The exact cases below are constructed by algebra, so that the answer is known;
// they are nobody's data.

// onExponential lie on La = 0.9 + 0.0004·exp(6v), v in m/s.
func onExponential() (lactate.Test, *curve.Exponential) {
	c := &curve.Exponential{A: 0.9, B: 0.0004, C: 6}
	return sampled(c.Predict, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6), c
}

// say reads one method, as a program would.
func say(m lactate.Method, t lactate.Test, c lactate.Curve) {
	x, err := m.Locate(t, c)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.3f m/s\n", m, x)
}

// Levels on a constructed exponential: v = ln((level − 0.9)/0.0004)/6.
func ExampleFixed() {
	t, c := onExponential()
	for _, level := range []float64{2, 2.5, 3, 3.5, lactate.OBLA, 8} {
		say(lactate.Fixed{Lactate: level}, t, c)
	}
	// Output:
	// 2 mmol/L: 1.320 m/s
	// 2.5 mmol/L: 1.382 m/s
	// 3 mmol/L: 1.428 m/s
	// 3.5 mmol/L: 1.463 m/s
	// 4 mmol/L: 1.493 m/s
	// lactate: 8 mmol/L: level not reached inside the tested range: the curve ends at 6.81 mmol/L
}

// Rises above the lowest value of a constructed exponential, 1.194 mmol/L at 1.1 m/s.
func ExampleAboveBaseline() {
	t, c := onExponential()
	say(lactate.AboveBaseline{Rise: 0.5}, t, c)
	say(lactate.AboveBaseline{Rise: 1}, t, c)
	say(lactate.AboveBaseline{Rise: 1.5, From: lactate.BaselineFirstStage}, t, c)
	say(lactate.AboveBaseline{From: lactate.BaselineRestingSample}, t, c)
	// Output:
	// baseline + 0.5 mmol/L: 1.266 m/s
	// baseline + 1 mmol/L: 1.347 m/s
	// first stage + 1.5 mmol/L: 1.401 m/s
	// lactate: baseline from rest: a sample that the method needs is missing: resting lactate
}

// Bishop and others (1998) count the first stage that meets the rise: here 2.68
// mmol/L at 1.4 m/s, where the curve has risen by 1 mmol/L at 1.347 m/s already.
func ExampleObservedRise() {
	t, c := onExponential()
	say(lactate.ObservedRise{Rise: 1, From: lactate.BaselineLowestStage}, t, nil)
	say(lactate.AboveBaseline{Rise: 1, From: lactate.BaselineLowestStage}, t, c)
	// Output:
	// first stage of lowest stage + 1 mmol/L: 1.400 m/s
	// lowest stage + 1 mmol/L: 1.347 m/s
}

// The chord from 1.1 to 1.6 m/s has slope 11.22; the curve has it at 1.408.
func ExampleMaxDistance() {
	t, c := onExponential()
	say(lactate.MaxDistance{}, t, c)
	// Output:
	// Dmax: 1.408 m/s
}

// Seven stages printed to 0.1 mmol/L, on a cubic: what "before the rise" means
// moves the answer by 0.04 m/s.
func ExampleModifiedMaxDistance() {
	t := stages([]float64{1.20, 1.25, 1.30, 1.35, 1.40, 1.45, 1.50}, []float64{1.2, 1.1, 1.3, 1.6, 2.5, 4.6, 8.4})
	a, err := lactate.Analyze(t, lactate.Options{Curve: func() lactate.Curve { return new(curve.Polynomial) }})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, start := range []lactate.ChordStart{lactate.ChordBeforeFirstRise, lactate.ChordBeforeRiseAboveLowest, lactate.ChordAtFirstRise} {
		say(lactate.ModifiedMaxDistance{Start: start, Ends: lactate.MeasuredEnds}, t, a.Curve)
	}
	// Output:
	// modified Dmax, measured ends: 1.430 m/s
	// modified Dmax, chord from the stage before the rise above the lowest, measured ends: 1.411 m/s
	// modified Dmax, chord from the stage of the first rise, measured ends: 1.453 m/s
}

// bent is 1.2·(v/1.3)^1.5 mmol/L up to 1.3 m/s and 1.2·(v/1.3)^12 after it.
func bent(v float64) float64 {
	if v > 1.3 {
		return 1.2 * math.Pow(v/1.3, 12)
	}
	return 1.2 * math.Pow(v/1.3, 1.5)
}

// Two powers of speed that meet at 1.3 m/s.
func ExampleLogLog() {
	t := sampled(bent, 1.1, 1.15, 1.2, 1.25, 1.35, 1.4, 1.45, 1.5)
	say(lactate.LogLog{}, t, nil)
	lines, err := lactate.LogLog{}.Lines(t)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("powers %.1f and %.1f, %.1f mmol/L where they meet\n", lines.Left, lines.Right, math.Exp(lines.Level))
	// Output:
	// log–log: 1.300 m/s
	// powers 1.5 and 12.0, 1.2 mmol/L where they meet
}

// The chord starts on the curve at the log–log point, 1.3 m/s; the threshold is
// where the curve has the slope of the chord.
func ExampleLogLogMaxDistance() {
	t := sampled(bent, 1.1, 1.15, 1.2, 1.25, 1.35, 1.4, 1.45, 1.5)
	a, err := lactate.Analyze(t, lactate.Options{Curve: exponential})
	if err != nil {
		fmt.Println(err)
		return
	}
	e := a.Curve.(*curve.Exponential)
	x, err := lactate.LogLogMaxDistance{}.Locate(t, e)
	chord := (e.Predict(1.5) - e.Predict(1.3)) / (1.5 - 1.3)
	fmt.Println(err == nil, math.Abs(e.PredictDerivative(x)-chord) < 1e-6)
	// Output:
	// true true
}

// Lactate/speed of the constructed exponential is lowest at 1.015 m/s: a test
// from 1.1 m/s on does not show it.
func ExampleLowestLactateEquivalent() {
	t, c := onExponential()
	say(lactate.LowestLactateEquivalent{}, t, c)
	say(lactate.LowestLactateEquivalent{}, sampled(c.Predict, 0.9, 1, 1.1, 1.2, 1.3, 1.4), c)
	// Output:
	// lactate: lowest lactate equivalent: the definition does not hold for this shape: lactate/intensity is lowest at the first stage, so that its minimum may lie below the tested range
	// lowest lactate equivalent: 1.015 m/s
}

// 1.5 mmol/L above the 1.077 mmol/L of 1.015 m/s.
func ExampleAboveLowestEquivalent() {
	_, c := onExponential()
	say(lactate.AboveLowestEquivalent{}, sampled(c.Predict, 0.9, 1, 1.1, 1.2, 1.3, 1.4), c)
	// Output:
	// lowest lactate equivalent + 1.5 mmol/L: 1.390 m/s
}

// threeLines turns at 1.17 and 1.38 m/s.
func threeLines(v float64) float64 {
	return 1.2 + 1*(v-1.17) + 6*max(v-1.17, 0) + 30*max(v-1.38, 0)
}

func ExampleFirstTurnPoint() {
	say(lactate.FirstTurnPoint{}, sampled(threeLines, 1, 1.1, 1.2, 1.3, 1.4, 1.5), nil)
	// Output:
	// first turn point: 1.170 m/s
}

func ExampleSecondTurnPoint() {
	say(lactate.SecondTurnPoint{}, sampled(threeLines, 1, 1.1, 1.2, 1.3, 1.4, 1.5), nil)
	// Output:
	// second turn point: 1.380 m/s
}

// The slope of the constructed exponential is 0.0024·exp(6v).
func ExampleFixedSlope() {
	t, c := onExponential()
	say(lactate.FixedSlope{Slope: 10, Per: "m/s"}, t, c)
	say(lactate.FixedSlope{Slope: lactate.KeulSlope, Per: "m/s"}, t, c)
	say(lactate.FixedSlope{}, t, c)
	// Output:
	// slope of 10 mmol/L per m/s: 1.389 m/s
	// slope of 4.536 mmol/L per m/s: 1.257 m/s
	// lactate: fixed slope: found 0, want a slope above zero in mmol/L per unit of intensity; slopes are known for m/s and km/h only
}

// La = 1 + 0.05·t² after t minutes, 8.2 at the end after 12 and again at 14:
// the tangent touches at 14 − sqrt(52) = 6.789 min, which is 3.789 min after the
// end of the stage of 1.1 m/s, on the way of 3 min to 1.2 m/s and on to 1.3.
func ExampleRecoveryTangent() {
	t := lactate.Test{
		Stages: []lactate.Stage{
			{Intensity: 1.1, Lactate: 1.45, Duration: 3 * time.Minute},
			{Intensity: 1.2, Lactate: 2.80, Duration: 3 * time.Minute},
			{Intensity: 1.3, Lactate: 5.05, Duration: 3 * time.Minute},
			{Intensity: 1.4, Lactate: 8.20, Duration: 3 * time.Minute},
		},
		Recovery: []lactate.RecoverySample{
			{After: 1 * time.Minute, Lactate: 8.7},
			{After: 3 * time.Minute, Lactate: 7.7},
		},
	}
	c := &curve.Polynomial{Degree: 2}
	if err := c.Fit([]float64{1.1, 1.2, 1.3, 1.4}, []float64{1.45, 2.80, 5.05, 8.20}); err != nil {
		fmt.Println(err)
		return
	}
	say(lactate.RecoveryTangent{}, t, c)
	// Output:
	// recovery tangent: 1.226 m/s
}

func ExamplePeakLactate() {
	p, err := lactate.PeakLactate(lactate.Test{
		Stages: []lactate.Stage{{Intensity: 1.6, Lactate: 9.1}},
		Recovery: []lactate.RecoverySample{
			{After: 1 * time.Minute, Lactate: 9.8},
			{After: 3 * time.Minute, Lactate: 10.4},
			{After: 5 * time.Minute, Lactate: 10.1},
		},
	})
	fmt.Println(p.Lactate, "mmol/L after", p.After, p.Passed, err)
	// Output:
	// 10.4 mmol/L after 3m0s true <nil>
}

// Between 2.5 mmol/L at 1.25 m/s and 7.5 at 1.40 the scale of lactate matters.
func ExampleTwoSpeed() {
	t := stages([]float64{1.25, 1.40}, []float64{2.5, 7.5})
	say(lactate.TwoSpeed{}, t, nil)
	say(lactate.TwoSpeed{Scale: lactate.LogLactate}, t, nil)
	// Output:
	// two-speed 4 mmol/L, linear: 1.295 m/s
	// two-speed 4 mmol/L, semi-logarithmic: 1.314 m/s
}

// La = 3 + 50(v − 1.24)².
func ExampleLactateMinimum() {
	parabola := func(v float64) float64 { return 3 + 50*(v-1.24)*(v-1.24) }
	m, err := lactate.LactateMinimum(lactate.LactateMinimumTest{
		Raised: []lactate.RecoverySample{{After: 8 * time.Minute, Lactate: 9.5}},
		Stages: sampled(parabola, 1.10, 1.15, 1.20, 1.25, 1.30, 1.35).Stages,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f m/s at %.2f mmol/L\n", m.Intensity, m.Lactate)
	// Output:
	// 1.240 m/s at 3.00 mmol/L
}

// An invented test read by three definitions on two curves.
func ExampleSideBySide() {
	t := stages(
		[]float64{1.10, 1.20, 1.30, 1.40, 1.50, 1.60},
		[]float64{1.194038, 1.435772, 1.876241, 2.678827, 4.141234, 6.805913})
	p, err := lactate.SideBySide(t, lactate.SideBySideOptions{
		Definitions: []lactate.Definition{
			{Method: lactate.Fixed{}, Target: lactate.SecondThreshold, OnCurve: true},
			{Method: lactate.MaxDistance{}, Target: lactate.SecondThreshold, OnCurve: true},
			{Method: lactate.TwoSpeed{}, Target: lactate.SecondThreshold},
		},
		Curves: lactate.CommonCurves()[:1],
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range p.Rows {
		for _, cell := range row.Cells {
			if cell.Err != nil {
				fmt.Println(cell.Err)
				continue
			}
			fmt.Printf("%v %v: %.3f m/s\n", row.Definition.Target, cell.Method, cell.Intensity.Value)
		}
	}
	s := p.Spread(lactate.SecondThreshold)
	fmt.Printf("from %v to %v: %.3f m/s\n", s.Lowest.Method, s.Highest.Method, s.Highest.Intensity-s.Lowest.Intensity)
	// Output:
	// LT2 4 mmol/L: 1.489 m/s
	// LT2 Dmax: 1.392 m/s
	// lactate: two-speed test: the definition does not hold for this shape: found 6 stages with a lactate sample, want exactly 2
	// from Dmax to 4 mmol/L: 0.097 m/s
}

// Six stages of a constructed exponential, the fifth 0.8 mmol/L too high.
// Without it the level of 4 mmol/L is back at 1.493 m/s.
func ExampleInfluence() {
	t, _ := onExponential()
	t.Stages[4].Lactate += 0.8
	r, err := lactate.Influence(t, lactate.Options{Methods: []lactate.Method{lactate.Fixed{}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	f := r.Thresholds[0]
	fmt.Printf("stage %d: without it %.3f m/s\n", r.LeftOut[f.Most]+1, f.Without[f.Most].Intensity.Value)
	// Output:
	// stage 5: without it 1.486 m/s
}
