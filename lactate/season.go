package lactate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/mat"
)

// DatedTest is a test with its date.
type DatedTest struct {
	Date time.Time `json:"date"`
	Test Test      `json:"test"`
}

// Season is any number of tests in one joint fit, in order of date.
type Season struct {
	Tests []SeasonTest `json:"tests"`
	// Exponential is the common shape if an exponential was asked for; nil if not.
	Exponential *CommonExponential `json:"exponential,omitempty"`
	// Reference is the intensity at which shifts are expressed as a per cent:
	// LT2 of the first test, or the middle of its tested range.
	Reference float64 `json:"reference"`
	// Shape asks whether one shape with shifts describes all tests.
	Shape ShapeTest `json:"shape"`
	// Trend is the shift per four weeks along a straight line through the
	// first test's true place, in the tests' unit of intensity, by generalised
	// least squares over all shifts. It weighs measurement error and the
	// variation from day to day of CompareOptions.DayToDay. Its Detectable is the
	// smallest trend that tests on these dates would have shown.
	Trend Judgement `json:"trend_per_four_weeks"`
	// Confidence and Power as the options had them.
	Confidence float64 `json:"confidence"`
	Power      float64 `json:"power"`
	// Warnings are doubts about the joint fit.
	Warnings []Warning `json:"warnings,omitempty"`

	start time.Time
	shape commonShape
	cov   *mat.SymDense // of the shifts, with the variation from day to day
	days  float64       // variance of one test's day
	opts  CompareOptions
}

// SeasonTest is one test of a season.
type SeasonTest struct {
	Date     time.Time `json:"date"`
	Analysis *Analysis `json:"analysis"`
	// Measured and BetweenDays weigh the shift from the first test, as in
	// [Change]; both are zero for the first test itself.
	Measured    Judgement `json:"measured,omitzero"`
	BetweenDays Judgement `json:"between_days,omitzero"`
}

const fourWeeks = 4 * 7 * 24 * time.Hour

