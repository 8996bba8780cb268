package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/testdata/sheets"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	return commandtest.Execute(t, program(), stdin, args...)
}

// decoded runs the command with -json and decodes what it printed.
func decoded(t *testing.T, stdin string, args ...string) output {
	t.Helper()
	return commandtest.Decoded[output](t, program(), stdin, args...)
}

// Evidence D: a repeat's speed is distance over time, its pace the time over
// the number of hundreds; 1 yd is 0.9144 m exactly. Times are of the sheet.
func TestRepeats(t *testing.T) {
	r := decoded(t, "").Tests[0]
	times := []string{"5:51.7", "5:42.4", "5:32.3", "5:23.4", "5:12.4", "4:58.8"}
	lactates := []float64{1.5, 1.7, 2.3, 3, 4.7, 9.9} // 9.9 is the highest sample after the last
	if len(r.Repeats) != len(times) {
		t.Fatalf("%d repeats, want %d", len(r.Repeats), len(times))
	}
	for i, rep := range r.Repeats {
		s := pace.MustTime(times[i]).Seconds()
		name := fmt.Sprintf("repeat %d ", i+1)
		commandtest.Near(t, name+"time", rep.Time, s, 1e-9)
		commandtest.Near(t, name+"distance", rep.Distance, 365.76, 1e-9)
		commandtest.Near(t, name+"speed", rep.Speed, 365.76/s, 1e-12)
		commandtest.Near(t, name+"pace per 100 yd", rep.Per100Yd, s/4, 1e-9)
		commandtest.Near(t, name+"pace per 100 m", rep.Per100M, s/3.6576, 1e-9)
		commandtest.Near(t, name+"lactate", rep.Lactate, lactates[i], 0)
	}
}

// Evidence D: what is printed is what the library says of the same sheet, and
// every threshold lies on its definition.
func TestThresholds(t *testing.T) {
	r := decoded(t, "").Tests[0]
	records, err := protocol.ReadSheet(bytes.NewReader(sheets.Single()))
	if err != nil {
		t.Fatal(err)
	}
	test, err := records[0].Test()
	if err != nil {
		t.Fatal(err)
	}
	a, err := lactate.Analyze(test, lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		got  *threshold
		want lactate.Threshold
	}{{"LT1", r.LT1, a.LT1}, {"LT2", r.LT2, a.LT2}} {
		commandtest.Near(t, c.name, c.got.Speed.Value, c.want.Intensity.Value, 1e-12)
		commandtest.Near(t, c.name+" low", c.got.Speed.Low, c.want.Intensity.Low, 1e-12)
		commandtest.Near(t, c.name+" high", c.got.Speed.High, c.want.Intensity.High, 1e-12)
		commandtest.Near(t, c.name+" per 100 yd", c.got.Per100Yd.Value*c.got.Speed.Value, 91.44, 1e-9)
		commandtest.Near(t, c.name+" per 100 m, fast end", c.got.Per100M.Low*c.got.Speed.High, 100, 1e-9)
		commandtest.Near(t, c.name+" heart rate", c.got.HeartRate.Value, c.want.HeartRate.Value, 1e-9)
		if e := c.got.Per100Yd; !(e.Low < e.Value && e.Value < e.High) {
			t.Errorf("%s: pace %v lies outside its interval", c.name, e)
		}
	}

	// The definitions themselves, on curves fitted here.
	xs, ys := []float64{}, []float64{}
	for _, s := range test.Sampled() {
		xs, ys = append(xs, s.Intensity), append(ys, s.Lactate)
	}
	exponential, cubic := new(curve.Exponential), new(curve.Polynomial)
	if err := errors.Join(exponential.Fit(xs, ys), cubic.Fit(xs, ys)); err != nil {
		t.Fatal(err)
	}
	commandtest.Near(t, "lactate at LT1", exponential.Predict(r.LT1.Speed.Value), exponential.Predict(xs[0])+0.5, 1e-9)
	chord := (exponential.Predict(xs[5]) - exponential.Predict(xs[0])) / (xs[5] - xs[0])
	commandtest.Near(t, "slope at LT2", exponential.PredictDerivative(r.LT2.Speed.Value), chord, 1e-6*chord)
	for _, m := range r.Methods {
		if m.Method == "4 mmol/L" {
			commandtest.Near(t, "exponential at 4 mmol/L", exponential.Predict(m.Exponential.Speed.Value), 4, 1e-9)
			commandtest.Near(t, "cubic at 4 mmol/L", cubic.Predict(m.Cubic.Speed.Value), 4, 1e-9)
		}
	}
	if len(r.Methods) != len(lactate.CoreMethods()) {
		t.Errorf("%d methods, want all %d", len(r.Methods), len(lactate.CoreMethods()))
	}
}

