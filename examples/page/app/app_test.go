package app_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/examples/page/app"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// ask asks as the page does.
func ask(t *testing.T, q app.Request, into any) (problem string) {
	t.Helper()
	request, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	answer := app.Do(request)
	var failed struct{ Error string }
	if err := json.Unmarshal(answer, &failed); err != nil {
		t.Fatalf("%s: %v", answer, err)
	}
	if failed.Error == "" && into != nil {
		if err := json.Unmarshal(answer, into); err != nil {
			t.Fatalf("%s: %v", answer, err)
		}
	}
	return failed.Error
}

// kept is an answer that changes the sheet.
type kept struct {
	Sheet  string
	Notes  []string
	Differ []string
}

func must(t *testing.T, q app.Request) kept {
	t.Helper()
	var k kept
	if problem := ask(t, q, &k); problem != "" {
		t.Fatalf("%s: %s", q.Do, problem)
	}
	return k
}

// planned is the sheet of a plan of Robin Vale.
func planned(t *testing.T) app.Request {
	t.Helper()
	q := app.Request{Do: "keep", Swimmer: "Robin Vale", Date: "2025-01-18", Plan: app.Wanted{Pool: "25 yd", Best: "4:59.0"}}
	q.Sheet = must(t, q).Sheet
	return q
}

// entered enters numbers, cell and value in turn.
func entered(t *testing.T, q app.Request, cells ...string) app.Request {
	t.Helper()
	q.Do = "enter"
	for i := 0; i < len(cells); i += 2 {
		q.Cell, q.Value = cells[i], cells[i+1]
		q.Sheet = must(t, q).Sheet
	}
	return q
}

// Evidence D: a test entered number by number has the thresholds that the library reads
// from the same numbers, digit by digit.
func TestResult(t *testing.T) {
	q := planned(t)
	records, err := sheet.Read(strings.NewReader(string(sheets.Single())))
	if err != nil {
		t.Fatal(err)
	}
	rec := records[0]
	q = entered(t, q, "rest", fmt.Sprint(rec.Rest))
	for _, r := range rec.Repeats {
		n := fmt.Sprint(r.Number)
		q = entered(t, q, n+".time", pace.FormatTime(r.Time, 1), n+".beats", fmt.Sprint(r.HeartRate))
		if r.Lactate > 0 {
			q = entered(t, q, n+".lactate", fmt.Sprint(r.Lactate))
		}
	}
	for _, s := range rec.Recovery {
		q = entered(t, q, fmt.Sprintf("after.%g", s.After.Seconds()), fmt.Sprint(s.Lactate))
	}
	test, err := rec.Test()
	if err != nil {
		t.Fatal(err)
	}
	a, err := lactate.Analyze(test, lactate.Options{Resamples: 2000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Thresholds []struct{ Name, Pace, Within, Beats, Speed string }
		Zones      struct{ Rows [][]string }
		Picture    struct{ Light, Dark string }
		Next       struct {
			Day      string
			Cautions []string
		}
	}
	q.Do = "result"
	if problem := ask(t, q, &r); problem != "" {
		t.Fatal(problem)
	}
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		got := r.Thresholds[i]
		if want := table.Pace(th.Intensity, 100*pace.Yard); got.Pace+" ("+got.Within+")" != want {
			t.Errorf("LT%d: %s (%s), want %s", i+1, got.Pace, got.Within, want)
		}
		if want := fmt.Sprintf("%.3f (", th.Intensity.Value); !strings.HasPrefix(got.Speed, want) {
			t.Errorf("LT%d: %s, want %s", i+1, got.Speed, want)
		}
		if want := fmt.Sprintf("%.0f (", th.HeartRate.Value); !strings.HasPrefix(got.Beats, want) {
			t.Errorf("LT%d: %s, want %s", i+1, got.Beats, want)
		}
	}
	if len(r.Zones.Rows) != 3 || len(r.Next.Cautions) != len(protocol.Cautions()) || r.Next.Day != "1 March 2025" {
		t.Errorf("zones %v, next test on %s with %d cautions", r.Zones.Rows, r.Next.Day, len(r.Next.Cautions))
	}
	for _, svg := range []string{r.Picture.Light, r.Picture.Dark} {
		if !strings.Contains(svg, "<svg") || !strings.Contains(svg, r.Thresholds[1].Pace) {
			t.Error("the picture does not show LT2")
		}
	}
	if r.Picture.Light == r.Picture.Dark {
		t.Error("light and dark are the same picture")
	}
}

