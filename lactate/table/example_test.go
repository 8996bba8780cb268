package table_test

import (
	"fmt"
	"log"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// The two thresholds of an invented test, for a document.
func ExampleThresholds() {
	test := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.040, Lactate: 1.5, HeartRate: 118}, {Intensity: 1.068, Lactate: 1.7, HeartRate: 130},
		{Intensity: 1.101, Lactate: 2.3, HeartRate: 143}, {Intensity: 1.131, Lactate: 3.0, HeartRate: 154},
		{Intensity: 1.171, Lactate: 4.7, HeartRate: 164}, {Intensity: 1.224, Lactate: 9.9, HeartRate: 178},
	}}
	a, err := lactate.Analyze(test, lactate.Options{Methods: []lactate.Method{}})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(table.Thresholds(a, table.Options{Pool: pace.SCY()})[0].Markdown())
	// Output:
	// **LT1 and LT2**
	//
	// |  | pace per 100 yd | 90 % bracket | heart rate, /min | read by |
	// | :--- | ---: | ---: | ---: | :--- |
	// | LT1 | 1:23.4 |  | 141 | baseline + 0.5 mmol/L |
	// | LT2 | 1:20.6 |  | 155 | baseline + 1.5 mmol/L |
	//
	// Baseline: 1.6 mmol/L, the lowest lactate on the fitted curve.
}

// How far the curve moved between two invented tests, each of the second 0.02 m/s
// faster at the same lactate, for a screen of fixed-width letters.
func ExampleChange() {
	var before, after lactate.Test
	for i, y := range []float64{1.5, 1.7, 2.3, 3.0, 4.7, 9.9} {
		v := []float64{1.040, 1.068, 1.101, 1.131, 1.171, 1.224}[i]
		before.Stages = append(before.Stages, lactate.Stage{Intensity: v, Lactate: y})
		after.Stages = append(after.Stages, lactate.Stage{Intensity: v + 0.02, Lactate: y})
	}
	c, err := lactate.Compare(before, after, lactate.CompareOptions{Options: lactate.Options{Methods: []lactate.Method{}}})
	if err != nil {
		log.Fatal(err)
	}
	t := table.Change(c, table.Options{})[0]
	for _, row := range t.Rows {
		fmt.Println(row[0]+":", row[1]+" m/s:", row[5])
	}
	// Output:
	// measurement error alone: +0.020 m/s: faster
	// with day-to-day variation: +0.020 m/s: probably faster
}

// The answer in plain words, for tests of any unit: here the second test is 4 W better
// at each lactate, and then 16 W.
func ExampleAnswer() {
	for _, by := range []float64{4, 16} {
		var before, after lactate.Test
		for i, y := range []float64{1.2, 1.3, 1.6, 2.4, 4.1, 7.9} {
			w := 150 + 30*float64(i)
			before.Stages = append(before.Stages, lactate.Stage{Intensity: w, Lactate: y})
			after.Stages = append(after.Stages, lactate.Stage{Intensity: w + by, Lactate: y})
		}
		c, err := lactate.Compare(before, after, lactate.CompareOptions{Options: lactate.Options{Methods: []lactate.Method{}}, DayToDay: 0.02})
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(table.Answer(c, table.Options{Unit: "W"}))
	}
	// Output:
	// Cannot tell: 4 W faster (90 in 100: 8 slower to 16 faster). 71 in 100 that you are faster, good and bad days counted. The samples alone would say faster, but days alone can differ as much. Test again.
	// Faster: 16 W (90 in 100: 4 to 28). 99 in 100 that you are faster, good and bad days counted.
}
