package sheet_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"pgregory.net/rapid"
)

// lostRows counts the rows that the faults joined in err leave out, each line
// once. ok is false if faults were too many to list.
func lostRows(recs []protocol.Record, err error) (n int, ok bool) {
	lines := map[int]bool{}
	seen := map[*protocol.Fault]bool{}
	ok = !errors.Is(err, sheet.ErrManyFaults)
	for _, f := range protocol.Faults(err) {
		if f.Line == 0 {
			ok = ok && !strings.Contains(f.Found, "more faults")
		} else if !f.Kept && !seen[f] {
			seen[f] = true
			if f.Column == "date" { // the others are in the records, line by line
				n += max(f.Rows-1, 0)
			}
			lines[f.Line] = true
		}
	}
	for _, r := range recs {
		for _, f := range r.Faults {
			if !f.Kept && f.Line > 0 {
				lines[f.Line] = true
			}
		}
	}
	return n + len(lines), ok
}

// dataRows counts the rows of a sheet below its first line that are not blank.
func dataRows(text string) int {
	n := 0
	for _, l := range strings.Split(text, "\n")[1:] {
		if strings.Trim(l, " \t,;\r") != "" {
			n++
		}
	}
	return n
}

func keptRows(recs []protocol.Record) (n int) {
	for _, r := range recs {
		n += len(r.Repeats) + len(r.Recovery)
	}
	return n
}

// No row is lost in silence: each is in a record, or in a fault, and not in both.
// (A row whose date is one of many with two readings may have a fault of its own
// besides.) The rows of the odd sheets are mixed, spoilt and cut off. Evidence: D.
func TestPropNoRowIsLost(t *testing.T) {
	const head = "swimmer,date,pool,distance,repeat,time,lactate,heart rate"
	var pool [][]string
	files, _ := filepath.Glob(odd + "*.csv")
	for _, name := range append(files, "../../testdata/sheets/squad.csv") {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		in := csv.NewReader(bytes.NewReader(b))
		in.FieldsPerRecord, in.LazyQuotes = -1, true
		rows, _ := in.ReadAll()
		for _, r := range rows {
			if len(r) >= 8 {
				pool = append(pool, r[:8])
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		text := head + "\n"
		for range rapid.IntRange(1, 25).Draw(t, "rows") {
			r := append([]string{}, rapid.SampledFrom(pool).Draw(t, "row")...)
			for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
				i := rapid.IntRange(0, 7).Draw(t, "cell")
				r[i] = rapid.SampledFrom([]string{"", "-", "x", "3/4/2025", "18/1/2025", "1/18/2025", "3.4.2025", "45675", "05:46:00", "HI", ">25", "120", "1.2", "25 yd", "50 m", "1", "6", "\u200b", "Ada Lind", "ada lind", "2025-01-18", "400 m", "1,2"}).Draw(t, "text")
			}
			line := strings.Join(r[:rapid.IntRange(1, 8).Draw(t, "cells")], ",")
			text += strings.NewReplacer("\n", " ", `"`, "").Replace(line) + "\n"
		}
		for by, read := range map[string]func(string) ([]protocol.Record, error){
			"as a whole": func(text string) ([]protocol.Record, error) { return sheet.Read(strings.NewReader(text)) }, "test by test": scan,
		} {
			recs, err := read(text)
			lost, all := lostRows(recs, err)
			if want, got := dataRows(text), keptRows(recs)+lost; all && (got < want || got > want && !strings.Contains(fmt.Sprint(err), " more, date:")) {
				t.Fatalf("%s, %d rows: %d kept, %d lost\n%s\n%v", by, want, keptRows(recs), lost, text, err)
			}
		}
	})
}
