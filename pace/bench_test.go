package pace_test

import (
	"testing"

	"example.com/steptest/pace"
)

func BenchmarkParseTime(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := pace.ParseTime("1:21.6"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormatTime(b *testing.B) {
	b.ReportAllocs()
	t := pace.Must(pace.ParseTime("1:21.6"))
	for b.Loop() {
		pace.FormatTime(t, 1)
	}
}
