package main

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command/commandtest"
)

// A proposal says that a coach decides, where its split is from, and the cautions of
// hard swimming; its file gives the same sets when it is read as a week.
func TestPropose(t *testing.T) {
	for days := 1; days <= 7; days++ {
		args := []string{"-hours", fmt.Sprint(days) + ",5", "-days", fmt.Sprint(days)}
		text, stderr, status := execute(t, args...)
		if status != 0 {
			t.Fatal(stderr)
		}
		commandtest.Screen(t, text, 60, "Invented data", "A proposal", "easy volume", "A coach decides", "Seiler & Kjerland 2006", "How is the week divided?")
		if hard := strings.Contains(text, "in zone 3"); hard != (days > 1) || hard != strings.Contains(text, "Before swimming it") {
			t.Errorf("%d days: hard sets or cautions:\n%s", days, text)
		}
		file, _, _ := execute(t, append(args, "-csv")...)
		proposed, read := decode(t, args...).Sets, decode(t, write(t, "week.csv", file)).Sets
		if len(read) == 0 || fmt.Sprint(proposed) != fmt.Sprint(read) {
			t.Errorf("%d days: the file reads as\n%v, want\n%v", days, read, proposed)
		}
	}
	for says, args := range map[string][]string{
		"want both, such as -hours 6 -days 5":               {"-hours", "6"},
		"found -hours and the week":                         {"-hours", "6", "-days", "5", "week.csv"},
		"-csv goes with -hours and -days":                   {"-csv"},
		"found 6:00:00 on 1 days, want 20 min to 4 h a day": {"-hours", "6", "-days", "1"},
		"no zones that meet at LT1 and LT2, want some":      {"-hours", "6", "-days", "5", "-zones", "heart-rate"},
	} {
		if stdout, stderr, status := execute(t, args...); status != 1 || stdout != "" || !strings.Contains(stderr, says) || strings.Count(stderr, "\n") != 1 || utf8.RuneCountInString(stderr) > 200 {
			t.Errorf("%v: exit status %d, %s%s, want %q", args, status, stdout, stderr, says)
		}
	}
}

// Hours are a number, or hours and minutes.
func TestHours(t *testing.T) {
	want, _, _ := execute(t, "-hours", "4.5", "-days", "4")
	for _, h := range []string{"4:30", "4,5"} {
		if got, stderr, _ := execute(t, "-hours", h, "-days", "4"); got != want {
			t.Errorf("%s: %s%s", h, stderr, got)
		}
	}
	for _, h := range []string{"4:3", "4:60", "4.5:30", "half", "-1", "0", "NaN", "4:30:00"} {
		if _, stderr, status := execute(t, "-hours", h, "-days", "4"); status != 1 || !strings.Contains(stderr, "want hours such as 6, 4.5 or 4:30") {
			t.Errorf("%s: exit status %d, %s", h, status, stderr)
		}
	}
	text, _, _ := execute(t, "-hours", "20", "-days", "6")
	if strings.Count(text, "5 × 200 yd in zone 1") != 2 {
		t.Errorf("the warm-up is no 1,000:\n%s", text)
	}
}

// A test with a sample that cannot be right is said to be little to train by, first.
func TestGrave(t *testing.T) {
	sheet := write(t, "sheet.csv", testHead+strings.Replace(sheetOf("Ann", "2025-01-18"), ",3.1,", ",0.3,", 1))
	text, _, _ := execute(t, "-test", sheet, "-hours", "4", "-days", "4")
	commandtest.Screen(t, text, 60, "A week for Ann", "Little to train by: the sample of repeat 4 looks wrong (0.3; 3.0 meant?): look it up", "How fast is each zone?")
}
