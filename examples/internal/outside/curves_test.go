package outside_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// test is an invented one.
func test() lactate.Test {
	return lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.10, Lactate: 1.3}, {Intensity: 1.16, Lactate: 1.4}, {Intensity: 1.21, Lactate: 1.9},
		{Intensity: 1.26, Lactate: 2.9}, {Intensity: 1.31, Lactate: 5.0}, {Intensity: 1.36, Lactate: 8.3}}}
}

// parabola is a caller's own regression, y = a + b·x + c·x² by least squares.
type parabola struct {
	coefficients mat.VecDense
	dof          int
}

func (p *parabola) Fit(xs, ys []float64) error {
	a := mat.NewDense(len(xs), 3, nil)
	for i, x := range xs {
		a.SetRow(i, []float64{1, x, x * x})
	}
	p.dof = len(xs) - 3
	return p.coefficients.SolveVec(a, mat.NewVecDense(len(ys), slices.Clone(ys)))
}

func (p *parabola) Predict(x float64) float64 {
	return p.coefficients.AtVec(0) + x*(p.coefficients.AtVec(1)+x*p.coefficients.AtVec(2))
}

func (p *parabola) DegreesOfFreedom() int { return p.dof }

var _ lactate.Regression = (*parabola)(nil)

// silent is the same curve, which does not say how many degrees of freedom it leaves.
type silent struct{ p parabola }

func (s *silent) Fit(xs, ys []float64) error { return s.p.Fit(xs, ys) }
func (s *silent) Predict(x float64) float64  { return s.p.Predict(x) }

func warned(a *lactate.Analysis, kind lactate.WarningKind) bool {
	return slices.ContainsFunc(a.Warnings, func(w lactate.Warning) bool { return w.Kind == kind })
}

// A caller's own regression has the misfit warning and intervals from its residuals; one
// that keeps its degrees of freedom to itself is told so.
func TestOwnRegression(t *testing.T) {
	o := lactate.Options{Resamples: 500, Methods: []lactate.Method{lactate.Fixed{Lactate: 4}}}
	o.Curve = func() lactate.Curve { return new(parabola) }
	steep := test()
	steep.Stages[5].Lactate = 14 // no parabola
	own, err := lactate.Analyze(steep, o)
	if err != nil {
		t.Fatal(err)
	}
	o.Curve = func() lactate.Curve { return new(silent) }
	quiet, err := lactate.Analyze(steep, o)
	if err != nil {
		t.Fatal(err)
	}
	if warned(own, lactate.WarnUncounted) || !warned(quiet, lactate.WarnUncounted) || own.DegreesOfFreedom() != 3 {
		t.Errorf("%v; %v; %d", own.Warnings, quiet.Warnings, own.DegreesOfFreedom())
	}
	if !warned(own, lactate.WarnCurveMisses) || warned(quiet, lactate.WarnCurveMisses) {
		t.Errorf("%v; %v", own.Warnings, quiet.Warnings)
	}
	// An interpolator says nothing either, and passes through its samples.
	o.Curve = func() lactate.Curve { return new(interp.FritschButland) }
	through, err := lactate.Analyze(steep, o)
	if err != nil || warned(through, lactate.WarnUncounted) {
		t.Errorf("%v, %v", through.Warnings, err)
	}
}

// steepest is a caller's own definition: where the curve rises by so much per unit.
type steepest struct{ Slope float64 }

var errFlat = errors.New("steepest: the curve is not that steep")

func (m steepest) Locate(t lactate.Test, c lactate.Curve) (float64, error) {
	stages := t.Sampled()
	const h = 1e-4
	for x := stages[0].Intensity; x+h <= stages[len(stages)-1].Intensity; x += h {
		if (c.Predict(x+h)-c.Predict(x))/h >= m.Slope {
			return x, nil
		}
	}
	return 0, errFlat
}

func (m steepest) String() string { return "steepest" }

// A caller's own curve and method go through analysis, intervals, side by side and
// comparison like those of the library.
func TestOwnCurveAndMethod(t *testing.T) {
	o := lactate.Options{Resamples: 100, Curve: func() lactate.Curve { return new(parabola) }, LT2: steepest{30}, Methods: []lactate.Method{steepest{1e9}}}
	a, err := lactate.Analyze(test(), o)
	if err != nil {
		t.Fatal(err)
	}
	// The slope of the parabola is b + 2·c·x.
	p := a.Curve.(*parabola)
	want := (30 - p.coefficients.AtVec(1)) / (2 * p.coefficients.AtVec(2))
	if a.LT2.Err != nil || !(math.Abs(a.LT2.Intensity.Value-want) <= 2e-4) || !a.LT2.Intensity.HasInterval() || !errors.Is(a.Thresholds[0].Err, errFlat) {
		t.Errorf("%v, want %v; %v", a.LT2, want, a.Thresholds[0].Err)
	}
	panel, err := lactate.SideBySide(test(), lactate.SideBySideOptions{
		Definitions: append(lactate.Catalogue("m/s"), lactate.Definition{Method: steepest{30}, Target: lactate.SecondThreshold, OnCurve: true}),
		Curves:      append(lactate.CommonCurves(), lactate.NamedCurve{Name: "parabola", New: o.Curve}),
	})
	if err != nil {
		t.Fatal(err)
	}
	last := panel.Rows[len(panel.Rows)-1].Cells
	if got := last[len(last)-1]; got.Err != nil || got.Intensity.Value != a.LT2.Intensity.Value {
		t.Errorf("%v", got)
	}
	faster := test()
	for i := range faster.Stages {
		faster.Stages[i].Intensity += 0.03
	}
	c, err := lactate.Compare(test(), faster, lactate.CompareOptions{Options: o})
	if err != nil || !(math.Abs(c.After.LT2.Intensity.Value-c.Before.LT2.Intensity.Value-0.03) <= 3e-4) {
		t.Errorf("%v, %v", c, err)
	}
}
