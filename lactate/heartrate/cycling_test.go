package heartrate_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
)

// Kind C: Python 3 (numpy), slope and intercept of heart rate over power in forty real tests;
// see testdata/reference/cycling-tests.csv.
func TestReferenceCycling(t *testing.T) {
	read := func(name string) (rows [][]string) {
		f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		r := csv.NewReader(f)
		r.Comment = '#'
		if rows, err = r.ReadAll(); err != nil {
			t.Fatal(err)
		}
		return rows
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	tests := map[string]lactate.Test{}
	for _, row := range read("cycling-tests.csv")[1:] {
		if row[3] == "" || row[5] == "" {
			continue
		}
		test := tests[row[0]+" "+row[2]]
		test.Stages = append(test.Stages, lactate.Stage{Intensity: number(row[3]), HeartRate: number(row[5])})
		tests[row[0]+" "+row[2]] = test
	}
	expected := read("cycling-tests-expected.csv")
	column := map[string]int{}
	for i, name := range expected[0] {
		column[name] = i
	}
	checked := 0
	for _, row := range expected[1:] {
		name := row[0] + " " + row[1]
		if row[column["hr_slope"]] == "" {
			continue
		}
		l, err := heartrate.Fit(tests[name], heartrate.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		slope, intercept := number(row[column["hr_slope"]]), number(row[column["hr_intercept"]])
		// The digits printed: eight.
		if !(math.Abs(l.Slope-slope) <= 1e-7) || !(math.Abs(l.Intercept-intercept) <= 1e-5) {
			t.Errorf("%s: %v + %v·x, want %v + %v·x", name, l.Intercept, l.Slope, intercept, slope)
		}
		checked++
	}
	if checked < 30 {
		t.Errorf("only %d tests checked", checked)
	}
}
