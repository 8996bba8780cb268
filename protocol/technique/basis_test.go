package technique_test

import (
	"strings"
	"testing"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/technique"
)

// A stroke rate, or strokes over a length, give the stroke too. Evidence D: at
// 1.25 m/s a length of 25 m takes 20 s; 16 arm strokes are 8 cycles, 24 /min and
// 3.125 m; a rate of 30 /min is 10 cycles in a length, 2.5 m.
func TestOtherBases(t *testing.T) {
	speeds := []float64{1.25, 1.3, 1.4}
	of := func(spoil func(*protocol.Repeat)) protocol.Record {
		r := protocol.Record{Swimmer: "Ann", Pool: pace.SCM()}
		for i, v := range speeds {
			rep := protocol.Repeat{Number: i + 1, Distance: 400, Time: pace.Speed(v).Time(400)}
			spoil(&rep)
			r.Repeats = append(r.Repeats, rep)
		}
		return r
	}
	for _, tt := range []struct {
		record       protocol.Record
		basis        technique.Basis
		rate, length float64
		findings     int
	}{
		{of(func(r *protocol.Repeat) { r.StrokesPerLength = 16 }), technique.PerLength, 24, 3.125, 0},
		{of(func(r *protocol.Repeat) { r.StrokeRate = 30 }), technique.Rate, 30, 2.5, 0},
		{of(func(r *protocol.Repeat) { r.StrokeRate, r.StrokesPerLength = 30, 16 }), technique.Rate, 30, 2.5, 0},
		{of(func(r *protocol.Repeat) { r.StrokesPerLength = 8 }), technique.PerLength, 12, 6.25, 3},
		{of(func(r *protocol.Repeat) { r.StrokeRate = 70 }), technique.Rate, 70, 75. / 70, 2},
	} {
		p := techniqueOf(t, tt.record, technique.Options{Resamples: 100})
		if p.Basis != tt.basis || len(p.Findings) != tt.findings {
			t.Errorf("%v, findings %v", p.Basis, p.Findings)
		}
		strokesNear(t, "rate", p.Repeats[0].Rate.Value, tt.rate, 1e-6)
		strokesNear(t, "length", p.Repeats[0].Length.Value, tt.length, 1e-6)
		if !p.Repeats[0].Rate.HasInterval() {
			t.Error("no interval")
		}
	}
	// A segment that was measured stands before either.
	r := stroked(speeds, []float64{8, 9, 10}, []float64{16, 15, 14})
	r.Repeats[0].StrokeRate = 50
	if p := techniqueOf(t, r, technique.Options{}); p.Basis != technique.Segment {
		t.Errorf("%v", p.Basis)
	}
	if _, err := technique.Of(of(func(*protocol.Repeat) {}), technique.Options{}); err == nil || !strings.Contains(err.Error(), "too few") {
		t.Errorf("nothing counted: %v", err)
	}
}
