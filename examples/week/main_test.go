package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
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
	Zones        []struct {
		Name string `json:"name"`
		From struct {
			HeartRate float64 `json:"heart_rate_per_min"`
		} `json:"from"`
	} `json:"zones"`
	Sets          []set     `json:"sets"`
	Planned, Swum *division `json:",omitempty"`
	Notes         []string  `json:"notes"`
	Cautions      []string  `json:"safety_cautions"`
}

func decode(t *testing.T, args ...string) decoded {
	t.Helper()
	stdout, stderr, status := execute(t, append([]string{"-json"}, args...)...)
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, stderr)
	}
	var d decoded
	if err := json.Unmarshal([]byte(stdout), &d); err != nil {
		t.Fatal(err)
	}
	return d
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
	if !d.InventedTest || !d.InventedWeek || len(d.Sets) != 6 || len(d.Zones) != 3 || len(d.Cautions) == 0 {
		t.Fatalf("got %+v", d)
	}
	seconds, metres := 0.0, 0.0
	for _, s := range d.Sets {
		if math.Mod(s.SendOff, 5) != 0 || s.Rest < 10 || s.Slow > 0 && s.Slow+s.Rest > s.SendOff+1e-6 {
			t.Errorf("%s: send-off %v s, rest %v s", s.Day, s.SendOff, s.Rest)
		}
		commandtest.Near(t, s.Day+", whole set", s.Time, s.SendOff*float64(s.Repeats), 1e-9)
		for _, x := range s.Swum {
			commandtest.Near(t, s.Day+", speed", x.Speed, s.Distance/x.Time, 1e-9)
			seconds, metres = seconds+x.Time, metres+s.Distance
		}
	}
	swumTime, swumMetres, shares := 0.0, 0.0, 0.0
	for _, z := range d.Swum.Zones {
		swumTime, swumMetres, shares = swumTime+z.Time, swumMetres+z.Distance, shares+z.Share
	}
	commandtest.Near(t, "time swum", swumTime, seconds, 1e-6)
	commandtest.Near(t, "distance swum", swumMetres, metres, 1e-6)
	commandtest.Near(t, "shares", shares, 1, 1e-9)
	// 6·400 + 10·200 + 8·300 + 8·100 + 5·400 + 5·400 yd
	planned := 0.0
	for _, z := range d.Planned.Three {
		planned += z.Distance
	}
	commandtest.Near(t, "distance planned", planned, 11600*0.9144, 1e-6)
}

// Evidence D, by hand, of Thursday's times: they run from 76.4 to 79.9 s; LT2
// of the bundled test is at 79.3 s per 100 yd, so that the last alone is slower.
func TestReview(t *testing.T) {
	s := decode(t).Sets[3]
	var in []string
	for _, x := range s.Swum {
		in = append(in, x.Zone)
	}
	if got := strings.Join(in, " "); got != "3 3 3 3 3 3 3 2" {
		t.Errorf("zones %s", got)
	}
	// Slope of y against 0…7: Σ(i − 3.5)·y / 42, times 7.
	slope := 0.0
	for i, y := range []float64{76.4, 76.1, 76.8, 76.3, 76.9, 77.2, 77.8, 79.9} {
		slope += (float64(i) - 3.5) * y / 42
	}
	commandtest.Near(t, "drift", *s.PaceDrift, 7*slope, 1e-9)
	for _, x := range s.Swum {
		if x.Expected == nil || !(x.Expected.Low < x.Expected.Value && x.Expected.Value < x.Expected.High) {
			t.Errorf("%v s: expected heart rate %v", x.Time, x.Expected)
		}
	}
}