// Evidence D: the zones meet at the thresholds and are open at the ends; the
// plan ends at the last time swum, falls evenly, and is six weeks later.
func TestZonesAndPlan(t *testing.T) {
	r := decoded(t, "").Tests[0]
	z := r.Zones
	if len(z) != 3 || z[0].From != nil || z[2].To != nil {
		t.Fatalf("zones %+v, want three that are open at both ends", z)
	}
	for _, e := range []struct {
		name string
		got  *edge
		want *threshold
	}{{"zone 1 to", z[0].To, r.LT1}, {"zone 2 from", z[1].From, r.LT1}, {"zone 2 to", z[1].To, r.LT2}, {"zone 3 from", z[2].From, r.LT2}} {
		commandtest.Near(t, e.name, e.got.Speed, e.want.Speed.Value, 1e-12)
		commandtest.Near(t, e.name+" heart rate", e.got.HeartRate, e.want.HeartRate.Value, 1e-9)
		commandtest.Near(t, e.name+" lactate", e.got.Lactate, e.want.Lactate.Value, 1e-9)
	}

	if r.Next.Date != "2025-03-01" { // 18 January and 42 days
		t.Errorf("next test on %s, want 2025-03-01", r.Next.Date)
	}
	p := r.Next.Repeats
	if len(p) != 6 || !p[5].AllOut || p[4].AllOut {
		t.Fatalf("plan %+v, want six repeats, the last all out", p)
	}
	commandtest.Near(t, "last time", p[5].Time, 298.8, 0.5) // as swum, in whole seconds
	drop := (p[0].Time - p[5].Time) / 5
	for i := 1; i < 6; i++ {
		commandtest.Near(t, fmt.Sprintf("drop to repeat %d", i+1), p[i-1].Time-p[i].Time, drop, 1)
		commandtest.Near(t, fmt.Sprintf("rest before repeat %d", i+1), p[i].Leave-p[i-1].Leave-p[i-1].Time, r.Next.Rest, 1e-9)
	}
}

// Every number of the JSON has its unit in the name of its field, or has none.
func TestUnitsInNames(t *testing.T) {
	stdout, _, _ := execute(t, "", "-json")
	var v any
	if err := json.Unmarshal([]byte(stdout), &v); err != nil {
		t.Fatal(err)
	}
	units := []string{"_m", "_s", "_m_per_s", "_mmol_per_l", "_per_min", "_s_per_100_yd", "_s_per_100_m", "_m2_per_s"}
	counts := map[string]bool{"repeat": true, "resamples": true, "interval_confidence": true, "p_value": true, "segment_over_repeat_speed": true}
	seen := 0
	var walk func(name string, v any)
	walk = func(name string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, e := range v {
				if k == "value" || k == "low" || k == "high" { // of an estimate, which has the name
					k = name
				}
				walk(k, e)
			}
		case []any:
			for _, e := range v {
				walk(name, e)
			}
		case float64:
			seen++
			for _, u := range units {
				if strings.HasSuffix(name, u) {
					return
				}
			}
			if !counts[name] {
				t.Errorf("field %s: a number without a unit in its name", name)
			}
		}
	}
	walk("", v)
	if seen < 100 {
		t.Errorf("%d numbers, want more than 100", seen)
	}
}

// Text and JSON say the same, and the text fits a screen.
func TestText(t *testing.T) {
	text, stderr, status := execute(t, "")
	if status != 0 || stderr != "" {
		t.Fatalf("exit status %d, standard error %q", status, stderr)
	}
	r := decoded(t, "").Tests[0]
	clock := func(s float64) string { return pace.FormatTime(time.Duration(s*1e9+0.5), 1) }
	for _, th := range []*threshold{r.LT1, r.LT2} {
		for _, e := range []*lactate.Estimate{th.Per100Yd, th.Per100M} {
			if want := fmt.Sprintf("%s (%s to %s)", clock(e.Value), clock(e.High), clock(e.Low)); !strings.Contains(text, want) {
				t.Errorf("text lacks %q", want)
			}
		}
		if want := fmt.Sprintf("%.3f (%.3f to %.3f)", th.Speed.Value, th.Speed.Low, th.Speed.High); !strings.Contains(text, want) {
			t.Errorf("text lacks %q", want)
		}
	}
	for _, p := range r.Next.Repeats {
		if want := strings.TrimSuffix(clock(p.Time), ".0"); !strings.Contains(text, want) {
			t.Errorf("text lacks the target %q", want)
		}
	}
	at := 0
	for _, head := range []string{"Invented data", "Step test of", "What was swum?", "thresholds?", "other definitions", "How fast", "next time?", "Before believing", "the stroke", "Before swimming"} {
		i := strings.Index(text[at:], head)
		if i < 0 {
			t.Fatalf("text lacks %q, or not in this order", head)
		}
		at += i
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > 90 {
		t.Errorf("%d lines, want less", len(lines))
	}
	if first := strings.Join(lines[:40], "\n"); !strings.Contains(first, "zone 3, above LT2") {
		t.Errorf("the first 40 lines do not reach the zones:\n%s", first)
	}
	for _, jargon := range []string{"p = ", "NaN", "simulated tests without one"} {
		if strings.Contains(text, jargon) {
			t.Errorf("text has %q", jargon)
		}
	}
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); n > 100 {
			t.Errorf("%d columns: %q", n, l)
		}
	}
}

