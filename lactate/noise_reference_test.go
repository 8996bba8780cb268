package lactate_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
	"gonum.org/v1/gonum/stat"
)

// Kind C: R 4.2, lm, in the header of analyser-calibration.csv (Afifi & Azen 1979, reprinted
// by Rousseeuw & Leroy 1987): slope, intercept, residual standard deviation, and the
// coefficient of variation at each level. Beside them, what the default noise says: an
// instrument of 1979 scattered three to five times as much at low levels, which is why noise
// is an input.
func TestReferenceAnalyserCalibration(t *testing.T) {
	var xs, ys []float64
	levels := map[float64][]float64{}
	for _, row := range reference.Rows(t, "analyser-calibration.csv") {
		x, y := reference.Number(t, row["X"]), reference.Number(t, row["Y"])
		xs, ys = append(xs, x), append(ys, y)
		levels[x] = append(levels[x], y)
	}
	line := curve.Polynomial{Degree: 1}
	if err := line.Fit(xs, ys); err != nil {
		t.Fatal(err)
	}
	c := line.Coefficients()
	near(t, "slope", c[1], 1.22768909, 5e-9)
	near(t, "intercept", c[0], 0.15948309, 5e-9)
	near(t, "s", math.Sqrt(line.RSS()/float64(line.DegreesOfFreedom())), 1.078736, 5e-7)
	for level, cv := range map[float64]float64{1: 60.553, 3: 39.650, 5: 13.848, 10: 4.322, 15: 6.605} {
		mean, sd := stat.MeanStdDev(levels[level], nil)
		near(t, "CV", 100*sd/mean, cv, 5e-4)
		stated := lactate.Noise{}.Lactate(mean)
		t.Logf("at %2.0f: scatter %.2f, the default noise %.2f", level, sd, stated)
		if level <= 3 && !(sd > 2*stated) {
			t.Errorf("at %v: scatter %v, the default noise %v", level, sd, stated)
		}
	}
}

// Kind C: R 4.2, in the header of threshold-pairs.csv: the typical error of speed at 4 mmol/L
// over five weeks in the controls. They trained in between, so that 2.0 % is more than two
// days differ by; the default of 0.8 % (Anderson and others 2006) is less than it, and both
// together are what Options.DayToDay can be asked to be.
func TestReferenceTypicalError(t *testing.T) {
	var changes, all []float64
	for _, row := range reference.Rows(t, "threshold-pairs.csv") {
		if row["group"] != "con" || strings.TrimSpace(row["lt_pre"]) == "" || row["lt_post"] == "" {
			continue
		}
		before, after := reference.Number(t, row["lt_pre"]), reference.Number(t, row["lt_post"])
		changes, all = append(changes, after-before), append(all, before, after)
	}
	mean, sd := stat.MeanStdDev(changes, nil)
	near(t, "pairs", float64(len(changes)), 12, 0)
	near(t, "mean change", mean, 0.1, 5e-5)
	near(t, "SD of the change", sd, 0.2985, 5e-5)
	typical := sd / math.Sqrt2
	near(t, "typical error", typical, 0.2111, 5e-5)
	percent := 100 * typical / stat.Mean(all, nil)
	near(t, "typical error, %", percent, 2.007, 5e-4)
	o, err := lactate.CompareOptions{}.WithDefaults()
	if err != nil {
		t.Fatal(err)
	}
	if !(100*o.DayToDay < percent) {
		t.Errorf("days are taken to differ by %v %%, training and days by %v %%", 100*o.DayToDay, percent)
	}
}