// The edges of zones have the heart rates of the line through the bundled
// test's stages, fitted here by the formula for a slope.
func TestHeartRates(t *testing.T) {
	times := []string{"5:51.7", "5:42.4", "5:32.3", "5:23.4", "5:12.4", "4:58.8"}
	rates := []float64{118, 130, 143, 154, 164, 178}
	var xs []float64
	var mx, my float64
	for i, s := range times {
		xs = append(xs, 365.76/pace.MustTime(s).Seconds())
		mx, my = mx+xs[i]/6, my+rates[i]/6
	}
	var sxx, sxy float64
	for i, x := range xs {
		sxx, sxy = sxx+(x-mx)*(x-mx), sxy+(x-mx)*(rates[i]-my)
	}
	_, line, err := tableOfBundled()
	if err != nil {
		t.Fatal(err)
	}
	commandtest.Near(t, "slope", line.Slope, sxy/sxx, 1e-8)
	e, err := line.HeartRate(1.1)
	if err != nil {
		t.Fatal(err)
	}
	commandtest.Near(t, "at 1.1 m/s", e.Value, my+sxy/sxx*(1.1-mx), 1e-8)
	// LT2 of the bundled test, 1.154 m/s to three digits.
	d := decode(t)
	commandtest.Near(t, "heart rate at LT2", d.Zones[2].From.HeartRate, my+sxy/sxx*(1.154-mx), 0.2)
}

func TestText(t *testing.T) {
	text, stderr, status := execute(t)
	if status != 0 || stderr != "" {
		t.Fatalf("exit status %d, standard error %q", status, stderr)
	}
	at := 0
	for _, part := range []string{"Invented data", "A week for", "How fast is each zone?", "What to swim?", "What was swum?", "How is the week divided?", "Before swimming it", "local rules"} {
		i := strings.Index(text[at:], part)
		if i < 0 {
			t.Fatalf("text lacks %q, or not in this order:\n%s", part, text)
		}
		at += i
	}
	for _, scheme := range []string{"three", "lactate", "heart-rate"} {
		text, stderr, status := execute(t, "-scheme", scheme)
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
	if d.InventedWeek || len(d.Sets) != 2 || d.Sets[0].Swum != nil || d.Sets[1].HeartRateDrift != nil || d.Sets[1].AgainstTest == nil || d.Cautions != nil {
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
	if d := decode(t, "-scheme", file); len(d.Zones) != 3 {
		t.Errorf("got %+v", d.Zones)
	}
	gap := write(t, "gap.json", `{"name": "gap", "zones": [{"name": "1", "from": "open", "to": "LT1"}, {"name": "2", "from": "LT2", "to": "open"}]}`)
	if _, stderr, status := execute(t, "-scheme", gap); status != 1 || !strings.Contains(stderr, "gap") {
		t.Errorf("status %d, %q", status, stderr)
	}
}

// Bad input goes to standard error with exit status 1; what is good is still
// reported.
func TestBadInput(t *testing.T) {
	const good = "Mon,4,400,1,0:20,,\n"
	for _, c := range []struct {
		name, week string
		stderr     []string
		sets       int
	}{
		{"empty", "", []string{"no header"}, 0},
		{"another header", "date,repeats\n", []string{"line 1", "date,repeats"}, 0},
		{"no sets", head, []string{"no sets"}, 0},
		{"too few cells", head + "Mon,4,400\n" + good, []string{"line 2", "found 3 cells, expected 7"}, 1},
		{"all faults of a line", head + good + "Tue,x,410,2,soon,2:75,12\n", []string{"line 3", `repeats: found "x"`, `distance: found "410"`, `rest: found "soon"`, `swum: found "2:75"`, `heart rate: found "12"`}, 1},
		{"heart rates that do not match", head + good + "Tue,2,200,2,,2:40 2:41,150\n", []string{"line 3", "each of 2 times"}, 1},
		{"no such zone", head + good + "Tue,2,200,9,,,\n", []string{"line 3", `no zone "9"`}, 1},
		{"a quote left open", head + good + "Tue,\"2,200\n", []string{"week:"}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			stdout, stderr, status := execute(t, "-json", write(t, "week.csv", c.week))
			if status != 1 {
				t.Errorf("exit status %d, want 1", status)
			}
			for _, part := range c.stderr {
				if !strings.Contains(stderr, part) {
					t.Errorf("standard error %q lacks %q", stderr, part)
				}
			}
			var d decoded
			if err := json.Unmarshal([]byte(stdout), &d); err != nil || len(d.Sets) != c.sets {
				t.Errorf("%d sets, want %d; %v", len(d.Sets), c.sets, err)
			}
			if _, _, status := execute(t, write(t, "week.csv", c.week)); status != 1 {
				t.Errorf("as text: exit status %d, want 1", status)
			}
		})
	}
	broken := write(t, "sheet.csv", "swimmer,date,pool,distance,repeat,time,lactate\nAnn,2025-01-18,25 yd,400,1,6:75,1.2\n")
	flat := write(t, "flat.csv", "swimmer,date,pool,distance,repeat,time,lactate\nAnn,2025-01-18,25 yd,400,1,6:00,1.2\n")
	missing := filepath.Join(t.TempDir(), "none.csv")
	for _, args := range [][]string{{missing}, {"a", "b"}, {"-colour"}, {"week.csv", "-json"}, {"-test", missing}, {"-test", broken}, {"-test", flat}, {"-scheme", "none"}} {
		stdout, stderr, status := execute(t, args...)
		if status != 1 || stderr == "" || stdout != "" {
			t.Errorf("%v: status %d, standard error %q, standard output %q", args, status, stderr, stdout)
		}
	}
	if _, stderr, _ := execute(t, "week.csv", "-json"); stderr != "week: found -json after \"week.csv\": flags come before the week\n" {
		t.Errorf("standard error %q", stderr)
	}
	if _, _, status := execute(t, "-h"); status != 0 {
		t.Errorf("help: status %d", status)
	}
}

// Where heart rate flattens the line is drawn without the last stage.
func TestFlattening(t *testing.T) {
	var test lactate.Test
	for i, h := range []float64{112, 123, 133, 145, 155, 166, 168} {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: 1.03 + 0.05*float64(i), HeartRate: h})
	}
	line, err := heartRateLine(test)
	if err != nil || line.Stages != 6 {
		t.Errorf("%v, %v, want six stages", line, err)
	}
}

