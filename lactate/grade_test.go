package lactate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// D: one level for bracket and grade. On any pair, at any confidence, faster is what
// leaves zero out below, slower above; the probability says the same; probable is 75 of
// 100; and the probabilities beyond a size fall as it grows.
func TestGradeIsTheBracket(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	noise := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.1}
	seen := map[lactate.Grade]int{}
	for i := range 40 {
		curve, shift := truths[i%len(truths)].curve, 0.012*rng.NormFloat64()
		before := sample(rng, curve, even(6), noise, 1)
		after := sample(rng, func(x float64) float64 { return curve(x - shift) }, even(6), noise, 1)
		o := lactate.CompareOptions{Options: lactate.Options{Methods: []lactate.Method{}, Confidence: []float64{0, 0.5, 0.8, 0.99}[rng.IntN(4)]}, Meaningful: 0.01}
		if i%8 == 7 {
			o.Curve = exponential
		}
		c := compared(t, before, after, o)
		level := (1 + c.Confidence) / 2
		for _, j := range []lactate.Judgement{c.Measured, c.BetweenDays} {
			want := lactate.CannotTell
			switch p := j.Probability; {
			case p >= level:
				want = lactate.Faster
			case p <= 1-level:
				want = lactate.Slower
			case p >= 0.75:
				want = lactate.ProbablyFaster
			case p <= 0.25:
				want = lactate.ProbablySlower
			}
			if j.Grade != want || j.Grade == lactate.Faster != (j.Shift.Low > 0) || j.Grade == lactate.Slower != (j.Shift.High < 0) {
				t.Errorf("confidence %v: %+v, want %v", c.Confidence, j, want)
			}
			seen[j.Grade]++
			// The quantiles are those of the probabilities.
			if low, high := 1-j.Beyond(j.Shift.Low), j.Beyond(j.Shift.High); j.Shift.Low > 0 && !(math.Abs(low-(1-level)) <= 1e-6) || j.Shift.High > 0 && !(math.Abs(high-(1-level)) <= 1e-6) {
				t.Errorf("%+v: %v below, %v above, want %v", j, low, high, 1-level)
			}
			last := 1.0
			for _, size := range []float64{0, 0.005, 0.01, 0.02, 0.04} {
				p := j.Beyond(size)
				if left := j.Beyond(-size); !(p >= 0 && p <= last) || size > 0 && !(left >= 0 && left <= 1-j.Probability+1e-12) {
					t.Errorf("beyond %v: %v, beyond less %v, to the left %v", size, p, last, left)
				}
				last = p
			}
			if got, want := j.BeyondMeaningful, j.Beyond(math.Copysign(0.01*c.Reference, j.Shift.Value)); got != want || !(c.Meaningful == 0.01*c.Reference) {
				t.Errorf("beyond the meaningful size: %v, want %v", got, want)
			}
		}
	}
	if len(seen) != 5 {
		t.Errorf("grades %v, want all five", seen)
	}
	if !math.IsNaN(lactate.Judgement{}.Beyond(1)) {
		t.Error("no judgement has a probability")
	}
}

// Grades have words that come back, an order, and nothing else.
func TestGradeWords(t *testing.T) {
	var words []string
	for g := lactate.Slower; g <= lactate.Faster; g++ {
		text, err := g.MarshalText()
		var back lactate.Grade
		if err != nil || back.UnmarshalText(text) != nil || back != g || string(text) != g.String() {
			t.Errorf("%d: %q, %v, %v", g, text, err, back)
		}
		words = append(words, g.String())
		if g.Sure() != (g == lactate.Slower || g == lactate.Faster) {
			t.Errorf("%v: sure %v", g, g.Sure())
		}
	}
	if want := []string{"slower", "probably slower", "cannot tell", "probably faster", "faster"}; !slices.Equal(words, want) || lactate.Grade(0) != lactate.CannotTell {
		t.Errorf("%q", words)
	}
	for _, g := range []lactate.Grade{-3, 3} {
		if text, err := g.MarshalText(); err == nil {
			t.Errorf("%d: %q", g, text)
		}
	}
	var g lactate.Grade
	if err := g.UnmarshalText([]byte("moved right")); err == nil || !strings.Contains(err.Error(), "probably faster") {
		t.Errorf("%v", err)
	}
}

