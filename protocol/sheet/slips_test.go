package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

// A slip in a cell that a repeat can do without costs that cell and no swim.
// Evidence: D.
func TestSlipInACell(t *testing.T) {
	for _, tt := range []struct {
		old, new string
		says     string // empty: no fault
		lactate  float64
		heart    float64
	}{
		{"1.2,120", "1.2,-", "", 1.2, 0},
		{"1.2,120", "1.2,–", "", 1.2, 0},
		{"1.2,120", "-,120", "", 0, 120},
		{"1.2,120", "—,−", "", 0, 0},
		{"1.2,120", "1.2,12O", `heart rate: found "12O"`, 1.2, 0},
		{"1.2,120", "n/a,120", "nothing if the sample was lost", 0, 120},
		{"1.2,120", "lost,lost", `heart rate: found "lost"`, 0, 0},
	} {
		recs, err := sheet.Read(strings.NewReader(with(t, tt.old, tt.new)))
		if (err == nil) != (tt.says == "") || err != nil && !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: error %v", tt.new, err)
		}
		if len(recs) != 2 || len(recs[0].Repeats) != 5 {
			t.Errorf("%q: a swim was lost", tt.new)
			continue
		}
		if r := recs[0].Repeats[0]; r.Lactate != tt.lactate || r.HeartRate != tt.heart {
			t.Errorf("%q: %+v", tt.new, r)
		}
		if rows, cells := recs[0].Lost(); rows != 0 || cells != len(recs[0].Faults) {
			t.Errorf("%q: %d rows and %d cells lost, faults %v", tt.new, rows, cells, recs[0].Faults)
		}
	}
	// A time that was not swum may be a dash too; a sample then has no place.
	if _, err := sheet.Read(strings.NewReader(with(t, "5:32,1.2,120", "-,-,-"))); err != nil {
		t.Error(err)
	}
	recs, err := sheet.Read(strings.NewReader(with(t, "5:32,1.2,120", "-,n/a,120")))
	if rows, cells := recs[0].Lost(); err == nil || rows != 1 || cells != 0 || len(recs[0].Repeats) != 4 {
		t.Errorf("%d rows and %d cells lost: %v", rows, cells, err)
	}
}

// Rows are lost once, whatever the number of their faults, and a row that is
// somebody else's, or nobody's, is not lost to a test. Evidence: D.
func TestRowsOfNobody(t *testing.T) {
	unnamed := strings.NewReplacer("Ben,2025-03-04,25 m,400,2", ",2025-03-04,25 m,400,2", "Ben,2025-03-04,25 m,400,3", ",2025-03-04,25 m,400,3").Replace(good())
	for _, tt := range []struct {
		name, sheet string
		ada, ben    int // rows lost
	}{
		{"a mean below", good() + "Average,,,,,5:26,3.9,148\n", 0, 0},
		{"a mean below, cut short", good() + "Average,5:26\n", 0, 0},
		{"a mean without a name", good() + ",,,,,5:26,3.9,148\n", 0, 0},
		{"a mean between", with(t, "Ben", "Mean,,,,,5:26,3.9,148\nBen"), 0, 0},
		{"another day", good() + ",2025-03-05,25 m,400,6,4:45,9,180\n", 0, 0},
		{"two without a name", unnamed, 0, 2},
		{"a bad date of a third", good() + "Cleo,soon,25 m,400,1,5:32,1.2,120\n", 0, 0},
		{"a bad date at the end", with(t, "Ben,2025-03-04,25 m,400,5", "Ben,soon,25 m,400,5"), 0, 1},
		{"a bad date between", with(t, "Ada,2025-03-04,25 m,400,5", "Ada,soon,25 m,400,5"), 1, 0},
		{"a bad date first of the second", with(t, "Ben,2025-03-04,25 m,400,1", "ben,soon,25 m,400,1"), 0, 1},
		{"three faults in a row", with(t, "Ada,2025-03-04,25 m,400,3,5:12", "Ada,2025-03-04,25,4x,3,4:75"), 1, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			recs, err := sheet.Read(strings.NewReader(tt.sheet))
			if err == nil || len(recs) != 2 {
				t.Fatalf("%d tests, error %v", len(recs), err)
			}
			ada, _ := recs[0].Lost()
			ben, _ := recs[1].Lost()
			if ada != tt.ada || ben != tt.ben || len(recs[0].Repeats) != 5-ada || len(recs[1].Repeats) != 5-ben {
				t.Errorf("%d and %d rows lost, want %d and %d: %v", ada, ben, tt.ada, tt.ben, err)
			}
			var scanned []protocol.Record
			var all []error
			for rec, err := range sheet.Scan(strings.NewReader(tt.sheet)) {
				all = append(all, err)
				if rec.Repeats != nil {
					scanned = append(scanned, rec)
				}
			}
			if d := cmp.Diff(recs, scanned, comparePools()); d != "" {
				t.Errorf("test by test (-whole +scanned):\n%s", d)
			}
			if got := errors.Join(all...); len(faultLines(got)) != len(faultLines(err)) {
				t.Errorf("test by test: %v; whole: %v", got, err)
			}
		})
	}
}

