package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
	"pgregory.net/rapid"
)

// referenceRows reads a file of testdata/reference into rows by column name.
func referenceRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	header, rows := table(t, name)
	out := make([]map[string]string, len(rows))
	for i, rec := range rows {
		out[i] = map[string]string{}
		for k, name := range header {
			out[i][name] = rec[k]
		}
	}
	return out
}

func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g (± %g relative)", what, got, want, tol)
	}
}

// C: three invented pairs of tests, R 4.2.2
// nls(lactate ~ a + b*exp(c*(x - shift*after))), see testdata/reference/README.md.
func TestReferenceRetests(t *testing.T) {
	xs, ys, groups := map[string][]float64{}, map[string][]float64{}, map[string][]int{}
	for _, row := range referenceRows(t, "retests.csv") {
		p := row["pair"]
		xs[p] = append(xs[p], number(t, row["intensity"]))
		ys[p] = append(ys[p], number(t, row["lactate"]))
		groups[p] = append(groups[p], int(number(t, row["after"])))
	}
	var s curve.Shifted
	for _, row := range referenceRows(t, "retests-expected.csv") {
		p := row["pair"]
		if err := s.Fit(xs[p], ys[p], groups[p]); err != nil {
			t.Fatal(p, err)
		}
		relative(t, p+" shift", s.Shifts[1], number(t, row["shift"]), 1e-6)
		relative(t, p+" rate", s.C, number(t, row["rate"]), 1e-6)
		relative(t, p+" asymptote", s.A, number(t, row["asymptote"]), 1e-6)
		relative(t, p+" residual sum of squares", s.RSS(), number(t, row["residual_sum_of_squares"]), 1e-6)
		if got, want := s.DegreesOfFreedom(), int(number(t, row["degrees_of_freedom"])); got != want {
			t.Errorf("%s: %d degrees of freedom, want %d", p, got, want)
		}
	}
}

// C: seven seed sources of loblolly pines, R 4.2.2
// nls(height ~ SSasymp(age, Asym, R0, lrc)); Kung (1986), data set Loblolly of
// R; height = Asym + (R0 − Asym)·exp(−exp(lrc)·age).
func TestReferenceLoblolly(t *testing.T) {
	xs, ys := map[string][]float64{}, map[string][]float64{}
	for _, row := range referenceRows(t, "loblolly.csv") {
		s := row["seed"]
		xs[s] = append(xs[s], number(t, row["age"]))
		ys[s] = append(ys[s], number(t, row["height"]))
	}
	rows := referenceRows(t, "loblolly-expected.csv")
	if len(rows) == 0 || len(rows) != len(xs) {
		t.Fatalf("answers for %d of %d seeds", len(rows), len(xs))
	}
	var e curve.Exponential
	for _, row := range rows {
		s := row["seed"]
		asym, r0, lrc := number(t, row["asymptote"]), number(t, row["value_at_zero"]), number(t, row["log_rate"])
		rss := number(t, row["residual_sum_of_squares"])
		// First the model at R's parameters: is it transcribed right?
		e = curve.Exponential{A: asym, B: r0 - asym, C: -math.Exp(lrc)}
		sum := 0.0
		for i, x := range xs[s] {
			sum += (ys[s][i] - e.Predict(x)) * (ys[s][i] - e.Predict(x))
		}
		relative(t, s+" RSS at R's parameters", sum, rss, 1e-6)
		// Then the fit.
		if err := e.Fit(xs[s], ys[s]); err != nil {
			t.Fatal(s, err)
		}
		relative(t, s+" asymptote", e.A, asym, 1e-6)
		relative(t, s+" value at zero", e.A+e.B, r0, 1e-6)
		relative(t, s+" log rate", math.Log(-e.C), lrc, 1e-6)
		relative(t, s+" RSS", e.RSS(), rss, 1e-6)
	}
}

// D: points on shifted copies of one curve give the shifts back.
func TestShiftedRecoversItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 4).Draw(t, "groups")
		c := rapid.Float64Range(5, 30).Draw(t, "C")
		a := rapid.Float64Range(0.5, 2).Draw(t, "A")
		var xs, ys []float64
		var groups []int
		shifts := []float64{0}
		for g := 1; g < k; g++ {
			shifts = append(shifts, rapid.Float64Range(-0.05, 0.05).Draw(t, "shift"))
		}
		for g, d := range shifts {
			for i := range 6 {
				x := 1.1 + 0.04*float64(i) + 0.001*float64(g)
				xs, groups = append(xs, x), append(groups, g)
				ys = append(ys, a+5*math.Exp(c*(x-d-1.3)))
			}
		}
		var s curve.Shifted
		if err := s.Fit(xs, ys, groups); err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(s.C-c) <= 1e-7*c) {
			t.Errorf("C = %v, want %v", s.C, c)
		}
		for g, d := range shifts {
			if !(math.Abs(s.Shifts[g]-d) <= 1e-8) {
				t.Errorf("shift %d = %v, want %v", g, s.Shifts[g], d)
			}
		}
		if !(math.Abs(s.Predict(1.2, k-1)-(a+5*math.Exp(c*(1.2-shifts[k-1]-1.3)))) <= 1e-8) {
			t.Errorf("Predict = %v", s.Predict(1.2, k-1))
		}
	})
}

// D: with one group it is the exponential.
func TestShiftedOfOneGroup(t *testing.T) {
	xs, ys := stepTest(7)
	var s curve.Shifted
	var e curve.Exponential
	if err := s.Fit(xs, ys, make([]int, 7)); err != nil {
		t.Fatal(err)
	}
	if err := e.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	relative(t, "C", s.C, e.C, 1e-7)
	relative(t, "A", s.A, e.A, 1e-7)
	relative(t, "B", s.B, e.B, 1e-6)
	relative(t, "RSS", s.RSS(), e.RSS(), 1e-9)
}
