package command_test

import (
	"slices"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// A value that is wrong is said before all other doubts. Evidence: D.
func TestDoubtsFirst(t *testing.T) {
	rec := protocol.Record{Date: time.Date(2025, 1, 18, 0, 0, 0, 0, time.UTC), Pool: pace.LCM()}
	for i, seconds := range []time.Duration{360, 350, 540, 330, 320, 310} {
		rec.Repeats = append(rec.Repeats, protocol.Repeat{Number: i + 1, Distance: 400, Time: seconds * time.Second, Lactate: 1 + float64(i)})
	}
	for seconds, want := range map[time.Duration][]string{
		340: {"another"},
		540: {"18 January 2025: the time of repeat 3 looks wrong (9:00; 5:40 meant?): look it up, and read the test again", "another"},
	} {
		rec.Repeats[2].Time = seconds * time.Second
		var d command.Doubts
		d.AddDoubt("another")
		if d.PutFirst(rec, nil); !slices.Equal(d.Doubts, want) {
			t.Errorf("%d s: doubts %q, want %q", seconds, d.Doubts, want)
		}
	}
}
