package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate/table"
)

// sheetOf is a test of 400 m from 5:20 to 4:40 with these lactates; invented.
func sheetOf(swimmer string, lactates ...string) string {
	s := ""
	for i, y := range lactates {
		s += fmt.Sprintf("%s,2025-02-01,50 m,400,%d,%s,%s,\n", swimmer, i+1, []string{"5:20", "5:10", "5:00", "4:50", "4:40"}[i], y)
	}
	return s
}

// Simulated tests whose level lies beyond the tested range open the bracket and are
// part of it; only those that gave no threshold are said to be left out of it.
func TestFailed(t *testing.T) {
	sheet := head + sheetOf("Ann", "1.2", "1.2", "1.3", "1.5", "1.9")
	text, _, _ := execute(t, head+sheetOf("Bo", "1.2", "1.3", "1.5", "2.0", "4.2"), "-lt2", "modified Dmax", "-")
	records, _ := commandtest.Reports[*report](t, program(), sheet)
	if th := records[0].Analysis.LT1; th.Beyond == 0 || th.Failed != th.Beyond || !math.IsInf(th.Intensity.High, 1) {
		t.Fatalf("the case is none: %+v", th)
	}
	if words := commandtest.Words(text); !strings.Contains(words, " of 2000 simulated tests gave no LT2; its bracket is that of the others") || strings.Contains(words, "gave no LT1") {
		t.Errorf("text:\n%s", text)
	}
}

// A bracket that is open at either end has no half width.
func TestOpenBracket(t *testing.T) {
	for lactates, open := range map[string]string{"1.9 2.2 2.9 4.5 8.4": "LT1", "1.2 1.3 1.6 2.4 4.2": "LT2"} {
		text, _, _ := execute(t, head+sheetOf("Ann", strings.Fields(lactates)...), "-lt1", "2 mmol/L", "-lt2", "4 mmol/L", "-brief", "-")
		if words := commandtest.Words(text); !strings.Contains(words, open+" may lie beyond the test") || strings.Contains(words, "± −") {
			t.Errorf("%s: no %q in\n%s", lactates, open+" may lie beyond the test", text)
		}
	}
}

// A time or a sample that cannot be right is the verdict, right under the title and in
// every detail, with what was likely meant, what to do, and what the thresholds are
// without it: those of the same sheet with the lactate left blank. No zone and no target
// rests on it.
func TestSlip(t *testing.T) {
	for _, c := range []struct{ old, with, says, do string }{
		{"3.1", "0.3", "the sample of repeat 4 looks wrong (0.3; 3.0 meant?).", "look it up, or blank it,"},
		{"3.1", "26", "the sample of repeat 4 looks wrong (26.0; 2.6 meant?).", "look it up, or blank it,"},
		{"5:30,3.1", "530,3.1", "the time of repeat 4 looks wrong (8:50; 5:30 meant?).", "look it up, and read the test again"},
	} {
		sheet := strings.Replace(good, c.old, c.with, 1)
		blank := strings.Replace(sheet, strings.TrimPrefix(c.with, "530,")+",\nAnn,2025-01-18,50 m,400,5", ",\nAnn,2025-01-18,50 m,400,5", 1)
		a := worked(t, head+blank).Analysis
		want := fmt.Sprintf("%s Without it, LT1 is %s and LT2 is %s per 100 m.", c.says, table.Clock(100/a.LT1.Intensity.Value), table.Clock(100/a.LT2.Intensity.Value))
		for _, detail := range []string{"-brief", "-full", ""} {
			args := []string{detail, "-"}
			if detail == "" {
				args = args[1:]
			}
			text, _, _ := execute(t, head+sheet, args...)
			said := strings.Join(strings.Fields(text), " ")
			if !strings.HasPrefix(said, "Step test of Ann, 18 January 2025, 50 m pool How far to trust it: little: "+want) || !strings.Contains(said, "What to do next: "+c.do) ||
				!strings.Contains(said, "No zones: ") || strings.Contains(said, "zone where") || strings.Contains(said, "all out") {
				t.Errorf("%s, %s: want %q\n%s", c.with, detail, want, text)
			}
		}
	}
}

// Nothing is found in a good test, and that is said.
func TestNothingUnusual(t *testing.T) {
	text, _, _ := execute(t, head+strings.NewReplacer(",1.2,\n", ",1.2,120\n", ",1.4,\n", ",1.4,130\n", ",1.9,\n", ",1.9,140\n", ",3.1,\n", ",3.1,150\n", ",5.6,\n", ",5.6,160\n", ",9.8,\n", ",9.8,170\n").Replace(good), "-brief", "-")
	commandtest.Screen(t, text, 24, "(per 100 m). Nothing unusual.")
}