// tableOfBundled makes the table of the bundled test.
func tableOfBundled() (*zones.Table, *lactate.HeartRateLine, error) {
	rec, _, faults, err := readTest("", "")
	if err := errors.Join(faults, err); err != nil {
		return nil, nil, fmt.Errorf("the bundled test: %w", err)
	}
	return tableOf(rec, zones.ThreeZone())
}

// sheetOf is a test of six repeats in a 25 yd pool; invented.
func sheetOf(swimmer, date string) string {
	var b strings.Builder
	for i, cells := range []string{"6:00,1.2,120", "5:50,1.4,131", "5:40,1.9,142", "5:30,3.1,153", "5:20,5.6,164", "5:10,9.8,175"} {
		fmt.Fprintf(&b, "%s,%s,25 yd,400,%d,%s\n", swimmer, date, i+1, cells)
	}
	return b.String()
}

// A squad's sheet: the swimmer is named, the latest test counts, and a fault
// stops the swimmer whose test it is in and nobody else.
func TestSquad(t *testing.T) {
	const columns = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"
	sheet := write(t, "squad.csv", columns+sheetOf("Ann", "2025-01-18")+strings.Replace(sheetOf("Ben Ito", "2025-03-18"), "5:40", "5:75", 1)+sheetOf("Ann", "2025-02-18"))
	week := write(t, "week.csv", head+"Mon,4,400,1,,,\n")
	for _, c := range []struct {
		swimmer, stdout string
		stderr          []string
	}{
		{"Ann", "A week for Ann, 25 yd pool, from the step test of 18 February 2025", []string{"5:75"}},
		{"Ben Ito", "", []string{"5:75", "the test of Ben Ito, 18 March 2025, has rows with faults"}},
		{"Cy", "", []string{"no test of Cy", "Ann, Ben Ito"}},
		{"", "", []string{"tests of Ann, Ben Ito", "-swimmer"}},
	} {
		stdout, stderr, status := execute(t, "-test", sheet, "-swimmer", c.swimmer, week)
		if status != 1 || !strings.Contains(stdout, c.stdout) || c.stdout == "" && stdout != "" {
			t.Errorf("%q: status %d, standard output\n%s", c.swimmer, status, stdout)
		}
		for _, part := range c.stderr {
			if !strings.Contains(stderr, part) {
				t.Errorf("%q: standard error %q lacks %q", c.swimmer, stderr, part)
			}
		}
		if c.swimmer == "Ann" && strings.Contains(stderr, "week:") {
			t.Errorf("Ann's week is refused: %q", stderr)
		}
	}
}