// What cannot be is refused in words, and what can be is kept and can be cleared.
func TestEnter(t *testing.T) {
	q := entered(t, planned(t), "1.time", "5:51.7", "1.lactate", "1,5", "1.beats", "118")
	if want := "6:05,0:00,5:51.7,,1.5,118"; !strings.Contains(q.Sheet, want) {
		t.Fatalf("the sheet lacks %s:\n%s", want, q.Sheet)
	}
	for _, c := range []struct{ cell, value, says string }{
		{"2.time", "0:54.2", "nobody swims"},
		{"2.time", "5:75", "5:75"},
		{"2.lactate", "1.7", "no time of repeat 2"},
		{"1.lactate", "150", "150"},
		{"1.lactate", "x", `found "x"`},
		{"1.beats", "0", "above zero"},
		{"1.time", "", "clear them first"},
		{"9.time", "5:00", "9.time"},
		{"after.61", "9.9", "after.61"},
	} {
		q.Do, q.Cell, q.Value = "enter", c.cell, c.value
		if got := ask(t, q, nil); !strings.Contains(got, c.says) {
			t.Errorf("%s %q: says %q, want %q", c.cell, c.value, got, c.says)
		}
	}
	if q = entered(t, q, "1.lactate", "HI"); !strings.Contains(q.Sheet, "5:51.7,,HI,118") {
		t.Errorf("the sheet lacks HI:\n%s", q.Sheet)
	}
	q = entered(t, q, "1.lactate", "", "1.beats", "", "1.time", "")
	if strings.Contains(q.Sheet, "5:51.7") {
		t.Errorf("not cleared:\n%s", q.Sheet)
	}
}

// What is odd is said of its repeat, and nothing of good numbers.
func TestOdd(t *testing.T) {
	good := []string{"1.time", "6:04.1", "1.lactate", "1.5", "1.beats", "118", "2.time", "5:51", "2.lactate", "1.3", "2.beats", "131"}
	for _, c := range []struct {
		cells []string
		cell  string
		says  string
	}{
		{nil, "", ""},
		{[]string{"3.time", "5:37", "3.lactate", "0.2"}, "3.lactate", "0.2 after 1.3, where "},
		{[]string{"3.time", "5:37", "3.beats", "113"}, "3.beats", "113 beats after 131"},
		{[]string{"3.time", "5:37", "3.beats", "235"}, "3.beats", "hardly one"},
		{[]string{"3.time", "5:52"}, "3.time", "slower than repeat 2"},
		{[]string{"3.time", "4:28"}, "3.time", "is the time right"},
	} {
		q := entered(t, planned(t), append(good[:len(good):len(good)], c.cells...)...)
		var s struct {
			Odd  []struct{ Cell, Text string }
			Next struct{ Target string }
			Stop string
		}
		q.Do = "swim"
		if problem := ask(t, q, &s); problem != "" {
			t.Fatal(problem)
		}
		switch {
		case c.says == "" && len(s.Odd) == 0:
		case len(s.Odd) == 0 || s.Odd[0].Cell != c.cell || !strings.Contains(s.Odd[0].Text, c.says):
			t.Errorf("%v: says %v, want %q of %s", c.cells, s.Odd, c.says, c.cell)
		}
		if s.Next.Target == "" || s.Stop == "" {
			t.Errorf("%v: no next target, or not when to stop", c.cells)
		}
	}
}

