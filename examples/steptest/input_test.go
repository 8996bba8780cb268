package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
)

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
				tests, thresholds := strings.Count(stdout, "Step test of"), strings.Count(stdout, "read by\n")
				if len(args) == 2 {
					_, report := commandtest.JSON(t, stdout)
					all, _ := report.([]any)
					tests, thresholds = len(all), 0
					for _, r := range all {
						if m := r.(map[string]any); m["analysis"] != nil {
							thresholds++
						} else if m["problem"] == nil {
							t.Errorf("%v has no thresholds, and the JSON does not say why", m["record"])
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
	if strings.Contains(text, "100 yd") {
		t.Errorf("a 50 m pool has paces per 100 m:\n%s", text)
	}
	if !strings.Contains(text, "not known") || strings.Contains(text, "NaN") {
		t.Errorf("heart rates were not taken:\n%s", text)
	}
	if r := worked(t, head+good); r.Zones.Profile.HeartRate != nil || r.Zones.Zones[0].To.HeartRate != 0 {
		t.Error("the zones hold heart rates that were not taken")
	}
}

// Several tests in one sheet are each reported, in order.
func TestSeveral(t *testing.T) {
	rs, err := commandtest.Reports[*report](t, program(), head+good+strings.ReplaceAll(good, "Ann", "Bo"))
	if err != nil || len(rs) != 2 || rs[0].Record.Swimmer != "Ann" || rs[1].Record.Swimmer != "Bo" {
		t.Fatalf("%d tests, %v", len(rs), err)
	}
	if a, b := rs[0].Analysis.LT2.Intensity, rs[1].Analysis.LT2.Intensity; a != b {
		t.Errorf("the same numbers give %v and %v", a, b)
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
