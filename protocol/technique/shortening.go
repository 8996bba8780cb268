package technique

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Shortening is the speed at which stroke length starts to fall: the join of two
// straight lines of stroke length against the mean speed of the repeats. The
// second line falls, and more steeply than the first. Keskinen & Komi (1993), J
// Appl Biomech 9:219–226, found stroke length stable up to the lactate threshold
// and shorter above it (from memory). The two-line reading of one swimmer's test
// is ours.
//
// A handful of repeats with one count each place the join poorly: look at the
// interval and at PValue first. The zero value is no fall.
type Shortening struct {
	// Speed at the join [m/s]. The join lies between the second and the last but
	// one speed. The interval is open (infinite) on the fast side if a simulated
	// test does not shorten, or only from the last but one speed on. It is open on
	// the slow side if one shortens from the start.
	Speed lactate.Estimate
	// Length at the join [m], as fitted.
	Length float64
	// Below and Above are the slopes on both sides [m per m/s]. Above is
	// negative, and less than Below.
	Below, Above float64
	// PValue is the share of simulated tests that show such a join at least as
	// clearly, if stroke length truly lies on one straight line. NaN without
	// resamples.
	PValue float64
	// Unclear is the number of simulated tests in which stroke length falls first
	// and rises later. They are left out of the interval.
	Unclear int
	// Err says why there is no such speed; the numbers are then NaN.
	Err error
}

// ErrNoFall says that stroke length does not start to fall inside the test.
var ErrNoFall = errors.New("stroke length does not start to fall inside the test")

// MarshalJSON writes the numbers there are, or the error in words.
func (s Shortening) MarshalJSON() ([]byte, error) {
	var out struct {
		Speed   *lactate.Estimate `json:"speed_m_per_s,omitempty"`
		Length  float64           `json:"stroke_length_m,omitempty"`
		Below   *float64          `json:"slope_below_s,omitempty"`
		Above   *float64          `json:"slope_above_s,omitempty"`
		PValue  *float64          `json:"p_value,omitempty"`
		Unclear int               `json:"unclear_resamples,omitempty"`
		Err     string            `json:"error,omitempty"`
	}
	if s.Err != nil {
		out.Err = s.Err.Error()
		return json.Marshal(out)
	}
	out.Speed, out.Length, out.Below, out.Above, out.Unclear = &s.Speed, s.Length, &s.Below, &s.Above, s.Unclear
	if !math.IsNaN(s.PValue) {
		out.PValue = &s.PValue
	}
	return json.Marshal(out)
}

// shape is what two lines through stroke lengths look like.
type shape int

const (
	shortens  shape = iota // from the join on
	fromStart              // already below the join
	never                  // not inside the test
	neither                // falls first, rises later
	noLines                // no two lines at all
)

const (
	endSlack = 1e-9 // how close to an end, relatively, a join is at it
	noGain   = 1e-6 // a gain that is none, in variances of a stroke length
)

// bender fits one and two lines to stroke lengths, again and again.
type bender struct {
	metres      float64
	xs, ys, ws  []float64
	first, last float64 // second and last but one speed
	countError  float64
	two         curve.BrokenLine
	one         [2]float64 // value at x = 0, slope
	gain        float64    // how much less the weighted sum of squares of the two lines is
	err         error
}

// fit fits stroke lengths from counts. A length's own standard deviation is
// length · CountError / cycles.
func (b *bender) fit(cycles []float64) shape {
	for i, c := range cycles {
		b.ys[i] = b.metres / c
		sd := b.ys[i] * b.countError / c
		b.ws[i] = 1 / (sd * sd)
	}
	b.one[0], b.one[1] = stat.LinearRegression(b.xs, b.ys, b.ws, false)
	rss := 0.0
	for i, x := range b.xs {
		e := b.ys[i] - b.one[0] - b.one[1]*x
		rss += b.ws[i] * e * e
	}
	b.gain = 0
	if b.err = b.two.FitWeighted(b.xs, b.ys, b.ws); b.err != nil {
		return noLines
	}
	switch left, right := b.two.Left, b.two.Right; {
	case right < 0 && right < left:
		if b.gain = rss - b.two.RSS(); !(b.gain > noGain) {
			b.gain, b.err = 0, curve.ErrUndetermined
			return noLines // one line, but for rounding
		}
		return shortens
	case right < 0:
		return fromStart
	case left < 0:
		return neither
	}
	return never
}

