package table_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// squad is a swimmer with two tests, one whose test ends early, one without
// thresholds and one who tries to be a formula.
func squad(t *testing.T) []table.Member {
	t.Helper()
	o := lactate.Options{Resamples: 300}
	c := compared(t, invented(0), invented(0.012), lactate.CompareOptions{Options: o})
	short := invented(0)
	short.Stages = short.Stages[:5]
	o.LT2 = lactate.Fixed{Lactate: short.Stages[4].Lactate - 0.1} // which draws miss
	early := analysed(t, short, o)
	day := time.Date(2025, time.March, 8, 0, 0, 0, 0, time.UTC)
	return []table.Member{
		{Name: "Ann", Date: day, Analysis: c.After, Change: c, Warnings: c.After.Warnings},
		{Name: "Bo", Date: day, Analysis: early, Warnings: early.Warnings, Further: []string{"left out of the sheet: 1 rows, 0 cells"}},
		{Name: "Cy", Date: day, Problem: "lactate falls as speed rises"},
		{Name: "=1+1", Date: day},
	}
}

// Evidence D: the numbers are those of the analyses: half the width of a bracket as
// time, and the change that two days may make.
func TestSquad(t *testing.T) {
	members := squad(t)
	tab := table.Squad(members, table.Options{Pool: pace.SCM()})
	rows, rest := cells(t, tab.HTML())
	if len(rows) != 5 || len(rows[0]) != 8 {
		t.Fatalf("rows %q", rows)
	}
	a, c := members[0].Analysis, members[0].Change
	e := a.LT2.Intensity
	if got, want := rows[1][4], fmt.Sprintf("%s ± %.1f", table.Clock(100/e.Value), (100/e.Low-100/e.High)/2); got != want {
		t.Errorf("LT2 %q, want %q", got, want)
	}
	if got, want := rows[1][5], fmt.Sprintf("%.0f", a.LT2.HeartRate.Value); got != want {
		t.Errorf("heart rate at LT2 %q, want %q", got, want)
	}
	s := c.BetweenDays.Shift
	gain := func(d float64) float64 { return 100/c.Reference - 100/(c.Reference+d) }
	if got, want := rows[1][6], fmt.Sprintf("%.1f ± %.1f s faster", gain(s.Value), (gain(s.High)-gain(s.Low))/2); got != want {
		t.Errorf("change %q, want %q", got, want)
	}
	if got := rows[1][7]; got != "sample lost (stage 3)" {
		t.Errorf("odd: %q", got)
	}
	if !math.IsInf(members[1].Analysis.LT2.Intensity.High, 1) || !strings.HasSuffix(rows[2][4], ", open") || !strings.Contains(rest, "Open: ") || !strings.Contains(rows[2][7], "1 rows") {
		t.Errorf("a test that ends early: %q; %v", rows[2], members[1].Analysis.LT2)
	}
	if rows[3][2] != "" || rows[3][7] != "no thresholds: lactate falls as speed rises" {
		t.Errorf("without thresholds: %q", rows[3])
	}
	if !strings.Contains(rest, "at the same lactate, per 100 m") {
		t.Errorf("notes %q", rest)
	}
	// Nobody with two tests: no column for the change. Nobody: nothing.
	if rows, rest := cells(t, table.Squad(members[1:], table.Options{}).HTML()); len(rows[0]) != 7 || strings.Contains(rest, "Since") {
		t.Errorf("head %q, notes %q", rows[0], rest)
	}
	if got := (table.Tables{table.Squad(nil, table.Options{})}).String(); got != "" {
		t.Errorf("nobody: %q", got)
	}
}

// Evidence D: the sheet has the numbers of the analyses, each in a cell of its own, and
// says why a threshold is none.
func TestSquadSheet(t *testing.T) {
	members := squad(t)
	o := lactate.Options{Resamples: 300, LT2: lactate.Fixed{Lactate: 25}}
	a := analysed(t, invented(0), o)
	members = append(members, table.Member{Name: "Di", Date: members[0].Date, Analysis: a})
	rows, err := csv.NewReader(strings.NewReader(table.SquadSheet(members, table.Options{Pool: pace.SCM()}).CSV())).ReadAll()
	if err != nil || len(rows) != 6 || len(rows[0]) != 16 {
		t.Fatalf("%q, %v", rows, err)
	}
	cell := func(row int, name string) string {
		i := column(rows, name)
		if i < 0 {
			t.Fatalf("no column %q in %q", name, rows[0])
		}
		return rows[row][i]
	}
	number := func(row int, name string, want, tol float64) {
		t.Helper()
		if got, err := strconv.ParseFloat(cell(row, name), 64); err != nil || !(math.Abs(got-want) <= tol) {
			t.Errorf("%s of %s: %q, want %v", name, rows[row][0], cell(row, name), want)
		}
	}
	c := members[0].Change
	for name, th := range map[string]lactate.Threshold{"LT1": c.After.LT1, "LT2": c.After.LT2} {
		number(1, name+", s per 100 m", 100/th.Intensity.Value, 0.05)
		number(1, name+" low", 100/th.Intensity.High, 0.05)
		number(1, name+" high", 100/th.Intensity.Low, 0.05)
		number(1, name+" heart rate, /min", th.HeartRate.Value, 0.5)
	}
	s := c.BetweenDays.Shift
	for name, v := range map[string]float64{"faster than last, s per 100 m": s.Value, "faster low": s.Low, "faster high": s.High} {
		number(1, name, 100/c.Reference-100/(c.Reference+v), 0.05)
	}
	if cell(2, "LT2 low") != "" || cell(2, "LT2 high") == "" {
		t.Errorf("an open bracket: %q", rows[2])
	}
	if cell(5, "LT2, s per 100 m") != "" || cell(5, "LT2 by") != "25 mmol/L" || !strings.HasPrefix(cell(5, "what is odd"), "LT2 none: not reached: ") {
		t.Errorf("no LT2: %q", rows[5])
	}
}