// How two tests differ is said, just on either side of the limits.
func TestOtherTests(t *testing.T) {
	lasting := func(d time.Duration, test lactate.Test) lactate.Test {
		test.Stages = slices.Clone(test.Stages)
		for i := range test.Stages {
			test.Stages[i].Duration = d
		}
		return test
	}
	scaled := func(by float64) lactate.Test {
		return sampled(func(x float64) float64 { return 1 + by*math.Exp(14*(x-1.22)) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	}
	lost := scaled(1)
	lost.Stages[5].Lactate = 0
	stopped := scaled(1)
	stopped.Submaximal = true
	wrong := scaled(1)
	wrong.Stages[3].Lactate *= 10
	for _, c := range []struct {
		name          string
		before, after lactate.Test
		kind          lactate.WarningKind
		says          string // empty: nothing
	}{
		{"400s and 200s", lasting(5*time.Minute, scaled(1)), lasting(150*time.Second, scaled(1)), lactate.WarnOtherStages, "last about 5m0s in one test and 2m30s in the other: longer ones gather more lactate, which makes the later test look faster"},
		{"200s and 400s", lasting(150*time.Second, scaled(1)), lasting(5*time.Minute, scaled(1)), lactate.WarnOtherStages, "look slower"},
		{"a little longer", lasting(4*time.Minute, scaled(1)), lasting(5*time.Minute, scaled(1)), lactate.WarnOtherStages, ""},
		{"more than a little longer", lasting(4*time.Minute, scaled(1)), lasting(301*time.Second, scaled(1)), lactate.WarnOtherStages, "4m0s"},
		{"not known", scaled(1), lasting(5*time.Minute, scaled(1)), lactate.WarnOtherStages, ""},
		{"alike", scaled(1), scaled(1), lactate.WarnOtherEnds, ""},
		{"last sample lost", scaled(1), lost, lactate.WarnOtherEnds, "the second test ended before"},
		{"stopped", stopped, scaled(1), lactate.WarnOtherEnds, "the first test ended before"},
		{"both", stopped, lost, lactate.WarnOtherEnds, "both tests ended before"},
		{"ends at 8.1 and 16.6", scaled(1), scaled(2.2), lactate.WarnOtherEnds, "the first test ends at 8.1 mmol/L and the second at 16.6"},
		{"ends at 8.1 and 14.5", scaled(1), scaled(1.9), lactate.WarnOtherEnds, ""},
		{"a wrong sample", scaled(1), wrong, lactate.WarnLeftOut, "the odd sample of stage 4 of the second test is left out"},
	} {
		ch, err := lactate.Compare(c.before, c.after, lactate.CompareOptions{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		said := ""
		for _, w := range ch.Warnings {
			if w.Kind == c.kind {
				said = w.String()
			}
		}
		if (said == "") != (c.says == "") || !strings.Contains(said, c.says) {
			t.Errorf("%s: %q, want %q", c.name, said, c.says)
		}
	}
	// Without the wrong sample nothing has moved; the season says whose it is.
	ch, err := lactate.Compare(scaled(1), wrong, lactate.CompareOptions{})
	if err != nil || !(math.Abs(ch.Shift.Value) <= 0.003) {
		t.Errorf("%v, %v", ch.Shift, err)
	}
	day := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
	s, err := lactate.FollowSeason([]lactate.DatedTest{{Date: day, Test: lasting(4*time.Minute, scaled(1))}, {Date: day.AddDate(0, 0, 42), Test: wrong}, {Date: day.AddDate(0, 0, 84), Test: lasting(2*time.Minute, scaled(1))}}, lactate.CompareOptions{})
	if err != nil || !(math.Abs(s.Trend.Shift.Value) <= 0.002) || !has(s.Warnings, lactate.WarnOtherStages) ||
		!slices.ContainsFunc(s.Warnings, func(w lactate.Warning) bool {
			return w.Kind == lactate.WarnLeftOut && strings.Contains(w.String(), "stage 4 of the test of 17 February 2025")
		}) {
		t.Errorf("%v, %v", s, err)
	}
}
