package table_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"pgregory.net/rapid"
)

// invented is a test of seven stages, its third sample lost.
func invented(moved float64) lactate.Test {
	t := lactate.Test{Rest: 1.1, Recovery: []lactate.RecoverySample{{After: 3 * time.Minute, Lactate: 9.4}}}
	for i := range 7 {
		v := 1.04 + 0.03*float64(i)
		t.Stages = append(t.Stages, lactate.Stage{
			Intensity: v, Lactate: math.Round(10*(1.1+0.35*math.Exp(18*(v-moved-1.04)))) / 10,
			HeartRate: math.Round(118 + 330*(v-1.04)), Duration: 5 * time.Minute,
		})
	}
	t.Stages[2].Lactate = 0
	return t
}

func analysed(t *testing.T, test lactate.Test, o lactate.Options) *lactate.Analysis {
	t.Helper()
	a, err := lactate.Analyze(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func compared(t *testing.T, before, after lactate.Test, o lactate.CompareOptions) *lactate.Change {
	t.Helper()
	c, err := lactate.Compare(before, after, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// hostile is a method whose name tries to leave its cell.
type hostile struct{ lactate.Fixed }

const name = "</td><script>alert('x')</script> | a\\b $x$ *y* `z` [l](u) \n## & \"q\""

func (hostile) String() string { return name }

// refusing never has an answer.
type refusing struct{}

func (refusing) Locate(lactate.Test, lactate.Curve) (float64, error) {
	return 0, errors.New("lactate: no | answer\nat all")
}
func (refusing) String() string { return "refusing" }

// cells reads a table back from its HTML: the rows, the head first.
func cells(t *testing.T, html string) (rows [][]string, rest string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader("<all>" + html + "</all>"))
	in := false
	for {
		token, err := d.Token()
		if err == io.EOF {
			return rows, rest
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, html)
		}
		switch token := token.(type) {
		case xml.StartElement:
			switch token.Name.Local {
			case "tr":
				rows = append(rows, nil)
			case "th", "td":
				rows[len(rows)-1] = append(rows[len(rows)-1], "")
				in = true
			case "all", "table", "caption", "thead", "tbody", "p":
			default:
				t.Fatalf("element %s in\n%s", token.Name.Local, html)
			}
		case xml.EndElement:
			in = in && token.Name.Local != "th" && token.Name.Local != "td"
		case xml.CharData:
			if in {
				r := rows[len(rows)-1]
				r[len(r)-1] += string(token)
			} else {
				rest += string(token)
			}
		}
	}
}

func column(rows [][]string, head string) int {
	for i, h := range rows[0] {
		if h == head {
			return i
		}
	}
	return -1
}

// Evidence D: a name is shown as it is, and stays in its cell, in HTML.
func TestHTMLIsEscaped(t *testing.T) {
	a := analysed(t, invented(0), lactate.Options{LT1: hostile{}, Methods: []lactate.Method{refusing{}}})
	html := table.Thresholds(a, table.Options{Caption: "<b>" + name})[:1].HTML()
	rows, rest := cells(t, html)
	if len(rows) != 3 { // head, LT1, LT2
		t.Fatalf("%d rows in\n%s", len(rows), html)
	}
	for _, r := range rows {
		if len(r) != len(rows[0]) {
			t.Errorf("row %q has %d cells, the head %d", r, len(r), len(rows[0]))
		}
	}
	if by := len(rows[0]) - 1; rows[1][by] != name || !strings.Contains(rest, "<b>"+name) {
		t.Errorf("found %q and %q, want the name as it is", rows[1][by], rest)
	}
	if _, rest = cells(t, table.Thresholds(a, table.Options{})[1].HTML()); !strings.Contains(rest, "refusing: no | answer; at all.") {
		t.Errorf("found %q, want the reason", rest)
	}
}

// Evidence D: in Markdown each row is a line with as many bars as the head,
// and nothing of a name is left that Markdown would read.
func TestMarkdownIsEscaped(t *testing.T) {
	a := analysed(t, invented(0), lactate.Options{LT1: hostile{}, Methods: []lactate.Method{refusing{}}})
	md := table.Thresholds(a, table.Options{Caption: name})[0].Markdown()
	lines := strings.Split(strings.TrimSpace(md), "\n")
	bars := func(s string) int { return strings.Count(s, "|") - strings.Count(s, `\|`) }
	if len(lines) < 6 || bars(lines[2]) != 6 {
		t.Fatalf("found\n%s", md)
	}
	for _, l := range lines[2:6] {
		if bars(l) != bars(lines[2]) {
			t.Errorf("line %q has %d bars, the head %d", l, bars(l), bars(lines[2]))
		}
	}
	want := "&lt;/td&gt;&lt;script&gt;alert('x')&lt;/script&gt; \\| a\\\\b \\$x\\$ \\*y\\* \\`z\\` \\[l\\](u) ## &amp; \"q\""
	if !strings.Contains(lines[4], "| "+want+" |") {
		t.Errorf("found %q, want %q in it", lines[4], want)
	}
	if got := (table.Table{Notes: []string{"# no heading", "- no list"}}).Markdown(); got != "\n\\# no heading\n\n\\- no list\n" {
		t.Errorf("notes %q", got)
	}
}

// Evidence D: any text comes back from the HTML as it was, but for characters
// that XML does not know.
func TestAnyText(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.StringMatching(`[ -~äß–≤]*`).Draw(rt, "text")
		tab := table.Table{Head: []table.Column{{Name: text}, {Name: "n", Number: true}}, Rows: [][]string{{text, "1"}, {}}, Notes: []string{text}}
		rows, _ := cells(t, tab.HTML())
		if len(rows) != 3 || rows[0][0] != text || rows[1][0] != text || rows[1][1] != "1" {
			rt.Fatalf("found %q", rows)
		}
		if n := strings.Count(tab.Markdown(), "\n"); n != 6 && !(strings.TrimSpace(text) == "" && n >= 5) {
			rt.Fatalf("%d lines in %q", n, tab.Markdown())
		}
		_ = tab.String()
	})
}

