package heartrate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// Line is the straight line of heart rate against intensity,
//
//	heart rate = Intercept + Slope·intensity,
//
// by least squares through the stages of one test. Below the maximum heart rate
// rises in a straight line with speed or power; near the maximum it flattens
// (common knowledge of the field, from memory). It is read inside the tested
// range alone.
//
// The line smooths the readings and says how sure it is. The heart rates beside
// thresholds in a [lactate.Analysis] are another reading: from stage to stage, as
// measured. The two differ by about ResidualError.
//
// The zero value is no line, nor is one read from JSON: it answers nothing. Make
// one with [Fit].
type Line struct {
	Intercept float64 `json:"intercept_per_min"` // [1/min]
	Slope     float64 `json:"slope"`             // [1/min per unit of intensity]
	// ResidualError is the standard deviation of a reading about the line
	// [1/min], from Stages − 2 degrees of freedom.
	ResidualError float64 `json:"residual_error_per_min"`
	// Stages is how many readings the line rests on.
	Stages int `json:"stages"`
	// Lowest and Highest are the ends of the tested range [unit of intensity].
	Lowest  float64 `json:"lowest"`
	Highest float64 `json:"highest"`
	// Confidence of the intervals.
	Confidence float64 `json:"confidence"`
	// Warnings are what to know before believing it.
	Warnings []lactate.Warning `json:"warnings,omitempty"`

	meanX, meanY, sxx float64
}

// Doubts that [Fit] raises.
const (
	WarnFewStages lactate.WarningKind = "few heart rates"     // fewer than five stages have one
	WarnFlattens  lactate.WarningKind = "heart rate flattens" // the last stage lies below the line of the others
	WarnStrays    lactate.WarningKind = "heart rate strays"   // a stage lies off the line of the others
)

// ErrNotRising is returned for a test whose heart rate does not rise
// with intensity.
var ErrNotRising = errors.New("heartrate: heart rate does not rise with intensity; was pace passed for speed?")

// Fit draws the straight line of heart rate against intensity through
// the stages of a test that have a heart rate. They need not have a lactate.
//
// A stage that lies off the line of the others by more than they explain is
// warned about: the last one if it lies below it (one-sided, 5 %), and any
// other on either side (5 % for all of them together), by the deleted
// Studentised residual, and by 2 /min at least, a bound of ours. Nothing is left
// out of its own accord: see Options.WithoutLast.
//
// The error joins a [*lactate.StageError] for each value that cannot be right. It wraps
// [lactate.ErrTooFewStages] for fewer than three stages with a heart rate or fewer than
// two different intensities among them; it is [ErrNotRising] if the
// line does not rise.
//
// Checked against R's lm and predict by TestHeartRateReference.
func Fit(t lactate.Test, o Options) (*Line, error) {
	o, err := o.withDefaults()
	if err := errors.Join(err, t.Check()); err != nil {
		return nil, err
	}
	var taken []int // stages, in order of intensity
	last := 0.0     // the highest intensity, which may have no heart rate
	for i, s := range t.Stages {
		last = max(last, s.Intensity)
		if s.HeartRate > 0 {
			taken = append(taken, i)
		}
	}
	at := func(i int) float64 { return t.Stages[i].Intensity }
	slices.SortStableFunc(taken, func(a, b int) int { return cmp.Compare(at(a), at(b)) })
	if o.WithoutLast {
		taken = slices.DeleteFunc(taken, func(i int) bool { return at(i) == last })
	}
	n := len(taken)
	if n < 3 {
		return nil, fmt.Errorf("heartrate: %w: found %d with a heart rate, want at least 3", lactate.ErrTooFewStages, n)
	}
	if at(taken[0]) == at(taken[n-1]) {
		return nil, fmt.Errorf("heartrate: %w: found one intensity, %v, in all of them, want at least 2 different ones", lactate.ErrTooFewStages, at(taken[0]))
	}
	xs, ys := make([]float64, n), make([]float64, n)
	for i, k := range taken {
		xs[i], ys[i] = at(k), t.Stages[k].HeartRate
	}
	l := &Line{Stages: n, Lowest: xs[0], Highest: xs[n-1], Confidence: o.Confidence}
	l.fit(xs, ys)
	for _, v := range []float64{l.Intercept, l.Slope, l.ResidualError, l.sxx} {
		if !(math.Abs(v) <= math.MaxFloat64) {
			return nil, errors.New("heartrate: the numbers are too large or too small to compute with")
		}
	}
	if !(l.Slope > 0) {
		return nil, ErrNotRising
	}
	l.warn(xs, ys, taken)
	return l, nil
}

// fit finds the line, about the middle of its points.
func (l *Line) fit(xs, ys []float64) {
	l.meanX, l.meanY = stat.Mean(xs, nil), stat.Mean(ys, nil)
	dx, dy := slices.Clone(xs), slices.Clone(ys)
	floats.AddConst(-l.meanX, dx)
	floats.AddConst(-l.meanY, dy)
	l.sxx = floats.Dot(dx, dx)
	_, l.Slope = stat.LinearRegression(dx, dy, nil, true)
	l.Intercept = l.meanY - l.Slope*l.meanX
	floats.AddScaled(dy, -l.Slope, dx)
	l.ResidualError = floats.Norm(dy, 2) / math.Sqrt(float64(len(xs)-2))
}

// at returns the line at intensity x (1/min).
func (l *Line) at(x float64) float64 { return l.meanY + l.Slope*(x-l.meanX) }

// leverage returns the variance of the line at x, in units of that of a
// reading.
func (l *Line) leverage(x float64) float64 {
	d := x - l.meanX
	return 1/float64(l.Stages) + d*d/l.sxx
}

// warn looks at each stage with the line of the others; stages are their indices
// as they were given.
func (l *Line) warn(xs, ys []float64, stages []int) {
	add := func(k lactate.WarningKind, stages []int, words string, values ...any) {
		l.Warnings = append(l.Warnings, lactate.Warning{Kind: k, Stages: stages, Words: words, Values: values})
	}
	n := len(xs)
	if n < 5 {
		add(WarnFewStages, nil, "only %d {stages} have a heart rate; five or more are needed to see whether it rises in a straight line", n)
	}
	if n < 4 {
		return
	}
	const (
		alpha    = 0.05
		atLeast  = 2 // [1/min]: what a reading is good for
		slips    = 8 // [1/min]: farther than a heart strays by itself; ours
		leftFree = 1e-9
	)
	dof := float64(n - 3)
	t := uncertain.Student(dof)
	rss := l.ResidualError * l.ResidualError * float64(n-2)
	for i, x := range xs {
		free := 1 - l.leverage(x)
		if free < leftFree {
			continue // the line goes through it whatever it is
		}
		e := ys[i] - l.at(x)
		deleted := e / free // from the line of the others
		others := math.Sqrt(max(0, rss-e*deleted) / dof)
		ratio := deleted * math.Sqrt(free) / others
		last := i == n-1 && x > xs[n-2]
		switch {
		case !(math.Abs(deleted) >= atLeast):
		case last && ratio < t.Quantile(alpha):
			add(WarnFlattens, []int{stages[i] + 1}, "the last {stage} has a heart rate of %.0f /min, %.0f below the line of the others: near the maximum it flattens, and the line is better drawn without that {stage}", ys[i], -deleted)
		case math.Abs(ratio) > t.Quantile(1-alpha/2/float64(n)):
			side := "above"
			if deleted < 0 {
				side = "below"
			}
			words := "{stage} {1} has a heart rate of %.0f /min, %.0f %s the line of the others"
			if math.Abs(deleted) >= slips {
				words += ": did the strap slip, or the count?"
			}
			add(WarnStrays, []int{stages[i] + 1}, words, ys[i], math.Abs(deleted), side)
		}
	}
}
