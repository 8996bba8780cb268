package protocol_test

import (
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
)

func BenchmarkOutlook(b *testing.B) {
	p := sixOf400(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Outlook(protocol.Expected{}, lactate.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOutlookAfterTests(b *testing.B) {
	p := sixOf400(b)
	e := protocol.Expected{Tests: []lactate.Test{swimmer{1.1, 9, 15}.test(p, 0.01), swimmer{1.1, 9, 15}.test(p, -0.01), swimmer{1.1, 9, 15}.test(p, 0)}}
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
		if _, err := p.Better(protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{}); err != nil {
			b.Fatal(err)
		}
	}
}
