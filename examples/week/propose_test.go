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

// A test with a sample that cannot be right is said to be little to train by, first.
func TestGrave(t *testing.T) {
	sheet := write(t, "sheet.csv", testHead+strings.Replace(sheetOf("Ann", "2025-01-18"), ",3.1,", ",0.3,", 1))
	text, _, _ := execute(t, "-test", sheet, "-hours", "4", "-days", "4")
	commandtest.Screen(t, text, 60, "A week for Ann", "Little to train by: the sample of repeat 4 looks wrong: look it up", "How fast is each zone?")
}
