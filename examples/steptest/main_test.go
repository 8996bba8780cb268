package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	return commandtest.Execute(t, program(), stdin, args...)
}

// worked is the report on the first test of a sheet.
func worked(t *testing.T, sheet string) *report {
	t.Helper()
	rs, _ := commandtest.Reports[*report](t, program(), sheet)
	return rs[0]
}

func bundled(t *testing.T) *report { return worked(t, string(sheets.Single())) }

// Evidence D: a repeat's speed is distance over time, its pace the time over
// the number of hundreds; 1 yd is 0.9144 m exactly. Times are of the sheet.
func TestRepeats(t *testing.T) {
	text, _, _ := execute(t, "", "-full")
	times := []string{"5:51.7", "5:42.4", "5:32.3", "5:23.4", "5:12.4", "4:58.8"}
	lactates := []string{"1.5", "1.7", "2.3", "3.0", "4.7", "9.9"} // 9.9 is the highest sample after the last
	for i, clock := range times {
		s := pace.Must(pace.ParseTime(clock)).Seconds()
		want := fmt.Sprintf("%d %s %s %.3f %s", i+1, clock, table.Clock(s/4), 365.76/s, lactates[i])
		if !strings.Contains(commandtest.Words(text), want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}

// Evidence D: what is printed, as text and as JSON, is what the library says of the
// same sheet.
func TestThresholds(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Single()))
	if err != nil {
		t.Fatal(err)
	}
	test, err := records[0].Test()
	if err != nil {
		t.Fatal(err)
	}
	a, err := lactate.Analyze(test, command.Options())
	if err != nil {
		t.Fatal(err)
	}
	printed, _, _ := execute(t, "", "-json")
	invented, got := commandtest.JSON(t, printed)
	text, stderr, status := execute(t, "", "-brief")
	if status != 0 || stderr != "" || !invented {
		t.Fatalf("exit status %d, standard error %q, invented %v", status, stderr, invented)
	}
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		for name, want := range map[string]float64{"value": th.Intensity.Value, "low": th.Intensity.Low, "high": th.Intensity.High} {
			commandtest.Near(t, name, commandtest.At(t, got, 0, "analysis", fmt.Sprintf("lt%d", i+1), "intensity", name), want, 1e-12)
		}
		clock := func(v float64) string { return table.Clock(91.44 / v) }
		want := fmt.Sprintf("LT%d %s %s to %s %.0f (%.0f to %.0f) %s", i+1, clock(th.Intensity.Value), clock(th.Intensity.Low), clock(th.Intensity.High),
			th.HeartRate.Value, th.HeartRate.Low, th.HeartRate.High, table.Method(th.Method))
		if !strings.Contains(commandtest.Words(text), want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	if n := len(bundled(t).Definitions.Rows); n != len(lactate.CoreMethods()) {
		t.Errorf("%d definitions, want all %d", n, len(lactate.CoreMethods()))
	}
}

// Evidence D: the zones meet at the thresholds and are open at the ends; the
// plan ends at the last time swum, falls evenly, and is six weeks later.
func TestZonesAndPlan(t *testing.T) {
	r := bundled(t)
	z := r.Zones.Zones
	if len(z) != 3 || !z[0].From.Open() || !z[2].To.Open() {
		t.Fatalf("zones %+v, want three that are open at both ends", z)
	}
	for i, th := range []lactate.Threshold{r.Analysis.LT1, r.Analysis.LT2} {
		e := z[i].To
		if e != z[i+1].From {
			t.Errorf("zones do not meet: %+v, %+v", e, z[i+1].From)
		}
		commandtest.Near(t, "edge", e.Speed.MetresPerSecond(), th.Intensity.Value, 1e-12)
		commandtest.Near(t, "heart rate", e.HeartRate, th.HeartRate.Value, 1e-9)
		commandtest.Near(t, "lactate", e.Lactate, th.Lactate.Value, 1e-9)
	}
	if d := r.Next.Date.Format(time.DateOnly); d != "2025-03-01" { // 18 January and 42 days
		t.Errorf("next test on %s, want 2025-03-01", d)
	}
	p := r.Next.Repeats
	if len(p) != 6 || !p[5].AllOut || p[4].AllOut {
		t.Fatalf("plan %+v, want six repeats, the last all out", p)
	}
	commandtest.Near(t, "last time", p[5].Time.Seconds(), 298.8, 0.5) // as swum, in whole seconds
	drop := (p[0].Time - p[5].Time).Seconds() / 5
	for i := 1; i < 6; i++ {
		commandtest.Near(t, fmt.Sprintf("drop to repeat %d", i+1), (p[i-1].Time - p[i].Time).Seconds(), drop, 1)
	}
	text, _, _ := execute(t, "", "-full")
	for _, s := range p {
		about := map[bool]string{true: "~"}[s.AllOut]
		want := fmt.Sprintf("%d 400 yd %s %s %s", s.Number, command.Clock(s.Leave), about+command.Clock(s.Time), table.Clock(s.Time.Seconds()/4))
		if !strings.Contains(commandtest.Words(text), want) {
			t.Errorf("text lacks %q", want)
		}
	}
}

// The answer comes first, in fifteen lines that say something; each detail adds to
// it. A proposed test has its cautions.
func TestText(t *testing.T) {
	answer := []string{"Invented data", "Step test of", "LT1", "LT2", "Dmax", "LT1 by 3 definitions", "LT2 by 4 definitions", "zone", "above LT2", "How far to trust it: ", "What to do next: "}
	usual := append(slices.Clone(answer), "Thresholds by definition", "What to know")
	for _, c := range []struct {
		flag  string
		most  int
		parts []string
	}{
		{"-brief", 24, append(slices.Clone(answer), "Before swimming it", "Local rules")},
		{"", 48, append(slices.Clone(usual), "Before swimming it", "Local rules")},
		{"-full", 105, append(slices.Clone(usual), "What was swum?", "other definitions and curves", "the stroke", "next time?", "Before swimming it", "local rules")},
	} {
		var args []string
		if c.flag != "" {
			args = []string{c.flag}
		}
		text, stderr, status := execute(t, "", args...)
		if status != 0 || stderr != "" {
			t.Fatalf("exit status %d, standard error %q", status, stderr)
		}
		commandtest.Screen(t, text, c.most, c.parts...)
		before, _, _ := strings.Cut(text[strings.Index(text, "Step test"):], "\n\nBefore")
		before, _, _ = strings.Cut(before, "\n\nThresholds by")
		if n := len(strings.FieldsFunc(before, func(r rune) bool { return r == '\n' })); n > 15 {
			t.Errorf("%s: the answer has %d lines:\n%s", c.flag, n, before)
		}
		for _, jargon := range []string{"p = ", "fitted lowest"} {
			if strings.Contains(text, jargon) {
				t.Errorf("%s: text has %q", c.flag, jargon)
			}
		}
	}
	if _, stderr, status := execute(t, "", "-brief", "-full"); status != 1 || !strings.Contains(stderr, "want one of them") {
		t.Errorf("exit status %d, %q", status, stderr)
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
	next := bundled(t).Next
	n := 0
	for _, row := range rows[1:] {
		target, _, _ := strings.Cut(row[column("target")], " ")
		if target == "" {
			continue
		}
		if n >= len(next.Repeats) {
			t.Fatal("the plan has more repeats")
		}
		if want := next.Repeats[n].Time; pace.Must(pace.ParseTime(target)) != want {
			t.Errorf("repeat %d in %s, want %v", n+1, target, want)
		}
		if day := row[column("date")]; day != next.Date.Format(time.DateOnly) {
			t.Errorf("next test on %v, the plan's on %s", next.Date, day)
		}
		n++
	}
	if n != len(next.Repeats) {
		t.Errorf("%d repeats, the plan has %d", len(next.Repeats), n)
	}
}
