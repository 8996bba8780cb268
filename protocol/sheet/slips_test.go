package sheet_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
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