const head = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"

// A test of whole seconds in a 50 m pool, without heart rates; invented.
const good = `Ann,2025-01-18,50 m,400,1,6:00,1.2,
Ann,2025-01-18,50 m,400,2,5:50,1.4,
Ann,2025-01-18,50 m,400,3,5:40,1.9,
Ann,2025-01-18,50 m,400,4,5:30,3.1,
Ann,2025-01-18,50 m,400,5,5:20,5.6,
Ann,2025-01-18,50 m,400,6,5:10,9.8,
`

// Bad input goes to standard error with exit status 1; what is good is still
// reported.
func TestBadInput(t *testing.T) {
	const alone = "Bob,2025-01-18,50 m,400,1,6:00,1.2,\n"
	for _, c := range []struct {
		name, sheet string
		stderr      []string // parts of it
		tests       int      // reported
		thresholds  int      // of these, with thresholds
	}{
		{"empty", "", []string{"found nothing"}, 0, 0},
		{"a time that is none", head + good + "Bob,2025-01-18,50 m,400,1,4:75,1.2,\n", []string{"line 8", `"4:75"`}, 2, 1},
		{"a fault in a good test", head + good + "Ann,2025-01-18,50 m,400,7,4:75,1.2,\n", []string{"line 8"}, 1, 1},
		{"one repeat", head + alone + good, []string{"Bob", "too few repeats"}, 2, 1},
		{"lactate falls", head + strings.NewReplacer(",1.2,", ",9.8,", ",9.8,", ",1.2,", ",5.6,", ",1.4,", ",1.4,", ",5.6,").Replace(good), []string{"lactate falls"}, 1, 0},
		{"no lactate", head + strings.NewReplacer(",1.2,", ",,", ",1.4,", ",,", ",1.9,", ",,", ",3.1,", ",,").Replace(good), []string{"found 2"}, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, args := range [][]string{{"-"}, {"-json", "-"}} {
				stdout, stderr, status := execute(t, c.sheet, args...)
				if status != 1 {
					t.Errorf("exit status %d, want 1", status)
				}
				for _, part := range c.stderr {
					if !strings.Contains(stderr, part) {
						t.Errorf("standard error %q lacks %q", stderr, part)
					}
				}
				tests, thresholds := strings.Count(stdout, "Step test of"), strings.Count(stdout, "LT2, where")
				if len(args) == 2 {
					var out struct{ Report output }
					if err := json.Unmarshal([]byte(stdout), &out); err != nil {
						t.Fatal(err)
					}
					o := out.Report
					tests, thresholds = len(o.Tests), 0
					for _, r := range o.Tests {
						if r.LT2 != nil {
							thresholds++
						} else if r.Problem == "" && len(r.Repeats) > 0 {
							t.Errorf("%s has no thresholds, and the JSON does not say why", r.Swimmer)
						}
					}
				}
				if tests != c.tests || thresholds != c.thresholds {
					t.Errorf("%v: %d tests, %d with thresholds, want %d and %d", args, tests, thresholds, c.tests, c.thresholds)
				}
			}
		})
	}

	for _, args := range [][]string{{filepath.Join(t.TempDir(), "none.csv")}, {"a", "b"}, {"-colour"}} {
		stdout, stderr, status := execute(t, "", args...)
		if status != 1 || stderr == "" || strings.TrimSpace(stdout) != "" {
			t.Errorf("%v: status %d, standard error %q, standard output %q", args, status, stderr, stdout)
		}
	}
}