// start returns the speed at which the fall starts. It is infinite if that lies at
// or beyond an end of what a join can tell.
func (b *bender) start(s shape) float64 {
	switch {
	case s == fromStart, s == shortens && b.two.Join <= b.first*(1+endSlack):
		return math.Inf(-1)
	case s == never, s == noLines, s == shortens && b.two.Join >= b.last*(1-endSlack):
		return math.Inf(1)
	case s == shortens:
		return b.two.Join
	}
	return math.NaN()
}

// noFall says why stroke length does not start to fall, if that is so.
func (b *bender) noFall(s shape, cycles []float64) error {
	switch {
	case s == noLines && floats.Min(cycles) == floats.Max(cycles):
		return fmt.Errorf("technique: %w: found %.4g cycles in every repeat, too coarse a count or no change", ErrNoFall, cycles[0])
	case s == noLines:
		return fmt.Errorf("technique: %w: found one straight line: %w", ErrNoFall, b.err)
	case s == fromStart:
		return fmt.Errorf("technique: %w: it falls from the start, and no faster later", ErrNoFall)
	case s == never, s == neither:
		return fmt.Errorf("technique: %w: found a length that rises at the fast end, by %.2g m per 0.1 m/s", ErrNoFall, 0.1*b.two.Right)
	}
	return nil
}

// shorten finds the speed at which stroke length starts to fall.
func (t *Profile) shorten(m strokes) {
	none := math.NaN()
	t.Shortening = Shortening{Speed: lactate.Estimate{Value: none, Low: none, High: none}, Length: none, Below: none, Above: none, PValue: none}
	out := &t.Shortening
	n := len(t.Repeats)
	if k := len(t.order); k < 4 {
		out.Err = fmt.Errorf("technique: shortening: found %d different speeds, want at least 4 for two lines", k)
		return
	}
	b := &bender{
		metres: t.Segment.Metres(), countError: t.opts.CountError,
		xs: make([]float64, n), ys: make([]float64, n), ws: make([]float64, n),
		first: float64(t.speed(1)), last: float64(t.speed(len(t.order) - 2)),
	}
	for i, r := range t.Repeats {
		b.xs[i] = float64(r.Speed)
	}
	s := b.fit(m.cycles)
	if out.Err = b.noFall(s, m.cycles); out.Err != nil {
		return
	}
	two, one, gain := b.two, b.one, b.gain
	out.Speed.Value, out.Length, out.Below, out.Above = two.Join, two.Level, two.Left, two.Right
	if !isFinite(b.start(s)) {
		t.find(0, "", "stroke length starts to fall near an end of the test, where two lines cannot place it")
	}
	if dof := len(m.cycles) - 4; dof > 0 && two.RSS() > (distuv.ChiSquared{K: float64(dof)}).Quantile(0.99) {
		t.find(0, "", "stroke lengths scatter about two lines by more than the stated error of a count explains: the intervals are too narrow")
	}
	if t.opts.Resamples == 0 {
		return
	}
	// The interval: tests simulated about the two lines.
	if truth, ok := t.counts(m, two.Predict); ok {
		starts := make([]float64, 0, t.opts.Resamples)
		for _, d := range t.simulate(truth, t.opts.Resamples, streamBend) {
			x := b.start(b.fit(d.cycles))
			if math.IsNaN(x) {
				out.Unclear++
			}
			starts = append(starts, x)
		}
		out.Speed = around(two.Join, starts, t.opts.Confidence)
	}
	// The p-value: tests simulated about one line.
	if truth, ok := t.counts(m, func(x float64) float64 { return one[0] + one[1]*x }); ok {
		asClear := 1
		for _, d := range t.simulate(truth, t.opts.Resamples, streamStraight) {
			if b.fit(d.cycles) == shortens && b.gain >= gain {
				asClear++
			}
		}
		out.PValue = float64(asClear) / float64(t.opts.Resamples+1)
	}
}

// counts returns the measurements with the cycles that a stroke length [m] at
// each speed gives. ok is false if such a length makes no count that can be
// simulated.
func (t *Profile) counts(m strokes, length func(speed float64) float64) (truth strokes, ok bool) {
	truth = strokes{make([]float64, len(m.cycles)), m.seconds}
	for i, r := range t.Repeats {
		c := t.Segment.Metres() / length(float64(r.Speed))
		if !(c > 2*t.opts.CountError) || math.IsInf(c, 0) {
			return truth, false
		}
		truth.cycles[i] = c
	}
	return truth, true
}

func isFinite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }
