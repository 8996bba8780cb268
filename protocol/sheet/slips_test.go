package sheet_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol/sheet"
)

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

// What lactate, heart rate and time are read as, and what is said of them. A slip in a cell
// that a repeat can do without costs that cell and no swim; a unit behind a number is that
// of its column. Evidence: D.
func TestReadAs(t *testing.T) {
	const lactate = "want a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing if the sample was lost"
	for _, tt := range []struct {
		new   string // in place of 5:32,1.2,120
		reads string // time, lactate, its range and heart rate; empty: the row is lost
		says  string // in a fault or a note; empty: nothing
	}{
		{"5:32,1.2,-", "5m32s 1.2  0", ""},
		{"5:32,1.2,–", "5m32s 1.2  0", ""},
		{"5:32,-,120", "5m32s 0  120", ""},
		{"5:32,—,−", "5m32s 0  0", ""},
		{"-,-,-", "0s 0  0", ""}, // not swum
		{"-,n/a,120", "", "the sample has no place on the curve"},
		{"5:32,1.2,12O", "5m32s 1.2  0", `heart rate: found "12O"`},
		{"5:32,n/a,120", "5m32s 0  120", lactate},
		{"5:32,lost,lost", "5m32s 0  0", `heart rate: found "lost"`},
		{"5:32,1.2 mmol/L,120 bpm", "5m32s 1.2  120", ""},
		{"5:32,1.2mmol/l,120/min", "5m32s 1.2  120", ""},
		{"5:32,1.2 mM,120 /min", "5m32s 1.2  120", ""},
		{"5:32,1.2 mmol,120 1/min", "5m32s 1.2  120", ""},
		{"5:32,1.2,120 min⁻¹", "5m32s 1.2  120", ""},
		{"5:32,1.2 mg/dL,120", "5m32s 0  120", `lactate: found "1.2 mg/dL", ` + lactate + `; the unit is mmol/L, not "mg/dL"`},
		{"5:32,1.2,2.0 Hz", "5m32s 1.2  0", `the unit is 1/min, not "Hz"`},
		{"5:32,1.2 bpm,120", "5m32s 0  120", `the unit is mmol/L, not "bpm"`},
		{"5:32,40 mmol/L,120", "5m32s 0  120", lactate},
		{"5:32,mmol/L,120", "5m32s 0  120", lactate},
		{`5:32,"1,2 mmol/L","120,0"`, "5m32s 1.2  120", "a comma is the decimal sign"},
		{`5:32,"1,234 mmol/L",120`, "5m32s 0  120", "decimals after a point"},
		{"0.240763889,1.2,120", "5m46.7s 1.2  120", "0.240763889 is read as 5:46.7, as a spreadsheet writes minutes and seconds"},
		{"5:32,<0.8,120", "5m32s 0 Lo 120", "<0.8 is read as Lo"},
		{"5:32,>25,120", "5m32s 0 HI 120", ">25 is read as HI"},
		{"5:32,120,x", "5m32s 0  0", `lactate: found "120", ` + lactate},
		{"5:32,120,1.2", "5m32s 0  0", "look exchanged"},
	} {
		recs, err := sheet.Read(strings.NewReader(with(t, "5:32,1.2,120", tt.new)))
		if len(recs) != 2 {
			t.Fatalf("%q: %d tests", tt.new, len(recs))
		}
		said := fmt.Sprint(recs[0].Notes)
		if err != nil {
			said += err.Error()
		}
		if !strings.Contains(said, tt.says) || tt.says == "" && said != "[]" {
			t.Errorf("%q: %s; want %q", tt.new, said, tt.says)
		}
		rows, cells := recs[0].Lost()
		if tt.reads == "" {
			if rows != 1 || cells != 0 || len(recs[0].Repeats) != 4 {
				t.Errorf("%q: %d rows and %d cells lost", tt.new, rows, cells)
			}
			continue
		}
		r := recs[0].Repeats[0]
		if got := fmt.Sprint(r.Time, r.Lactate, r.Range, r.HeartRate); got != tt.reads || len(recs[0].Repeats) != 5 || rows != 0 || cells != len(recs[0].Faults) {
			t.Errorf("%q is read as %s, want %s; %d rows and %d cells lost, faults %v", tt.new, got, tt.reads, rows, cells, recs[0].Faults)
		}
	}
	// Two of five rows in another pool, and a distance that is no whole number of lengths.
	for new, says := range map[string]string{
		strings.NewReplacer("Ada,2025-03-04,25 m,400,1", "Ada,2025-03-04,50 m,400,1", "Ada,2025-03-04,25 m,400,2", "Ada,2025-03-04,50 m,400,2").Replace(good()): "one pool throughout a test; line 4 has 25 m",
		with(t, "25 m,400,1,5:32", "33 1/3 m,533.34,1,7:22"): "a whole number of lengths",
	} {
		if recs, err := sheet.Read(strings.NewReader(new)); err == nil || !strings.Contains(err.Error(), says) || recs[0].Repeats[0].Number == 1 {
			t.Errorf("%v, %v; want %q", recs, err, says)
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

// Minutes after the end may have their unit behind them; another is refused. Evidence: D.
func TestUnitBehindMinutes(t *testing.T) {
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
