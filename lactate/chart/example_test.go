package chart_test

import (
	"bytes"
	"fmt"
	"log"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/testdata/sheets"
	"gonum.org/v1/plot/vg"
)

// A test as a picture for a page: six repeats in a 25 yd pool, invented.
func ExampleOneTest() {
	test := lactate.Test{Stages: []lactate.Stage{
		{Intensity: 1.040, Lactate: 1.5, HeartRate: 118}, {Intensity: 1.068, Lactate: 1.7, HeartRate: 130},
		{Intensity: 1.101, Lactate: 2.3, HeartRate: 143}, {Intensity: 1.131, Lactate: 3.0, HeartRate: 154},
		{Intensity: 1.171, Lactate: 4.7, HeartRate: 164}, {Intensity: 1.224, Lactate: 9.9, HeartRate: 178},
	}}
	a, err := lactate.Analyze(test, lactate.Options{Resamples: 2000})
	if err != nil {
		log.Fatal(err)
	}
	p, err := chart.OneTest(a, chart.Options{Title: "Robin Vale", Pool: pace.SCY()})
	if err != nil {
		log.Fatal(err)
	}
	var page bytes.Buffer // or a file, or a web page
	if err := p.WriteSVG(&page); err != nil {
		log.Fatal(err)
	}
	fmt.Println(p.Alt())
	fmt.Println(strings.HasPrefix(page.String(), "<?xml"), strings.Contains(page.String(), "LT2\u00a0 1:20.6"))
	// Output:
	// Lactate in mmol/L against speed in m/s for 6 stages, with a fitted curve (convex). LT1 by baseline + 0.5 mmol/L: 1.097 m/s, 1:23.4 per 100 yd (90 % interval 1:24.1 to 1:22.5). LT2 by baseline + 1.5 mmol/L: 1.135 m/s, 1:20.6 per 100 yd (90 % interval 1:21.3 to 1:19.9).
	// true true
}

// Two invented tests and how far the curve moved between them.
func ExampleTwoTests() {
	var before, after lactate.Test
	for i, y := range []float64{1.5, 1.7, 2.3, 3.0, 4.7, 9.9} {
		v := []float64{1.040, 1.068, 1.101, 1.131, 1.171, 1.224}[i]
		before.Stages = append(before.Stages, lactate.Stage{Intensity: v, Lactate: y})
		after.Stages = append(after.Stages, lactate.Stage{Intensity: v + 0.02, Lactate: y})
	}
	c, err := lactate.Compare(before, after, lactate.CompareOptions{})
	if err != nil {
		log.Fatal(err)
	}
	p, err := chart.TwoTests(c, chart.Options{Title: "Robin Vale", Before: "January", After: "March"})
	if err != nil {
		log.Fatal(err)
	}
	var page bytes.Buffer
	if err := p.WritePNG(&page); err != nil {
		log.Fatal(err)
	}
	said, _, _ := strings.Cut(p.Alt(), ", good and bad days counted")
	fmt.Println(said)
	// Output:
	// Lactate in mmol/L against speed in m/s of two tests, January and March, each with a fitted curve (convex). Probably faster: 0.020 m/s (0.001 slower to 0.041 faster). 94 in 100 that you are faster
}

// The strokes of a record, as package protocol reads them, against speed.
func ExampleTechnique() {
	records, err := sheet.Read(bytes.NewReader(sheets.Single())) // invented
	if err != nil {
		log.Fatal(err)
	}
	t, err := technique.Of(records[0], technique.Options{})
	if err != nil {
		log.Fatal(err)
	}
	var s chart.Strokes
	for _, r := range t.Repeats {
		s.Repeats = append(s.Repeats, chart.Stroke{Intensity: r.Speed.MetresPerSecond(), Rate: r.Rate, Length: r.Length})
	}
	if t.Shortening.Err == nil {
		s.Shortens = t.Shortening.Speed
	}
	p, err := chart.Technique(s, nil, chart.Options{Title: records[0].Swimmer, Pool: records[0].Pool})
	if err != nil {
		log.Fatal(err)
	}
	width, height := p.Size()
	fmt.Printf("%.0f mm by %.0f mm, %t\n", width/vg.Millimeter, height/vg.Millimeter, strings.Contains(p.SVG(), "stroke length, m per cycle"))
	// Output: 120 mm by 123 mm, true
}
