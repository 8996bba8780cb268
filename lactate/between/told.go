package between

import (
	"encoding/json"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/words"
)

// Unused says why a reading is not used. The zero value is that it is.
type Unused string

// Why a reading is not used. Nothing is extrapolated. Where a move of Options.Matters changes
// the lactate by less than one standard deviation of a sample, a reading tells next to
// nothing of the curve's place; what it tells of the offset of its kind need not hold where
// the curve is steep.
const (
	Above Unused = "above the tested range"
	Below Unused = "below the tested range"
	Flat  Unused = "where the curve is flat"
)

// Told is what a reading told. The zero value is nothing.
type Told struct {
	Reading
	// Unused says why the reading is not used, if it is not. All below is then NaN.
	Unused Unused `json:"unused,omitzero"`
	// Expected is the lactate that was to be expected by all that was known before, the
	// tests and readings of earlier days and the readings above, with the bracket of its
	// predictive distribution: drift, day, offset, curve and noise [mmol/L].
	Expected lactate.Estimate `json:"expected_mmol_per_l"`
	// Percentile is the place of the reading in that distribution, from 0 to 1.
	Percentile float64 `json:"-"`
	// News says that Percentile is below 0.01 or above 0.99: chance alone makes 2 readings
	// in 100 news.
	News bool `json:"news,omitzero"`
	// Before and After are the shift of an average day, as in [Place], by all that was
	// known before the reading and with it. Their brackets say what it changed.
	Before lactate.Estimate `json:"before"`
	After  lactate.Estimate `json:"after"`
	// Alone is the shift of its day by this reading alone, with the offset of its kind and
	// the curve as all readings and tests have them.
	Alone float64 `json:"-"`
}

// newsTail is the probability of either tail that is news.
const newsTail = 0.01

// traced is what one run says of a reading, when it comes.
type traced struct {
	before, after moments
	log           float64 // likelihood of all before
	logAfter      float64
	expected      predictive
}

// trace runs the filter once more, and the smoother.
func (r *run) trace() []traced {
	out := make([]traced, len(r.readings))
	r.forward(true, func(k int, s *state, before bool) {
		t := &out[k]
		if before {
			t.before, t.log = s.place(), r.log
			t.expected.set(r, k, s)
		} else {
			t.after, t.logAfter = s.place(), r.log
		}
	})
	r.back(true)
	return out
}

// tell finds what each reading told, when it came: by all drifts, each weighed by what was
// known then.
func (c *Course) tell() {
	traces := make([][]traced, len(c.all))
	for i, r := range c.all {
		traces[i] = r.trace()
	}
	nan := nothing()
	var before, after [drifts]moments
	var weights, then [drifts]float64
	var expected [drifts]*predictive
	m := make(mixture, 0, drifts*places)
	for k := range c.Readings {
		t := &c.Readings[k]
		t.Expected, t.Before, t.After, t.Percentile, t.Alone = nan, nan, nan, math.NaN(), math.NaN()
		if t.Unused != "" {
			continue
		}
		t.Alone = c.all[stated].invert(k)
		for i := range traces {
			r := &traces[i][k]
			before[i], after[i], weights[i], then[i], expected[i] = r.before, r.after, r.log, r.logAfter, &r.expected
		}
		c.model.weigh(&weights)
		c.model.weigh(&then)
		t.Before, t.After = c.bracket(mixed(before, weights)), c.bracket(mixed(after, then))
		if t.Before.High-t.Before.Low > c.Reference/2 {
			continue // before the first test: anything can be expected
		}
		m = m.mix(expected, weights)
		t.Percentile = m.cdf(t.Lactate)
		t.News = !(t.Percentile >= newsTail && t.Percentile <= 1-newsTail)
		tail := (1 - c.Confidence) / 2
		mean, _ := m.moments()
		t.Expected = lactate.Estimate{Value: mean, Low: m.quantile(tail, -c.half), High: m.quantile(1-tail, c.half)}
	}
}

// invert returns the place at which a reading lies on the curve, with all else as it is.
func (r *run) invert(k int) float64 {
	o := &r.samples[k]
	place := -o.value
	for _, t := range o.terms[2:] {
		place += t.times * r.last.mean[t.at]
	}
	return -place / o.terms[0].times
}

// MarshalJSON leaves out what is not a number.
func (t Told) MarshalJSON() ([]byte, error) {
	type plain Told
	return json.Marshal(struct {
		plain
		Percentile *float64 `json:"percentile,omitempty"`
		Alone      *float64 `json:"alone,omitempty"`
	}{plain(t), words.Known(t.Percentile), words.Known(t.Alone)})
}
