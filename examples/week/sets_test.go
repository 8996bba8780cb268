package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
)

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
		{"too few cells", head + "Mon,4,400\n" + good, []string{"line 2", `zone: found ""`}, 1},
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
			if d := decodedOf(t, stdout); len(d.Sets) != c.sets {
				t.Errorf("%d sets, want %d", len(d.Sets), c.sets)
			}
			if _, _, status := execute(t, write(t, "week.csv", c.week)); status != 1 {
				t.Errorf("as text: exit status %d, want 1", status)
			}
		})
	}
	broken := write(t, "sheet.csv", "swimmer,date,pool,distance,repeat,time,lactate\nAnn,2025-01-18,25 yd,400,1,6:75,1.2\n")
	flat := write(t, "flat.csv", "swimmer,date,pool,distance,repeat,time,lactate\nAnn,2025-01-18,25 yd,400,1,6:00,1.2\n")
	missing := filepath.Join(t.TempDir(), "none.csv")
	for _, args := range [][]string{{missing}, {"a", "b"}, {"-colour"}, {"week.csv", "-json"}, {"-test", missing}, {"-test", broken}, {"-test", flat}, {"-zones", "none"}} {
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
		if d := decode(t, write(t, "week.csv", strings.Join(lines, "\n"))); len(d.Sets) != 2 || len(d.Sets[0].Review.Repeats) != 4 {
			t.Errorf("%s: %+v", name, d.Sets)
		}
	}
}

// Semicolons, decimal commas, cells that a spreadsheet leaves out, and times that
// it took for times of the day. Evidence: D, each says the same week.
func TestWeekOfASpreadsheet(t *testing.T) {
	want := decode(t, write(t, "week.csv", head+"Mon,2,200,2,0:20,2:40.5 2:41,150 151\nTue,1,300,1,,4:12,\n"))
	for _, week := range []string{
		"day;repeats;distance;zone;rest;swum;heart rate\nMon;2;200;2;0:20;2:40,5 2:41;150 151\nTue;1;300;1;;4:12\n",
		head + "Mon,2,200,2,0:20,2:40.5 2:41,150 151\nTue,1,300,1,,04:12:00\n",
	} {
		got := decode(t, write(t, "week.csv", week))
		if !reflect.DeepEqual(want, got) {
			t.Errorf("%s\n%+v, want %+v", week, got, want)
		}
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
		d := decodedOf(t, stdout)
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

// A time that nobody swims is a fault, as in the sheet of a test: 300 yd in 1:00
// are 4.57 m/s; 274.32 m at 3 m/s take 1:31.4.
func TestImpossibleTimes(t *testing.T) {
	for swum, fault := range map[string]string{"1:00": "this is 4.57 m/s", "1:32": "", "22:00": "", "23:00": "this is 0.20 m/s"} {
		stdout, stderr, status := execute(t, "-json", write(t, "week.csv", head+"Sun,3,300,1,,"+swum+" 4:00,\n"))
		d := decodedOf(t, stdout)
		want := fmt.Sprintf(`line 2: swum: found %q, want a time of 1:31 to 22:52 for 300 yd; %s`, swum, fault)
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
		p := s.Plan
		commandtest.Near(t, s.Day+", send-off", (p.Slowest + p.Rest).Seconds(), p.SendOff.Seconds(), 1e-6)
		if p.Slow > 0 {
			commandtest.Near(t, s.Day+", slowest", p.Slowest.Seconds(), p.Slow.Seconds(), 1e-9)
			continue
		}
		commandtest.Near(t, s.Day+", slowest", p.Slowest.Seconds(), p.Fast.Seconds()/0.9, 1e-3)
		tenths := math.Floor(10 * p.Slowest.Seconds())
		want := fmt.Sprintf("rest %.0f s or more, down to %d:%04.1f\n", math.Floor(p.Rest.Seconds()), int(tenths)/600, math.Mod(tenths, 600)/10)
		if !strings.Contains(text, want) {
			t.Errorf("%s: text lacks %q:\n%s", s.Day, want, text)
		}
	}
}