// A metre pool has one pace, a missing heart rate is said to be missing, and a
// file is read as standard input is.
func TestFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(name, []byte(head+good), 0o600); err != nil {
		t.Fatal(err)
	}
	text, stderr, status := execute(t, "", name)
	if status != 0 {
		t.Fatal(stderr)
	}
	piped, _, _ := execute(t, head+good, "-")
	if piped != text {
		t.Error("a file and standard input give different reports")
	}
	if strings.Contains(text, "Invented") {
		t.Error("a sheet of one's own is called invented")
	}
	if strings.Contains(text, "100 yd") || strings.Count(text, "per 100 m  ") != 3 {
		t.Errorf("a 50 m pool has one pace, per 100 m:\n%s", text)
	}
	if !strings.Contains(text, "not known") || strings.Contains(text, "NaN") {
		t.Errorf("heart rates were not taken:\n%s", text)
	}
	if r := decoded(t, head+good, "-").Tests[0]; r.LT2.HeartRate != nil || r.Zones[0].To.HeartRate != 0 {
		t.Error("JSON holds heart rates that were not taken")
	}
}

// Several tests in one sheet are each reported, in order.
func TestSeveral(t *testing.T) {
	o := decoded(t, head+good+strings.ReplaceAll(good, "Ann", "Bo"), "-")
	if len(o.Tests) != 2 || o.Tests[0].Swimmer != "Ann" || o.Tests[1].Swimmer != "Bo" {
		t.Fatalf("%d tests", len(o.Tests))
	}
	if a, b := o.Tests[0].LT2.Speed, o.Tests[1].LT2.Speed; *a != *b {
		t.Errorf("the same numbers give %v and %v", a, b)
	}
}

// Evidence D: lactates on a cubic, rising late: an exponential reads LT1 where
// the cubic does not, outside its interval, and the report says so. On an
// exponential it has nothing to say.
func TestOtherCurve(t *testing.T) {
	const said = "on a cubic is"
	sheet := func(lactate func(v float64) float64) string {
		s := head
		for i, time := range []string{"6:00", "5:50", "5:40", "5:30", "5:20", "5:10"} {
			s += fmt.Sprintf("Ann,2025-01-18,50 m,400,%d,%s,%.4f,\n", i+1, time, lactate(400/pace.MustTime(time).Seconds()))
		}
		return s
	}
	cubic := func(v float64) float64 { return 1 + 3000*(v-1.1)*(v-1.1)*(v-1.1) }
	r := decoded(t, sheet(cubic), "-").Tests[0]
	other := r.Methods[0].Cubic // fitted lowest + 0.5, which is LT1's
	if e := r.LT1.Speed; r.Methods[0].Method != r.LT1.Method || e.Low <= other.Speed.Value && other.Speed.Value <= e.High {
		t.Fatalf("the case is none: %v on the cubic lies inside %v", other.Speed.Value, e)
	}
	want := "LT1 " + said + " " + pace.FormatTime(time.Duration(100/other.Speed.Value*1e9), 1) + " per 100 m"
	if got := strings.Join(r.Cautions, "\n"); !strings.Contains(got, want) {
		t.Errorf("cautions %q lack %q", got, want)
	}
	r = decoded(t, sheet(func(v float64) float64 { return 1 + math.Exp(16*(v-1.16)) }), "-").Tests[0]
	for _, c := range r.Cautions {
		if strings.Contains(c, "LT2 "+said) {
			t.Errorf("on an exponential: %s", c)
		}
	}
}

// sheetOf is a test of 400 m from 5:20 to 4:40 with these lactates; invented.
func sheetOf(swimmer string, lactates ...string) string {
	s := ""
	for i, y := range lactates {
		s += fmt.Sprintf("%s,2025-02-01,50 m,400,%d,%s,%s,\n", swimmer, i+1, []string{"5:20", "5:10", "5:00", "4:50", "4:40"}[i], y)
	}
	return s
}

// Simulated tests whose level lies beyond the tested range open the interval:
// they are not said to be left out of it.
func TestFailed(t *testing.T) {
	sheet := head + sheetOf("Ann", "1.2", "1.2", "1.3", "1.5", "1.9")
	records, err := protocol.ReadSheet(strings.NewReader(sheet))
	if err != nil {
		t.Fatal(err)
	}
	test, err := records[0].Test()
	if err != nil {
		t.Fatal(err)
	}
	a, err := lactate.Analyze(test, lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed})
	if err != nil {
		t.Fatal(err)
	}
	if a.LT1.Beyond == 0 || a.LT1.Failed == a.LT1.Beyond || a.LT2.Beyond != 0 || !math.IsInf(a.LT1.Intensity.High, 1) {
		t.Fatalf("the case is none: %+v and %+v", a.LT1, a.LT2)
	}
	cautions := strings.Join(decoded(t, sheet, "-").Tests[0].Cautions, "\n")
	for i, n := range []int{a.LT1.Failed - a.LT1.Beyond, a.LT2.Failed} {
		if want := fmt.Sprintf("\n%d of %d simulated tests gave no LT%d; its interval is of the others", n, resamples, i+1); !strings.Contains(cautions, want) {
			t.Errorf("cautions %q lack %q", cautions, want)
		}
	}
	// Its LT2 is known to 2.3 s per 100 m: that bracket is not narrow.
	if strings.Contains(cautions, "narrow") || !strings.Contains(cautions, "LT2's bracket rests on how the curve bends") {
		t.Errorf("cautions %q", cautions)
	}
}