// Where the line leaves the last repeat out, the notes say so and how many there
// were, not that there are too few; and why steptest's heart rates are others.
func TestHeartRateNotes(t *testing.T) {
	const columns = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"
	five := ""
	for i, cells := range []string{"6:00,1.2,125", "5:50,1.4,136", "5:40,1.9,146", "5:30,3.8,157", "5:20,7.6,159"} {
		five += fmt.Sprintf("Ann,2025-01-18,25 yd,400,%d,%s\n", i+1, cells)
	}
	notes := strings.Join(decode(t, "-test", write(t, "sheet.csv", columns+five)).Notes, "\n")
	if !strings.Contains(notes, "4 of 5; the last, near the maximum, is left out") || strings.Contains(notes, "only 4") {
		t.Errorf("notes %q", notes)
	}
	if notes := strings.Join(decode(t).Notes, "\n"); !strings.Contains(notes, "examples/steptest reads them from repeat to repeat") || strings.Contains(notes, "left out") {
		t.Errorf("notes %q of the bundled test, whose line rests on all six", notes)
	}
}

// The week that -h and the README show is one that is read.
func TestShownWeek(t *testing.T) {
	_, help, _ := execute(t, "-h")
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"-h": help, "README.md": string(readme)} {
		at := strings.Index(text, strings.TrimSpace(head))
		if at < 0 {
			t.Errorf("%s shows no week", name)
			continue
		}
		var lines []string
		for _, l := range strings.Split(text[at:], "\n")[:3] {
			lines = append(lines, strings.TrimSpace(l))
		}
		if d := decode(t, write(t, "week.csv", strings.Join(lines, "\n"))); len(d.Sets) != 2 || len(d.Sets[0].Swum) != 4 {
			t.Errorf("%s: %+v", name, d.Sets)
		}
	}
}

const testHead = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"

// HRmax is printed with where it comes from, and a test whose all-out repeat has
// no heart rate is warned of: its zones would be too slow. Schemes that do not
// need it do not name it; one that needs heart rates is refused without.
func TestMaxHeartRate(t *testing.T) {
	whole := sheetOf("Ann", "2025-01-18")
	lost := strings.Replace(whole, "9.8,175", "9.8,", 1)
	const taken, warned = "HRmax is taken to be %d /min, the highest heart rate of the test (repeat %d)", "repeat 6, the last and all out, has no heart rate"
	for _, c := range []struct {
		name, sheet, scheme string
		max, repeat         int
		warned              bool
	}{
		{"whole", whole, "heart-rate", 175, 6, false},
		{"the last lost", lost, "heart-rate", 164, 5, true},
		{"not the last", strings.Replace(whole, "5.6,164", "5.6,177", 1), "heart-rate", 177, 5, false},
		{"three zones", lost, "three", 0, 0, false},
	} {
		file := write(t, "sheet.csv", testHead+c.sheet)
		stdout, stderr, status := execute(t, "-json", "-test", file, "-scheme", c.scheme)
		var d struct {
			Max   float64 `json:"max_heart_rate_per_min"`
			Notes []string
		}
		if err := json.Unmarshal([]byte(stdout), &d); err != nil {
			t.Fatalf("%s: exit status %d, %s, %v", c.name, status, stderr, err)
		}
		text, _, _ := execute(t, "-test", file, "-scheme", c.scheme)
		notes := strings.Join(d.Notes, "\n")
		commandtest.Near(t, c.name, d.Max, float64(c.max), 0)
		for _, said := range []string{notes, strings.Join(strings.Fields(text), " ")} {
			if says := strings.Contains(said, fmt.Sprintf(taken, c.max, c.repeat)); says != (c.max > 0) {
				t.Errorf("%s: HRmax is said: %v\n%s", c.name, says, said)
			}
			if strings.Contains(said, warned) != c.warned {
				t.Errorf("%s: warned: %v\n%s", c.name, !c.warned, said)
			}
		}
	}
	none := write(t, "none.csv", testHead+strings.NewReplacer(",120", ",", ",131", ",", ",142", ",", ",153", ",", ",164", ",", ",175", ",").Replace(whole))
	stdout, stderr, status := execute(t, "-test", none, "-scheme", "heart-rate")
	if status != 1 || stdout != "" || !strings.Contains(stderr, `week: Ann, 2025-01-18: scheme "five zones by heart rate" needs heart rates`) {
		t.Errorf("exit status %d, standard output %q, standard error %q", status, stdout, stderr)
	}
}

