package lactate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate/internal/uncertain"
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
	// Rate C [1/unit of intensity] and Asymptote A [mmol/L] of the common shape.
	Rate      float64 `json:"rate"`
	Asymptote float64 `json:"asymptote_mmol_per_l"`
	// RSS [(mmol/L)²] and DegreesOfFreedom of the joint fit.
	RSS              float64 `json:"rss"`
	DegreesOfFreedom int     `json:"degrees_of_freedom"`
	// Reference is the intensity at which shifts are expressed as a per cent:
	// LT2 of the first test, or the middle of its tested range.
	Reference float64 `json:"reference"`
	// Shape asks whether one shape with shifts describes all tests.
	Shape ShapeTest `json:"shape"`
	// Trend is the shift per four weeks along a straight line through the
	// first test's true place, in the tests' unit of intensity, by generalised
	// least squares over all shifts. It weighs measurement error and the
	// variation from day to day of Options.DayToDay. Its Detectable is the
	// smallest trend that tests on these dates would have shown.
	Trend Judgement `json:"trend_per_four_weeks"`
	// Confidence, FalseAlarms and Power as the options had them.
	Confidence  float64 `json:"confidence"`
	FalseAlarms float64 `json:"false_alarms"`
	Power       float64 `json:"power"`
	// Warnings are doubts about the joint fit.
	Warnings []Warning `json:"warnings,omitempty"`

	start time.Time
	// Covariance of the shifts: by measurement error alone, with dof of
	// Student's t, and with the variation from day to day.
	measured, cov *mat.SymDense

	days float64 // variance of one test's day
	dof  float64
	opts Options
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

// FollowSeason fits one exponential shape to all tests, each shifted along the
// intensity axis, and a straight line through the shifts. Two tests give the
// answer of [Compare].
//
// Tests may come in any order of date; two tests of the same date are allowed,
// as long as not all are of one. There must be at least two, each with an
// [Analyze] answer; all faults are reported at once.
func FollowSeason(tests []DatedTest, o Options) (*Season, error) {
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
	s := &Season{start: tests[0].Date, opts: o, Confidence: o.Confidence, FalseAlarms: o.FalseAlarms, Power: o.Power}
	if !last.After(s.start) {
		return nil, errors.New("lactate: season: found tests of one date only, expected at least two dates")
	}
	var errs []error
	var all []Test
	for i, d := range tests {
		a, _, err := analyze(d.Test, o, i)
		if err != nil {
			errs = append(errs, fmt.Errorf("test of %s: %w", d.Date.Format(time.DateOnly), err))
			continue
		}
		s.Tests = append(s.Tests, SeasonTest{Date: d.Date, Analysis: a})
		all = append(all, d.Test)
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if err := oneUnit(all...); err != nil {
		return nil, err
	}
	j, err := fitJoint(all, o.Noise)
	if err != nil {
		return nil, err
	}
	s.Rate, s.Asymptote, s.RSS, s.DegreesOfFreedom, s.dof = j.C, j.A, j.RSS(), j.DegreesOfFreedom(), j.dof
	s.Reference = s.Tests[0].Analysis.Reference()
	day := o.DayToDay * s.Reference
	s.days = day * day
	n := len(all) - 1
	s.cov = mat.NewSymDense(n, nil)
	s.measured = j.cov
	measured := newJudge(j.dof, o)
	for a := range n {
		for b := a; b < n; b++ {
			days := s.days // the first test's day is in every shift
			if a == b {
				days *= 2
			}
			s.cov.SetSym(a, b, j.cov.At(a, b)+days)
		}
		st := &s.Tests[a+1]
		v := j.cov.At(a, a)
		st.Measured = measured.weigh(j.Shifts[a+1], math.Sqrt(v))
		st.BetweenDays = newJudge(uncertain.Satterthwaite(v, 2*s.days, j.dof), o).weigh(j.Shifts[a+1], math.Sqrt(s.cov.At(a, a)))
	}
	analyses := make([]*Analysis, len(s.Tests))
	for i := range s.Tests {
		analyses[i] = s.Tests[i].Analysis
	}
	s.Shape = testShape(j, analyses, o)
	if s.Shape.Changed {
		s.Warnings = append(s.Warnings, Warning{Kind: WarnShapeChanged, Words: "the curve changed its shape during the season: shifts alone do not describe it"})
	}
	for _, st := range s.Tests[1:] {
		if endsDecide(s.Tests[0].Analysis, st.Analysis, st.Measured, s.Reference) {
			s.Warnings = append(s.Warnings, endsDecideWarning())
			break
		}
	}
	weights, variance, err := s.line()
	if err != nil {
		return nil, err
	}
	_, shifts := s.columns()
	s.Trend = newJudge(s.dofOf(weights, variance), o).weigh(mat.Dot(weights, shifts), math.Sqrt(variance))
	return s, nil
}

// dofOf returns the degrees of freedom that go with the total variance of a
// weighted sum of the shifts.
func (s *Season) dofOf(weights mat.Vector, total float64) float64 {
	measured := mat.Inner(weights, s.measured, weights)
	return uncertain.Satterthwaite(measured, total-measured, s.dof)
}

// age returns the time since the first test in units of four weeks.
func (s *Season) age(date time.Time) float64 {
	return float64(date.Sub(s.start)) / float64(fourWeeks)
}

// line returns the weights of the shifts whose sum is the slope per four weeks,
// Σ⁻¹t / tᵀΣ⁻¹t, and the variance of that sum, 1 / tᵀΣ⁻¹t.
func (s *Season) line() (weights *mat.VecDense, variance float64, err error) {
	t, _ := s.columns()
	weights = new(mat.VecDense)
	if err := s.solve(weights, t); err != nil {
		return nil, 0, err
	}
	variance = 1 / mat.Dot(t, weights)
	weights.ScaleVec(variance, weights)
	return weights, variance, nil
}

// columns returns ages and shifts of the tests after the first.
func (s *Season) columns() (ages, shifts *mat.VecDense) {
	n := len(s.Tests) - 1
	ages, shifts = mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i, st := range s.Tests[1:] {
		ages.SetVec(i, s.age(st.Date))
		shifts.SetVec(i, st.Measured.Shift.Value)
	}
	return ages, shifts
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
	t, d := s.columns()
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
	// The new shift given the others, plus what the slope leaves open.
	variance := 2*s.days - mat.Dot(&weights, common)
	gap := at - mat.Dot(&weights, t)
	line, slope, err := s.line()
	if err != nil {
		return none(), err
	}
	variance += gap * gap * slope
	weights.AddScaledVec(&weights, gap, line)
	value := mat.Dot(&weights, d)
	e := exactly(value)
	half := uncertain.HalfWidth(s.dofOf(&weights, variance), s.opts.Confidence) * math.Sqrt(variance)
	e.Low, e.High = value-half, value+half
	return e, nil
}
