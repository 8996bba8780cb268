package lactate

import (
	"encoding/json"
	"fmt"
	"math"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/uncertain"
	"gonum.org/v1/gonum/stat/distuv"
)

// Verdict is what a comparison comes to. The zero value is NoChangeSeen.
type Verdict int

// The verdicts.
const (
	NoChangeSeen Verdict = iota // no change that these tests could see
	MovedRight                  // more intensity at the same lactate
	MovedLeft                   // less intensity at the same lactate
)

func (v Verdict) String() string {
	switch v {
	case NoChangeSeen:
		return "no change that these tests could see"
	case MovedRight:
		return "moved right"
	case MovedLeft:
		return "moved left"
	}
	return fmt.Sprintf("Verdict(%d)", int(v))
}

// Judgement weighs a shift against one kind of variation.
type Judgement struct {
	// Shift along the intensity axis, in the tests' unit, with its interval at
	// Options.Confidence: Student's t. Above zero is to the right.
	Shift Estimate `json:"shift"`
	// StandardError of the shift.
	StandardError float64 `json:"standard_error"`
	// PValue is the probability of a shift at least this large, either way, if
	// there were none.
	PValue float64 `json:"p_value"`
	// Detectable is the smallest true shift that two tests like these show with
	// probability Options.Power, at the false alarms of the options.
	Detectable float64 `json:"detectable_shift"`
	// Verdict is MovedRight or MovedLeft where PValue is below
	// Options.FalseAlarms. It agrees with the interval where Confidence is 1 −
	// FalseAlarms; by default one is 0.90 and the other 0.05, so that an interval
	// that just leaves zero out can stand beside NoChangeSeen.
	Verdict Verdict `json:"verdict"`
}

// A judge weighs shifts that share their degrees of freedom of Student's t.
type judge struct {
	opts             Options
	t                uncertain.Distribution
	half, detectable float64 // in standard errors
}

func newJudge(dof float64, o Options) judge {
	return judge{o, uncertain.Student(dof), uncertain.HalfWidth(dof, o.Confidence), uncertain.Detectable(dof, o.FalseAlarms, o.Power)}
}

// weigh judges a shift of the given standard error.
func (g judge) weigh(shift, se float64) Judgement {
	j := Judgement{Shift: exactly(shift), StandardError: se, Detectable: g.detectable * se}
	j.Shift.Low, j.Shift.High = shift-g.half*se, shift+g.half*se
	j.PValue = min(1, 2*g.t.CDF(-math.Abs(shift)/se))
	switch {
	case !(j.PValue < g.opts.FalseAlarms):
	case shift > 0:
		j.Verdict = MovedRight
	default:
		j.Verdict = MovedLeft
	}
	return j
}

// Change is what happened to the curve between two tests.
type Change struct {
	// Before and After are the two tests, each read on its own.
	Before *Analysis `json:"before"`
	After  *Analysis `json:"after"`
	// Shift is how far the curve moved along the intensity axis, by one fit of
	// both tests with a common shape, y = A + B·exp(C·(x − shift·after)). Its
	// interval knows measurement error alone: it says whether the two curves
	// differ. It is Measured.Shift.
	Shift Estimate `json:"shift"`
	// Measured weighs the shift against measurement error alone.
	Measured Judgement `json:"measured"`
	// BetweenDays weighs it against measurement error and the variation from
	// day to day of Options.DayToDay, once for each test: it says whether the
	// athlete has changed by more than two days differ.
	BetweenDays Judgement `json:"between_days"`
	// Rate C [1/unit of intensity] and Asymptote A [mmol/L] of the common shape.
	Rate      float64 `json:"rate"`
	Asymptote float64 `json:"asymptote_mmol_per_l"`
	// RSS [(mmol/L)²] and DegreesOfFreedom of the joint fit.
	RSS              float64 `json:"rss"`
	DegreesOfFreedom int     `json:"degrees_of_freedom"`
	// FitError is the standard error of the shift from the residuals alone, as
	// nonlinear least squares reports it. Measured.StandardError knows the
	// stated noise too.
	FitError float64 `json:"-"` // but see MarshalJSON
	// Reference is the intensity at which the shift is expressed as a per cent
	// or as time over a distance: LT2 of the first test, or the middle of its
	// tested range where it has none.
	Reference float64 `json:"reference"`
	// Shape asks whether one shape with a shift describes both tests.
	Shape ShapeTest `json:"shape"`
	// Thresholds holds the change of LT1, LT2 and every method of the options.
	Thresholds []ThresholdChange `json:"thresholds"`
	// Levels holds the change of lactate and heart rate at fixed intensities:
	// those of the first test's stages and thresholds that lie inside both
	// tested ranges.
	Levels []LevelChange `json:"levels"`
	// Confidence, FalseAlarms and Power as the options had them.
	Confidence  float64 `json:"confidence"`
	FalseAlarms float64 `json:"false_alarms"`
	Power       float64 `json:"power"`
	// Warnings are doubts about the comparison. Those about either test are
	// in Before and After.
	Warnings []Warning `json:"warnings,omitempty"`
}

