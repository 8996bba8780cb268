package between_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/testdata/reference"
	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g ± %.2g", what, got, want, tol)
	}
}

// Kind C: R 4.2.2, StructTS, KalmanRun, KalmanSmooth and KalmanLike of package stats on the flow of the
// Nile with missing years, the example of Durbin & Koopman (2012), section 2.7. A year
// stands for a week and 1e5 of the flow for the reference; the flow is the place of a day,
// without error, on a straight curve.
func TestReferenceLocalLevel(t *testing.T) {
	rows := reference.Rows(t, "local-level-expected.csv")
	const (
		unit  = 1e5
		slope = 20.
	)
	start := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	date := func(row map[string]string) time.Time {
		return start.AddDate(0, 0, 7*int(reference.Number(t, row["week"])))
	}
	origin := reference.Number(t, rows[0]["flow"])
	// A noise that counts for nothing, since the model's may not be zero.
	noise := lactate.Noise{Absolute: 1e-9}
	level, epsilon := math.Sqrt(1469.14661924)/unit, math.Sqrt(15098.5771536)/unit
	m := between.Straight([]time.Time{start}, nil, nil, 5, slope, level, epsilon, 1e-9, noise)
	var readings []between.Reading
	for _, row := range rows[1:] {
		if row["flow"] == "" {
			continue
		}
		readings = append(readings, between.Reading{Date: date(row), Intensity: 0.1, Lactate: 5 + slope*(0.1-(reference.Number(t, row["flow"])-origin)/unit)})
	}
	c, err := m.Known().Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	half := distuv.UnitNormal.Quantile(0.95)
	k := 0
	for _, row := range rows {
		p := c.At(date(row)).Shift
		near(t, row["week"]+" smoothed", p.Value*unit+origin, reference.Number(t, row["smoothed"]), 1e-3)
		near(t, row["week"]+" variance", math.Pow((p.High-p.Value)/half*unit, 2), reference.Number(t, row["smoothed_variance"]), 1e-2)
		if row["week"] == "0" || row["flow"] == "" {
			continue
		}
		r := c.Readings[k]
		k++
		near(t, row["week"]+" filtered", r.After.Value*unit+origin, reference.Number(t, row["filtered"]), 1e-3)
		// More flow is less lactate here.
		near(t, row["week"]+" percentile", r.Percentile, distuv.UnitNormal.CDF(-reference.Number(t, row["residual"])), 2e-4)
	}
	// KalmanLike returns half the sum of log s2 and the mean log variance, and s2, the mean
	// square of the standardised residuals.
	const like, s2 = 5.16910720038, 1.05177563159
	n := float64(len(rows) - 40)
	sum := n*(2*like-math.Log(s2)) + n*s2
	near(t, "likelihood", -2*c.Likelihood(), sum-2*n*math.Log(unit)+2*(n-1)*math.Log(slope), 1e-3)
	if k != len(readings) || k != 59 {
		t.Errorf("%d readings, want 59", k)
	}
}
