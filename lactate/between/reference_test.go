package between_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
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
	f, err := os.Open("../../testdata/reference/local-level-expected.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	const (
		unit  = 1e5
		slope = 20.
	)
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	start := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	date := func(row []string) time.Time { return start.AddDate(0, 0, 7*int(number(row[0]))) }
	rows = rows[1:]
	origin := number(rows[0][1])
	// A noise that counts for nothing, since the model's may not be zero.
	noise := lactate.Noise{Absolute: 1e-9}
	level, epsilon := math.Sqrt(1469.14661924)/unit, math.Sqrt(15098.5771536)/unit
	m := between.Straight([]time.Time{start}, nil, nil, 5, slope, level, epsilon, 1e-9, noise)
	var readings []between.Reading
	for _, row := range rows[1:] {
		if row[1] == "" {
			continue
		}
		readings = append(readings, between.Reading{Date: date(row), Intensity: 0.1, Lactate: 5 + slope*(0.1-(number(row[1])-origin)/unit)})
	}
	c, err := m.Known().Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	half := distuv.UnitNormal.Quantile(0.95)
	k := 0
	for _, row := range rows {
		p := c.At(date(row)).Shift
		near(t, row[0]+" smoothed", p.Value*unit+origin, number(row[4]), 1e-3)
		near(t, row[0]+" variance", math.Pow((p.High-p.Value)/half*unit, 2), number(row[5]), 1e-2)
		if row[0] == "0" || row[1] == "" {
			continue
		}
		r := c.Readings[k]
		k++
		near(t, row[0]+" filtered", r.After.Value*unit+origin, number(row[2]), 1e-3)
		// More flow is less lactate here.
		near(t, row[0]+" percentile", r.Percentile, distuv.UnitNormal.CDF(-number(row[3])), 2e-4)
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