// Evidence D: a pace times its speed is 91.44 m per 100 yd, and the numbers are
// those of the analysis.
func TestThresholds(t *testing.T) {
	a := analysed(t, invented(0), lactate.Options{Resamples: 200})
	tables := table.Thresholds(a, table.Options{Pool: pace.SCY()})
	if n := len(tables[1].Rows); n != len(a.Thresholds) { // LT1 and LT2 are among them
		t.Errorf("%d definitions, want %d", n, len(a.Thresholds))
	}
	groups := ""
	for _, r := range tables[1].Rows {
		groups += r[0] + " "
	}
	if groups != "LT1 LT1 LT1 LT2 LT2 LT2 LT2 other " || tables[1].Rows[0][1] != "baseline + 0.5 mmol/L" || tables[1].Rows[3][1] != "baseline + 1.5 mmol/L" {
		t.Errorf("definitions %q", tables[1].Rows)
	}
	rows, rest := cells(t, tables[0].HTML())
	dmax := a.Thresholds[slices.IndexFunc(a.Thresholds, func(th lactate.Threshold) bool { return th.Method == lactate.MaxDistance{} })]
	for i, th := range []lactate.Threshold{a.LT1, a.LT2, dmax} {
		r := rows[1+i]
		if want := []string{"LT1", "LT2", "Dmax"}[i]; r[0] != want {
			t.Errorf("row %q, want %s", r, want)
		}
		p, err := pace.ParseTime(r[column(rows, "pace per 100 yd")])
		if err != nil {
			t.Fatal(err)
		}
		if v := th.Intensity.Value; !(math.Abs(p.Seconds()*v-91.44) <= 0.05*v) {
			t.Errorf("%s: %v, want %v m/s", r[0], p, v)
		}
		low, high, ok := strings.Cut(r[column(rows, "90 % bracket")], " to ")
		for s, want := range map[string]float64{low: th.Intensity.Low, high: th.Intensity.High} {
			d, err := pace.ParseTime(s)
			if err != nil || !ok || !(math.Abs(d.Seconds()-91.44/want) <= 0.05) {
				t.Errorf("%s: end %q of the interval, want %v m/s", r[0], s, want)
			}
		}
		if want := fmt.Sprintf("%.0f (%.0f to %.0f)", th.HeartRate.Value, th.HeartRate.Low, th.HeartRate.High); r[column(rows, "heart rate, /min")] != want {
			t.Errorf("%s: heart rate in %q, want %s", r[0], r, want)
		}
	}
	// What the definitions span, from the slowest to the fastest; what Dmax rests on.
	per := func(v float64) string { return table.Clock(91.44 / v) }
	for _, target := range []lactate.Target{lactate.FirstThreshold, lactate.SecondThreshold} {
		s := a.Spread(target)
		want := fmt.Sprintf("%v by %d definitions: from %s (%s) to %s (%s).", target, s.Answers,
			per(s.Lowest.Intensity), table.Method(s.Lowest.Method), per(s.Highest.Intensity), table.Method(s.Highest.Method))
		if !strings.Contains(rest, want) {
			t.Errorf("%q lacks %q", rest, want)
		}
	}
	const on = "Dmax depends on how the curve bends and on where the test starts and ends."
	if !strings.Contains(rest, on) {
		t.Errorf("%q lacks %q", rest, on)
	}
	if strings.Contains(rest, "here it lies below LT2") != (dmax.Intensity.Value < a.LT2.Intensity.Value) {
		t.Errorf("LT2 at %v, Dmax at %v: %q", a.LT2.Intensity.Value, dmax.Intensity.Value, rest)
	}
	// Where LT2 is Dmax, it has no line of its own; a speed has no pace without a pool.
	a = analysed(t, invented(0), lactate.Options{LT2: lactate.MaxDistance{}})
	rows, rest = cells(t, table.Thresholds(a, table.Options{})[0].HTML())
	if want := fmt.Sprintf("%.3f m/s", a.LT2.Intensity.Value); len(rows) != 3 || rows[2][column(rows, "speed, m/s")] != want || !strings.Contains(rest, on) {
		t.Errorf("rows %q, want LT2 at %s; %q", rows, want, rest)
	}
	// Watts have no pace, whatever the pool.
	rows, _ = cells(t, table.Thresholds(a, table.Options{Pool: pace.SCY(), Quantity: "power", Unit: "W"})[0].HTML())
	if column(rows, "pace per 100 yd") >= 0 || column(rows, "power, W") < 0 {
		t.Errorf("head %q", rows[0])
	}
}