// A line that goes on with the day above stays on that day where the line above,
// or its set, is left out; where the day cannot be known that is a fault.
func TestDays(t *testing.T) {
	for _, c := range []struct{ name, week, days, text, stderr string }{
		{"whole", "Monday,4,200,2,,,\n,3,300,1,,,\n", "Monday Monday", "Monday 4 × 200 yd | 3 × 300 yd", ""},
		{"a fault", "Monday,4,200,2,,,\nTuesday,x,300,1,,,\n,3,300,3,,,\n", "Monday Tuesday", "Monday 4 × 200 yd | Tuesday 3 × 300 yd", "line 3"},
		{"cells lack", "Monday,4,200,2,,,\nTuesday,4\n,3,300,3,,,\n", "Monday Tuesday", "Monday 4 × 200 yd | Tuesday 3 × 300 yd", "line 3"},
		{"no such zone", "Monday,4,200,2,,,\nTuesday,4,300,9,,,\n,3,300,3,,,\n", "Monday Tuesday", "Monday 4 × 200 yd | Tuesday 3 × 300 yd", "line 3"},
		{"no line", "Monday,4,200,2,,,\nTues\"day,4,300,1,,,\n,3,300,3,,,\nFriday,2,100,1,,,\n", "Monday Friday", "Monday 4 × 200 yd | Friday 2 × 100 yd", "week: line 4: day: found nothing"},
		{"no days", ",4,200,2,,,\n,3,300,1,,,\n", " ", "4 × 200 yd | 3 × 300 yd", ""},
	} {
		file := write(t, "week.csv", head+c.week)
		stdout, stderr, _ := execute(t, "-json", file)
		var d decoded
		if err := json.Unmarshal([]byte(stdout), &d); err != nil {
			t.Fatal(err)
		}
		var days []string
		for _, s := range d.Sets {
			days = append(days, s.Day)
		}
		if got := strings.Join(days, " "); got != c.days || !strings.Contains(stderr, c.stderr) || c.stderr == "" && stderr != "" {
			t.Errorf("%s: days %q, want %q; standard error %q", c.name, got, c.days, stderr)
		}
		text, _, _ := execute(t, file)
		_, plan, _ := strings.Cut(text, "What to swim?\n")
		plan, _, _ = strings.Cut(plan, "\n\n")
		var lines []string
		for _, l := range strings.Split(plan, "\n") {
			set, _, _ := strings.Cut(l, " in zone")
			lines = append(lines, strings.Join(strings.Fields(set), " "))
		}
		if got := strings.Join(lines, " | "); got != c.text {
			t.Errorf("%s: text %q, want %q", c.name, got, c.text)
		}
	}
}

