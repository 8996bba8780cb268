package sheet_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

// A header that is not understood says which of its columns are not, and a
// title without a header below it is taken for one. Evidence: D.
func TestHeaderNotUnderstood(t *testing.T) {
	header, rows, _ := strings.Cut(good(), "\n")
	for _, tt := range []struct {
		name, header string
		says         []string
		lines        int
	}{
		{"at the end", strings.Replace(header, "lactate", "Blutlaktat", 1), []string{`lactate: found nothing, want this column; not understood: "Blutlaktat"`}, 1},
		{"two, long", "Training group of the swimmer,RPE,Blood sugar (mg/dL)," + strings.Replace(header, ",lactate", "", 1),
			[]string{`not understood: "Training group of the swimmer", "RPE", "Blood sugar (mg/dL)"`}, 1},
		{"nothing understood", "a,b,c,d,e,f,g,h", []string{`"h"`, "header not understood", "is there a title above the header"}, 1},
		{"in another language", "Schwimmer,Datum,Bahn,Strecke,Nr,Zeit,Laktat", []string{`missing: swimmer, date, pool, distance, time, lactate; not understood: "Schwimmer", "Datum", "Bahn", "Strecke", "Zeit", "Laktat"`}, 1},
		{"three missing", "swimmer,date,pool,distance,a,b,c", []string{"header not understood, missing: repeat, time, lactate"}, 1},
		{"two slips", strings.Replace(header, "distance", "dystanse", 1), []string{`found "dystanse", want "distance", if that is what this column is`}, 1},
		{"three slips", strings.Replace(header, "distance", "dystense", 1), []string{`distance: found nothing, want this column; not understood: "dystense"`}, 1},
		{"a slip in four letters", strings.Replace(header, "pool", "pooll", 1), []string{`want "pool", if`}, 1},
		{"a letter too many", strings.Replace(header, "swimmer", "aswimmer", 1), []string{`want "swimmer", if`}, 1},
		{"another letter", strings.Replace(header, "swimmer", "swymmer", 1), []string{`want "swimmer", if`}, 1},
		{"a title and no header", "Squad test of February", []string{`line 1: found "Squad test of February"`, "is there a title above it?"}, 1},
		{"times in hours", strings.Replace(header, "time", "time [h]", 1), []string{"no unit in the header but s, or a form such as min:s"}, 1},
	} {
		recs, err := sheet.Read(strings.NewReader(tt.header + "\n" + rows))
		if len(recs) != 0 || !errors.Is(err, sheet.ErrColumns) || strings.Count(err.Error(), "\n")+1 != tt.lines {
			t.Errorf("%s: %d tests, error %v", tt.name, len(recs), err)
			continue
		}
		for _, part := range tt.says {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%s: no %q in %v", tt.name, part, err)
			}
		}
	}
}

// Blanks in a name do not matter, a form of times may stand in brackets, and a
// column of another name is told. Evidence: D.
func TestHeaderWritings(t *testing.T) {
	want, err := sheet.Read(strings.NewReader(good()))
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []string{
		"Swimmer,Date,Pool,Distance,Repeat,Time (min:s),Lactate,Heartrate",
		"swimmer,date (YYYY-MM-DD),pool,distance,repeat,time [mm:ss.0],blood_lactate,heart rate",
		"Athlete,date,pool,distance,rep,time (m:ss),bloodlactate,Pulse [bpm]",
	} {
		got, err := sheet.Read(strings.NewReader(strings.Replace(good(), "swimmer,date,pool,distance,repeat,time,lactate,heart rate", h, 1)))
		if d := cmp.Diff(want, got, comparePools()); d != "" || err != nil {
			t.Errorf("%s: error %v (-want +got):\n%s", h, err, d)
		}
	}
	after := strings.Replace(small, "minutes after", "Minutesafter (min)", 1)
	if recs, err := sheet.Read(strings.NewReader(after)); err != nil || len(recs[0].Recovery) != 2 {
		t.Errorf("minutes after: %v", err)
	}
	recs, err := sheet.Read(strings.NewReader(strings.Replace(good(), "heart rate", "avg HR", 1)))
	if err != nil || !strings.Contains(fmt.Sprint(recs[0].Review()), `columns "avg HR"`) {
		t.Errorf("another name: error %v, findings %v", err, recs[0].Review())
	}
}
