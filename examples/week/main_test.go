package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, &out, &errs)
	return out.String(), errs.String(), status
}

// decoded is what the tests read of the JSON.
type decoded struct {
	InventedTest bool `json:"invented_test"`
	InventedWeek bool `json:"invented_week"`
	Zones        struct {
		Profile struct {
			Max float64 `json:"max_heart_rate_per_min"`
		} `json:"profile"`
		Zones []struct {
			From struct {
				HeartRate float64 `json:"heart_rate_per_min"`
			} `json:"from"`
		} `json:"zones"`
	} `json:"zones"`
	Sets          []zones.PlannedSet `json:"sets"`
	Planned, Swum *zones.Distribution
	Notes         []string `json:"doubts"`
	Hard          bool     `json:"above_lt2"`
}

func decode(t *testing.T, args ...string) decoded {
	t.Helper()
	stdout, stderr, status := execute(t, append([]string{"-json"}, args...)...)
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, stderr)
	}
	return decodedOf(t, stdout)
}

// decodedOf reads the report out of what was printed.
func decodedOf(t *testing.T, stdout string) decoded {
	t.Helper()
	var o struct{ Report decoded }
	if err := json.Unmarshal([]byte(stdout), &o); err != nil {
		t.Fatal(err)
	}
	return o.Report
}

// write puts text into a file and returns its name.
func write(t *testing.T, name, text string) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

const head = "day,repeats,distance,zone,rest,swum,heart rate\n"

// Evidence D: send-offs are whole fives that leave the rest, the sets add up to
// the week, and the division adds up to what was swum.
func TestWeek(t *testing.T) {
	d := decode(t)
	if !d.InventedTest || !d.InventedWeek || len(d.Sets) != 6 || len(d.Zones.Zones) != 3 || !d.Hard {
		t.Fatalf("got %+v", d)
	}
	var swum time.Duration
	var distance pace.Length
	for _, s := range d.Sets {
		p := s.Plan
		if p.SendOff%(5*time.Second) != 0 || p.Rest < 10*time.Second || p.Slow > 0 && p.Slow+p.Rest > p.SendOff {
			t.Errorf("%s: send-off %v, rest %v", s.Day, p.SendOff, p.Rest)
		}
		if p.Time != p.SendOff*time.Duration(p.Set.Repeats) {
			t.Errorf("%s: the whole set takes %v", s.Day, p.Time)
		}
		for _, x := range s.Review.Repeats {
			commandtest.Near(t, s.Day+", speed", float64(x.Speed), float64(x.Distance)/x.Time.Seconds(), 1e-3)
			swum, distance = swum+x.Time, distance+x.Distance
		}
	}
	shares := 0.0
	for _, z := range d.Swum.Zones {
		shares += z.TimeShare
	}
	commandtest.Near(t, "shares", shares, 1, 1e-9)
	commandtest.Near(t, "time swum", d.Swum.Time.Seconds(), swum.Seconds(), 1e-6)
	commandtest.Near(t, "distance swum", d.Swum.Distance.Metres(), distance.Metres(), 1e-6)
	// 6·400 + 10·200 + 8·300 + 8·100 + 5·400 + 5·400 yd
	commandtest.Near(t, "distance planned", d.Planned.Distance.Metres(), 11600*0.9144, 1e-6)
}

// Evidence D, by hand, of Thursday's times: they run from 76.1 to 81.4 s; LT2
// of the bundled test is at 80.6 s per 100 yd, so that the last alone is slower.
func TestReview(t *testing.T) {
	s := decode(t).Sets[3]
	var in []string
	for _, x := range s.Review.Repeats {
		in = append(in, x.Zone)
	}
	if got := strings.Join(in, " "); got != "3 3 3 3 3 3 3 2" {
		t.Errorf("zones %s", got)
	}
	// Slope of y against 0…7: Σ(i − 3.5)·y / 42, times 7.
	slope := 0.0
	for i, y := range []float64{76.4, 76.1, 76.8, 76.3, 76.9, 77.2, 77.8, 81.4} {
		slope += (float64(i) - 3.5) * y / 42
	}
	commandtest.Near(t, "drift", s.Review.Pace.OverSet, 7*slope, 1e-9)
}

