package curve_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
	"pgregory.net/rapid"
)

func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g (± %g relative)", what, got, want, tol)
	}
}

// C: seven seed sources of loblolly pines, R 4.2.2
// nls(height ~ SSasymp(age, Asym, R0, lrc)); Kung (1986), data set Loblolly of
// R; height = Asym + (R0 − Asym)·exp(−exp(lrc)·age).
func TestReferenceLoblolly(t *testing.T) {
	xs, ys := map[string][]float64{}, map[string][]float64{}
	for _, row := range reference.Rows(t, "loblolly.csv") {
		s := row["seed"]
		xs[s] = append(xs[s], reference.Number(t, row["age"]))
		ys[s] = append(ys[s], reference.Number(t, row["height"]))
	}
	rows := reference.Rows(t, "loblolly-expected.csv")
	if len(rows) == 0 || len(rows) != len(xs) {
		t.Fatalf("answers for %d of %d seeds", len(rows), len(xs))
	}
	var e curve.Exponential
	for _, row := range rows {
		s := row["seed"]
		asym, r0, lrc := reference.Number(t, row["asymptote"]), reference.Number(t, row["value_at_zero"]), reference.Number(t, row["log_rate"])
		rss := reference.Number(t, row["residual_sum_of_squares"])
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
		succeeds(t, s.Fit(xs, ys, groups))
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
	succeeds(t, s.Fit(xs, ys, make([]int, 7)))
	succeeds(t, e.Fit(xs, ys))
	relative(t, "C", s.C, e.C, 1e-7)
	relative(t, "A", s.A, e.A, 1e-7)
	relative(t, "B", s.B, e.B, 1e-6)
	relative(t, "RSS", s.RSS(), e.RSS(), 1e-9)
}