// A name that differs by case or blanks is most likely the same swimmer's.
// Evidence: D.
func TestSpelling(t *testing.T) {
	for _, other := range []string{"ADA", "A da", "ada"} {
		recs, err := sheet.Read(strings.NewReader(with(t, "Ada,2025-03-04,25 m,400,5", other+",2025-03-04,25 m,400,5")))
		if err == nil || !strings.Contains(err.Error(), fmt.Sprintf(`line 6, swimmer: found %q, want one spelling of a name; line 2 has "Ada"`, other)) {
			t.Errorf("%s: %v", other, err)
		}
		// No row is lost: the test has all its repeats, under the first spelling.
		if len(recs) != 2 || recs[0].Swimmer != "Ada" || len(recs[0].Faults) != 1 || recs[1].Faults != nil || len(recs[0].Repeats) != 5 {
			t.Errorf("%s: %v", other, recs)
		}
		if rows, cells := recs[0].Lost(); rows != 0 || cells != 0 {
			t.Errorf("%s: %d rows and %d cells lost", other, rows, cells)
		}
		n := 0
		for rec, err := range sheet.Scan(strings.NewReader(with(t, "Ada,2025-03-04,25 m,400,5", other+",2025-03-04,25 m,400,5"))) {
			if err != nil && rec.Repeats != nil && strings.Contains(err.Error(), "one spelling") {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s: test by test, %d tests are marked", other, n)
		}
		// Two swimmers after all, or one repeat twice: told, and the second lost.
		recs, err = sheet.Read(strings.NewReader(with(t, "Ben,2025-03-04,25 m,400,1", other+",2025-03-04,25 m,400,1")))
		rows, _ := recs[0].Lost()
		if rows != 1 || len(recs[0].Repeats) != 5 || !errors.Is(err, protocol.ErrConflict) || !strings.Contains(err.Error(), "only once; line 2 has it already") {
			t.Errorf("%s: %d rows lost, %v", other, rows, err)
		}
	}
	// Between the rows of another test, too.
	text := strings.Replace(with(t, "Ben,2025-03-04,25 m,400,5", "ada,2025-03-04,25 m,400,6"), "4:50.4", "5:00.4", 1)
	if recs, err := sheet.Read(strings.NewReader(text)); err == nil || len(recs) != 2 || len(recs[0].Repeats) != 6 || len(recs[1].Repeats) != 4 {
		t.Errorf("apart: %v, %v", recs, err)
	}
	// In another pool it is another test, which is told and whole.
	text = good() + "ada,2025-03-04,50 m,400,1,5:50,1.2,\nADA,2025-03-04,50 m,400,2,5:40,1.4,\nada,2025-03-04,50 n,400,3,5:30,1.6,\n"
	if recs, err := sheet.Read(strings.NewReader(text)); err == nil || len(recs) != 3 || recs[0].Faults != nil || len(recs[2].Repeats) != 2 {
		t.Errorf("another pool: %v, %v", recs, err)
	} else if rows, _ := recs[2].Lost(); rows != 1 { // of its own, not of the other pool's test
		t.Errorf("another pool: %d rows lost, %v", rows, err)
	}
	// On another day only the later name is at fault.
	recs, err := sheet.Read(strings.NewReader(strings.ReplaceAll(good(), "Ben,2025-03-04", "ada,2025-04-15")))
	if err == nil || recs[0].Faults != nil || recs[1].Faults == nil || len(recs[1].Repeats) != 5 {
		t.Errorf("another day: %v", err)
	}
	for i := range recs {
		recs[i].Faults = nil
	}
	if err := sheet.Write(&bytes.Buffer{}, recs); err == nil || !strings.Contains(err.Error(), "one spelling") {
		t.Errorf("written: %v", err)
	}
}

// A row of another name starts a test of its own, without a fault. Evidence: D.
func TestAnotherName(t *testing.T) {
	recs, err := sheet.Read(strings.NewReader(with(t, "Ben,2025-03-04,25 m,400,1", "x,2025-03-04,25 m,400,1")))
	if err != nil || len(recs) != 3 || !strings.Contains(fmt.Sprint(recs[2].Review()), "repeat 1: no row") {
		t.Errorf("error %v, findings %v", err, recs)
	}
}

// A date with one meaning is read; a date with two is told, with both. Evidence:
// D; 45693 days after 30 December 1899, as spreadsheets count, are 5 February
// 2025.
func TestDatesOfOtherForms(t *testing.T) {
	for date, want := range map[string]string{
		"2025-02-05":          "2025-02-05",
		"2025/02/05":          "2025-02-05",
		"2025.2.5":            "2025-02-05",
		"20250205":            "2025-02-05",
		"5 Feb 2025":          "2025-02-05",
		"5-Feb-2025":          "2025-02-05",
		"5-Feb-25":            "2025-02-05",
		"5 february 2025":     "2025-02-05",
		`"Feb 5, 2025"`:       "2025-02-05",
		"Wed 5 Feb 2025":      "2025-02-05",
		"2/25/2025":           "2025-02-25",
		"2/25/25":             "2025-02-25",
		"25/2/25":             "2025-02-25",
		"25.02.2025":          "2025-02-25",
		"25.2.25":             "2025-02-25",
		"5.2.2025":            "2025-02-05", // points: the day stands first
		"03/03/2025":          "2025-03-03",
		"45693":               "2025-02-05",
		"2025-02-05T00:00Z":   "2025-02-05",
		"2025-02-05 00:00:00": "2025-02-05",
		"25/02/2025 18:30":    "2025-02-25",
		"25/02/2025 9:30":     "2025-02-25",
		"3/4/2025":            "this is 2025-04-03 or 2025-03-04",
		"05/02/25":            "this is 2025-02-05 or 2025-05-02",
		"2025/02/30":          "a date such as 2025-03-04, year first",
		"25-02-05":            "a date such as 2025-03-04, year first",
		"31/31/2025":          "a date such as 2025-03-04, year first",
		"5/2/225":             "a date such as 2025-03-04, year first",
		"yesterday":           "a date such as 2025-03-04, year first",
		"+5/02/2025":          "a date such as 2025-03-04, year first",
	} {
		recs, err := sheet.Read(strings.NewReader(strings.ReplaceAll(good(), "2025-03-04", date)))
		if day, dateErr := time.Parse(time.DateOnly, want); dateErr == nil {
			if err != nil || len(recs) != 2 || !recs[0].Date.Equal(day) || len(recs[0].Repeats) != 5 {
				t.Errorf("%s: %v, %v; want %s", date, recs, err, want)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q", date, err, want)
		}
		if strings.HasPrefix(want, "this is") && strings.Count(err.Error(), "\n") > 0 {
			t.Errorf("%s: told more than once: %v", date, err)
		}
	}
}

// The order of day and month is that of the other dates of the sheet, of the
// header, or of an option. Evidence: D.
func TestOrderOfDates(t *testing.T) {
	both := func(ada, ben string) string {
		return strings.NewReplacer("Ada,2025-03-04", "Ada,"+ada, "Ben,2025-03-04", "Ben,"+ben).Replace(good())
	}
	header := func(form string) string {
		return strings.Replace(both("3/4/2025", "5/6/2025"), "date", "date ("+form+")", 1)
	}
	for _, tt := range []struct {
		name, sheet string
		o           sheet.Options
		ada, ben    string // empty: not read
		says        string // in the error, or else in the review of Ada
	}{
		{"the later shows", both("3/4/2025", "18/4/2025"), sheet.Options{}, "2025-04-03", "2025-04-18", "3/4/2025 is read as 2025-04-03, day first, as 18/4/2025 in line 7 shows; so are 4 more rows"},
		{"the earlier shows", both("4/18/2025", "3/4/2025"), sheet.Options{}, "2025-04-18", "2025-03-04", ""},
		{"none shows", both("3/4/2025", "5/6/2025"), sheet.Options{}, "", "", "line 2 and 9 more, date: found \"3/4/2025\""},
		{"one is not clear", both("2025-04-03", "5/6/2025"), sheet.Options{}, "2025-04-03", "", "line 7 and 4 more, date: found \"5/6/2025\""},
		{"asked", both("3/4/2025", "5/6/2025"), sheet.Options{Dates: sheet.MonthFirst}, "2025-03-04", "2025-05-06", "month first, as asked for"},
		{"asked otherwise", both("3/4/2025", "18/6/2025"), sheet.Options{Dates: sheet.MonthFirst}, "2025-03-04", "2025-06-18", "month first, as asked for"},
		{"header", header("dd/mm/yyyy"), sheet.Options{}, "2025-04-03", "2025-06-05", "day first, as the header says"},
		{"header, month first", header("m/d/y"), sheet.Options{}, "2025-03-04", "2025-05-06", "month first, as the header says"},
		{"points", both("3.4.2025", "5.6.2025"), sheet.Options{}, "2025-04-03", "2025-06-05", "day first, as dates with points are"},
		{"points, month first", both("3.4.2025", "5.16.2025"), sheet.Options{}, "2025-03-04", "2025-05-16", "month first, as 5.16.2025 in line 7 shows"},
		{"both orders", both("18/4/2025", "4/18/2025"), sheet.Options{}, "2025-04-18", "2025-04-18", "day and month in one order throughout the sheet; 18/4/2025 in line 2 has the other"},
	} {
		recs, err := tt.o.Read(strings.NewReader(tt.sheet))
		got := map[string]string{}
		var notes string
		for _, r := range recs {
			if len(r.Repeats) == 5 {
				got[r.Swimmer] = r.Date.Format(time.DateOnly)
			}
			notes += fmt.Sprint(r.Review())
		}
		wants := tt.ada == "" || tt.ben == "" || tt.name == "both orders"
		if got["Ada"] != tt.ada || got["Ben"] != tt.ben || (err != nil) != wants || !strings.Contains(fmt.Sprint(err)+notes, tt.says) {
			t.Errorf("%s: %v, %v, %s", tt.name, got, err, notes)
		}
		if n := len(strings.Split(fmt.Sprint(err), "\n")); n > 1 {
			t.Errorf("%s: told in %d lines: %v", tt.name, n, err)
		}
		lost := 0
		for rec, scanErr := range tt.o.Scan(strings.NewReader(tt.sheet)) {
			if len(rec.Repeats) == 5 && rec.Date.Format(time.DateOnly) != got[rec.Swimmer] {
				t.Errorf("%s: test by test: %v", tt.name, rec)
			}
			if scanErr != nil {
				lost++
			}
			if n := strings.Count(fmt.Sprint(scanErr), "one way"); n > 1 {
				t.Errorf("%s: test by test: told %d times", tt.name, n)
			}
		}
		if (lost > 0) != (err != nil) {
			t.Errorf("%s: test by test: %d faults", tt.name, lost)
		}
	}
}

// A spreadsheet that writes commas between and inside its cells puts the latter between
// quotation marks: they are decimal signs, and a note says so. Evidence: D.
func TestQuotedDecimalCommas(t *testing.T) {
	header, rows, _ := strings.Cut(good(), "\n")
	quoted := regexp.MustCompile(`[0-9:]+\.[0-9]+`).ReplaceAllStringFunc(rows, func(s string) string { return `"` + strings.Replace(s, ".", ",", 1) + `"` })
	want, err := sheet.Read(strings.NewReader(good()))
	if err != nil || quoted == rows {
		t.Fatal(err)
	}
	got, err := sheet.Read(strings.NewReader(header + "\n" + quoted))
	if err != nil || len(got) != len(want) {
		t.Fatalf("%d tests, %v", len(got), err)
	}
	for i := range got {
		if notes := fmt.Sprint(got[i].Notes); strings.Count(notes, "a comma is the decimal sign") != 1 {
			t.Errorf("notes %s", notes)
		}
		got[i].Notes = want[i].Notes
		if fmt.Sprint(got[i]) != fmt.Sprint(want[i]) {
			t.Errorf("%+v, want %+v", got[i], want[i])
		}
	}
}

// A header that is not understood says which of its columns are not, and a
// title without a header below it is taken for one. Evidence: D.
func TestHeaderNotUnderstood(t *testing.T) {
	header, rows, _ := strings.Cut(good(), "\n")
	for _, tt := range []struct {
		name, header string
		says         []string
		lines        int
	}{
		{"at the end", strings.Replace(header, "lactate", "Blutlaktat", 1), []string{`lactate: found nothing, want this column; not understood: "Blutlaktat"`}, 1},
		{"two, long", "Training group of the swimmer,RPE,Blood sugar (mg/dL)," + strings.Replace(header, ",lactate", "", 1),
			[]string{`not understood: "Training group of the swimmer", "RPE", "Blood sugar (mg/dL)"`}, 1},
		{"nothing understood", "a,b,c,d,e,f,g,h", []string{`"h"`, "header not understood", "is there a title above the header"}, 1},
		{"in another language", "Schwimmer,Datum,Bahn,Strecke,Nr,Zeit,Laktat", []string{`missing: swimmer, date, pool, distance, time, lactate; not understood: "Schwimmer", "Datum", "Bahn", "Strecke", "Zeit", "Laktat"`}, 1},
		{"three missing", "swimmer,date,pool,distance,a,b,c", []string{"header not understood, missing: repeat, time, lactate"}, 1},
		{"two slips", strings.Replace(header, "distance", "dystanse", 1), []string{`found "dystanse", want "distance", if that is what this column is`}, 1},
		{"three slips", strings.Replace(header, "distance", "dystense", 1), []string{`distance: found nothing, want this column; not understood: "dystense"`}, 1},
		{"a slip in four letters", strings.Replace(header, "pool", "pooll", 1), []string{`want "pool", if`}, 1},
		{"a letter too many", strings.Replace(header, "swimmer", "aswimmer", 1), []string{`want "swimmer", if`}, 1},
		{"another letter", strings.Replace(header, "swimmer", "swymmer", 1), []string{`want "swimmer", if`}, 1},
		{"a title and no header", "Squad test of February", []string{`line 1: found "Squad test of February"`, "is there a title above it?"}, 1},
		{"times in hours", strings.Replace(header, "time", "time [h]", 1), []string{"no unit in the header but s, or a form such as min:s"}, 1},
	} {
		recs, err := sheet.Read(strings.NewReader(tt.header + "\n" + rows))
		if len(recs) != 0 || !errors.Is(err, sheet.ErrColumns) || strings.Count(err.Error(), "\n")+1 != tt.lines {
			t.Errorf("%s: %d tests, error %v", tt.name, len(recs), err)
			continue
		}
		for _, part := range tt.says {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%s: no %q in %v", tt.name, part, err)
			}
		}
	}
}

// Blanks in a name do not matter, a form of times may stand in brackets, and a
// column of another name is told. Evidence: D.
func TestHeaderWritings(t *testing.T) {
	want, err := sheet.Read(strings.NewReader(good()))
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []string{
		"Swimmer,Date,Pool,Distance,Repeat,Time (min:s),Lactate,Heartrate",
		"swimmer,date (YYYY-MM-DD),pool,distance,repeat,time [mm:ss.0],blood_lactate,heart rate",
		"Athlete,date,pool,distance,rep,time (m:ss),bloodlactate,Pulse [bpm]",
	} {
		got, err := sheet.Read(strings.NewReader(strings.Replace(good(), "swimmer,date,pool,distance,repeat,time,lactate,heart rate", h, 1)))
		if d := cmp.Diff(want, got, comparePools()); d != "" || err != nil {
			t.Errorf("%s: error %v (-want +got):\n%s", h, err, d)
		}
	}
	after := strings.Replace(small, "minutes after", "Minutesafter (min)", 1)
	if recs, err := sheet.Read(strings.NewReader(after)); err != nil || len(recs[0].Recovery) != 2 {
		t.Errorf("minutes after: %v", err)
	}
	recs, err := sheet.Read(strings.NewReader(strings.Replace(good(), "heart rate", "avg HR", 1)))
	if err != nil || !strings.Contains(fmt.Sprint(recs[0].Review()), `columns "avg HR"`) {
		t.Errorf("another name: error %v, findings %v", err, recs[0].Review())
	}
}

// What a cell is read as, and what is said of it. Evidence: D.
func TestReadAs(t *testing.T) {
	repeat := func(r protocol.Repeat) string { return fmt.Sprint(r.Time, r.Lactate, r.Range, r.HeartRate) }
	for _, tt := range []struct{ old, new, reads, says string }{
		{"5:32,1.2,120", "0.240763889,1.2,120", "5m46.7s 1.2  120", "0.240763889 is read as 5:46.7, as a spreadsheet writes minutes and seconds"},
		{"1.2,120", "<0.8,120", "5m32s 0 Lo 120", "<0.8 is read as Lo"},
		{"1.2,120", ">25,120", "5m32s 0 HI 120", ">25 is read as HI"},
		{"1.2,120", "120,x", "5m32s 0  0", `lactate: found "120", want a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing if the sample was lost`},
		{"1.2,120", "120,1.2", "5m32s 0  0", "look exchanged"},
		{"Ada,2025-03-04,25 m,400,1,5:32,1.2,120\nAda,2025-03-04,25 m,400,2,5:22,1.4,132", "Ada,2025-03-04,50 m,400,1,5:32,1.2,120\nAda,2025-03-04,50 m,400,2,5:22,1.4,132", "5m12s 2.1  144", "one pool throughout a test; line 4 has 25 m"},
		{"25 m,400,1,5:32", "33 1/3 m,533.34,1,7:22", "", "a whole number of lengths"},
	} {
		recs, err := sheet.Read(strings.NewReader(with(t, tt.old, tt.new)))
		if all := fmt.Sprint(err, recs[0].Notes); !strings.Contains(all, tt.says) {
			t.Errorf("%q: %s; want %q", tt.new, all, tt.says)
		}
		if got := repeat(recs[0].Repeats[0]); tt.reads != "" && got != tt.reads {
			t.Errorf("%q is read as %s, want %s", tt.new, got, tt.reads)
		}
	}
	// Leave times and minutes after, as spreadsheets write them.
	for text, says := range map[string]string{
		strings.NewReplacer("heart rate", "leave", ",120\n", ",0:00\n", ",132\n", ",07:00:00\n", ",144\n", ",14:00:00\n", ",156\n", ",21:00\n", ",168\n", ",28:00\n").Replace(good()): "07:00:00 is read as 7:00, as a spreadsheet writes minutes and seconds; so are 1 more rows",
		strings.Replace(small, "5,,1,", "5,,01:30:00,", 1): "01:30:00 is read as 1:30, as a spreadsheet writes minutes and seconds",
	} {
		recs, err := sheet.Read(strings.NewReader(text))
		if err != nil || !strings.Contains(fmt.Sprint(recs[0].Notes), says) {
			t.Errorf("%v, %v; want %q", recs[0].Notes, err, says)
		}
	}
	if _, err := sheet.Read(strings.NewReader(with(t, "heart rate", "Time"))); err == nil || !strings.Contains(err.Error(), `found "Time", want this column only once; field 6, "time", is the same`) {
		t.Errorf("a column twice: %v", err)
	}
	if recs, err := sheet.Read(strings.NewReader("name,date\n" + good())); err != nil || len(recs) != 2 {
		t.Errorf("a title of two columns: %v", err)
	}
}

// Names one letter apart are asked about, unless they tell people apart. Evidence: D.
func TestOnePerson(t *testing.T) {
	for _, tt := range []struct {
		a, b  string
		asked bool
	}{
		{"Anna", "Annna", true}, {"Ann Vale", "Anna Vale", true}, {"An Vale", "Ana Vale", false}, {"Anna B1", "Anna B2", false}, {"Lara Moss", "Aral Moss", false}, {"Anna", "ANNA", false}, {"Ada", "Adda", false},
	} {
		text := strings.NewReplacer("Ada", tt.a, "Ben,2025-03-04", tt.b+",2025-05-06").Replace(good())
		recs, _ := sheet.Read(strings.NewReader(text))
		if asked := strings.Contains(fmt.Sprint(recs[1].Notes), "the same person?"); asked != tt.asked {
			t.Errorf("%s and %s: %v", tt.a, tt.b, recs[1].Notes)
		}
	}
}

// The same times in a pool of yards and in one of metres: one of the two is likely wrong.
// Times a twentieth apart are not the same, and two repeats are too few to tell. Evidence: D.
func TestOnePool(t *testing.T) {
	test := func(pool string, repeats int, scale float64) (out string) {
		for i := range repeats {
			out += fmt.Sprintf("Ada,2025-0%d-04,%s,50,%d,%.2f,\n", 1+len(pool), pool, i+1, scale*(45-float64(i*i)))
		}
		return out
	}
	for _, tt := range []struct {
		repeats int
		scale   float64
		asked   bool
	}{{3, 1, true}, {2, 1, false}, {3, 1.02, true}, {3, 1.04, false}} {
		recs, err := sheet.Read(strings.NewReader("swimmer,date,pool,distance,repeat,time,lactate\n" + test("25 m", 3, 1) + test("25 yd", tt.repeats, tt.scale)))
		asked := len(recs) == 2 && strings.Contains(fmt.Sprint(recs[1].Notes), "is one of the two pools wrong?")
		if err != nil || asked != tt.asked || asked && recs[1].Notes[0].Line != 0 {
			t.Errorf("%+v: %v, %v", tt, recs, err)
		}
	}
}

// A mark in a column without a name costs that cell and no swim. Evidence: D.
func TestStrayMark(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(good(), "\n"), "\n")
	for i := range lines {
		lines[i] += ",,"
	}
	lines[5] = strings.TrimSuffix(lines[5], ",") + "x,"
	text := strings.Replace(strings.Join(lines, "\n"), ",,", ",,notes", 1)
	recs, err := sheet.Read(strings.NewReader(text))
	if err == nil || err.Error() != `protocol: sheet line 6: found "x", want a name in the header for field 9` {
		t.Errorf("%v", err)
	}
	if len(recs) != 2 || len(recs[0].Repeats) != 5 || len(recs[1].Repeats) != 5 {
		t.Fatalf("%v", recs)
	}
	if rows, cells := recs[0].Lost(); rows != 0 || cells != 1 {
		t.Errorf("%d rows and %d cells lost", rows, cells)
	}
}

