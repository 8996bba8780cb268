package technique

import (
	"fmt"

	"gonum.org/v1/gonum/floats"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// At returns the stroke at a mean speed between the slowest and the fastest
// repeat, such as that of LT1 or LT2. Cycles and time over the segment are read
// between the neighbouring repeats along straight lines; rate, length and index
// follow from them. Repeats of equal speed count as one with their mean. The
// interval takes the speed as given: add that of a threshold yourself.
//
// The error is a [*lactate.OutsideRangeError] outside the tested range.
func (t *Profile) At(v pace.Speed) (Stroke, error) {
	w, err := t.weights(v)
	if err != nil {
		return Stroke{}, err
	}
	m := t.measured()
	return t.strokeFrom(v, w, m, t.simulate(m, t.opts.Resamples, streamBefore)), nil
}

// weights returns how much each repeat counts at a speed.
func (t *Profile) weights(v pace.Speed) ([]float64, error) {
	if len(t.order) == 0 || !(v >= t.Slowest && v <= t.Fastest) {
		return nil, fmt.Errorf("technique: %w", &lactate.OutsideRangeError{What: "speed", Value: v.MetresPerSecond(),
			Lowest: t.Slowest.MetresPerSecond(), Highest: t.Fastest.MetresPerSecond(), Unit: "m/s"})
	}
	k := 1
	for v > t.speed(k) {
		k++
	}
	f := float64((v - t.speed(k-1)) / (t.speed(k) - t.speed(k-1)))
	w := make([]float64, len(t.Repeats))
	for _, i := range t.order[k-1] {
		w[i] = (1 - f) / float64(len(t.order[k-1]))
	}
	for _, i := range t.order[k] {
		w[i] = f / float64(len(t.order[k]))
	}
	return w, nil
}

// strokeFrom works the stroke out of weighted measurements, with intervals from
// the draws.
func (t *Profile) strokeFrom(v pace.Speed, w []float64, m strokes, draws []strokes) Stroke {
	read := func(q quantity) lactate.Estimate {
		value, values := t.weighted(q, w, m, draws)
		return around(value, values, t.opts.Confidence)
	}
	return Stroke{
		Speed:  v,
		Rate:   read(rateOf),
		Length: read(lengthOf),
		Index:  read(indexOf),
		Share: read(func(metres, _, seconds float64) float64 {
			return metres / seconds / v.MetresPerSecond()
		}),
	}
}

// weighted returns a quantity as measured and in each draw.
func (t *Profile) weighted(q quantity, w []float64, m strokes, draws []strokes) (float64, []float64) {
	at := func(s strokes) float64 {
		return q(t.Segment.Metres(), floats.Dot(w, s.cycles), floats.Dot(w, s.seconds))
	}
	values := make([]float64, len(draws))
	for k, d := range draws {
		values[k] = at(d)
	}
	return at(m), values
}

// estimate works everything out that the repeats say.
func (t *Profile) estimate() {
	m := t.measured()
	draws := t.simulate(m, t.opts.Resamples, streamBefore)
	w := make([]float64, len(t.Repeats))
	for i := range t.Repeats {
		r := &t.Repeats[i]
		w[i] = 1
		r.Stroke = t.strokeFrom(r.Speed, w, m, draws)
		w[i] = 0
		t.judge(*r)
	}
	t.Rate, t.Length, t.Index = t.trend(rateOf, m, draws), t.trend(lengthOf, m, draws), t.trend(indexOf, m, draws)
	t.shorten(m)
}

// judge adds a finding if a measurement looks like a slip. The bounds are ours, and
// wider than what is met.
func (t *Profile) judge(r Repeat) {
	const (
		lowShare, highShare   = 0.80, 1.02
		shortCycle, longCycle = 1.2, 3.5 // [m]
		longLength            = 4.5      // [m] with push-off and glide
	)
	if s := r.Share.Value; t.Basis == Segment && !(s >= lowShare && s <= highShare) {
		t.find(r.Number, "published group means: 0.88 to 0.94", "the segment was swum at %.2f of the speed of the repeat: are marks, unit and time right?", s)
	}
	longest := longCycle
	if t.Basis != Segment {
		longest = longLength
	}
	if l := r.Length.Value; t.Basis == PerLength && l > longest {
		t.find(r.Number, "", "%.2f m per cycle is long: were cycles counted, not arm strokes?", l)
	} else if l < shortCycle {
		t.find(r.Number, "", "%.2f m per cycle is short: were arm strokes counted instead of cycles?", l)
	} else if l > longest {
		t.find(r.Number, "", "%.2f m per cycle is long: are marks, unit and count right?", l)
	}
}
