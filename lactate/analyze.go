package lactate

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate/internal/uncertain"
)

// Analysis is what a test says, read with one curve. Every number names its
// method and curve.
type Analysis struct {
	// Curve is the fitted curve.
	Curve Curve `json:"curve_parameters"`
	// LT1 and LT2 are the two thresholds, by the definitions of the options.
	LT1 Threshold `json:"lt1"`
	LT2 Threshold `json:"lt2"`
	// Thresholds has one entry for each of Options.Methods, in their order.
	Thresholds []Threshold `json:"thresholds"`
	// Warnings are what a physiologist would want to know before believing
	// the numbers.
	Warnings []Warning `json:"warnings,omitempty"`
	// Lowest and Highest are the ends of the tested range: the intensities
	// between which the curve is read. Nothing is extrapolated.
	Lowest  float64 `json:"lowest"`
	Highest float64 `json:"highest"`
	// Unit of the intensities, as the test has it.
	Unit string `json:"intensity_unit,omitzero"`
	// Confidence of the intervals, as Options.Confidence had it.
	Confidence float64 `json:"confidence"`

	test    Test // as the methods see it: sampled stages in order of intensity, then lost ones
	stages  []Stage
	weights []float64 // of the stages, that the curve was fitted with; nil for all alike
	hearts  heartRates
	opts    Options
	stream  int
}

// MarshalJSON names the curve beside its exported fields. It is written for
// readers of results and not read back.
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
	// Intensity is where the threshold lies, in the test's unit.
	Intensity Estimate
	// Lactate is the value of the curve there [mmol/L].
	Lactate Estimate
	// HeartRate is read between the stages along straight lines [1/min]; NaN
	// if the stages around have none. Its interval is that of the intensity, in
	// heart beats.
	HeartRate Estimate
	// Err says why there is no threshold; the estimates are then NaN.
	Err error
	// Failed is the number of Options.Resamples in which the definition gave no
	// threshold, and Beyond the number of those in which the level, or the lowest
	// lactate equivalent, lay outside the tested range. Resamples beyond the range
	// open the interval; other failures are excluded.
	Failed, Beyond int
}

// Analyze fits the curve of the options to the test and reads the thresholds
// off it.
//
// Stages without a lactate sample are left out of the curve; their heart rates
// are used. A threshold that the test cannot give carries its own Err, and the
// rest stands. The error is not nil if there is no analysis at all: values
// that cannot be right (a [*StageError] for each), fewer than three stages with
// a lactate sample (ErrTooFewStages), lactate that falls as intensity rises
// (ErrNotRising), or a curve that the stages do not determine.
func Analyze(t Test, o Options) (*Analysis, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	a, _, err := analyze(t, o, 0)
	return a, err
}

// analyze is Analyze with the number of the random stream: the tests of one
// comparison are resampled independently. It returns the draws behind
// the intervals, if there are any.
func analyze(t Test, o Options, stream int) (*Analysis, *draws, error) {
	a, err := prepare(t, o)
	if err != nil {
		return nil, nil, err
	}
	a.stream = stream
	sampled := a.test
	a.LT1 = a.read(sampled, o.LT1)
	a.LT2 = a.read(sampled, o.LT2)
	a.Thresholds = make([]Threshold, len(o.Methods))
	for i, m := range o.Methods {
		a.Thresholds[i] = a.read(sampled, m)
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
	return uncertain.Scale{Weight: a.opts.Noise.PriorWeight(), DoF: float64(degreesOfFreedom(a.Curve))}.Known()
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
		return nil, fmt.Errorf("lactate: %w: found %d with a lactate sample, expected at least 3", ErrTooFewStages, n)
	}
	a.Lowest, a.Highest = a.stages[0].Intensity, a.stages[n-1].Intensity
	if falling(a.stages) {
		return nil, ErrNotRising
	}
	both := make([]float64, 2*n)
	xs, ys := both[:n], both[n:]
	for i, s := range a.stages {
		xs[i], ys[i] = s.Intensity, s.Lactate
	}
	a.Curve = o.Curve()
	if a.Curve == nil {
		return nil, fmt.Errorf("%w: Curve: found a function that returns nil, expected one that returns a curve", ErrOptions)
	}
	var err error
	if a.weights, err = fitStages(a.Curve, a.stages, xs, ys, o.Noise); err != nil {
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

// predictable returns an error if the curve does not have a number at x.
func predictable(c Curve, x float64) error {
	if y := c.Predict(x); !finite(y) {
		return fmt.Errorf("lactate: the fitted curve is %v at intensity %v, expected a finite number: %w", y, x, ErrShape)
	}
	return nil
}

// falling reports whether the straight line through the stages falls.
func falling(stages []Stage) bool {
	var mx, my float64
	for _, s := range stages {
		mx += s.Intensity / float64(len(stages))
		my += s.Lactate / float64(len(stages))
	}
	sum := 0.0
	for _, s := range stages {
		sum += (s.Intensity - mx) * (s.Lactate - my)
	}
	return sum < 0
}

// read locates one threshold.
func (a *Analysis) read(t Test, m Method) Threshold {
	th := Threshold{Method: m, Intensity: none(), Lactate: none(), HeartRate: none()}
	x, err := m.Locate(t, a.Curve)
	if err == nil && !(x >= a.Lowest && x <= a.Highest) {
		err = fmt.Errorf("lactate: %v: found %v, outside the tested range %v to %v", m, x, a.Lowest, a.Highest)
	}
	if err == nil {
		err = predictable(a.Curve, x)
	}
	if err != nil {
		th.Err = err
		return th
	}
	th.Intensity = exactly(x)
	th.Lactate = exactly(a.Curve.Predict(x))
	th.HeartRate = exactly(a.hearts.at(x))
	return th
}

// MarshalJSON writes method, intensity, lactate and heart rate, or the error in
// words.
func (th Threshold) MarshalJSON() ([]byte, error) {
	out := struct {
		Method    string    `json:"method"`
		Intensity *Estimate `json:"intensity,omitempty"`
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
	out.Intensity, out.Lactate = &th.Intensity, &th.Lactate
	if !math.IsNaN(th.HeartRate.Value) {
		out.HeartRate = &th.HeartRate
	}
	return json.Marshal(out)
}