// MarshalJSON leaves out what is NaN.
func (c Change) MarshalJSON() ([]byte, error) {
	type plain Change
	out := struct {
		plain
		FitError *float64 `json:"fit_error,omitempty"`
	}{plain: plain(c)}
	if !math.IsNaN(c.FitError) {
		out.FitError = &c.FitError
	}
	return json.Marshal(out)
}

// ShapeTest is an F test of two separate exponentials (six parameters) against
// a common shape with a shift (four).
type ShapeTest struct {
	F       float64 // NaN where too few stages are left for it
	PValue  float64 // NaN where F is
	Changed bool    // PValue is below Options.FalseAlarms
}

// MarshalJSON leaves out F and PValue where they are NaN.
func (s ShapeTest) MarshalJSON() ([]byte, error) {
	var out struct {
		F       *float64 `json:"f,omitempty"`
		PValue  *float64 `json:"p_value,omitempty"`
		Changed bool     `json:"changed"`
	}
	out.Changed = s.Changed
	if !math.IsNaN(s.F) {
		out.F, out.PValue = &s.F, &s.PValue
	}
	return json.Marshal(out)
}

// Further doubts, raised by [Compare].
const (
	WarnShapeChanged WarningKind = "shape changed" // a single shift does not describe the change
	WarnLittleShared WarningKind = "little shared" // the two tests hardly share a range of lactate
	WarnEndsDecide   WarningKind = "ends decide"   // a threshold that does not follow the curve, as Dmax on an exponential
)

// Compare asks whether the curve moved between two tests. They need not have
// the same stages.
//
// It makes one least-squares fit to both tests of an exponential-plus-constant
// that differs by a shift along the intensity axis alone (see [curve.Shifted]),
// whatever the curve of the options, which serves the two analyses. The
// standard error comes from the stated noise and the residuals together: the
// residuals, divided by the stated standard deviations, and the stated noise,
// which counts for Noise.Weight observations, give one scale, with Student's t.
//
// A shift is not yet fitness: less carbohydrate, a sample diluted by sweat or
// water, or another analyser lower every lactate, and that too looks like a
// curve that has moved to the right (common practice).
//
// The error is not nil where either test has no [Analyze] answer or where both
// together do not determine a shift.
func Compare(before, after Test, o Options) (*Change, error) {
	o, err := o.WithDefaults()
	if err != nil {
		return nil, err
	}
	if err := oneUnit(before, after); err != nil {
		return nil, err
	}
	c := &Change{Confidence: o.Confidence, FalseAlarms: o.FalseAlarms, Power: o.Power}
	var drawn [2]*draws
	for i, t := range []Test{before, after} {
		a, d, err := analyze(t, o, i)
		if err != nil {
			return nil, fmt.Errorf("%s test: %w", [...]string{"first", "second"}[i], err)
		}
		drawn[i] = d
		if i == 0 {
			c.Before = a
		} else {
			c.After = a
		}
	}
	j, err := fitJoint([]Test{before, after}, o.Noise)
	if err != nil {
		return nil, err
	}
	c.Rate, c.Asymptote, c.RSS, c.DegreesOfFreedom = j.C, j.A, j.RSS(), j.DegreesOfFreedom()
	c.FitError = j.fitError[1]
	c.Reference = c.Before.Reference()
	variance := j.cov.At(0, 0)
	day := o.DayToDay * c.Reference
	days := 2 * float64(day*day)
	c.Measured = newJudge(j.dof, o).weigh(j.Shifts[1], math.Sqrt(variance))
	c.BetweenDays = newJudge(uncertain.Satterthwaite(variance, days, j.dof), o).weigh(j.Shifts[1], math.Sqrt(variance+days))
	c.Shift = c.Measured.Shift
	c.Shape = testShape(j, []*Analysis{c.Before, c.After}, o)
	c.compareThresholds(drawn, o)
	c.compareLevels(o)
	c.warn()
	return c, nil
}

