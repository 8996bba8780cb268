package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// comparePools lets cmp compare pools, whose fields are not exported, and
// sentinels by identity, and takes nil slices and maps for empty ones.
func comparePools() cmp.Options {
	return cmp.Options{
		cmpopts.EquateComparable(pace.Pool{}), cmpopts.EquateEmpty(),
		cmp.Comparer(func(a, b *protocol.Fault) bool { return *a == *b }),
	}
}

func drawText(t *rapid.T, label string) string {
	// Four texts of a row at most, so that it stays within the sixteen lines of one.
	s := rapid.StringMatching(`[a-zA-Zäß日"',; \t=+@-]{0,4}(\n?[a-zA-Zäß日"',; \t-]{0,3}){0,3}`).Draw(t, label)
	return strings.TrimSpace(s)
}

func drawExtra(t *rapid.T) map[string]string {
	m := map[string]string{}
	for _, name := range []string{"RPE", "felt, in words", `"quoted"`} {
		if v := drawText(t, name); v != "" && rapid.Bool().Draw(t, "has "+name) {
			m[name] = v
		}
	}
	if len(m) == 0 {
		return nil
	}
	return m
}

// drawRecord draws any record that a sheet can hold.
func drawRecord(t *rapid.T, swimmer string) protocol.Record {
	pool := rapid.SampledFrom([]pace.Pool{pace.SCY(), pace.SCM(), pace.LCM(), pace.Must(pace.ParsePool("20 yd")), pace.Must(pace.ParsePool("33 1/3 m"))}).Draw(t, "pool")
	maybe := func(label string, g *rapid.Generator[float64]) float64 {
		if rapid.Bool().Draw(t, "has "+label) {
			return g.Draw(t, label)
		}
		return 0
	}
	span := func(label string, low, high time.Duration) time.Duration {
		return time.Duration(rapid.Int64Range(int64(low), int64(high)).Draw(t, label))
	}
	maybeSpan := func(label string, low, high time.Duration) time.Duration {
		if rapid.Bool().Draw(t, "has "+label) {
			return span(label, low, high)
		}
		return 0
	}
	mmol, beats := rapid.Float64Range(0.1, 30), rapid.Float64Range(30, 250)
	rec := protocol.Record{
		Swimmer: swimmer,
		Date:    time.Date(2024, 1, rapid.IntRange(1, 700).Draw(t, "day"), 0, 0, 0, 0, time.UTC),
		Pool:    pool,
		Rest:    maybe("rest", mmol),
	}
	if rapid.Bool().Draw(t, "planned") {
		rec.WarmUp = pool.Distance(rapid.IntRange(1, 60).Draw(t, "warm-up"))
		rec.Next = rec.Date.AddDate(0, 0, rapid.IntRange(1, 100).Draw(t, "next"))
	}
	number := 0
	for range rapid.IntRange(1, 8).Draw(t, "repeats") {
		number += rapid.IntRange(1, 3).Draw(t, "number")
		d := pool.Distance(rapid.IntRange(4, 32).Draw(t, "lengths"))
		r := protocol.Repeat{
			Number: number, Distance: d,
			Target: maybeSpan("target", pace.Speed(2.99).Time(d), pace.Speed(0.21).Time(d)), AllOut: rapid.Bool().Draw(t, "all out"),
			Leave:  maybeSpan("leave", 0, 2*time.Hour),
			Cycles: maybe("cycles", rapid.Float64Range(0.5, 1000)), SegmentTime: maybeSpan("segment time", 1, time.Hour), StrokeRate: maybe("rate", rapid.Float64Range(5, 150)), StrokesPerLength: maybe("per length", rapid.Float64Range(1, 500)),
			Remark: drawText(t, "remark"), Extra: drawExtra(t),
		}
		if rapid.Bool().Draw(t, "has segment") {
			r.Segment = d * pace.Length(rapid.Float64Range(0.01, 1).Draw(t, "segment"))
			r.SegmentTime = maybeSpan("segment time", pace.Speed(2.99).Time(r.Segment), pace.Speed(0.21).Time(r.Segment))
		}
		if rapid.Bool().Draw(t, "swum") {
			r.Time = span("time", pace.Speed(2.99).Time(d), pace.Speed(0.21).Time(d))
			r.After = maybeSpan("after", 1, 2*time.Hour)
			r.Lactate, r.HeartRate = maybe("lactate", mmol), maybe("heart rate", beats)
			if r.Lactate == 0 {
				r.Range = rapid.SampledFrom([]protocol.Range{protocol.InRange, protocol.AboveRange, protocol.BelowRange}).Draw(t, "range")
			}
		}
		rec.Repeats = append(rec.Repeats, r)
	}
	after := time.Duration(0)
	for range rapid.IntRange(0, 4).Draw(t, "samples") {
		after += rapid.SampledFrom([]time.Duration{1, time.Second, 20 * time.Second, time.Minute, 90 * time.Second}).Draw(t, "later")
		rec.Recovery = append(rec.Recovery, protocol.Sample{After: after, Lactate: maybe("lactate", mmol), HeartRate: maybe("heart rate", beats), Remark: drawText(t, "remark"), Extra: drawExtra(t)})
	}
	return rec
}

