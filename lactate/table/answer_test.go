package table_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// The words of an answer are in the unit of the test, as the tables are. Without a
// probability there are no odds.
func TestAnswerIsInTheUnitOfTheTest(t *testing.T) {
	shift := lactate.Judgement{Shift: estimate(12, 2, 22), Probability: 0.97, Grade: lactate.Faster}
	a := &lactate.Analysis{Unit: "W", Lowest: 100, Highest: 300}
	c := &lactate.Change{Before: a, Reference: 200, Measured: shift, BetweenDays: shift}
	s := &lactate.Season{Tests: []lactate.SeasonTest{{Analysis: a}}, Reference: 200, Trend: shift}
	for _, got := range []string{table.Answer(c, table.Options{}), table.Alone(c, table.Options{}), table.Trend(s, table.Options{})} {
		if !strings.Contains(got, "12 W") || strings.Contains(got, "m/s") {
			t.Errorf("%q, want 12 W", got)
		}
	}
	c.BetweenDays.Probability, s.Trend.Probability = math.NaN(), math.Inf(1)
	for _, got := range []string{table.Answer(c, table.Options{}), table.Trend(s, table.Options{})} {
		if strings.Contains(got, "in 100") || strings.HasSuffix(got, " ") || !strings.HasPrefix(got, "Faster: 12") {
			t.Errorf("%q, want no odds", got)
		}
	}
	// Its first test gives a season its unit and its decimals.
	if got := table.Season(s, table.Options{})[0]; got.Head[2].Name != "change, W" {
		t.Errorf("head %v", got.Head)
	}
	s.Tests = append(s.Tests, lactate.SeasonTest{Analysis: &lactate.Analysis{Lowest: 1, Highest: 2}, Measured: shift})
	if got := table.Season(s, table.Options{})[0].Rows[1][2]; got != "+12" {
		t.Errorf("change %q, want +12", got)
	}
	// At 1:20.0, 1.25 + 0.0625 m/s take 3.8 s less.
	cannot := lactate.Judgement{Shift: estimate(0.02, -0.1, 0.1), Probability: 0.6, Detectable: 0.0625, Grade: lactate.CannotTell}
	for grade, says := range map[lactate.Grade]string{lactate.CannotTell: "If the true change were 3.8 s per 100 m, two such tests would say plainly faster or slower 80 times in 100. Test again.",
		lactate.ProbablyFaster: "days counted. Test again.", lactate.Faster: "days counted."} {
		cannot.Grade = grade
		got := table.Answer(&lactate.Change{Before: &lactate.Analysis{Highest: 1}, Reference: 1.25, BetweenDays: cannot, Power: 0.8}, table.Options{Pool: pace.SCM()})
		if !strings.HasSuffix(got, says) || strings.Contains(got, "If the true") != (grade == lactate.CannotTell) {
			t.Errorf("%v: %q, want %q", grade, got, says)
		}
	}
	s.Tests[0].Analysis = nil
	if got := table.Trend(s, table.Options{}); !strings.Contains(got, "m/s") {
		t.Errorf("no analysis: %q, want m/s", got)
	}
}

// "open" is explained once, below the first table that has it.
func TestOpenIsExplained(t *testing.T) {
	const note = "Open: that end may lie outside the tested range; no figure can be given."
	at := func(high float64, level float64) lactate.Threshold {
		return lactate.Threshold{Method: lactate.Fixed{Lactate: level}, Intensity: estimate(1.2, 1.1, high)}
	}
	inf := math.Inf(1)
	for _, c := range []struct {
		lt2, other float64
		want       [2]int
	}{{1.3, 1.3, [2]int{0, 0}}, {inf, 1.3, [2]int{1, 0}}, {1.3, inf, [2]int{0, 1}}, {inf, inf, [2]int{1, 0}}} {
		a := &lactate.Analysis{Lowest: 1, Highest: 1.4, Confidence: 0.9, LT1: at(1.3, 2), LT2: at(c.lt2, 4)}
		a.Thresholds = []lactate.Threshold{a.LT1, a.LT2, at(c.other, 3)}
		tabs := table.Thresholds(a, table.Options{})
		for i, want := range c.want {
			if got := strings.Count(strings.Join(tabs[i].Notes, "\n"), note); got != want {
				t.Errorf("LT2 to %v, 3 mmol/L to %v: table %d explains open %d times, want %d", c.lt2, c.other, i+1, got, want)
			}
		}
	}
}

// A level says where it lies by its name.
func TestLevelNotReached(t *testing.T) {
	test := lactate.Test{Stages: []lactate.Stage{{Intensity: 1.1, Lactate: 1.2}, {Intensity: 1.2, Lactate: 1.3}, {Intensity: 1.3, Lactate: 1.6}, {Intensity: 1.4, Lactate: 2.1}}}
	a := analysed(t, test, lactate.Options{})
	all := table.Thresholds(a, table.Options{})[1].String()
	if want := "4 mmol/L: not reached: the curve ends at 2.1 mmol/L."; !strings.Contains(all, want) {
		t.Errorf("no %q in\n%s", want, all)
	}
}

// Below the first table stands that the definitions of LT1 and LT2 overlap, and the lowest sample
// if the baseline lies more than 0.1 mmol/L above it. A Dmax that does not count is marked, there
// and among all definitions. Below those stands what a ruler reads: 175 + 0.5/0.78·50 W, for one.
func TestNotesOnTheAnswer(t *testing.T) {
	const overlap, lowest, dmax = "The two overlap: ", "; the lowest sample is 1.2.", "not counted for LT2"
	for _, c := range []struct {
		xs, ys                []float64
		overlap, lowest, dmax bool
		ruler                 string
	}{
		{[]float64{125, 175, 225, 250, 275}, []float64{1.5, 1.86, 2.38, 3.54, 6.21}, true, false, false, "(1.5 mmol/L): LT1 at 188 W, LT2 at 238 W."},
		{[]float64{125, 175, 225, 275, 300}, []float64{1.48, 1.17, 1.95, 3.24, 6.21}, false, true, true, "(1.2 mmol/L): LT1 at 207 W, LT2 at 253 W."},
		{[]float64{125, 175, 225, 250, 275, 300}, []float64{1.2, 1.2, 1.3, 2.2, 4.8, 11}, false, false, false, "(1.2 mmol/L): LT1 at 236 W, LT2 at 255 W."},
	} {
		test := lactate.Test{Unit: "W"}
		for i, x := range c.xs {
			test.Stages = append(test.Stages, lactate.Stage{Intensity: x, Lactate: c.ys[i]})
		}
		tables := table.Thresholds(analysed(t, test, lactate.Options{Resamples: 2000}), table.Options{})
		got := strings.Join(strings.Fields(tables[0].String()), " ")
		for what, want := range map[string]bool{overlap: c.overlap, lowest: c.lowest, dmax: c.dmax} {
			if strings.Contains(got, what) != want {
				t.Errorf("%v: %q, %v: %s", c.ys, what, !want, got)
			}
		}
		all := strings.Join(strings.Fields(tables[1].String()), " ")
		if want := "Straight lines between samples, from the lowest " + c.ruler; !strings.Contains(all, want) {
			t.Errorf("%v: no %q in %s", c.ys, want, all)
		}
		if strings.Contains(all, "LT2 Dmax, not counted") != c.dmax {
			t.Errorf("%v: Dmax is marked, %v: %s", c.ys, !c.dmax, all)
		}
	}
}