// A number may have the unit of its column behind it; another is refused by its
// name. Evidence: D.
func TestUnitsBehindNumbers(t *testing.T) {
	for _, tt := range []struct {
		old, new string
		says     string // empty: read as 1.2 mmol/L and 120 per min
	}{
		{"1.2,120", "1.2 mmol/L,120 bpm", ""},
		{"1.2,120", "1.2mmol/l,120/min", ""},
		{"1.2,120", "1.2 mM,120 /min", ""},
		{"1.2,120", "1.2 mmol,120 1/min", ""},
		{"1.2,120", "1.2,120 min⁻¹", ""},
		{"1.2,120", "1.2 mg/dL,120", `lactate: found "1.2 mg/dL", want a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing if the sample was lost; the unit is mmol/L, not "mg/dL"`},
		{"1.2,120", "1.2,2.0 Hz", `the unit is 1/min, not "Hz"`},
		{"1.2,120", "1.2 bpm,120", `the unit is mmol/L, not "bpm"`},
		{"1.2,120", "40 mmol/L,120", "want a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing"},
		{"1.2,120", "mmol/L,120", "want a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing"},
		{"1.2,120", `"1,2 mmol/L","120,0"`, ""},
		{"1.2,120", `"1,234 mmol/L",120`, "decimals after a point"},
	} {
		recs, err := sheet.Read(strings.NewReader(with(t, tt.old, tt.new)))
		if (err == nil) != (tt.says == "") || err != nil && !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: error %v", tt.new, err)
		}
		if r := recs[0].Repeats[0]; err == nil && (r.Lactate != 1.2 || r.HeartRate != 120) {
			t.Errorf("%q: %+v", tt.new, r)
		}
	}
	for after, want := range map[string]time.Duration{"2 min": 2 * time.Minute, "1.5min": 90 * time.Second, "3 s": 0, "2 minutes": 2 * time.Minute} {
		recs, err := sheet.Read(strings.NewReader(strings.Replace(small, "5,,1,", "5,,"+after+",", 1)))
		if want == 0 {
			if err == nil || !strings.Contains(err.Error(), `the unit is min, not "s"`) {
				t.Errorf("%s: %v", after, err)
			}
		} else if err != nil || len(recs) != 1 {
			t.Errorf("%s: %v", after, err)
		}
	}
}

// A message says once what is wanted, and a date what is wrong with it.
// Evidence: D.
func TestMessagesSayOnce(t *testing.T) {
	for _, tt := range []struct{ old, new, says string }{
		{"5:32,", "5-32,", `time: found "5-32", want a time such as`},
		{"25 m", "25 x", "pool: found"},
		{"25 m", "pool", "pool: found"},
		{"Ada,2025-03-04", "Ada,2025-02-30", "want a day that there is; February 2025 has 28, and none is 30"},
		{"Ada,2025-03-04", "Ada,2025-13-04", "want a month of 01 to 12 in the middle"},
		{"Ada,2025-03-04", "Ada,2025-01-40", "January 2025 has 31, and none is 40"},
		{"Ada,2025-03-04", "Ada,2025-03-00", "March 2025 has 31, and none is 0"},
		{"Ada,2025-03-04", "Ada,1825-03-04", "want a year of 1900 to 2199"},
	} {
		_, err := sheet.Read(strings.NewReader(with(t, tt.old, tt.new)))
		if err == nil || !strings.Contains(err.Error(), tt.says) || strings.Count(strings.Split(err.Error(), "\n")[0], "want ") != 1 {
			t.Errorf("%q: %v", tt.new, err)
		}
	}
}
