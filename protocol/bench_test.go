package protocol_test

import (
	"bytes"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/protocol"
)

func BenchmarkOutlook(b *testing.B) {
	p := sixOf400(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Outlook(forecast.Expected{}, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOutlookAfterTests(b *testing.B) {
	p := sixOf400(b)
	e := forecast.Expected{Tests: []lactate.Test{swimmer{1.1, 9, 15}.test(p, 0.01), swimmer{1.1, 9, 15}.test(p, -0.01), swimmer{1.1, 9, 15}.test(p, 0)}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Outlook(e, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBetter(b *testing.B) {
	p := sixOf400(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Better(forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkScanSheet(b *testing.B) {
	sheet := good()
	rows := strings.Count(sheet, "\n") - 1
	b.ReportAllocs()
	b.SetBytes(int64(len(sheet)))
	for b.Loop() {
		for _, err := range protocol.ScanSheet(strings.NewReader(sheet)) {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(rows), "ns/row")
}

func BenchmarkWriteSheet(b *testing.B) {
	recs, err := protocol.ReadSheet(strings.NewReader(good()))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := protocol.WriteSheet(&out, recs); err != nil {
			b.Fatal(err)
		}
	}
}
