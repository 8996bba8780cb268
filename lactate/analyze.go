package lactate

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/stat"
)

// Analysis is what a test says, read with one curve.
type Analysis struct {
	// Curve is the fitted curve.
	Curve Curve `json:"curve_parameters"`
	// LT1 and LT2 by the definitions of the options.
	LT1 Threshold `json:"lt1"`
	LT2 Threshold `json:"lt2"`
	// Thresholds has one entry for each of Options.Methods, in their order.
	Thresholds []Threshold `json:"thresholds"`
	// Warnings are what to know before believing the numbers.
	Warnings []Warning `json:"warnings,omitempty"`
	// Lowest and Highest are the ends of the tested range, in which the curve is read.
	Lowest  float64 `json:"lowest"`
	Highest float64 `json:"highest"`
	// Unit as in Test.
	Unit string `json:"intensity_unit,omitzero"`
	// Confidence as in Options.
	Confidence float64 `json:"confidence"`

	test    Test // as the methods see it: sampled stages in order of intensity, then lost ones
	stages  []Stage
	weights []float64 // of the stages, that the curve was fitted with; nil for all alike
	hearts  heartRates
	opts    Options
	stream  int

	oddStage   int      // whose sample is odd, in the test as given, from 1; 0 if none
	notCounted []Method // see Counts
}

// MarshalJSON names the curve beside its fields. It is not read back.
func (a Analysis) MarshalJSON() ([]byte, error) {
	type plain Analysis
	return json.Marshal(struct {
		Curve string `json:"curve"`
		plain
	}{CurveName(a.Curve), plain(a)})
}

// Threshold is one definition read on one curve.
type Threshold struct {
	Method Method
	// Intensity is where the threshold lies, in Unit, that of the test.
	Intensity Estimate
	Unit      string
	// Lactate is the value of the curve there [mmol/L].
	Lactate Estimate
	// HeartRate is read between the stages along straight lines [1/min], and so are the ends
	// of the intensity's interval; NaN if the stages around have none.
	HeartRate Estimate
	// Err says why there is no threshold; the estimates are then NaN.
	Err error
	// Failed is the number of resamples without a threshold, and Beyond that of those in
	// which the level, or the lowest lactate equivalent, lay outside the tested range.
	// Resamples beyond the range open the interval; other failures are excluded.
	Failed, Beyond int
}

// Analyze fits the curve of the options to the test and reads the thresholds off it. Of
// stages without a lactate sample the heart rates are used.
//
// A threshold that the test cannot give carries its own Err. The error is not nil if there is
// no analysis at all: values that cannot be right (a [*StageError] for each), fewer than
// three stages with a lactate sample ([ErrTooFewStages]), lactate that falls as intensity
// rises ([ErrNotRising]), or a curve that the stages do not determine.
func Analyze(t Test, o Options) (*Analysis, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	a, _, err := analyze(t, o, 0)
	return a, err
}

// analyze is Analyze with the number of the random stream, since the tests of one comparison
// are resampled independently, and with the draws behind the intervals, if there are any.
func analyze(t Test, o Options, stream int) (*Analysis, *draws, error) {
	a, err := prepare(t, o)
	if err != nil {
		return nil, nil, err
	}
	a.stream = stream
	a.LT1 = a.read(a.test, o.LT1)
	a.LT2 = a.read(a.test, o.LT2)
	a.Thresholds = make([]Threshold, len(o.Methods))
	for i, m := range o.Methods {
		a.Thresholds[i] = a.read(a.test, m)
	}
	var d *draws
	known := a.scaleIsKnown()
	if o.Resamples > 0 && known {
		d = a.addIntervals()
		if o.ended() {
			return a, d, nil // which nobody sees
		}
	}
	a.Warnings = a.warnings(t, d)
	if o.Resamples > 0 && !known {
		a.Warnings = append(a.Warnings, Warning{Kind: WarnNoScale, Words: "no intervals: the fit leaves no residuals to judge the noise by, and the stated noise has no weight"})
	}
	return a, d, nil
}

// scaleIsKnown reports whether anything says how large the noise is.
func (a *Analysis) scaleIsKnown() bool {
	return uncertain.Scale{Prior: a.opts.Noise.PriorWeight(), DoF: float64(reading.DegreesOfFreedom(a.Curve))}.Known()
}