// The latest test that can be read is trained from; a later one that is not swum,
// or has no lactate, is noted, and every refusal says whose test it is, of which day.
func TestWhichTest(t *testing.T) {
	const planned = "Ann,2025-05-13,25 yd,400,1,,,\nAnn,2025-05-13,25 yd,400,2,,,\n"
	blank, falling := "", ""
	for i := range 5 {
		blank += fmt.Sprintf("Ann,2025-04-01,25 yd,400,%d,5:%d0,,\n", i+1, 5-i)
		falling += fmt.Sprintf("Ann,2025-04-02,25 yd,400,%d,5:%d0,%d,\n", i+1, 5-i, 9-i)
	}
	whole := sheetOf("Ann", "2025-01-18")
	d := decode(t, "-test", write(t, "sheet.csv", testHead+planned+whole+blank))
	notes := strings.Join(d.Notes, "\n")
	for _, part := range []string{"Ann, 13 May 2025: not swum, and left out", "Ann, 1 April 2025: no lactate, and left out"} {
		if !strings.Contains(notes, part) {
			t.Errorf("notes %q lack %q", notes, part)
		}
	}
	if d := decode(t, "-test", write(t, "sheet.csv", testHead+sheetOf("Ann", "2025-06-18")+blank)); strings.Contains(strings.Join(d.Notes, "\n"), "left out") {
		t.Errorf("notes %q of a test that is the latest", d.Notes)
	}
	for _, c := range []struct{ sheet, stderr string }{
		{planned, "week: Ann, 2025-05-13: not swum, and there is no other test"},
		{blank, "week: Ann, 2025-04-01: no lactate, and there is no other test"},
		{whole + falling, "week: Ann, 2025-04-02: lactate falls as speed rises: a sample may stand in the wrong row"},
		{strings.NewReplacer(",1.4,", ",1.3,", ",1.9,", ",1.5,", ",3.1,", ",1.7,", ",5.6,", ",1.9,", ",9.8,", ",2.1,").Replace(whole), "week: Ann, 2025-01-18: no zones: LT1, at 1:"},
		{strings.NewReplacer(",1.2,", ",1,", ",1.4,", ",4,", ",1.9,", ",6,", ",3.1,", ",7,", ",5.6,", ",7.5,", ",9.8,", ",7.7,").Replace(whole), "week: Ann, 2025-01-18: no zones without LT2: the curve has no point"},
	} {
		stdout, stderr, status := execute(t, "-test", write(t, "sheet.csv", testHead+c.sheet))
		if status != 1 || stdout != "" || !strings.HasPrefix(stderr, c.stderr) || strings.Contains(stderr, "pace") || strings.Count(stderr, "\n") != 1 {
			t.Errorf("exit status %d, standard output %q, standard error %q, want %q", status, stdout, stderr, c.stderr)
		}
	}
}

// A time that nobody swims is a fault, as in the sheet of a test: 300 yd in 1:00
// are 4.57 m/s; 274.32 m at 3 m/s take 1:31.4.
func TestImpossibleTimes(t *testing.T) {
	for swum, fault := range map[string]string{"1:00": "this is 4.57 m/s", "1:32": "", "22:00": "", "23:00": "this is 0.20 m/s"} {
		stdout, stderr, status := execute(t, "-json", write(t, "week.csv", head+"Sun,3,300,1,,"+swum+" 4:00,\n"))
		var d decoded
		if err := json.Unmarshal([]byte(stdout), &d); err != nil {
			t.Fatal(err)
		}
		want := fmt.Sprintf(`line 2: swum: found %q, expected a time of 1:31 to 22:52 for 300 yd; %s`, swum, fault)
		if ok := fault == ""; ok != (status == 0) || ok != (len(d.Sets) == 1) || !ok && !strings.Contains(stderr, want) {
			t.Errorf("%s: exit status %d, %d sets, standard error %q", swum, status, len(d.Sets), stderr)
		}
	}
}

// Evidence D: the rest that is promised holds down to the time beside it, which
// in an open zone is 0.9 of LT1's speed.
func TestRest(t *testing.T) {
	text, _, _ := execute(t)
	for _, s := range decode(t).Sets {
		open := s.Slow == 0
		commandtest.Near(t, s.Day+", send-off", s.Slowest+s.Rest, s.SendOff, 1e-6)
		if !open {
			commandtest.Near(t, s.Day+", slowest", s.Slowest, s.Slow, 1e-9)
			continue
		}
		commandtest.Near(t, s.Day+", slowest", s.Slowest, s.Fast/0.9, 1e-3)
		tenths := math.Floor(10 * s.Slowest)
		want := fmt.Sprintf("rest %.0f s or more, down to %d:%04.1f\n", math.Floor(s.Rest), int(tenths)/600, math.Mod(tenths, 600)/10)
		if !strings.Contains(text, want) {
			t.Errorf("%s: text lacks %q:\n%s", s.Day, want, text)
		}
	}
}
