package main

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/protocol/sheet"
)

// bundledReport has the zones of the bundled test.
func bundledReport(t *testing.T) *report {
	t.Helper()
	r := new(report)
	faults, err := r.readTest("", "", sheet.Options{})
	if err := errors.Join(faults, err, r.zone()); err != nil {
		t.Fatal(err)
	}
	return r
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
		{"ANN", "A week for Ann, 25 yd pool, from the step test of 18 February 2025", []string{"5:75"}},
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
		stdout, stderr, status := execute(t, "-json", "-test", file, "-zones", c.scheme)
		if status != 0 {
			t.Fatalf("%s: exit status %d, %s", c.name, status, stderr)
		}
		d := decodedOf(t, stdout)
		text, _, _ := execute(t, "-test", file, "-zones", c.scheme)
		notes := strings.Join(d.Notes, "\n")
		commandtest.Near(t, c.name, d.Zones.Profile.Max, float64(c.max), 0)
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
	stdout, stderr, status := execute(t, "-test", none, "-zones", "heart-rate")
	if status != 1 || stdout != "" || !strings.Contains(stderr, `week: Ann, 2025-01-18: scheme "five zones by heart rate" needs heart rates`) {
		t.Errorf("exit status %d, standard output %q, standard error %q", status, stdout, stderr)
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
		{strings.NewReplacer(",1.4,", ",1.3,", ",1.9,", ",1.5,", ",3.1,", ",1.7,", ",5.6,", ",1.9,", ",9.8,", ",2.1,").Replace(whole), "week: Ann, 2025-01-18: no zones without LT2: not reached: it lies at 2.8 mmol/L, and the curve ends at 2.2"},
	} {
		stdout, stderr, status := execute(t, "-test", write(t, "sheet.csv", testHead+c.sheet))
		if status != 1 || stdout != "" || !strings.HasPrefix(stderr, c.stderr) || strings.Contains(stderr, "pace") || strings.Count(stderr, "\n") != 1 {
			t.Errorf("exit status %d, standard output %q, standard error %q, want %q", status, stdout, stderr, c.stderr)
		}
	}
}

// A pair that is out of order has no zones to train by.
func TestOutOfOrder(t *testing.T) {
	stdout, stderr, status := execute(t, "-lt1", "4 mmol/L", "-lt2", "2 mmol/L")
	if status != 1 || stdout != "" || !strings.Contains(stderr, "zones cannot be drawn: LT1 by 4 mmol/L does not lie below LT2") {
		t.Errorf("exit status %d, %s%s", status, stdout, stderr)
	}
}
