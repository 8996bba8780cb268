package main

import (
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
)

// Evidence D: rate is cycles over time, length is segment over cycles, index is
// their speed times length; cycles, segment and times are of the bundled sheet.
func TestTechnique(t *testing.T) {
	r := decoded(t, "").Tests[0]
	if r.Technique == nil || len(r.Technique.Repeats) != 6 || r.Technique.LT1 == nil || r.Technique.LT2 == nil {
		t.Fatalf("technique %+v, want six repeats and both thresholds", r.Technique)
	}
	cycles := []float64{6, 6, 6, 6.5, 6.5, 7}
	seconds := []float64{14.1, 13.8, 13.5, 13, 12.6, 12.1}
	const segment = 15 * 0.9144
	for i, s := range r.Technique.Repeats {
		commandtest.Near(t, "rate", s.Rate.Value, 60*cycles[i]/seconds[i], 1e-9)
		commandtest.Near(t, "length", s.Length.Value, segment/cycles[i], 1e-12)
		commandtest.Near(t, "index", s.Index.Value, segment/seconds[i]*segment/cycles[i], 1e-9)
		commandtest.Near(t, "share", s.Share.Value, segment/seconds[i]/r.Repeats[i].Speed, 1e-9)
		if !s.Length.HasInterval() {
			t.Errorf("repeat %d has no interval", s.Number)
		}
	}
	// LT2 lies between the fourth and fifth repeat, which have as many cycles.
	commandtest.Near(t, "length at LT2", r.Technique.LT2.Length.Value, segment/6.5, 1e-9)
	commandtest.Near(t, "speed at LT2", r.Technique.LT2.Speed, r.LT2.Speed.Value, 1e-12)
}

// A sheet without cycles has no technique; one whose segment is longer than the
// pool, or whose time is lost, says so.
func TestTechniqueFaults(t *testing.T) {
	if r := decoded(t, head+good, "-").Tests[0]; r.Technique != nil {
		t.Errorf("technique %+v of a sheet without cycles", r.Technique)
	}
	columns := strings.TrimSpace(head) + ",stroke cycles,stroke segment,segment time\n"
	with := func(cells string) string { return columns + strings.ReplaceAll(good, ",\n", ","+cells+"\n") }
	for _, c := range []struct{ name, sheet, text string }{
		{"a segment as long as the pool", with(",20,50 m,0:40"), "inside one length"},
		{"no segment time", with(",20,20 m,"), "segment time: found nothing"},
		{"equal strokes", with(",8,20 m,0:16"), "8 cycles in every repeat"},
	} {
		text, stderr, status := execute(t, c.sheet, "-")
		if status != 0 {
			t.Fatalf("%s: %s", c.name, stderr)
		}
		if words := strings.Join(strings.Fields(text), " "); !strings.Contains(words, c.text) || strings.Contains(text, "NaN") {
			t.Errorf("%s: text lacks %q:\n%s", c.name, c.text, text)
		}
	}
}