// After a repeat that was too fast the rest is spread evenly, in whole seconds, and what
// was told stands beside the time; too near the end it says so. Evidence D.
func TestNextTarget(t *testing.T) {
	type next struct {
		Next struct {
			Number int
			Target string
		}
		Why string
	}
	for _, c := range []struct {
		cells             []string
		target, why, told string
	}{
		{[]string{"1.time", "6:05.2"}, "5:52", "", "2,5:52,"},
		{[]string{"1.time", "5:51.7", "1.lactate", "1.5"}, "5:41", "spread evenly", "2,5:41,"},
		{[]string{"1.time", "5:10"}, "5:52", "leaves no room", "2,5:52,"},
		{[]string{"1.time", "6:05", "2.time", "6:06"}, "5:38", "", "3,5:38,"},
	} {
		q := entered(t, planned(t), c.cells...)
		var n next
		q.Do = "swim"
		if problem := ask(t, q, &n); problem != "" || n.Next.Target != c.target || !strings.Contains(n.Why, c.why) || (n.Why == "") != (c.why == "") {
			t.Errorf("%v: %s%+v, want %s, %q", c.cells, problem, n, c.target, c.why)
		}
		if q = entered(t, q, fmt.Sprintf("%d.time", n.Next.Number), "5:35"); !strings.Contains(q.Sheet, "400,"+c.told) {
			t.Errorf("%v: the sheet lacks the target %s:\n%s", c.cells, c.told, q.Sheet)
		}
	}
}

// Before the first repeat the cautions are all there; a plan has them too, and says all
// that is wrong with what it was asked for.
func TestPlan(t *testing.T) {
	q := planned(t)
	var s struct{ Cautions []string }
	q.Do = "swim"
	if problem := ask(t, q, &s); problem != "" || len(s.Cautions) != len(protocol.Cautions()) {
		t.Errorf("%s%d cautions before the first repeat", problem, len(s.Cautions))
	}
	var p struct {
		Repeats  []struct{ Target string }
		Cautions []string
	}
	q.Do = "plan"
	if problem := ask(t, q, &p); problem != "" || len(p.Repeats) != 6 || p.Repeats[5].Target != "4:59" || len(p.Cautions) != len(protocol.Cautions()) {
		t.Errorf("%s: %+v", problem, p)
	}
	got := ask(t, app.Request{Do: "plan", Date: "x", Plan: app.Wanted{Pool: "25 m", Distance: "far", Best: "soon", Rest: "?"}}, nil)
	for _, want := range []string{"name: found nothing", "day: ", "distance: ", "best time: ", "rest: "} {
		if !strings.Contains(got, want) {
			t.Errorf("says %q, want %q", got, want)
		}
	}
	if got := ask(t, app.Request{Do: "plan", Swimmer: "A", Date: "2025-01-18", Plan: app.Wanted{Pool: "25 m", Best: "0:45.9"}}, nil); !strings.Contains(got, "people swim") {
		t.Errorf("a best time of 0:45.9 over 400 m: %q", got)
	}
	q = entered(t, q, "1.time", "5:50")
	q.Do = "keep"
	if got := ask(t, q, nil); !strings.Contains(got, "under way") {
		t.Errorf("a plan takes the place of a test under way: %q", got)
	}
}

// A file fills the blanks of a test, adds others, and loses nothing where the two differ.
func TestImport(t *testing.T) {
	q := entered(t, planned(t), "1.time", "5:51.7", "1.lactate", "1.5")
	theirs := entered(t, planned(t), "1.time", "5:51.7", "1.lactate", "1.6", "1.beats", "118", "2.time", "5:42.4")
	q.Do, q.File = "import", []byte(theirs.Sheet)
	k := must(t, q)
	if k.Sheet != "" || len(k.Differ) != 1 || !strings.Contains(k.Differ[0], "1.5 here, 1.6 in the file") {
		t.Fatalf("%+v, want one number that differs, and nothing changed", k)
	}
	for prefer, lactate := range map[string]string{"mine": "1.5", "file": "1.6"} {
		q.Prefer = prefer
		if got := must(t, q).Sheet; !strings.Contains(got, "5:51.7,,"+lactate+",118") || !strings.Contains(got, "5:42.4") {
			t.Errorf("%s:\n%s", prefer, got)
		}
	}
	q.Prefer = ""
	q.File = append(sheets.Squad(), "Sasha Holm,2025-02-01,25 m,400,7,4:75,,1.1,,,\n"...)
	k = must(t, q)
	records, err := sheet.Read(strings.NewReader(k.Sheet))
	if err != nil || len(records) != 6 {
		t.Errorf("%d tests, %v", len(records), err)
	}
	if notes := strings.Join(k.Notes, "\n"); !strings.Contains(notes, "tests read: 5") || !strings.Contains(notes, "4:75") {
		t.Errorf("notes %q", notes)
	}
	// The row of the last repeat is lost, those after it are kept.
	q.File = []byte(strings.Replace(string(sheets.Single()), "4:58.8", "4:75", 1))
	q.Sheet = ""
	if got := must(t, q).Sheet; !strings.Contains(got, "9.9") || !strings.Contains(got, "5:12.4") {
		t.Errorf("good rows are lost:\n%s", got)
	}
	q.File = []byte(strings.ReplaceAll(string(sheets.Single()), "2025-01-18", "3/4/2025"))
	var asked struct{ Dates bool }
	if problem := ask(t, q, &asked); problem != "" || !asked.Dates {
		t.Errorf("%q: the order of day and month is not asked for", problem)
	}
	q.Dates = sheet.DayFirst
	if got := must(t, q).Sheet; !strings.Contains(got, "2025-04-03") {
		t.Errorf("not 3 April:\n%s", got)
	}
	q.File = []byte("nothing")
	if got := ask(t, q, nil); !strings.Contains(got, "found no test") {
		t.Errorf("says %q", got)
	}
}

