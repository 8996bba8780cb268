package lactate

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"example.com/steptest/lactate/internal/common"
)

// DatedTest is a test with its date.
type DatedTest struct {
	Date time.Time `json:"date"`
	Test Test      `json:"test"`
}

// Season is any number of tests on one common shape, in order of date.
type Season struct {
	Tests []SeasonTest `json:"tests"`
	// Exponential as in [Change].
	Exponential *CommonExponential `json:"exponential,omitempty"`
	// Reference as in [Change].
	Reference float64 `json:"reference"`
	// Shape asks whether one shape with shifts describes all tests.
	Shape ShapeTest `json:"shape"`
	// Trend is the shift per four weeks along a straight line through the first test's true
	// place, in the tests' unit of intensity, by generalised least squares over all shifts.
	// It weighs measurement error and the variation from day to day. Its Detectable is the
	// smallest trend that tests on these dates would have shown.
	Trend Judgement `json:"trend_per_four_weeks"`
	// Confidence and Power as the options had them.
	Confidence float64 `json:"confidence"`
	Power      float64 `json:"power"`
	// Warnings are doubts about the joint fit.
	Warnings []Warning `json:"warnings,omitempty"`

	start time.Time
	trend *common.Trend
	opts  CompareOptions
}

// SeasonTest is one test of a season.
type SeasonTest struct {
	Date     time.Time `json:"date"`
	Analysis *Analysis `json:"analysis"`
	// Measured and BetweenDays weigh the shift from the first test, as in [Change]; both are
	// zero for the first test itself.
	Measured    Judgement `json:"measured,omitzero"`
	BetweenDays Judgement `json:"between_days,omitzero"`
}

const fourWeeks = 4 * 7 * 24 * time.Hour

// FollowSeason fits one shape to all tests, each shifted along the intensity axis, as
// [Compare] does to two, and a straight line through the shifts. Two tests give the
// answer of [Compare].
//
// Tests may come in any order, also several of one date. There must be two dates at least, and
// each test an [Analyze] answer; all faults are reported at once.
func FollowSeason(tests []DatedTest, o CompareOptions) (*Season, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	if len(tests) < 2 {
		return nil, fmt.Errorf("lactate: season: found %d tests, want at least 2", len(tests))
	}
	tests = slices.Clone(tests)
	slices.SortStableFunc(tests, func(a, b DatedTest) int { return a.Date.Compare(b.Date) })
	last := tests[len(tests)-1].Date
	s := &Season{start: tests[0].Date, opts: o, Confidence: o.Confidence, Power: o.Power}
	if !last.After(s.start) {
		return nil, errors.New("lactate: season: found tests of one date only, want at least two dates")
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
			s.Warnings = append(s.Warnings, leftOut(stage, len(s.Tests), "the test of "+d.Date.Format("2 January 2006")))
		}
		all = append(all, t)
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if err := oneUnit(all...); err != nil {
		return nil, err
	}
	joint, err := fitCommon(all, o)
	if err != nil {
		return nil, err
	}
	s.Exponential, s.Shape = joint.exponential, joint.oneShape
	s.Reference = s.Tests[0].Analysis.Reference()
	if err := s.judge(joint, o.DayToDay*s.Reference); err != nil {
		return nil, err
	}
	s.warn()
	return s, nil
}

// judge weighs every shift, and the trend.
func (s *Season) judge(shape common.Shape, day float64) error {
	meaningful := s.opts.Meaningful * s.Reference
	ages := make([]float64, len(s.Tests)-1)
	for a := range ages {
		only := make([]float64, len(ages))
		only[a] = 1
		st := &s.Tests[a+1]
		ages[a] = s.age(st.Date)
		st.Measured = s.opts.judge(shape.Sum(only, 0), meaningful)
		st.BetweenDays = s.opts.judge(shape.Sum(only, betweenDays(day)), meaningful)
		if err := checkJudged(st.Measured, st.BetweenDays); err != nil {
			return err
		}
	}
	var err error
	if s.trend, err = common.NewTrend(shape, ages, float64(day*day)); err != nil {
		return fmt.Errorf("lactate: season: %w", err)
	}
	s.Trend = s.opts.judge(s.trend.Slope(), meaningful)
	return checkJudged(s.Trend)
}

// age returns the time since the first test in units of four weeks.
func (s *Season) age(date time.Time) float64 {
	return float64(date.Sub(s.start)) / float64(fourWeeks)
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

// Expected returns where a test is to be expected at a date, as a shift from the first test:
// the trend carried on, with what the tests say of the first test's day taken into account
// (best linear unbiased prediction). The interval is that of the test's true place on its day;
// its measurement error comes on top.
func (s *Season) Expected(date time.Time) (Estimate, error) {
	if s.trend == nil {
		return none(), ErrNotAnalyzed
	}
	p, err := s.trend.Expected(s.age(date))
	if err != nil {
		return none(), fmt.Errorf("lactate: season: %w", err)
	}
	return s.opts.estimate(p), nil
}
