package heartrate_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.com/steptest/lactate"
)

func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = rec[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func referenceTests(t testing.TB) map[string]lactate.Test {
	tests := map[string]lactate.Test{}
	for _, row := range table(t, "step-tests.csv") {
		test := tests[row["test"]]
		test.Stages = append(test.Stages, lactate.Stage{
			Intensity: number(t, row["intensity"]),
			Lactate:   number(t, row["lactate"]),
			HeartRate: number(t, row["heart_rate"]),
		})
		tests[row["test"]] = test
	}
	return tests
}

// january and march are two invented tests of one swimmer.
func january() lactate.Test {
	return lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.10, Lactate: 1.2, HeartRate: 126}, {Intensity: 1.15, Lactate: 1.3, HeartRate: 134},
		{Intensity: 1.20, Lactate: 1.7, HeartRate: 141}, {Intensity: 1.25, Lactate: 2.5, HeartRate: 150},
		{Intensity: 1.30, Lactate: 4.4, HeartRate: 159}, {Intensity: 1.36, Lactate: 9.0, HeartRate: 168},
	}}
}

func march() lactate.Test {
	return lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.12, Lactate: 1.1, HeartRate: 125}, {Intensity: 1.17, Lactate: 1.4, HeartRate: 132},
		{Intensity: 1.22, Lactate: 1.6, HeartRate: 140}, {Intensity: 1.27, Lactate: 2.6, HeartRate: 149},
		{Intensity: 1.32, Lactate: 4.3, HeartRate: 157}, {Intensity: 1.38, Lactate: 9.2, HeartRate: 167},
	}}
}
