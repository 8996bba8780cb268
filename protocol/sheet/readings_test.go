package sheet_test

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// A file of readings as people write it: names of the trade, decimal commas, paces in three
// ways, days first.
func TestReadReadings(t *testing.T) {
	const file = "Name;Date;Course;Dist;Time;Pace;La;HR;Set;RPE\n" +
		"Ann;13/01/2025;25 m;400;5:20;;3,1;158;4 x 400 on 6:30;5\n" +
		"Ann;3/2/2025;SCY;;;1:12;2.9;;6 x 200;\n" +
		"Ann;4/2/2025;;;;1:20/100 m;2.8 mmol/L;;;\n" +
		"Ann;5/2/2025;;200 m;2:40;;2.7;-;6 x 200;\n" +
		"Ann;6/2/2025;25 m;;;0:55;9.1;;;\n"
	got, err := sheet.ReadReadings(strings.NewReader(file))
	if err != nil || len(got) != 5 {
		t.Fatalf("%d readings, error %v", len(got), err)
	}
	for i, want := range []struct {
		date, kind             string
		intensity, lactate, hr float64
	}{
		{"2025-01-13", "4 x 400 on 6:30", 400. / 320, 3.1, 158},
		{"2025-02-03", "6 x 200", 91.44 / 72, 2.9, 0},
		{"2025-02-04", "", 100. / 80, 2.8, 0},
		{"2025-02-05", "6 x 200", 200. / 160, 2.7, 0},
		{"2025-02-06", "", 100. / 55, 9.1, 0},
	} {
		r := got[i]
		if d := r.Date.Format("2006-01-02"); d != want.date || r.Kind != want.kind || r.Swimmer != "Ann" || r.Line != i+2 ||
			!(math.Abs(r.Intensity-want.intensity) <= 1e-12) || r.Lactate != want.lactate || r.HeartRate != want.hr {
			t.Errorf("reading %d: got %+v, want %+v", i+1, r, want)
		}
	}
}

// Every fault is said, with its line, and the good rows are kept.
func TestReadReadingsFaults(t *testing.T) {
	const head = "date,pool,distance,time,lactate,heart rate,kind,analyser\n"
	good := "2025-01-21,25 m,400,5:14.2,3.1,158,easy,\n"
	for _, c := range []struct{ row, column, want string }{
		{"2025-13-21,25 m,400,5:14.2,3.1,158,easy,", "date", "month"},
		{",25 m,400,5:14.2,3.1,158,easy,", "date", "2025-03-04"},
		{"2025-01-21,25 parsecs,400,5:14.2,3.1,158,easy,", "pool", "pool"},
		{"2025-01-21,,400,5:14.2,3.1,158,easy,", "pool", "with its unit"},
		{"2025-01-21,25 m,400,0:14.2,3.1,158,easy,", "time", "can be swum"},
		{"2025-01-21,25 m,400,45:00,3.1,158,easy,", "time", "can be swum"},
		{`2025-01-21,25 m,400,5:14.2,"1,234",158,easy,`, "lactate", "after a point"},
		{"2025-01-21,25 m,400,5:14.2,3.1,158," + strings.Repeat("k", 201) + ",", "kind", "at most 200 bytes"},
		{"2025-01-21,25 m,400,,3.1,158,easy,", "time", "no place on the curve"},
		{"2025-01-21,25 m,-400,5:14,3.1,158,easy,", "distance", "a distance"},
		{"2025-01-21,25 m,400,5:14.2,,158,easy,", "lactate", "says nothing"},
		{"2025-01-21,25 m,400,5:14.2,HI,158,easy,", "lactate", "not known"},
		{"2025-01-21,25 m,400,5:14.2,40,158,easy,", "lactate", "0.1 to 30"},
		{"2025-01-21,25 m,400,5:14.2,3.1,158,\"ea\vsy\a\",", "kind", "control"},
		{"2025-01-21,25 m", "", "8 fields"},
	} {
		got, err := sheet.ReadReadings(strings.NewReader(head + good + c.row + "\n" + good))
		var fault *protocol.Fault
		if len(got) != 2 || !errors.As(err, &fault) || fault.Line != 3 && fault.Line != 0 || fault.Column != c.column || !strings.Contains(fault.Want, c.want) || fault.Kept {
			t.Errorf("%s: %d readings, error %v", c.row, len(got), err)
		}
	}
	for _, text := range []string{
		"date,pool,pace,lactate,\n2025-01-21,25 m,1:20,3,\n",    // a comma at the end
		"date,pool,pace,lactate,kind\n2025-01-21,25 m,1:20,3\n", // a blank cell at the end
	} {
		if got, err := sheet.ReadReadings(strings.NewReader(text)); err != nil || len(got) != 1 {
			t.Errorf("%s: got %+v, error %v", text, got, err)
		}
	}
	got, err := sheet.ReadReadings(strings.NewReader(head + "2025-01-21,25 m,400,5:14.2,3.1,900,easy,\n"))
	var fault *protocol.Fault
	if len(got) != 1 || got[0].HeartRate != 0 || !errors.As(err, &fault) || !fault.Kept {
		t.Errorf("a bad heart rate: got %+v, error %v", got, err)
	}
	for text, want := range map[string]string{
		"":                             "found nothing",
		"date,lactate\n2025-01-21,3\n": "distance and time, or pace",
		"pace,lactate\n1:20,3\n":       "date",
		"date,pace,lactate\n":          "a header line only",
		"date,pace,pace,lactate\n":     `only once; field 2, "pace", is the same`,
		"date,pace,lactate\n3/4/2025,1:20/100 m,3\n3/4/2025,1:20/100 m,3\n": "one way",
	} {
		if got, err := sheet.ReadReadings(strings.NewReader(text)); len(got) > 0 || strings.Count(err.Error(), "\n") > 0 || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %d readings, error %v, want %q", text, len(got), err, want)
		}
	}
}

// Any bytes: no panic, and every reading that comes back can be followed.
func FuzzReadReadings(f *testing.F) {
	f.Add("date,pool,distance,time,lactate,heart rate,kind,analyser\n2025-01-21,25 m,400,5:14.2,3.1,158,easy,B\n")
	f.Add("Date;Course;Pace;La\n3/4/2025;SCY;1:12;2,9\n13/4/2025;;1:20/100 m;HI\n")
	f.Add("date,pace,lactate\n45000,1:20/50 m,3\n")
	if b, err := os.ReadFile("../../testdata/sheets/readings.csv"); err == nil {
		f.Add(string(b))
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := sheet.ReadReadings(strings.NewReader(text))
		if len(got) == 0 && err == nil {
			t.Fatal("no reading and no error")
		}
		for _, r := range got {
			if !(r.Intensity > 0.1 && r.Intensity < 10 && r.Lactate >= 0.1 && r.Lactate <= 30) || r.Date.IsZero() || r.Line < 2 {
				t.Fatalf("found %+v", r)
			}
		}
	})
}