// What is chosen is used, and named; what cannot be is one line.
func TestChoices(t *testing.T) {
	for _, c := range []struct {
		args  []string
		parts []string
	}{
		{[]string{"-lt1", "2 mmol/l", "-lt2", "dmax"}, []string{"LT1 1:23.8", "2 mmol/L", "LT2 1:19.6", "Dmax", "1:23.8–1:19.6/100 yd"}},
		{[]string{"-lt2", "baseline + 1"}, []string{"LT2 1:21.7"}},
		{[]string{"-lt1", "4 mmol/L", "-lt2", "2 mmol/L"}, []string{"Zones cannot be drawn: LT1 by 4 mmol/L does not lie below LT2 by 2 mmol/L: nothing lies between them."}},
		{[]string{"-zones", "domains"}, []string{"moderate", "heavy", "severe"}},
		{[]string{"-zones", "heart-rate", "-full"}, []string{"72 %HRmax", "HRmax is taken to be 178 /min"}},
		{[]string{"-swimmer", "ROBIN  vale"}, []string{"Step test of Robin Vale"}},
	} {
		text, stderr, status := execute(t, "", c.args...)
		if status != 0 {
			t.Errorf("%v: %s", c.args, stderr)
		}
		for _, part := range c.parts {
			if !strings.Contains(commandtest.Words(text), part) {
				t.Errorf("%v: lacks %q:\n%s", c.args, part, text)
			}
		}
	}
	half := func(args ...string) float64 {
		printed, stderr, _ := execute(t, "", append(args, "-json")...)
		if stderr != "" {
			t.Fatal(stderr)
		}
		_, got := commandtest.JSON(t, printed)
		return commandtest.At(t, got, 0, "analysis", "lt1", "intensity", "high") - commandtest.At(t, got, 0, "analysis", "lt1", "intensity", "low")
	}
	if small, usual, large := half("-noise", "0,1 mmol/L, 1 %"), half(), half("-noise", "0.4 mmol/L"); !(small < usual && usual < large) {
		t.Errorf("brackets %v, %v and %v wide with less noise, the usual and more", small, usual, large)
	}
	for _, c := range []struct{ flag, value, says string }{
		{"-noise", "much", `want an error such as "0.2 mmol/L, 3 %"`},
		{"-noise", "20 mmol/L", `want an error such as`},
		{"-zones", "none.json", "want three, domains, lactate, heart-rate or a file"},
		{"-swimmer", "Bo", "the sheet has no test of Bo; it has those of Robin Vale"},
	} {
		if stdout, stderr, status := execute(t, "", c.flag, c.value); status != 1 || stdout != "" || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, c.says) {
			t.Errorf("%s %s: exit status %d, %q", c.flag, c.value, status, stderr)
		}
	}
}

// A wrong definition lists them all, one a line; OBLA is 4 mmol/L, and an error without a
// unit is in mmol/L.
func TestNames(t *testing.T) {
	if stdout, stderr, status := execute(t, "", "-lt1", "LT1"); status != 1 || stdout != "" || !strings.Contains(stderr, "-lt1: found \"LT1\", want the name of a definition, such as\n  2 mmol/L\n  baseline + 0.5 mmol/L\n") {
		t.Errorf("exit status %d, %q", status, stderr)
	}
	for _, same := range [][2][]string{{{"-lt2", "obla"}, {"-lt2", "4 mmol/L"}}, {{"-noise", "0,4"}, {"-noise", "0.4 mmol/L"}}} {
		a, _, _ := execute(t, "", same[0]...)
		if b, _, _ := execute(t, "", same[1]...); a != b || a == "" {
			t.Errorf("%v and %v differ:\n%s%s", same[0], same[1], a, b)
		}
	}
}

// The zones that -h shows are a file that is read.
func TestShownZones(t *testing.T) {
	_, help, _ := execute(t, "", "-h")
	file := filepath.Join(t.TempDir(), "zones.json")
	shown := help[strings.Index(help, "  {\"name\""):]
	if err := os.WriteFile(file, []byte(shown[:strings.Index(shown, "]}")+2]), 0o600); err != nil {
		t.Fatal(err)
	}
	text, stderr, status := execute(t, "", "-zones", file)
	if status != 0 || !strings.Contains(text, "steady") || !strings.Contains(text, "0.95 LT1–LT2") {
		t.Errorf("exit status %d, %s\n%s", status, stderr, text)
	}
}

// A page for a coach has no hints for programmers: what is wrong is said of the
// samples.
func TestCoachsWords(t *testing.T) {
	for _, c := range []struct {
		name, sheet, want string
		status            int
	}{
		{"no LT2", sheetOf("Lu", "1.2", "1.3", "1.5", "1.7", "2.1"), "LT2, baseline + 1.5 mmol/L: not reached: it lies at 2.8 mmol/L, and the curve ends at 2.1. Baseline: 1.3 mmol/L, the lowest lactate on the fitted curve. Dmax depends on how the curve bends and on where the test starts and ends. No zones: they need LT1 and LT2.", 0},
		{"flat", sheetOf("Mo", "2", "2", "2", "2"), "no thresholds: the samples do not settle a curve", 1},
		{"falls", sheetOf("Ny", "3", "2.5", "2.2", "2"), "no thresholds: lactate falls as speed rises", 1},
		{"bends down", sheetOf("Pi", "1", "4", "6", "7", "7.5"), "How far to trust it: little: the samples do not lie on one curve", 0},
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
