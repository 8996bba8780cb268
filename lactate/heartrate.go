package lactate

import (
	"cmp"
	"math"
	"slices"
)

// heartRates is the measured heart rate against intensity, read between
// stages along straight lines.
type heartRates struct {
	xs, hs []float64
	odd    []oddHeartRate // left out
}

// oddHeartRate is a heart rate that lies far off those of the stages beside it, such as
// 115 for 151: a strap that slipped, or a slip of the pen.
type oddHeartRate struct{ intensity, taken, expected float64 }

// oddBeats is how far off a heart rate may lie from the straight line between its
// neighbours [1/min]; ours.
const oddBeats = 15

func heartRatesOf(t Test) heartRates {
	taken := make([]Stage, 0, len(t.Stages))
	for _, s := range t.Stages {
		if s.HeartRate > 0 {
			taken = append(taken, s)
		}
	}
	slices.SortStableFunc(taken, func(a, b Stage) int { return cmp.Compare(a.Intensity, b.Intensity) })
	both := make([]float64, 2*len(taken))
	h := heartRates{xs: both[:0:len(taken)], hs: both[len(taken):len(taken)]}
	for i := 0; i < len(taken); {
		// Stages of equal intensity count as one with their mean.
		mean, n := 0.0, 0.0
		x := taken[i].Intensity
		for ; i < len(taken) && taken[i].Intensity == x; i++ {
			n++
			mean += (taken[i].HeartRate - mean) / n
		}
		h.xs = append(h.xs, x)
		h.hs = append(h.hs, mean)
	}
	h.leaveOutOdd()
	return h
}

// leaveOutOdd leaves out the worst of the heart rates that lie far off their neighbours'.
func (h *heartRates) leaveOutOdd() {
	worst, most := 0, float64(oddBeats)
	for i := 1; i < len(h.xs)-1; i++ {
		f := (h.xs[i] - h.xs[i-1]) / (h.xs[i+1] - h.xs[i-1])
		if off := math.Abs(h.hs[i] - h.hs[i-1] - f*(h.hs[i+1]-h.hs[i-1])); off > most {
			worst, most = i, off
		}
	}
	if worst == 0 {
		return
	}
	x, taken := h.xs[worst], h.hs[worst]
	h.xs, h.hs = slices.Delete(h.xs, worst, worst+1), slices.Delete(h.hs, worst, worst+1)
	h.odd = append(h.odd, oddHeartRate{x, taken, h.at(x)})
}

// at returns the heart rate at intensity x (1/min), NaN outside the stages
// that have one.
func (h heartRates) at(x float64) float64 {
	n := len(h.xs)
	if n == 0 || !(x >= h.xs[0] && x <= h.xs[n-1]) {
		return math.NaN()
	}
	i, exact := slices.BinarySearch(h.xs, x)
	if exact {
		return h.hs[i]
	}
	f := (x - h.xs[i-1]) / (h.xs[i] - h.xs[i-1])
	return h.hs[i-1] + f*(h.hs[i]-h.hs[i-1])
}
