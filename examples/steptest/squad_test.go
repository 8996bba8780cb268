package main

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
)

// twelve are as many swimmers with a test each, the last with two; one test has
// nothing to read, and one a sample that cannot be right. Invented.
func twelve() string {
	s := head
	for i := range 12 {
		s += strings.ReplaceAll(good, "Ann", fmt.Sprintf("Swimmer Number %02d", i+1))
	}
	s += strings.NewReplacer("Ann", "Swimmer Number 12", "2025-01-18", "2025-03-18", ",6:00,", ",5:52,", ",5:50,", ",5:42,", ",5:40,", ",5:32,", ",5:30,", ",5:22,", ",5:20,", ",5:12,", ",5:10,", ",5:02,").Replace(good)
	s = strings.Replace(s, "Number 03,2025-01-18,50 m,400,4,5:30,3.1", "Number 03,2025-01-18,50 m,400,4,5:30,0.3", 1)
	return strings.Replace(s, "Number 05,2025-01-18,50 m,400,1,6:00,1.2", "Number 05,2025-01-18,50 m,400,1,6:75,1.2", 1)
}

// Twelve swimmers are one page, as text, and as a page to print; every one is there,
// and what is odd is said beside the name.
func TestSquad(t *testing.T) {
	text, stderr, _ := execute(t, twelve(), "-squad", "-")
	commandtest.Screen(t, text, 24, "Squad of 12", "LT1 per 100 m", "since the last", "Swimmer Number 01", "Swimmer Number 12", " s faster", "Swimmer Number 03: ", "sample looks wrong (4)")
	if !strings.Contains(stderr, "6:75") || !strings.Contains(text, "Swimmer Number 05: left out of the sheet: 1 rows") {
		t.Errorf("a fault: %s\n%s", stderr, text)
	}
	table, _, _ := execute(t, twelve(), "-squad", "-csv", "-")
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(rows) != 13 || rows[0][0] != "swimmer" || !strings.Contains(rows[3][7], "sample looks wrong") {
		t.Errorf("%v in\n%s", err, table)
	}
	page, _, _ := execute(t, strings.ReplaceAll(twelve(), "Number 07", "<script>alert(7)</script>"), "-squad", "-html", "-")
	if strings.Count(page, "<tr>") != 13 || strings.Contains(page, "<script") || !strings.Contains(page, "&lt;script&gt;") {
		t.Errorf("page:\n%s", page)
	}
	one, _, _ := execute(t, twelve(), "-squad", "-swimmer", "swimmer number 12", "-")
	commandtest.Screen(t, one, 8, "Squad of 1", "Swimmer Number 12")
	if strings.Contains(one, "Number 01") {
		t.Errorf("others are there:\n%s", one)
	}
	for _, flag := range []string{"-csv", "-html"} {
		stdout, stderr, status := execute(t, "", flag, "-")
		if status != 1 || stdout != "" || !strings.Contains(stderr, "-csv and -html go with -squad") {
			t.Errorf("%s alone: exit status %d, %s%s", flag, status, stdout, stderr)
		}
	}
}

// Tests that wait are not lost, and say so; the bundled sheet is said to be invented.
func TestSquadWaits(t *testing.T) {
	text, _, status := execute(t, head+good+"Bo,2025-01-18,50 m,400,1,,,\nAnn,2025-05-18,50 m,400,1,,,\n", "-squad", "-")
	commandtest.Screen(t, text, 8, "Squad of 2", "Ann: other tests not read: 1", "Bo: no thresholds: not swum")
	if status != 0 {
		t.Errorf("exit status %d", status)
	}
	if text, _, _ := execute(t, "", "-squad"); !strings.Contains(text, ", invented data") {
		t.Errorf("no word on invented data:\n%s", text)
	}
}

// Many tests at once are short, and say how to see more.
func TestMany(t *testing.T) {
	text, _, _ := execute(t, twelve(), "-")
	commandtest.Screen(t, text, 13*22, "Swimmer Number 01", "Swimmer Number 12", "The answers alone, since there are 13 tests")
	if strings.Contains(text, "What to know\n") {
		t.Errorf("details of many:\n%s", text)
	}
	if full, _, _ := execute(t, twelve(), "-full", "-"); !strings.Contains(full, "What to know\n") || strings.Contains(full, "The answers alone") {
		t.Error("-full is short")
	}
}
