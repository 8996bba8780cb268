package lactate

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/internal/reading"
)

// Ends says which points a chord joins. The zero value is FittedEnds.
type Ends int

// The ends in use.
const (
	// FittedEnds: the chord joins two points of the fitted curve.
	FittedEnds Ends = iota
	// MeasuredEnds: the chord joins the measured lactates of two stages.
	MeasuredEnds
)

func (e Ends) String() string {
	switch e {
	case FittedEnds:
		return "fitted ends"
	case MeasuredEnds:
		return "measured ends"
	}
	return fmt.Sprintf("Ends(%d)", int(e))
}

// lactate returns the end of a chord at an intensity.
func (e Ends) lactate(t Test, c Curve, x float64) (float64, error) {
	switch e {
	case FittedEnds:
		return c.Predict(x), nil
	case MeasuredEnds:
		return measuredAt(t, x), nil
	}
	return 0, fmt.Errorf("lactate: found %v, want ends of this package", e)
}

// of adds the ends to the name of a method, unless they are the fitted ones.
func (e Ends) of(method string) string {
	if e == FittedEnds {
		return method
	}
	return method + ", " + e.String()
}

// MaxDistance is Dmax: the point of the curve that lies farthest below the chord between its
// ends, of Cheng and others (1992), Int J Sports Med 13:518–522 (from memory; they fitted a
// cubic against oxygen uptake).
//
// There the curve has the slope of the chord: it is the same whether the distance is measured
// vertically or at right angles, and whatever the units of the axes, but not for speed and
// for pace. It depends on how the curve bends and on where the test starts and ends.
// Convexity alone leaves it wide open with six samples (our prototype: over half the tested
// range); every narrower bracket rests on the prior of the default curve, or on a formula.
//
// On the exponential-plus-constant curve it is lo + ln((exp(C·r) − 1)/(C·r))/C for a test
// from lo to lo + r: it depends on the rate C alone, not on A and B, where the curve lies. A
// curve that has moved to the right between two tests of the same first and last intensity
// leaves Dmax where it was, and on a curve that has not moved a last stage faster by 0.02 m/s
// moves it by 0.016 m/s (TestConstructedDmaxIgnoresPlace: 1.10 to 1.45 m/s, C = 14 per m/s,
// constructed). Its narrow interval there is owed to that as much as to good samples. Whether
// the curve has moved, [Compare] answers, and a level of lactate.
//
// Cheng takes the end points of the curve; many later papers draw the chord through the
// measured ends, which is [MeasuredEnds]: 1.3860 and 1.3858 m/s on seven constructed stages,
// further apart where the curve fits the last stage worse. On the cubic it lies below that on
// the exponential: 10.4 and 10.9 km/h in 17 runners, Machado and others, Rev Bras Cienc
// Esporte (abstract seen).
//
// It needs a curve with a point below the chord; else the error wraps [ErrShape].
type MaxDistance struct {
	Ends Ends // Zero means FittedEnds.
}

// Locate implements [Method].
func (m MaxDistance) Locate(t Test, c Curve) (float64, error) {
	lo, hi, err := testedRange(t.Stages)
	if err != nil {
		return 0, err
	}
	return belowChord(t, c, m.Ends, lo, hi)
}

func (m MaxDistance) String() string { return m.Ends.of("Dmax") }

// belowChord returns the intensity at which the curve lies farthest below the
// chord from lo to hi.
func belowChord(t Test, c Curve, ends Ends, lo, hi float64) (float64, error) {
	if c == nil {
		return 0, errNoCurve
	}
	from, err := ends.lactate(t, c, lo)
	if err != nil {
		return 0, err
	}
	to, _ := ends.lactate(t, c, hi)
	return farthestBelowChord(c, lo, from, hi, to)
}

// farthestBelowChord returns the intensity at which the curve lies farthest
// below the straight line from (lo, from) to (hi, to).
func farthestBelowChord(c Curve, lo, from, hi, to float64) (float64, error) {
	slope := (to - from) / (hi - lo)
	x, ok := reading.FarthestBelow(c, slope, lo, hi)
	// What rounding makes of a straight line is no bend.
	if depth := from + slope*(x-lo) - c.Predict(x); !ok || !(depth > rounding*max(math.Abs(from), math.Abs(to))) {
		return 0, errNoBend
	}
	return x, nil
}

// rounding is a share of lactate far below anything measured and far above
// rounding errors.
const rounding = 1e-9

var errNoBend = fmt.Errorf("lactate: distance from a chord: %w: the curve has no point farthest below the chord between its ends", ErrShape)

// measuredAt returns the mean lactate of the stages at an intensity.
func measuredAt(t Test, x float64) float64 {
	sum, n := 0.0, 0.0
	for i := range t.Stages {
		if s := &t.Stages[i]; s.Intensity == x && s.sampled() {
			sum += s.Lactate
			n++
		}
	}
	return sum / n
}