// The example goes through the whole loop: two tests compare, the later plan follows from
// the last test, the squad has a row for each.
func TestExample(t *testing.T) {
	q := app.Request{Do: "example", Swimmer: "Robin Vale", Invented: true, Narrow: true}
	q.Sheet = must(t, q).Sheet
	var v struct {
		Tests, Answer string
		Doubts        []string
		Picture       struct{ Light, Says string }
	}
	for _, do := range []string{"retest", "season"} {
		q.Do = do
		if problem := ask(t, q, &v); problem != "" || !strings.Contains(v.Tests, "8 March 2025") || v.Answer == "" || len(v.Doubts) == 0 || v.Picture.Says == "" {
			t.Errorf("%s: %s %+v", do, problem, v)
		}
		if strings.Contains(v.Picture.Light, "…") {
			t.Errorf("%s: words of the narrow picture are cut: %s", do, v.Picture.Light)
		}
	}
	var squad struct{ Rows [][]string }
	q.Do = "squad"
	if problem := ask(t, q, &squad); problem != "" || len(squad.Rows) != 6 || len(squad.Rows[0]) != 8 || !strings.Contains(squad.Rows[0][6], "faster") {
		t.Errorf("%s %v", problem, squad.Rows)
	}
	q.Do, q.Date, q.Plan = "plan", "2025-05-01", app.Wanted{Pool: "25 yd"}
	var p struct{ From string }
	if problem := ask(t, q, &p); problem != "" || !strings.Contains(p.From, "8 March 2025") {
		t.Errorf("%s: %q", problem, p.From)
	}
	q.Do = "warm"
	if problem := ask(t, q, nil); problem != "" {
		t.Error(problem)
	}
	q.Do, q.Date = "remove", "2025-03-08"
	q.Sheet = must(t, q).Sheet
	q.Do = "retest"
	if got := ask(t, q, nil); !strings.Contains(got, "found 1 of two tests") {
		t.Errorf("says %q", got)
	}
	q.Do = "dance"
	if got := ask(t, q, nil); !strings.Contains(got, "dance") {
		t.Errorf("says %q", got)
	}
}

// No request makes it panic, and a sheet that comes back can be read again.
func FuzzDo(f *testing.F) {
	single := string(sheets.Single())
	for _, do := range []string{"state", "plan", "keep", "enter", "remove", "swim", "import", "retest", "squad"} {
		f.Add(do, single, "Robin Vale", "2025-01-18", "1.time", "5:50", "4:59")
	}
	f.Add("enter", single, "Robin Vale", "2025-01-18", "after.180", "9,9", "")
	f.Fuzz(func(t *testing.T, do, text, swimmer, date, cell, value, best string) {
		if do == "result" || do == "season" || do == "example" || do == "warm" {
			return // slow, and their input is read as in the others
		}
		q := app.Request{Do: do, Sheet: text, Swimmer: swimmer, Date: date, Cell: cell, Value: value, File: []byte(value + text), Plan: app.Wanted{Pool: "25 m", Best: best}}
		var k kept
		ask(t, q, &k)
		if k.Sheet != "" {
			if _, err := sheet.Read(strings.NewReader(k.Sheet)); err != nil {
				t.Errorf("a sheet that cannot be read: %v\n%s", err, k.Sheet)
			}
		}
	})
}
