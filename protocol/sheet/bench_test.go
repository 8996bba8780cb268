package sheet_test

import (
	"bytes"
	"strings"
	"testing"

	"example.com/steptest/protocol/sheet"
)

func BenchmarkScan(b *testing.B) {
	text := good()
	rows := strings.Count(text, "\n") - 1
	b.ReportAllocs()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		for _, err := range sheet.Scan(strings.NewReader(text)) {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(rows), "ns/row")
}

func BenchmarkWrite(b *testing.B) {
	recs, err := sheet.Read(strings.NewReader(good()))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := sheet.Write(&out, recs); err != nil {
			b.Fatal(err)
		}
	}
}
