package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command/commandtest"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
)

// Evidence D: rate is cycles over time, length is segment over cycles, index is
// their speed times length; cycles, segment and times are of the bundled sheet.
func TestTechnique(t *testing.T) {
	r := bundled(t)
	if r.Technique == nil || len(r.Technique.Repeats) != 6 {
		t.Fatalf("technique %+v, want six repeats", r.Technique)
	}
	text, _, _ := execute(t, "", "-full")
	cycles := []float64{6, 6, 6, 6.5, 6.5, 7}
	seconds := []float64{14.1, 13.8, 13.5, 13, 12.6, 12.1}
	const segment = 15 * 0.9144
	for i, s := range r.Technique.Repeats {
		want := fmt.Sprintf("repeat %d %s %.1f (", i+1, table.Clock(25*r.Record.Repeats[i].Time.Seconds()/100), 60*cycles[i]/seconds[i])
		if !strings.Contains(commandtest.Words(text), want) || !s.Length.HasInterval() {
			t.Errorf("lacks %q:\n%s", want, text)
		}
		commandtest.Near(t, "length", s.Length.Value, segment/cycles[i], 1e-12)
		commandtest.Near(t, "index", s.Index.Value, segment/seconds[i]*segment/cycles[i], 1e-9)
	}
	change := func(e lactate.Estimate) []any {
		return []any{math.Abs(e.Value), min(math.Abs(e.Low), math.Abs(e.High)), max(math.Abs(e.Low), math.Abs(e.High))}
	}
	rose := fmt.Sprintf("rate rises by %.0f %% (%.0f to %.0f)", change(r.Technique.Rate.Percent)...)
	fell := fmt.Sprintf("length falls by %.0f %% (%.0f to %.0f)", change(r.Technique.Length.Percent)...)
	for _, at := range []string{"at LT1", "at LT2", rose, fell} {
		if !strings.Contains(commandtest.Words(text), at) {
			t.Errorf("lacks %q", at)
		}
	}
}

// A sheet without cycles has no technique; one whose segment is longer than the
// pool, or whose time is lost, says so.
func TestTechniqueFaults(t *testing.T) {
	if r := worked(t, head+good); r.Technique != nil {
		t.Errorf("technique %+v of a sheet without cycles", r.Technique)
	}
	columns := strings.TrimSpace(head) + ",stroke cycles,stroke segment,segment time\n"
	with := func(cells string) string { return columns + strings.ReplaceAll(good, ",\n", ","+cells+"\n") }
	for _, c := range []struct{ name, sheet, text string }{
		{"a segment as long as the pool", with(",20,50 m,0:40"), "inside one length"},
		{"no segment time", with(",20,20 m,"), "segment time: found nothing"},
		{"equal strokes", with(",8,20 m,0:16"), "8 cycles in every repeat"},
	} {
		text, stderr, status := execute(t, c.sheet, "-full", "-")
		if status != 0 {
			t.Fatalf("%s: %s", c.name, stderr)
		}
		if words := commandtest.Words(text); !strings.Contains(words, c.text) || strings.Contains(text, "NaN") {
			t.Errorf("%s: text lacks %q:\n%s", c.name, c.text, text)
		}
	}
}
