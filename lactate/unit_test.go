package lactate_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// D: the unit of a test goes into what is read from it, and into JSON; results of the same
// numbers in another unit differ in nothing else; tests in two units are not compared.
func TestUnit(t *testing.T) {
	in := func(unit string) lactate.Test {
		test := january()
		test.Unit = unit
		return test
	}
	for _, unit := range []string{"", lactate.MetresPerSecond, lactate.KilometresPerHour, lactate.Watts, "Ω"} {
		a, err := lactate.Analyze(in(unit), lactate.Options{})
		if err != nil || a.Unit != unit || a.Test().Unit != unit {
			t.Fatal(a.Unit, err)
		}
		text, err := json.Marshal(a)
		if err != nil || strings.Contains(string(text), `"intensity_unit":"`+unit+`"`) != (unit != "") {
			t.Errorf("%q: %v, %s", unit, err, text)
		}
		i, err := lactate.Influence(in(unit), lactate.Options{})
		if err != nil || i.Unit != unit {
			t.Errorf("%q: influence in %q, %v", unit, i.Unit, err)
		}
		p := beside(t, in(unit), lactate.SideBySideOptions{})
		slopes := 0
		for _, r := range p.Rows {
			if _, ok := r.Definition.Method.(lactate.FixedSlope); ok {
				slopes++
			}
		}
		if speeds := unit == lactate.MetresPerSecond || unit == lactate.KilometresPerHour; (slopes > 0) != speeds {
			t.Errorf("%q: %d definitions by a slope", unit, slopes)
		}
		if _, err := lactate.Compare(in(unit), in(unit), lactate.CompareOptions{}); err != nil {
			t.Errorf("%q: %v", unit, err)
		}
	}
	if _, err := lactate.Compare(in("W"), in("m/s"), lactate.CompareOptions{}); err == nil || !strings.Contains(err.Error(), "W and in m/s") {
		t.Error(err)
	}
	day := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
	if _, err := lactate.FollowSeason([]lactate.DatedTest{{Date: day, Test: in("W")}, {Date: day.AddDate(0, 1, 0), Test: in("")}, {Date: day.AddDate(0, 2, 0), Test: in("km/h")}}, lactate.CompareOptions{}); err == nil {
		t.Error("a season in two units")
	}
	for _, wrong := range []string{"kilometres", "m\n/s", "\x1b[1m", " W"} {
		if _, err := lactate.Analyze(in(wrong), lactate.Options{}); err == nil || !strings.Contains(err.Error(), "unit of intensity") {
			t.Errorf("%q: %v", wrong, err)
		}
	}
}

// D: the test that an analysis holds is a copy.
func TestAnalysisTest(t *testing.T) {
	a := analysed(t, january(), lactate.Options{})
	a.Test().Stages[0].Lactate = 99
	if got := a.Test().Stages[0].Lactate; got == 99 {
		t.Error("the stages of the analysis were changed")
	}
	if n := len(a.Test().Stages); n != len(january().Stages) {
		t.Errorf("%d stages", n)
	}
	if z := new(lactate.Analysis).Test(); len(z.Stages) != 0 {
		t.Error(z)
	}
}
