package lactate

import "example.com/steptest/lactate/internal/straight"

// heartRates are the measured heart rates against intensity.
type heartRates struct {
	straight.Path
	odd      straight.Point // one that is left out, if its intensity is above zero
	expected float64        // in its place
}

// oddBeats is how far off a heart rate may lie from the straight line between its
// neighbours [1/min], such as 115 for 151: a strap that slipped, or a slip of the pen; ours.
const oddBeats = 15

func heartRatesOf(t Test) heartRates {
	taken := make([]straight.Point, 0, len(t.Stages))
	for _, s := range t.Stages {
		if s.HeartRate > 0 {
			taken = append(taken, straight.Point{X: s.Intensity, Y: s.HeartRate})
		}
	}
	h := heartRates{Path: straight.Through(taken)}
	if odd, ok := h.LeaveOutWorst(oddBeats); ok {
		h.odd, h.expected = odd, h.At(odd.X)
	}
	return h
}
