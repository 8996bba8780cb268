package outside_test

import (
	"bytes"
	"context"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// An archive is read and analysed test by test, and stops when the caller has enough.
func TestStreamWithCancellation(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	archive := func(yield func(protocol.Record, lactate.Test) bool) {
		for range 1000 {
			for rec, err := range sheet.Scan(bytes.NewReader(sheets.Season())) {
				test, partial := rec.Test()
				if err == nil && partial == nil && !yield(rec, test) {
					return
				}
			}
		}
	}
	n := 0
	for rec, r := range lactate.AnalyzeAll(ctx, archive, lactate.Options{Resamples: 100}) {
		if rec.Swimmer == "" || r.Err == nil && r.Analysis.Unit != lactate.MetresPerSecond {
			t.Fatal(rec, r)
		}
		if n++; n == 20 {
			cancel()
		}
	}
	if n != 20 || ctx.Err() == nil {
		t.Errorf("%d results", n)
	}
}
