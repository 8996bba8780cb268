package pace

import (
	"math/bits"
	"time"
)

// A Split is one part of a swim and the clock at its end. The zero value is no
// split.
type Split struct {
	Distance Length        // from the start
	Time     time.Duration // from the start
	Lap      time.Duration // of this part alone
}

// EvenSplits returns the splits of an even-paced swim over d in t: one for each
// multiple of every, and one at the end if a part is left over. Use
// p.Length() for a split per length and p.Per100() for one per 100. The last
// Time is t, and the Laps add up to it to the nanosecond.
//
// It returns an error that wraps [ErrValue] if t is not positive or d or every
// is not a whole number of lengths of p, since no clock is read in mid-pool.
func (p Pool) EvenSplits(d Length, t time.Duration, every Length) ([]Split, error) {
	if _, err := MeanSpeed(d, t); err != nil {
		return nil, err
	}
	n, err := p.Lengths(d)
	if err != nil {
		return nil, err
	}
	step, err := p.Lengths(every)
	if err != nil {
		return nil, err
	}
	splits := make([]Split, 0, (n-1)/step+1)
	var last time.Duration
	for k := step; ; k += step {
		k = min(k, n)
		// t·k/n in whole nanoseconds, by 128-bit arithmetic
		hi, lo := bits.Mul64(uint64(t), uint64(k))
		lo, carry := bits.Add64(lo, uint64(n)/2, 0)
		q, _ := bits.Div64(hi+carry, lo, uint64(n))
		at := time.Duration(q)
		splits = append(splits, Split{Distance: p.Distance(k), Time: at, Lap: at - last})
		last = at
		if k == n {
			return splits, nil
		}
	}
}