// One threshold on a line has the unit of its test, and a pool is for swimmers alone.
func TestThresholdsUnit(t *testing.T) {
	test := invented(0)
	for i := range test.Stages {
		test.Stages[i].Intensity *= 180
	}
	test.Unit = lactate.Watts
	a := analysed(t, test, lactate.Options{})
	for _, o := range []table.Options{{}, {Pool: pace.SCM()}} {
		if got := table.Threshold(a.LT2, o); !strings.Contains(got, " W by ") {
			t.Errorf("with %+v: %s", o, got)
		}
	}
}

// A level that was not reached is said with the level, and where the curve ends.
func TestReason(t *testing.T) {
	for want, err := range map[string]error{
		"not reached: it lies at 2.8 mmol/L, and the curve ends at 2.1":     &lactate.NotReachedError{Level: 2.76, Lowest: 1, Highest: 2.11},
		"not reached: it lies at 2.02 mmol/L, and the curve starts at 2.04": &lactate.NotReachedError{Level: 2.02, Lowest: 2.04, Highest: 9},
		"a sample that the method needs is missing":                         lactate.ErrMissing,
	} {
		if got := table.Reason(fmt.Errorf("lactate: %w", err)); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Evidence D: lost samples are blank, all the rest is there.
func TestStages(t *testing.T) {
	tab := table.Stages(invented(0), table.Options{Pool: pace.SCM()})
	rows, rest := cells(t, tab.HTML())
	if len(rows) != 8 {
		t.Fatalf("%d rows", len(rows))
	}
	l := column(rows, "lactate, mmol/L")
	if want := fmt.Sprintf("%.1f", invented(0).Stages[0].Lactate); rows[3][l] != "" || rows[1][l] != want || rows[1][1] != "5:00.0" {
		t.Errorf("rows %q and %q", rows[1], rows[3])
	}
	numbered := table.Stages(invented(0), table.Options{Noun: "repeat", Numbers: []int{1, 3, 4, 5, 6, 7, 9}})
	if numbered.Head[0].Name != "repeat" || numbered.Rows[6][0] != "9" {
		t.Errorf("head %v, last row %q", numbered.Head, numbered.Rows[6])
	}
	for _, want := range []string{"At rest: 1.1 mmol/L.", "After the last stage: 3:00 9.4 mmol/L."} {
		if !strings.Contains(rest, want) {
			t.Errorf("%q is not said", want)
		}
	}
}

// Evidence D: the other tables hold the numbers of their results.
func TestComparisons(t *testing.T) {
	before, after := invented(0), invented(0.012)
	c := compared(t, before, after, lactate.CompareOptions{})
	tables := table.Change(c, table.Options{})
	rows, rest := cells(t, tables[0].HTML())
	if got, want := rows[1][1], fmt.Sprintf("+%.3f", c.Shift.Value); got != want {
		t.Errorf("shift %s, want %s", got, want)
	}
	if rows[1][5] != c.Measured.Grade.String() || rows[2][5] != c.BetweenDays.Grade.String() {
		t.Errorf("grades %q and %q", rows[1][5], rows[2][5])
	}
	rows, _ = cells(t, tables[1].HTML())
	if len(rows) != 1+len(lactate.CoreMethods()) {
		t.Errorf("%d thresholds", len(rows)-1)
	}
	seen := map[string]bool{}
	for _, r := range rows[1:] {
		name := strings.TrimPrefix(strings.TrimPrefix(r[0], "LT1: "), "LT2: ")
		if seen[name] {
			t.Errorf("%q comes twice", r[0])
		}
		seen[name] = true
	}
	rows, rest2 := cells(t, table.Change(c, table.Options{Pool: pace.SCM()})[0].HTML())
	gain := 100/c.Reference - 100/(c.Reference+c.Shift.Value)
	if got, want := rows[1][1], fmt.Sprintf("+%.1f", gain); got != want || !strings.Contains(rest2, "Times at the LT2") || strings.Contains(rest, "as times") {
		t.Errorf("shift %s, want %s", got, want)
	}
	rows, _ = cells(t, tables[2].HTML())
	if len(rows) != 1+len(c.Levels) || len(c.Levels) == 0 {
		t.Errorf("%d rows of levels, want %d", len(rows)-1, len(c.Levels))
	}

	day := time.Date(2025, time.January, 11, 0, 0, 0, 0, time.UTC)
	s, err := lactate.FollowSeason([]lactate.DatedTest{{Date: day, Test: before}, {Date: day.AddDate(0, 0, 50), Test: after}}, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	rows, _ = cells(t, table.Season(s, table.Options{})[0].HTML())
	if len(rows) != 4 || rows[1][0] != "11 January 2025" || rows[2][0] != "2 March 2025" || rows[2][2] != fmt.Sprintf("+%.3f", s.Tests[1].Measured.Shift.Value) {
		t.Errorf("season %q", rows)
	}

	in, err := lactate.Influence(before, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rows, _ = cells(t, table.Influence(in, table.Options{}).HTML())
	if len(rows[0]) != 2+6 || rows[0][4] != "without 4" { // the third has no sample to leave out
		t.Errorf("head %q", rows[0])
	}
	for i, t1 := range []lactate.Influenced{in.LT1, in.LT2} {
		if t1.Most >= 0 && !strings.HasSuffix(rows[1+i][2+t1.Most], " *") {
			t.Errorf("row %q: the stage that moves it most is not marked", rows[1+i])
		}
	}

	p, err := lactate.SideBySide(before, lactate.SideBySideOptions{Unit: "m/s"})
	if err != nil {
		t.Fatal(err)
	}
	rows, rest = cells(t, table.SideBySide(p, table.Options{Pool: pace.SCY()}).HTML())
	if len(rows) != 1+len(p.Rows) {
		t.Errorf("%d rows of definitions, want %d", len(rows)-1, len(p.Rows))
	}
	for i, r := range p.Rows {
		if rows[1+i][0] != table.Method(r.Definition.Method) {
			t.Errorf("row %q of %v", rows[1+i], r.Definition.Method)
		}
		if r.Cells[0].Err != nil && (rows[1+i][2] != "none" || !strings.Contains(rest, table.Method(r.Definition.Method)+": ")) {
			t.Errorf("row %q: no reason is given", rows[1+i])
		}
	}
}

// Nothing gives an empty table, not a panic.
func TestNothing(t *testing.T) {
	for _, tabs := range []table.Tables{
		{}, {{}, table.Stages(lactate.Test{}, table.Options{}), table.SideBySide(nil, table.Options{}), table.Influence(nil, table.Options{}), table.Warnings(nil, table.Options{})},
		table.Thresholds(nil, table.Options{}), table.Change(nil, table.Options{}), table.Season(nil, table.Options{}),
		table.Thresholds(&lactate.Analysis{}, table.Options{}), table.Season(&lactate.Season{}, table.Options{}),
	} {
		if cells(t, tabs.HTML()); tabs.Markdown()+tabs.String() != "" {
			t.Errorf("nothing says %q", tabs.String())
		}
		for _, tab := range tabs {
			cells(t, tab.HTML())
			_, _ = tab.Markdown(), tab.String()
		}
	}
}