// Percent returns the shift as a per cent of the reference intensity.
func (c *Change) Percent() Estimate {
	return c.Shift.map1(func(v float64) float64 { return 100 * v / c.Reference })
}

// SecondsPer returns how much less time the same lactate takes over a distance
// at the reference intensity [s]: above zero is faster. It means something only
// where the intensity is a speed, and takes the distance in that speed's unit
// of length: 100 for m/s and 100 m, 91.44 for m/s and 100 yd.
func (c *Change) SecondsPer(distance float64) Estimate {
	return c.Shift.map1(func(v float64) float64 {
		return distance/c.Reference - distance/(c.Reference+v)
	})
}

// testShape compares the joint fit with a fit of its own for every test.
func testShape(j *joint, tests []*Analysis, o Options) ShapeTest {
	none := ShapeTest{F: math.NaN(), PValue: math.NaN()}
	separate, points := 0.0, 0
	for _, a := range tests {
		own, err := fitJoint([]Test{a.test}, o.Noise)
		if err != nil {
			return none
		}
		separate += own.RSS()
		points += len(a.stages)
	}
	extra := float64(2 * (len(tests) - 1))
	left := float64(points - 3*len(tests))
	if left <= 0 || !(separate > 0) {
		return none
	}
	f := max(0, j.RSS()-separate) / extra / (separate / left)
	p := distuv.F{D1: extra, D2: left}.Survival(f)
	return ShapeTest{F: f, PValue: p, Changed: p < o.FalseAlarms}
}

func (c *Change) warn() {
	if c.Shape.Changed {
		c.Warnings = append(c.Warnings, Warning{Kind: WarnShapeChanged, Words: "the curve changed its shape as well as its place: a single shift does not describe the change; read how lactate changed at each {stage} instead"})
	}
	if endsDecide(c.Before, c.After, c.Measured, c.Reference) {
		c.Warnings = append(c.Warnings, endsDecideWarning())
	}
	ends := func(a *Analysis) (lo, hi float64) {
		lo, hi = math.Inf(1), 0
		for _, s := range a.stages {
			lo, hi = min(lo, s.Lactate), max(hi, s.Lactate)
		}
		return lo, hi
	}
	lo1, hi1 := ends(c.Before)
	lo2, hi2 := ends(c.After)
	if shared := min(hi1, hi2) - max(lo1, lo2); shared < (max(hi1, hi2)-min(lo1, lo2))/3 {
		c.Warnings = append(c.Warnings, Warning{Kind: WarnLittleShared, Words: "the two tests share little of their range of lactate: the shift rests on the common shape more than on the samples"})
	}
}

func endsDecideWarning() Warning {
	return Warning{Kind: WarnEndsDecide, Words: "Dmax on an exponential depends on how sharply the curve bends and on the first and the last {stage}, not on where the curve lies: its change is no measure of how far the curve moved"}
}

// endsDecide reports whether LT1 or LT2 is a Dmax on an exponential, and its
// change may be taken for something else: see [MaxDistance].
func endsDecide(before, after *Analysis, shift Judgement, reference float64) bool {
	if _, ok := before.Curve.(*curve.Exponential); !ok {
		return false
	}
	const same = 0.005 // of the reference: ends as near as this are alike
	apart := max(math.Abs(after.Lowest-before.Lowest), math.Abs(after.Highest-before.Highest))
	if shift.Verdict == NoChangeSeen && apart <= same*reference {
		return false
	}
	for _, pair := range [][2]Threshold{{before.LT1, after.LT1}, {before.LT2, after.LT2}} {
		switch pair[0].Method.(type) {
		case MaxDistance, ModifiedMaxDistance:
			if pair[0].Err == nil && pair[1].Err == nil {
				return true
			}
		}
	}
	return false
}
