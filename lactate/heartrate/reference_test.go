package heartrate_test

import (
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/testdata/reference"
)

func referenceTests(t testing.TB) map[string]lactate.Test {
	tests := map[string]lactate.Test{}
	for _, row := range reference.Rows(t, "step-tests.csv") {
		test := tests[row["test"]]
		test.Stages = append(test.Stages, lactate.Stage{
			Intensity: reference.Number(t, row["intensity"]),
			Lactate:   reference.Number(t, row["lactate"]),
			HeartRate: reference.Number(t, row["heart_rate"]),
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
