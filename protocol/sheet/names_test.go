package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

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
			scanned, scanErr := scan(tt.sheet)
			if d := cmp.Diff(recs, scanned, comparePools()); d != "" {
				t.Errorf("test by test (-whole +scanned):\n%s", d)
			}
			if len(faultLines(scanErr)) != len(faultLines(err)) {
				t.Errorf("test by test: %v; whole: %v", scanErr, err)
			}
		})
	}
}

// A name that differs by case or blanks is most likely the same swimmer's.
// Evidence: D.
func TestSpelling(t *testing.T) {
	for _, other := range []string{"ADA", "A da", "ada"} {
		text := with(t, "Ada,2025-03-04,25 m,400,5", other+",2025-03-04,25 m,400,5")
		recs, err := sheet.Read(strings.NewReader(text))
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
		if scanned, err := scan(text); len(scanned) != 2 || scanned[1].Faults != nil || strings.Count(err.Error(), "one spelling") != 1 {
			t.Errorf("%s: test by test, %v, %v", other, scanned, err)
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
