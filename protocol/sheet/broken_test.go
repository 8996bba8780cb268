package sheet_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// good is a sheet of two tests of five repeats without a fault.
func good() string {
	var b strings.Builder
	b.WriteString("swimmer,date,pool,distance,repeat,time,lactate,heart rate\n")
	for _, swimmer := range []string{"Ada", "Ben"} {
		for i, time := range []string{"5:32", "5:22", "5:12", "5:02", "4:50.4"} {
			fmt.Fprintf(&b, "%s,2025-03-04,25 m,400,%d,%s,%.1f,%d\n", swimmer, i+1, time, []float64{1.2, 1.4, 2.1, 3.6, 8.4}[i], 120+12*i)
		}
	}
	return b.String()
}

// with returns the good sheet with one text in place of another.
func with(t *testing.T, old, new string) string {
	t.Helper()
	s := good()
	if !strings.Contains(s, old) {
		t.Fatalf("the good sheet has no %q", old)
	}
	return strings.Replace(s, old, new, 1)
}

// TestBrokenSheets: every broken sheet is told in words that name the line,
// what was found and what was expected, and loses no good row. Evidence: D,
// each sheet is the good one with one known fault.
func TestBrokenSheets(t *testing.T) {
	const (
		lines2 = "Ada,2025-03-04,25 m,400,1,5:32,1.2,120"
		lines3 = "Ada,2025-03-04,25 m,400,2,5:22,1.4,132"
	)
	header, _, _ := strings.Cut(good(), "\n")
	tests := []struct {
		name  string
		sheet string
		rows  int      // that must come back
		whole int      // tests without faults among them
		is    error    // nil: the sheet is read without an error
		line  int      // of the fault
		says  []string // parts of the message
	}{
		{"empty", "", 0, 0, sheet.ErrEmpty, 0, []string{"found nothing", "header line"}},
		{"blank lines only", "\n,,,\n\n", 0, 0, sheet.ErrEmpty, 0, []string{"header line"}},
		{"header only", header + "\n", 0, 0, sheet.ErrEmpty, 0, []string{"header line only", "a row for each repeat"}},
		{"byte order mark", "\ufeff" + good(), 10, 2, nil, 0, nil},
		{"CRLF", strings.ReplaceAll(good(), "\n", "\r\n"), 10, 2, nil, 0, nil},
		{"CR only", strings.ReplaceAll(good(), "\n", "\r"), 0, 0, protocol.ErrRow, 1, []string{"line feed"}},
		{"semicolons", strings.ReplaceAll(good(), ",", ";"), 10, 2, nil, 0, nil},
		{"semicolons and decimal commas", strings.NewReplacer(",", ";", ".", ",").Replace(good()), 10, 2, nil, 0, nil},
		{"tabs", strings.ReplaceAll(good(), ",", "\t"), 10, 2, nil, 0, nil},
		{"UTF-16", "\xff\xfes\x00w\x00", 0, 0, protocol.ErrRow, 1, []string{"UTF-16", "UTF-8"}},
		{"Latin-1", with(t, lines2, strings.Replace(lines2, "Ada", "Ad\xe4", 1)), 9, 1, protocol.ErrRow, 2, []string{"UTF-8"}},
		{"no header", strings.TrimPrefix(good(), header+"\n"), 0, 0, sheet.ErrColumns, 1, []string{"want the columns swimmer, date, pool, distance, repeat, time, lactate; header not understood"}},
		{"missing column", strings.Replace(good(), "lactate", "glucose", 1), 0, 0, sheet.ErrColumns, 1, []string{"lactate: found nothing, want this column"}},
		{"misspelt column", strings.Replace(good(), "lactate", "lactat", 1), 0, 0, sheet.ErrColumns, 1, []string{`found "lactat"`, `want "lactate"`}},
		{"misspelt column that need not be there", strings.Replace(good(), "heart rate", "hart rate", 1), 10, 2, sheet.ErrColumns, 1, []string{`found "hart rate"`, `want "heart rate"`}},
		{"column twice", strings.Replace(good(), "heart rate", "La", 1), 10, 2, sheet.ErrColumns, 1, []string{"lactate", "only once"}},
		{"lactate in mg/dL", strings.Replace(good(), "lactate", "lactate [mg/dL]", 1), 0, 0, sheet.ErrColumns, 1, []string{"mg/dL", "mmol/L"}},
		{"strokes without saying which", strings.Replace(good(), "heart rate", "strokes", 1), 10, 2, sheet.ErrColumns, 1, []string{"stroke cycles", "two arm strokes"}},
		{"swapped columns", strings.Replace(good(), "time,lactate", "lactate,time", 1), 0, 0, protocol.ErrValue, 2, []string{`lactate: found "5:32"`, "swapped", `time: found "1.2"`}},
		{"pace and lactate swapped in one row", with(t, "5:32,1.2", "1.2,5:32"), 9, 1, protocol.ErrValue, 2, []string{"swapped"}},
		{"unknown pool", with(t, lines2, strings.Replace(lines2, "25 m", "25 ft", 1)), 9, 1, protocol.ErrValue, 2, []string{`pool: found "25 ft"`, "25 yd"}},
		{"pool without a unit", with(t, lines2, strings.Replace(lines2, "25 m", "25", 1)), 9, 1, protocol.ErrValue, 2, []string{"yards (yd) or metres (m)"}},
		{"another pool within the test", with(t, lines3, strings.Replace(lines3, "25 m", "50 m", 1)), 9, 1, protocol.ErrConflict, 3, []string{`pool: found "50 m"`, "line 2 has 25 m"}},
		{"negative time", with(t, "5:32", "-5:32"), 9, 1, protocol.ErrValue, 2, []string{`time: found "-5:32"`, "not negative"}},
		{"4:75", with(t, "5:32", "4:75"), 9, 1, protocol.ErrValue, 2, []string{`time: found "4:75"`, "00 to 59"}},
		{"5.32", with(t, "5:32", "5.32"), 9, 1, protocol.ErrValue, 2, []string{"5:32", "5.32 s"}},
		{"time of another distance", with(t, "5:32", "0:32"), 9, 1, protocol.ErrValue, 2, []string{"12.50 m/s", "for 400 m"}},
		{"lactate Inf", with(t, "1.2", "Inf"), 10, 1, protocol.ErrValue, 2, []string{`lactate: found "Inf"`, "0.1 to 30 mmol/L"}},
		{"lactate NaN", with(t, "1.2", "NaN"), 10, 1, protocol.ErrValue, 2, []string{`lactate: found "NaN"`}},
		{"lactate 0", with(t, "1.2", "0"), 10, 1, protocol.ErrValue, 2, []string{`lactate: found "0"`, "nothing if the sample was lost"}},
		{"lactate 40", with(t, "8.4", "40"), 10, 1, protocol.ErrValue, 6, []string{`lactate: found "40"`, "0.1 to 30 mmol/L"}},
		{"decimal comma", with(t, "1.2", `"1,2"`), 10, 2, nil, 0, nil},
		{"thousands", with(t, "1.2", `"1,200"`), 10, 1, protocol.ErrValue, 2, []string{`found "1,200"`, "after a point"}},
		{"not available", with(t, "1.2", "n/a"), 10, 1, protocol.ErrValue, 2, []string{`lactate: found "n/a"`, "nothing if the sample was lost; leave the cell blank"}},
		{"a point for nothing", with(t, "1.2", "."), 10, 1, protocol.ErrValue, 2, []string{`found "."`, "leave the cell blank"}},
		{"decimal comma, not quoted", with(t, "1.2", `1,2`), 9, 1, protocol.ErrRow, 2, []string{"9 fields", "decimal comma"}},
		{"hexadecimal lactate", with(t, "1.2", "0x1p1"), 10, 1, protocol.ErrValue, 2, []string{"0x1p1"}},
		{"heart rate 12", with(t, "120", "12"), 10, 1, protocol.ErrValue, 2, []string{`heart rate: found "12"`}},
		{"lost lactate", with(t, "1.2", ""), 10, 2, nil, 0, nil},
		{"lactate without a time", with(t, "5:32", ""), 9, 1, protocol.ErrValue, 2, []string{"time: found nothing", "no place on the curve"}},
		{"two repeats of the same speed", with(t, "5:22", "5:32"), 10, 2, nil, 0, nil},
		{"one stage", header + "\n" + lines2 + "\n", 1, 1, nil, 0, nil},
		{"repeated header", with(t, "Ben", header+"\nBen"), 10, 2, sheet.ErrHeaderAgain, 7, []string{"only once"}},
		{"1 MB line", with(t, lines2, lines2+strings.Repeat("x", 1<<20)), 9, 1, protocol.ErrRow, 2, []string{"65536 bytes"}},
		{"1 MB line as the header", strings.Repeat("x", 1<<20) + "\n" + good(), 0, 0, protocol.ErrRow, 1, []string{"65536 bytes"}},
		{"wrong date", with(t, "2025-03-04", "2025-02-30"), 9, 1, protocol.ErrValue, 2, []string{`date: found "2025-02-30"`, "February 2025 has 28"}},
		{"ambiguous date", with(t, "2025-03-04", "3/4/2025"), 9, 1, sheet.ErrDates, 2, []string{"2025-04-03 or 2025-03-04"}},
		{"duplicate number", with(t, "400,2,", "400,1,"), 9, 1, protocol.ErrConflict, 3, []string{`repeat: found "1"`, "line 2 has it already"}},
		{"no number", with(t, "400,2,", "400,,"), 9, 1, protocol.ErrValue, 3, []string{"repeat: found nothing", "1 to 99"}},
		{"no swimmer", with(t, lines3, strings.Replace(lines3, "Ada", "", 1)), 9, 1, protocol.ErrValue, 3, []string{"swimmer: found nothing", "in every row"}},
		{"no swimmer in the first row", with(t, lines2, strings.Replace(lines2, "Ada", "", 1)), 9, 1, protocol.ErrValue, 2, []string{"swimmer: found nothing"}},
		{"no swimmer in the last row of a test", with(t, "Ada,2025-03-04,25 m,400,5", ",2025-03-04,25 m,400,5"), 9, 1, protocol.ErrValue, 6, []string{"swimmer: found nothing"}},
		{"no swimmer in the first row of the second test", with(t, "Ben,2025-03-04,25 m,400,1", ",2025-03-04,25 m,400,1"), 9, 1, protocol.ErrValue, 7, []string{"swimmer: found nothing"}},
		{"no whole number of lengths", with(t, "25 m,400", "25 m,410"), 9, 1, protocol.ErrValue, 2, []string{`distance: found "410"`, "whole number of lengths"}},
		{"400 m in a yard pool", strings.ReplaceAll(good(), "25 m,400", "25 yd,400 m"), 0, 0, protocol.ErrValue, 2, []string{"whole number of lengths"}},
		{"quote not closed", with(t, "Ada", `"Ada`), 9, 1, protocol.ErrRow, 2, []string{"quoted field closed"}},
		{"quote inside a field", with(t, "Ada", `A"d"a`), 9, 1, protocol.ErrRow, 2, []string{"RFC 4180"}},
		{"row cut off", with(t, ",1.4,132", ""), 10, 2, nil, 0, nil},
		{"row cut off before the time", with(t, ",5:22,1.4,132", ""), 10, 2, nil, 0, nil},
		{"row cut off before the distance", with(t, ",400,2,5:22,1.4,132", ""), 9, 1, protocol.ErrValue, 3, []string{"distance: found nothing"}},
		{"row cut off after the date", with(t, ",25 m,400,2,5:22,1.4,132", ""), 9, 1, protocol.ErrRow, 3, []string{"2 fields", "8 fields"}},
		{"blank rows and fields at the end", strings.ReplaceAll(good(), "\n", ",,\n,,,,\n\n"), 10, 2, nil, 0, nil},
		{"every field quoted", `"` + strings.ReplaceAll(strings.ReplaceAll(strings.TrimSpace(good()), ",", `","`), "\n", "\"\n\"") + `"`, 10, 2, nil, 0, nil},
		{"header in capitals, other order, units", strings.Replace(good(), "swimmer,date,pool,distance,repeat,time,lactate,heart rate", " NAME ,Date,Course,DISTANCE,Rep,Time,Lactate [mmol/L],Heart_Rate (bpm)", 1), 10, 2, nil, 0, nil},
		{"control character", with(t, "Ada", "A\x00a"), 9, 1, protocol.ErrValue, 2, []string{"control characters"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			recs, err := sheet.Read(strings.NewReader(tt.sheet))
			rows, whole := 0, 0
			for _, r := range recs {
				rows += len(r.Repeats) + len(r.Recovery)
				if r.Err() == nil {
					whole++
				}
			}
			if rows != tt.rows || whole != tt.whole {
				t.Errorf("%d good rows in %d whole tests, want %d in %d", rows, whole, tt.rows, tt.whole)
			}
			if !errors.Is(err, tt.is) || (err == nil) != (tt.is == nil) {
				t.Fatalf("error %v, want %v", err, tt.is)
			}
			if err == nil {
				return
			}
			var fault *protocol.Fault
			if !errors.As(err, &fault) || fault.Line != tt.line {
				t.Errorf("%#v: line %d, want %d", fault, fault.Line, tt.line)
			}
			for _, part := range tt.says {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("message %q does not say %q", err, part)
				}
			}
			if n := len(err.Error()); n > 200*strings.Count(err.Error()+"\n", "\n")+100 {
				t.Errorf("message of %d bytes", n)
			}
		})
	}
}