// Evidence D: each warning that an analysis may have is said in a few words of its
// own, and one of another package by its kind.
func TestSquadWords(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range []lactate.WarningKind{lactate.WarnFewStages, lactate.WarnLostSamples, lactate.WarnNotMaximal, lactate.WarnLactateFell, lactate.WarnFirstHigh, lactate.WarnCurveDips, lactate.WarnCurveUnbent,
		lactate.WarnCurveMisses, lactate.WarnInLastGap, lactate.WarnOpenInterval, lactate.WarnOutOfOrder, lactate.WarnPairUnseen, lactate.WarnEndsEarly, lactate.WarnOddSample, lactate.WarnOddHeartRate, lactate.WarnNoBaseline, lactate.WarnDmaxLow, lactate.WarnSampleAbove, lactate.WarnNoScale, "odd time", "slope of a stage"} {
		got := table.Squad([]table.Member{{Name: "Ann", Warnings: []lactate.Warning{{Kind: k, Stages: []int{2, 5}}}}}, table.Options{Noun: "repeat"}).Rows[0][6]
		if !strings.HasSuffix(got, " (repeats 2, 5)") || strings.Contains(got, "stage") || strings.HasPrefix(got, "odd ") || strings.Contains(got, "interval") || len(got) > 50 || seen[got] {
			t.Errorf("%s: %q", k, got)
		}
		seen[got] = true
	}
}

// Evidence D: encoding/csv reads the cells back; what a spreadsheet would run stands
// behind an apostrophe, and numbers do not.
func TestCSV(t *testing.T) {
	evil := []string{"=", "=1+1", "+cmd", "-2+3", "@SUM(A1)", "\t=1", " =1", "＝1", "−0.5", "-0.5", "1e3", "", "a\"b,c\n;d", "Ann"}
	tab := table.Table{Caption: "left out", Head: []table.Column{{Name: "=head"}, {Name: "b"}}, Notes: []string{"left out"}}
	for _, e := range evil {
		tab.Rows = append(tab.Rows, []string{e})
	}
	rows, err := csv.NewReader(strings.NewReader(tab.CSV())).ReadAll()
	if err != nil || len(rows) != 1+len(evil) || rows[0][0] != "'=head" || len(rows[1]) != 2 {
		t.Fatalf("%q, %v", rows, err)
	}
	for i, e := range evil {
		want := e
		if i < 8 {
			want = "'" + e
		}
		if got := rows[1+i][0]; got != want {
			t.Errorf("%q: got %q, want %q", e, got, want)
		}
	}
	if got := table.Squad(squad(t), table.Options{}).CSV(); !strings.Contains(got, "\n'=1+1,") {
		t.Errorf("a squad: %s", got)
	}
}

// A page stands alone, is well formed, and keeps every text in its place.
func TestPage(t *testing.T) {
	page := table.Tables{{Head: []table.Column{{Name: "a"}}, Rows: [][]string{{name}}, Notes: []string{name}}}.Page(name)
	for _, bad := range []string{"<script", "src=", "href=", "http"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %q:\n%s", bad, page)
		}
	}
	if n := strings.Count(page, "&lt;script&gt;"); n != 4 { // title, heading, cell, note
		t.Errorf("the text comes %d times, want 4:\n%s", n, page)
	}
	for _, tag := range []string{"html", "title", "style", "h1", "table", "p"} {
		if strings.Count(page, "<"+tag) < 1 || strings.Count(page, "</"+tag+">") < 1 {
			t.Errorf("no element %s", tag)
		}
	}
}

// B: a bracket that is open on its slow side has no half and no slow end.
func TestSquadOpenBelow(t *testing.T) {
	of := lactate.Test{}
	for i, y := range []float64{1.2, 2.5, 4.6, 6.5, 9} { // no baseline
		of.Stages = append(of.Stages, lactate.Stage{Intensity: 1.1 + 0.05*float64(i), Lactate: y})
	}
	a, err := lactate.Analyze(of, lactate.Options{Resamples: 300})
	if err != nil || !math.IsInf(a.LT1.Intensity.Low, -1) {
		t.Fatalf("%v, %v; want a bracket open below", a, err)
	}
	for _, o := range []table.Options{{Pool: pace.LCM()}, {Unit: "m/s"}} {
		members := []table.Member{{Name: "Ann", Analysis: a}}
		if got := table.Squad(members, o).Rows[0][2]; !strings.HasSuffix(got, ", open") {
			t.Errorf("found %q, want it open", got)
		}
		sheet := table.SquadSheet(members, o)
		slow := "LT1 low"
		if !o.Pool.IsZero() {
			slow = "LT1 high"
		}
		for i, c := range sheet.Head {
			if c.Name == slow && sheet.Rows[0][i] != "" {
				t.Errorf("found %s %q, want it empty", slow, sheet.Rows[0][i])
			}
		}
	}
}