// FollowSeason fits one shape to all tests, each shifted along the intensity axis, as
// [Compare] does to two, and a straight line through the shifts. Two tests give the
// answer of [Compare].
//
// Tests may come in any order of date; two tests of the same date are allowed,
// as long as not all are of one. There must be at least two, each with an
// [Analyze] answer; all faults are reported at once.
func FollowSeason(tests []DatedTest, o CompareOptions) (*Season, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	if len(tests) < 2 {
		return nil, fmt.Errorf("lactate: season: found %d tests, expected at least 2", len(tests))
	}
	tests = slices.Clone(tests)
	slices.SortStableFunc(tests, func(a, b DatedTest) int { return a.Date.Compare(b.Date) })
	last := tests[len(tests)-1].Date
	s := &Season{start: tests[0].Date, opts: o, Confidence: o.Confidence, Power: o.Power}
	if !last.After(s.start) {
		return nil, errors.New("lactate: season: found tests of one date only, expected at least two dates")
	}
	var errs []error
	var all []Test
	for i, d := range tests {
		a, _, err := analyze(d.Test, o.Options, i)
		if err != nil {
			errs = append(errs, fmt.Errorf("test of %s: %w", d.Date.Format(time.DateOnly), err))
			continue
		}
		s.Tests = append(s.Tests, SeasonTest{Date: d.Date, Analysis: a})
		t, stage := a.withoutOdd(d.Test)
		if stage > 0 {
			s.Warnings = append(s.Warnings, leftOut(stage, "the test of "+d.Date.Format("2 January 2006")))
		}
		all = append(all, t)
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if err := oneUnit(all...); err != nil {
		return nil, err
	}
	shape, exponential, err := fitCommon(all, o)
	if err != nil {
		return nil, err
	}
	s.shape, s.Exponential = shape, common(shape)
	s.Reference = s.Tests[0].Analysis.Reference()
	day := o.DayToDay * s.Reference
	s.days = day * day
	if err := s.judge(); err != nil {
		return nil, err
	}
	s.Shape = testShape(exponential, all, o)
	s.warn()
	return s, nil
}

// judge weighs every shift, and the trend.
func (s *Season) judge() error {
	n := len(s.Tests) - 1
	measured := s.shape.covariance()
	s.cov = mat.NewSymDense(n, nil)
	meaningful := s.opts.Meaningful * s.Reference
	for a := range n {
		for b := a; b < n; b++ {
			days := s.days // the first test's day is in every shift
			if a == b {
				days *= 2
			}
			s.cov.SetSym(a, b, measured.At(a, b)+days)
		}
		only := make([]float64, n)
		only[a] = 1
		st := &s.Tests[a+1]
		st.Measured = s.opts.judge(s.shape.sum(only, 0), meaningful)
		st.BetweenDays = s.opts.judge(s.shape.sum(only, 2*s.days), meaningful)
		if err := checkJudged(st.Measured, st.BetweenDays); err != nil {
			return err
		}
	}
	weights, _, err := s.line()
	if err != nil {
		return err
	}
	s.Trend = s.opts.judge(s.sum(weights, s.daysIn(weights.RawVector().Data)), meaningful)
	return checkJudged(s.Trend)
}

func (s *Season) warn() {
	if s.Shape.Changed {
		s.Warnings = append(s.Warnings, Warning{Kind: WarnShapeChanged, Words: "the curve changed its shape during the season: shifts alone do not describe it"})
	}
	first := s.Tests[0].Analysis
	for _, st := range s.Tests[1:] {
		if endsDecide(first, st.Analysis, st.Measured, s.Reference) {
			s.Warnings = append(s.Warnings, endsDecideWarning())
			break
		}
	}
	for _, st := range s.Tests[1:] {
		if w, ok := otherStages(first, st.Analysis); ok {
			s.Warnings = append(s.Warnings, w)
			break
		}
	}
}

// sum is the posterior of a weighted sum of the shifts.
func (s *Season) sum(weights *mat.VecDense, days float64) posterior {
	if mat.Norm(weights, 1) == 0 { // the days alone
		return &student{0, math.Sqrt(days), math.Inf(1)}
	}
	return s.shape.sum(weights.RawVector().Data, days)
}

// daysIn returns the variance of a weighted sum of the shifts that comes from the days
// of the tests: that of the first is in every shift.
func (s *Season) daysIn(weights []float64) float64 {
	first, others := 0.0, 0.0
	for _, w := range weights {
		first += w
		others += float64(w * w)
	}
	return s.days * (float64(first*first) + others)
}

// age returns the time since the first test in units of four weeks.
func (s *Season) age(date time.Time) float64 {
	return float64(date.Sub(s.start)) / float64(fourWeeks)
}

// line returns the weights of the shifts whose sum is the slope per four weeks,
// Σ⁻¹t / tᵀΣ⁻¹t, and the variance of that sum, 1 / tᵀΣ⁻¹t.
func (s *Season) line() (weights *mat.VecDense, variance float64, err error) {
	t := s.ages()
	weights = new(mat.VecDense)
	if err := s.solve(weights, t); err != nil {
		return nil, 0, err
	}
	variance = 1 / mat.Dot(t, weights)
	weights.ScaleVec(variance, weights)
	return weights, variance, nil
}

// ages returns those of the tests after the first.
func (s *Season) ages() *mat.VecDense {
	t := mat.NewVecDense(len(s.Tests)-1, nil)
	for i, st := range s.Tests[1:] {
		t.SetVec(i, s.age(st.Date))
	}
	return t
}

func (s *Season) solve(dst *mat.VecDense, v mat.Vector) error {
	var chol mat.Cholesky
	if !chol.Factorize(s.cov) {
		return errors.New("lactate: season: the covariance of the shifts is not positive definite")
	}
	if err := chol.SolveVecTo(dst, v); err != nil {
		return fmt.Errorf("lactate: season: %w", err)
	}
	return nil
}

// Expected returns where the next test is to be expected at a date, as a shift
// from the first test: the trend carried on, with what the tests say of the
// first test's day taken into account (best linear unbiased prediction). The
// interval is that of a new test's true place on its day; the new test's own
// measurement error comes on top.
func (s *Season) Expected(date time.Time) (Estimate, error) {
	if s.cov == nil {
		return none(), ErrNotAnalyzed
	}
	t := s.ages()
	at := s.age(date)
	// Covariance of the new shift with the others: the first test's day.
	common := mat.NewVecDense(t.Len(), nil)
	for i := range t.Len() {
		common.SetVec(i, s.days)
	}
	var weights mat.VecDense
	if err := s.solve(&weights, common); err != nil {
		return none(), err
	}
	gap := at - mat.Dot(&weights, t)
	line, _, err := s.line()
	if err != nil {
		return none(), err
	}
	weights.AddScaledVec(&weights, gap, line)
	// What the days leave open: those of the tests, less what the new place shares
	// with them, and its own.
	first, others := 1.0, 1.0
	for _, w := range weights.RawVector().Data {
		first -= w
		others += float64(w * w)
	}
	p := s.sum(&weights, s.days*(float64(first*first)+others))
	tail := (1 - s.opts.Confidence) / 2
	return Estimate{p.mean(), p.quantile(tail), p.quantile(1 - tail)}, nil
}
