package between

import (
	"encoding/json"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/words"
	"gonum.org/v1/gonum/stat/distuv"
)

// Due says whether a test is worth its blood. The zero value says nothing.
type Due struct {
	Place Place `json:"place"` // on the day asked for
	// Matters is Options.Matters in the tests' unit.
	Matters float64 `json:"matters"`
	// Half is half the bracket of the place; AfterTest is what a test on that day would
	// leave of it, if it measured the shift as well as the last one did.
	Half      float64 `json:"half_bracket"`
	AfterTest float64 `json:"half_bracket_after_test"`
	// Wide says that Half is beyond Matters. WideOn is the first day from which on it is,
	// without another reading.
	Wide   bool      `json:"wide"`
	WideOn time.Time `json:"wide_on"`
	// Since is the number of used readings on days after the last test. Moved is how far
	// from the last test's place the curve is on the day of the last of them, and Chance the
	// probability that readings move it at least as far, either way, if all is as stated.
	// Both are NaN without a reading.
	Since  int              `json:"readings_since"`
	Moved  lactate.Estimate `json:"moved_by_readings"`
	Chance float64          `json:"-"`
	// Disagree says that Chance is below 0.05.
	Disagree bool `json:"disagree"`
}

// Worth reports whether the bracket has grown beyond what matters and a test would narrow
// it, or whether the readings disagree with the last test.
func (d Due) Worth() bool { return d.Wide && d.AfterTest < d.Half || d.Disagree }

// MarshalJSON leaves out a chance that is not a number.
func (d Due) MarshalJSON() ([]byte, error) {
	type plain Due
	return json.Marshal(struct {
		plain
		Chance *float64 `json:"chance,omitempty"`
		Worth  bool     `json:"worth_its_blood"`
	}{plain(d), words.Known(d.Chance), d.Worth()})
}

// disagree is the chance below which readings disagree with the last test.
const disagree = 0.05

// Due says whether a test on a day is worth its blood.
func (c *Course) Due(date time.Time) Due {
	m := c.model
	if m == nil {
		return Due{Place: c.At(date), Moved: nothing(), Chance: math.NaN()}
	}
	_, variance := c.all.answer(shiftAnswer, dayOf(date))
	measured := m.days
	if n := len(m.shape.shifts); n > 0 {
		measured += m.shape.cov.At(n-1, n-1)
	}
	d := Due{Place: c.At(date), Matters: m.opts.Matters * m.reference, Half: c.half * math.Sqrt(variance)}
	d.AfterTest = c.half * math.Sqrt(variance*measured/(variance+measured))
	d.Wide = d.Half > d.Matters
	d.WideOn = c.wideOn(d.Matters / c.half)
	c.moved(&d)
	return d
}

// wideOn returns the first day after all from which on the standard deviation of the
// place is beyond a bound, or the last day if it is then.
func (c *Course) wideOn(bound float64) time.Time {
	days := c.all[0].days
	last := days[len(days)-1].number
	_, least := c.all.answer(shiftAnswer, last)
	perDay := 0.0
	for i, w := range c.all.weights() {
		perDay += w * c.all[i].drift(1)
	}
	more := math.Ceil((bound*bound - least) / perDay)
	if !(more > 0) {
		more = 0
	}
	return time.Unix(int64(last+int(math.Min(more, 1e5)))*86400, 0).UTC()
}

// moved finds how far the readings since the last test have moved the place.
func (c *Course) moved(d *Due) {
	d.Moved, d.Chance = nothing(), math.NaN()
	m := c.model
	tested := dayOf(m.tests[len(m.tests)-1].Date)
	end := -1
	for i, day := range c.all[0].days {
		if day.number > tested && len(day.readings) > 0 {
			end = i
			d.Since += len(day.readings)
		}
	}
	if end < 0 {
		return
	}
	var moves [drifts]moments
	var then [drifts]float64
	for i, r := range c.all {
		then[i] = r.logAtLast
		after := r.days[end].end[shiftAnswer]
		moves[i] = moments{after.mean - r.atLast.mean, after.variance}
	}
	d.Moved = c.bracket(mixed(moves, c.all.weights()))
	m.weigh(&then)
	d.Chance = 0
	for i, r := range c.all {
		told := r.atLast.variance + r.drift(r.days[end].number-tested) - moves[i].variance
		if told > 0 {
			d.Chance += then[i] * 2 * distuv.UnitNormal.CDF(-math.Abs(moves[i].mean)/math.Sqrt(told))
		} else {
			d.Chance += then[i]
		}
	}
	d.Disagree = d.Chance < disagree
}
