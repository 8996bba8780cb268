package protocol_test

import (
	"bytes"
	"strings"
	"testing"

	"example.com/steptest/protocol"
)

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
