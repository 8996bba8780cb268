package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
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

// analyzed is the first test of a sheet and what the library says of it, with the options
// of the report.
func analyzed(t *testing.T, sheet io.Reader) (lactate.Test, *lactate.Analysis) {
	t.Helper()
	records, err := protocol.ReadSheet(sheet)
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
	return test, a
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
		s := pace.Must(pace.ParseTime(times[i])).Seconds()
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
	test, a := analyzed(t, bytes.NewReader(sheets.Single()))
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
		commandtest.Near(t, "target of repeat "+row[column("repeat")], next.Repeats[n].Time, pace.Must(pace.ParseTime(target)).Seconds(), 1e-9)
		if day := row[column("date")]; day != next.Date {
			t.Errorf("next test on %s, the plan's on %s", next.Date, day)
		}
	}
	if len(seen) != len(next.Repeats) {
		t.Errorf("%d repeats, the plan has %d", len(next.Repeats), len(seen))
	}
}