// prepare checks the test and fits the curve.
func prepare(t Test, o Options) (*Analysis, error) {
	if err := t.Check(); err != nil {
		return nil, err
	}
	a := &Analysis{stages: t.Sampled(), hearts: heartRatesOf(t), opts: o, Unit: t.Unit, Confidence: o.Confidence}
	a.test = t
	a.test.Stages = slices.Clip(a.stages)
	for _, s := range t.Stages {
		if !s.sampled() {
			a.test.Stages = append(a.test.Stages, s) // lost, but it took its time
		}
	}
	n := len(a.stages)
	if n < 3 {
		return nil, fmt.Errorf("lactate: %w: found %d with a lactate sample, want at least 3", ErrTooFewStages, n)
	}
	a.Lowest, a.Highest = a.stages[0].Intensity, a.stages[n-1].Intensity
	xs, ys := points(a.stages)
	if stat.Covariance(xs, ys, nil) < 0 {
		return nil, ErrNotRising
	}
	a.Curve = o.Curve()
	if a.Curve == nil {
		return nil, fmt.Errorf("%w: Curve: found a function that returns nil, want one that returns a curve", ErrOptions)
	}
	if _, ok := a.Curve.(*curve.Convex); ok {
		a.weights = uncertain.Weights(xs, ys, o.Noise.about(a.stages))
	}
	if err := o.Noise.fit(a.Curve, xs, ys, a.weights); err != nil {
		return nil, fmt.Errorf("lactate: %w", err)
	}
	// At the stages and halfway between them.
	for i, x := range xs {
		if err := predictable(a.Curve, x); err != nil {
			return nil, err
		}
		if err := predictable(a.Curve, xs[max(i-1, 0)]/2+x/2); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// fit fits a curve to lactates in order of intensity. A [curve.Convex] is told the noise of each.
func (n Noise) fit(c Curve, xs, ys, weights []float64) error {
	if v, ok := c.(*curve.Convex); ok {
		v.Weight = n.Weight
		return v.FitWeighted(xs, ys, weights)
	}
	return reading.Fit(c, xs, ys)
}

// points returns intensities and lactates.
func points(stages []Stage) (xs, ys []float64) {
	both := make([]float64, 2*len(stages))
	xs, ys = both[:len(stages)], both[len(stages):]
	for i, s := range stages {
		xs[i], ys[i] = s.Intensity, s.Lactate
	}
	return xs, ys
}

// predictable returns an error if the curve does not have a number at x.
func predictable(c Curve, x float64) error {
	if y := c.Predict(x); !finite(y) {
		return fmt.Errorf("lactate: the fitted curve is %v at intensity %v, want a finite number: %w", y, x, ErrShape)
	}
	return nil
}

// read locates one threshold.
func (a *Analysis) read(t Test, m Method) Threshold {
	x, err := m.Locate(t, a.Curve)
	if err == nil && !(x >= a.Lowest && x <= a.Highest) {
		err = outsideTested(m, x, a.Lowest, a.Highest)
	}
	if err == nil {
		err = predictable(a.Curve, x)
	}
	if err != nil {
		return unread(m, err)
	}
	return Threshold{Method: m, Intensity: exactly(x), Unit: a.Unit, Lactate: exactly(a.Curve.Predict(x)), HeartRate: exactly(a.hearts.At(x))}
}

// outsideTested is the error of a method that answers beyond the test.
func outsideTested(m Method, x, lo, hi float64) error {
	return fmt.Errorf("lactate: %v: found %v, outside the tested range %v to %v", m, x, lo, hi)
}

// unread is a threshold that could not be read.
func unread(m Method, err error) Threshold {
	return Threshold{Method: m, Intensity: none(), Lactate: none(), HeartRate: none(), Err: err}
}

// MarshalJSON writes the method by its name, and the error in words.
func (th Threshold) MarshalJSON() ([]byte, error) {
	out := struct {
		Method    string    `json:"method"`
		Intensity *Estimate `json:"intensity,omitempty"`
		Unit      string    `json:"unit,omitzero"`
		Lactate   *Estimate `json:"lactate_mmol_per_l,omitempty"`
		HeartRate *Estimate `json:"heart_rate_per_min,omitempty"`
		Failed    int       `json:"failed_resamples,omitempty"`
		Beyond    int       `json:"resamples_beyond_range,omitempty"`
		Err       string    `json:"error,omitempty"`
	}{Failed: th.Failed, Beyond: th.Beyond}
	if th.Method != nil {
		out.Method = th.Method.String()
	}
	if th.Err != nil {
		out.Err = th.Err.Error()
		return json.Marshal(out)
	}
	out.Intensity, out.Unit, out.Lactate = &th.Intensity, th.Unit, &th.Lactate
	if !math.IsNaN(th.HeartRate.Value) {
		out.HeartRate = &th.HeartRate
	}
	return json.Marshal(out)
}