// What is written is read back, to the last bit, whole or test by test.
// Evidence: D.
func TestPropSheetRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want []protocol.Record
		for i := range rapid.IntRange(1, 3).Draw(t, "tests") {
			want = append(want, drawRecord(t, fmt.Sprintf("Swimmer %d", i)))
		}
		var out bytes.Buffer
		if err := sheet.Write(&out, want); err != nil {
			t.Fatal(err)
		}
		text := out.String()
		got, err := sheet.Read(strings.NewReader(text))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if d := cmp.Diff(want, got, comparePools()); d != "" {
			t.Fatalf("read back (-want +got):\n%s\n%s", d, text)
		}
		var again bytes.Buffer
		if err := sheet.Write(&again, got); err != nil || again.String() != text {
			t.Fatalf("written again: %v\n%s", err, again.String())
		}
		got, err = scan(text)
		if d := cmp.Diff(want, got, comparePools()); d != "" || err != nil {
			t.Fatalf("read test by test: %v (-want +got):\n%s", err, d)
		}
	})
}

// A sheet against a model of it: rows of several tests in any order, some of
// them spoilt. Every good row comes back in its test, every bad one as a fault
// of its line. Evidence: D.
func TestPropSheetModel(t *testing.T) {
	type modelRow struct {
		swimmer string
		number  int
		text    string
		bad     bool
		kept    bool // what is bad is a cell that a repeat can do without
	}
	rapid.Check(t, func(t *rapid.T) {
		var rows []modelRow
		for _, swimmer := range []string{"Ada", "Ben", "Cleo"} {
			for i := range rapid.IntRange(1, 7).Draw(t, swimmer) {
				cell := []string{swimmer, "2025-03-04", "25 m", "400", fmt.Sprint(i + 1), pace.FormatTime(time.Duration(332-10*i)*time.Second, 0), "1.5", "130"}
				r := modelRow{swimmer: swimmer, number: i + 1}
				if rapid.IntRange(0, 4).Draw(t, "spoil") == 0 {
					r.bad = true
					spoil := rapid.SampledFrom([]struct {
						field int
						text  string
					}{{2, "25"}, {3, "x"}, {3, "410"}, {3, ""}, {4, "0"}, {4, "1.5"}, {5, "4:75"}, {5, "-1"}, {5, "0:20"}, {6, "n/a"}, {6, "Inf"}, {6, "-1"}, {6, "40"}, {7, "1e2"}, {7, "300"}, {7, "130,x"}}).Draw(t, "how")
					cell[spoil.field] = spoil.text
					r.kept = spoil.field >= 6 && !strings.Contains(spoil.text, ",")
				}
				r.text = strings.Join(cell, ",")
				rows = append(rows, r)
			}
		}
		// A row with too many fields does not say whose it is: keep such
		// rows out of a shuffled sheet.
		ordered := rapid.Bool().Draw(t, "in order")
		if !ordered {
			rows = slices.DeleteFunc(rows, func(r modelRow) bool { return strings.Count(r.text, ",") > 7 })
			rows = rapid.Permutation(rows).Draw(t, "order")
		}
		text := "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"
		wantLines, wantRows := map[int]bool{}, map[string]bool{}
		for i, r := range rows {
			text += r.text + "\n"
			if r.bad {
				wantLines[i+2] = true
			}
			if !r.bad || r.kept {
				wantRows[fmt.Sprint(r.swimmer, r.number)] = true
			}
		}
		recs, err := sheet.Read(strings.NewReader(text))
		gotLines, gotRows := faultLines(err), map[string]bool{}
		for _, rec := range recs {
			for _, f := range rec.Faults { // told once for many rows of the sheet
				gotLines[f.Line] = true
			}
			for _, r := range rec.Repeats {
				gotRows[fmt.Sprint(rec.Swimmer, r.Number)] = true
			}
			if n := len(faultLines(rec.Err())); ordered && (n == 0) != (rec.Faults == nil) {
				t.Fatalf("faults of %s: %v", rec.Swimmer, rec.Faults)
			}
		}
		if !maps.Equal(gotLines, wantLines) || !maps.Equal(gotRows, wantRows) {
			t.Fatalf("faults in lines %v, want %v; rows %v, want %v\n%s\n%v", gotLines, wantLines, gotRows, wantRows, text, err)
		}
		if !ordered {
			return
		}
		var scanned []protocol.Record
		for rec, err := range sheet.Scan(strings.NewReader(text)) {
			if (rec.Repeats != nil || rec.Swimmer != "") && (err == nil) != (rec.Faults == nil) {
				t.Fatalf("test by test: %v with %v", err, rec.Faults)
			}
			if rec.Swimmer != "" {
				scanned = append(scanned, rec)
			}
		}
		if d := cmp.Diff(recs, scanned, comparePools()); d != "" {
			t.Fatalf("test by test (-whole +scanned):\n%s", d)
		}
	})
}

// faultLines returns the lines of all faults joined in err.
func faultLines(err error) map[int]bool {
	lines := map[int]bool{}
	for _, f := range protocol.Faults(err) {
		lines[f.Line] = true
	}
	return lines
}

// scan reads a sheet test by test. scanned are the tests, and the error joins all errors.
func scan(text string) (scanned []protocol.Record, err error) {
	var errs []error
	for rec, err := range sheet.Scan(strings.NewReader(text)) {
		errs = append(errs, err)
		if rec.Swimmer != "" {
			scanned = append(scanned, rec)
		}
	}
	return scanned, errors.Join(errs...)
}
