package protocol_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Evidence D: four of six repeats swum, the last of the plan all out: the test says that it
// is not maximal, every swum time is used, and Dmax is open upward.
func TestStoppedEarly(t *testing.T) {
	r := protocol.Record{Swimmer: "Robin Vale", Pool: pace.SCM()}
	for i, s := range []string{"5:50", "5:40", "5:30", "5:20", "", ""} {
		rep := protocol.Repeat{Number: i + 1, Distance: 400, AllOut: i == 5}
		if s != "" {
			rep.Time = pace.Must(pace.ParseTime(s))
			rep.Lactate = []float64{1.2, 1.5, 2.4, 4.2}[i]
		}
		r.Repeats = append(r.Repeats, rep)
	}
	test, err := r.Test()
	if err != nil || !test.Submaximal || len(test.Stages) != 4 {
		t.Fatalf("%+v, %v", test, err)
	}
	a := analysed(t, test, lactate.Options{Methods: []lactate.Method{lactate.MaxDistance{}}, Resamples: 400})
	if iv := a.Thresholds[0].Intensity; !math.IsInf(iv.High, 1) {
		t.Errorf("Dmax %v", iv)
	}
	r.Repeats[5].Time = 300 * time.Second
	if test, err := r.Test(); err != nil || test.Submaximal {
		t.Errorf("all out after all: %+v, %v", test, err)
	}
}
