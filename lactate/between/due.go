package between

import (
	"math"
	"time"

	"example.com/steptest/lactate"
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
	// Since is the number of used readings on days after the last test; Moved is how far they have moved
	// the curve from where the tests put it on the day of the last reading, and Chance the probability of a move at least
	// that large, either way, if all is as stated. Moved and Chance are NaN without a
	// reading.
	Since  int              `json:"readings_since"`
	Moved  lactate.Estimate `json:"moved_by_readings"`
	Chance float64          `json:"-"`
	// Disagree says that Chance is below 0.05.
	Disagree bool `json:"disagree"`
}

// Worth reports whether the bracket has grown beyond what matters and a test would narrow
// it, or whether the readings disagree with the last test.
func (d Due) Worth() bool { return d.Wide && d.AfterTest < d.Half || d.Disagree }

// disagree is the chance below which readings disagree with the last test.
const disagree = 0.05

// Due says whether a test on a day is worth its blood.
func (c *Course) Due(date time.Time) Due {
	r := c.all
	m := r.Model
	number := dayOf(date)
	_, variance := r.answer(shiftAnswer, number)
	measured := m.days
	if n := len(m.shape.shifts); n > 0 {
		measured += m.shape.cov.At(n-1, n-1)
	}
	d := Due{Place: c.At(date), Matters: m.opts.Matters * m.reference, Half: c.half * math.Sqrt(variance)}
	d.AfterTest = c.half * math.Sqrt(variance*measured/(variance+measured))
	d.Wide = d.Half > d.Matters
	last := r.days[len(r.days)-1]
	_, least := last.end[shiftAnswer].later(0)
	if bound := d.Matters / c.half; bound*bound > least {
		d.WideOn = r.dateOf(last.number + int(math.Ceil(7*(bound*bound-least)/m.week)))
	} else {
		d.WideOn = r.dateOf(last.number)
	}
	tested := dayOf(m.tests[len(m.tests)-1].Date)
	end := -1
	for i := range r.days {
		if r.days[i].number > tested && len(r.days[i].readings) > 0 {
			end = i
			d.Since += len(r.days[i].readings)
		}
	}
	nan := math.NaN()
	d.Moved, d.Chance = lactate.Estimate{Value: nan, Low: nan, High: nan}, nan
	if end >= 0 {
		before := r.atLast.mean[average]
		after := r.days[end].end[shiftAnswer]
		known := r.atLast.row(average)[average] + m.drift(r.days[end].number-tested)
		moved, told := after.mean-before, known-after.variance
		d.Moved = c.bracket(moved, after.variance)
		if told > 0 {
			d.Chance = 2 * distuv.UnitNormal.CDF(-math.Abs(moved)/math.Sqrt(told))
		} else {
			d.Chance = 1
		}
		d.Disagree = d.Chance < disagree
	}
	return d
}

func (r *run) dateOf(number int) time.Time { return time.Unix(int64(number)*86400, 0).UTC() }