// Heart rates are judged against the line through the bundled test's stages, fitted
// here by the formula for a slope; those at the edges of zones are read between the
// repeats, as examples/steptest does: LT2 lies between the fourth and the fifth.
func TestHeartRates(t *testing.T) {
	times := []string{"5:51.7", "5:42.4", "5:32.3", "5:23.4", "5:12.4", "4:58.8"}
	rates := []float64{118, 130, 143, 154, 164, 178}
	var xs []float64
	var mx, my float64
	for i, s := range times {
		xs = append(xs, 365.76/pace.Must(pace.ParseTime(s)).Seconds())
		mx, my = mx+xs[i]/6, my+rates[i]/6
	}
	var sxx, sxy float64
	for i, x := range xs {
		sxx, sxy = sxx+(x-mx)*(x-mx), sxy+(x-mx)*(rates[i]-my)
	}
	line := bundledReport(t).line
	commandtest.Near(t, "slope", line.Slope, sxy/sxx, 1e-8)
	e, err := line.HeartRate(1.1)
	if err != nil {
		t.Fatal(err)
	}
	commandtest.Near(t, "at 1.1 m/s", e.Value, my+sxy/sxx*(1.1-mx), 1e-8)
	// LT2 of the bundled test, 1.135 m/s to three digits.
	d := decode(t)
	commandtest.Near(t, "heart rate at LT2", d.Zones.Zones[2].From.HeartRate, 154+10*(1.135-xs[3])/(xs[4]-xs[3]), 0.2)
}

func TestText(t *testing.T) {
	text, stderr, status := execute(t)
	if status != 0 || stderr != "" {
		t.Fatalf("exit status %d, standard error %q", status, stderr)
	}
	at := 0
	for _, part := range []string{"Invented data", "A week for", "How fast is each zone?", "What to swim?", "What was swum?", "How is the week divided?", "Before swimming it", "Local rules"} {
		i := strings.Index(text[at:], part)
		if i < 0 {
			t.Fatalf("text lacks %q, or not in this order:\n%s", part, text)
		}
		at += i
	}
	for _, scheme := range []string{"three", "lactate", "heart-rate"} {
		text, stderr, status := execute(t, "-zones", scheme)
		if status != 0 || strings.Contains(text, "NaN") {
			t.Errorf("%s: %s\n%s", scheme, stderr, text)
		}
		for _, l := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(l); n > 125 {
				t.Errorf("%s: %d columns: %q", scheme, n, l)
			}
		}
	}
}

// A set that is not swum, an easy week, a test without heart rates: each is said
// or left out, and nothing is made up.
func TestPartial(t *testing.T) {
	week := write(t, "week.csv", head+"Mon,4,400,1,,,\nTue,2,200,2,0:20,2:42.6 2:41.9,- 150\n")
	d := decode(t, week)
	if d.InventedWeek || len(d.Sets) != 2 || d.Sets[0].Review != nil || d.Sets[1].Review.HeartRate.Known() || d.Sets[1].AgainstTest == nil || d.Hard {
		t.Errorf("got %+v", d)
	}
	sheet := write(t, "sheet.csv", "swimmer,date,pool,distance,repeat,time,lactate\n"+
		"Ann,2025-01-18,25 yd,400,1,6:00,1.2\nAnn,2025-01-18,25 yd,400,2,5:50,1.4\nAnn,2025-01-18,25 yd,400,3,5:40,1.9\n"+
		"Ann,2025-01-18,25 yd,400,4,5:30,3.1\nAnn,2025-01-18,25 yd,400,5,5:20,5.6\nAnn,2025-01-18,25 yd,400,6,5:10,9.8\n")
	d = decode(t, "-test", sheet, week)
	if d.InventedTest || d.Sets[1].AgainstTest != nil || len(d.Notes) != 1 || !strings.Contains(d.Notes[0], "no heart rates") {
		t.Errorf("got %+v", d)
	}
	text, _, _ := execute(t, "-test", sheet, week)
	if !strings.Contains(text, "not swum") || !strings.Contains(text, "not known") || strings.Contains(text, "Invented") {
		t.Errorf("got\n%s", text)
	}
}

// A scheme from a file is used, and a broken one refused.
func TestScheme(t *testing.T) {
	file := write(t, "scheme.json", `{"name": "halves", "source": "invented", "zones": [
		{"name": "1", "from": "open", "to": "0.5 LT1-LT2"}, {"name": "2", "from": "0.5 LT1-LT2", "to": "1.1 LT2"}, {"name": "3", "from": "1.1 LT2", "to": "open"}]}`)
	if d := decode(t, "-zones", file); len(d.Zones.Zones) != 3 {
		t.Errorf("got %+v", d.Zones)
	}
	gap := write(t, "gap.json", `{"name": "gap", "zones": [{"name": "1", "from": "open", "to": "LT1"}, {"name": "2", "from": "LT2", "to": "open"}]}`)
	if _, stderr, status := execute(t, "-zones", gap); status != 1 || !strings.Contains(stderr, "gap") {
		t.Errorf("status %d, %q", status, stderr)
	}
}
