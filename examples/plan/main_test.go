package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol/sheet"
)

// execute runs the command and returns what it printed and its exit status.
func execute(t *testing.T, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, &out, &errs)
	return out.String(), errs.String(), status
}

// Without flags, every section is there, in order.
func TestNoFlags(t *testing.T) {
	out, errs, status := execute(t)
	if status != 0 || errs != "" {
		t.Fatalf("exit status %d: %s", status, errs)
	}
	at := 0
	for _, part := range []string{"Invented data", "Plan of a step test of Robin Vale on 1 March 2025, 25 yd pool", "What is to be swum?", "Spacing:", "-spaced", "What will it be able to tell?", "LT1", "LT2", "What should be thought of?", "When is the next?", "Saturday 12 April 2025", "Before swimming it", "local rules"} {
		i := strings.Index(out[at:], part)
		if i < 0 {
			t.Fatalf("no %q after byte %d of\n%s", part, at, out)
		}
		at += i
	}
}

// Six 400s with a drop of 2.5 s per 100 fall by 10 s each. Evidence: common
// practice.
func TestBest(t *testing.T) {
	out, errs, status := execute(t, "-best", "5:00", "-drop", "2.5", "-pool", "50 m", "-swimmer", "Ada", "-date", "2025-03-08", "-csv")
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, errs)
	}
	recs, err := sheet.Read(strings.NewReader(out))
	if err != nil || len(recs) != 1 {
		t.Fatalf("%v from\n%s", err, out)
	}
	for i, r := range recs[0].Repeats {
		if want := time.Duration(350-10*i) * time.Second; r.Target != want || r.Distance != 400 {
			t.Errorf("repeat %d: %v in %v, want %v", r.Number, r.Distance, r.Target, want)
		}
	}
	if len(recs[0].Repeats) != 6 || len(recs[0].Recovery) != 4 || recs[0].Next.Format(time.DateOnly) != "2025-04-19" {
		t.Errorf("%+v", recs[0])
	}
	spaced, _, status := execute(t, "-best", "5:00", "-drop", "2.5", "-pool", "50 m", "-swimmer", "Ada", "-date", "2025-03-08", "-csv", "-spaced")
	if status != 0 || spaced == out {
		t.Errorf("the spaced plan: exit status %d\n%s", status, spaced)
	}
	if _, err := sheet.Read(strings.NewReader(spaced)); err != nil {
		t.Error(err)
	}
	page, _, status := execute(t, "-best", "5:00", "-page")
	if status != 0 || !strings.Contains(page, "Resting lactate ______") || !strings.Contains(page, "Cautions") {
		t.Errorf("the page: exit status %d\n%s", status, page)
	}
}

// A plan after a sheet with several tests knows them all.
func TestLast(t *testing.T) {
	out, errs, status := execute(t, "-last", "../../testdata/sheets/season.csv", "-avoid", "2025-07-19", "-weeks", "6")
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, errs)
	}
	for _, part := range []string{"of Mika Torne on 26 July 2025, 25 m pool, after the test of 7 June 2025", "this plan"} {
		if !strings.Contains(out, part) {
			t.Errorf("no %q in\n%s", part, out)
		}
	}
	if strings.Contains(out, "Invented") {
		t.Error("a sheet of one's own is said to be invented")
	}
	if out, errs, status = execute(t, "-last", "../../testdata/sheets/squad.csv", "-swimmer", "kim  ARDEN"); status != 0 || !strings.Contains(out, "Kim Arden") {
		t.Errorf("in another case: status %d, %s", status, errs)
	}
	if out, errs, status = execute(t, "-last", "../../testdata/sheets/squad.csv", "-swimmer", "Kim Arden"); status != 0 || !strings.Contains(out, "Kim Arden") {
		t.Errorf("exit status %d: %s", status, errs)
	}
}

// A plan that no forecast can be made for is a plan.
func TestTooFewForAForecast(t *testing.T) {
	out, errs, status := execute(t, "-best", "5:00", "-repeats", "3")
	if status != 0 || !strings.Contains(out, "Presumed: a 25 yd pool") || !strings.Contains(out, "found 3 repeats, want 4 or more") || !strings.Contains(out, "Before swimming it") {
		t.Errorf("exit status %d: %s\n%s", status, errs, out)
	}
}

// Faults go to standard error and say what to do.
func TestFaults(t *testing.T) {
	broken := filepath.Join(t.TempDir(), "broken.csv")
	if err := os.WriteFile(broken, []byte("swimmer,date,pool,distance,repeat,time,lactate\nAda,2025-03-04,25 m,400,1,4:75,1.2\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"-repeats", "0"}, "Repeats: found 0"},
		{[]string{"-best", "4:75"}, `-best: found "4:75": 75 after a colon, want 00 to 59`},
		{[]string{"-best", "456"}, `-best: found "456", want 4:56, or 7:36 if seconds are meant`},
		{[]string{"-best", "4:56", "-start", "127.5"}, `-start: found "127.5", want 1:27.5, or 2:07.5 if seconds are meant`},
		{[]string{"-best", "5:00", "-distance", "410"}, "whole number of lengths"},
		{[]string{"-best", "5:00", "-start", "1:10"}, "faster than the first"},
		{[]string{"-best", "5:00", "-start", "x"}, "-start"},
		{[]string{"-best", "5:00", "-rest", "-5"}, "not negative"},
		{[]string{"-best", "5:00", "-rest", "1:00", "-send-off", "7:00"}, "not both"},
		{[]string{"-pool", "25"}, "yards (yd) or metres (m)"},
		{[]string{"-pool", "50 m"}, "do not mix"},
		{[]string{"-distance", "200"}, "as in the last test"},
		{[]string{"-best", "5:00", "-last", "x"}, "one or the other"},
		{[]string{"-last", "no-such-sheet.csv"}, "no-such-sheet.csv"},
		{[]string{"-last", broken}, "4:75"},
		{[]string{"-last", "../../testdata/sheets/squad.csv"}, "say whose with -swimmer"},
		{[]string{"-swimmer", "Nobody"}, "no test of Nobody"},
		{[]string{"-csv", "-page"}, "one of them"},
		{[]string{"-best", "5:00", "-csv"}, "swimmer"},
		{[]string{"-best", "5:00", "-repeats", "3", "-csv", "-spaced"}, "found 3 repeats"},
		{[]string{"sheet.csv"}, "flags only"},
	} {
		out, errs, status := execute(t, tt.args...)
		if status != 1 || !strings.Contains(errs, tt.says) || out != "" {
			t.Errorf("%v: exit status %d, printed %q, error %q; want %q", tt.args, status, out, errs, tt.says)
		}
	}
	if _, errs, status := execute(t, "-h"); status != 0 || !strings.Contains(errs, "-send-off") {
		t.Errorf("help: exit status %d, %s", status, errs)
	}
}