// A page for a coach has no hints for programmers: what is wrong is said of the
// samples.
func TestCoachsWords(t *testing.T) {
	for _, c := range []struct {
		name, sheet, want string
		status            int
	}{
		{"order", sheetOf("Lu", "1.2", "1.3", "1.5", "1.7", "2.1"), "no zones: LT1 does not lie below LT2", 0},
		{"flat", sheetOf("Mo", "2", "2", "2", "2"), "no thresholds: the samples do not settle a curve", 1},
		{"falls", sheetOf("Ny", "3", "2.5", "2.2", "2"), "no thresholds: lactate falls as speed rises", 1},
		{"bends down", sheetOf("Pi", "1", "4", "6", "7", "7.5"), "no LT2: the curve has no point farthest below", 0},
		{"alone", sheetOf("Qi", "1", "1", "1", "1", "12"), "no thresholds: the samples do not settle a curve", 1},
		{"stroke", strings.Replace(head, "\n", ",stroke cycles,stroke segment,segment time\n", 1) + strings.NewReplacer(",\n", ",,7,20,\n").Replace(good), "repeat 1: segment time: found nothing", 0},
	} {
		sheet := c.sheet
		if c.name != "stroke" {
			sheet = head + sheet
		}
		text, stderr, status := execute(t, sheet, "-")
		if status != c.status || !strings.Contains(strings.Join(strings.Fields(text), " "), c.want) {
			t.Errorf("%s: exit status %d, text lacks %q:\n%s%s", c.name, status, c.want, text, stderr)
		}
		for _, hint := range []string{"was pace", "not paces", " ys ", " x ", ": lactate: ", ": zones: ", "protocol: ", ": curve: "} {
			if strings.Contains(text, hint) || strings.Contains(stderr, hint) {
				t.Errorf("%s: %q in\n%s%s", c.name, hint, text, stderr)
			}
		}
	}
}

// A test of which no row can be read has no pool and no table, and its faults
// are listed once.
func TestNothingRead(t *testing.T) {
	sheet := head
	for i := range 6 {
		sheet += fmt.Sprintf("Dana Fox,2025-02-05,50 m,400,%d,4:75,1.2,\n", i+1)
	}
	stdout, stderr, status := execute(t, sheet, "-")
	if status != 1 || strings.Count(stderr, "line 4") != 1 || strings.Count(stderr, `"4:75"`) != 6 {
		t.Errorf("status %d, standard error\n%s", status, stderr)
	}
	for _, part := range []string{"no pool", "4:75", "distance", "0 repeats"} {
		if strings.Contains(stdout, part) {
			t.Errorf("standard output has %q:\n%s", part, stdout)
		}
	}
	if !strings.Contains(stdout, "rows of this test with faults: 6") || !strings.Contains(stdout, "no repeat could be read") {
		t.Errorf("standard output does not say why there is nothing:\n%s", stdout)
	}
}

// The next test is that of examples/plan after the same one.
func TestNextIsPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("builds another command")
	}
	cmd := exec.Command("go", "run", "./examples/plan", "-csv")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	next := decoded(t, "").Tests[0].Next
	seen := map[string]bool{}
	for _, row := range rows[1:] {
		target, _, _ := strings.Cut(row[column("target")], " ")
		if target == "" {
			continue
		}
		n := len(seen)
		seen[row[column("repeat")]] = true
		if n >= len(next.Repeats) {
			break
		}
		commandtest.Near(t, "target of repeat "+row[column("repeat")], next.Repeats[n].Time, pace.MustTime(target).Seconds(), 1e-9)
		if day := row[column("date")]; day != next.Date {
			t.Errorf("next test on %s, the plan's on %s", next.Date, day)
		}
	}
	if len(seen) != len(next.Repeats) {
		t.Errorf("%d repeats, the plan has %d", len(next.Repeats), len(seen))
	}
}
