package protocol

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// Bounds of what looks like a slip. They are ours: wider than what steps,
// watches and hearts do in healthy swimmers.
const (
	outOfLine  = 0.15 // of the speed that the other repeats lead to
	closeBy    = 0.06 // of that speed: a reading that explains the slip
	beatsOff   = 15   // from the heart rate that the other repeats lead to [1/min]
	beatsClose = 9    // a reading that explains the slip [1/min]
	mostBeats  = 220  // [1/min]
	// A swap of digits explains a time off by as much as this to within aSwap.
	swapped, aSwap = 0.08, 0.02
	slowest        = 0.4 // a speed at which nobody swims a step test [m/s]
	inMilligrams   = 8.0 // the lowest sample of a test, if its samples are in mg/dL
)

// reviewSlips names values that look like a slip of the pen, with what was
// likely meant. Each is judged by the line that the other repeats lead to.
func (r Record) reviewSlips(out *review) {
	if r.reviewPaces(out) || r.reviewSlow(out) {
		return // one slip in all times
	}
	if r.reviewUnit(out) {
		return // one in all samples
	}
	tell := func(kind lactate.WarningKind, slips []slip, what string) {
		if len(slips) >= 3 {
			out.add(kind, nil, "", "%s of %d repeats are out of line with the others: are they of these repeats, in this order?", what, len(slips))
			return
		}
		for _, s := range slips {
			out.add(kind, []int{s.number}, "", s.words, s.values...)
		}
	}
	tell(WarnOddTime, r.timeSlips(), "the times")
	tell(lactate.WarnOddHeartRate, r.beatSlips(), "the heart rates")
	tell(lactate.WarnOddSample, r.pointSlips(), "the samples")
}

// slip is a value that looks wrong. Its values are what was found, what the others lead
// to, and what was likely meant, if that is known.
type slip struct {
	number int // of the repeat
	words  string
	values []any
}

// asking adds the question to the words.
func (s slip) asking(likely string, meant bool, otherwise string) slip {
	if meant {
		s.words += "; was %s meant?"
		s.values = append(s.values, likely)
	} else {
		s.words += "; " + otherwise
	}
	return s
}

// fastest returns a speed that nobody has swum over the distance [m/s]: a little
// above the world records of short pools (from memory).
func fastest(d pace.Length) float64 {
	switch m := d.Metres(); {
	case m < 70:
		return 2.7
	case m < 150:
		return 2.4
	case m < 300:
		return 2.15
	}
	return 2.0
}

// reviewPaces looks for times that nobody has swum, which are likely paces per
// 100. It reports whether all times are.
func (r Record) reviewPaces(out *review) bool {
	var fast []Repeat
	swum := 0
	for _, rep := range r.Repeats {
		v, err := rep.Speed()
		if err != nil {
			continue
		}
		if swum++; v.MetresPerSecond() > fastest(rep.Distance) {
			fast = append(fast, rep)
		}
	}
	const means = "faster than people swim: is it a pace per 100? The time would be %s"
	if swum > 1 && len(fast) == swum {
		out.add(WarnOddTime, nil, "", "every time is "+means+" for repeat %d", r.fromPace(fast[0]), fast[0].Number)
		return true
	}
	for _, rep := range fast {
		out.add(WarnOddTime, []int{rep.Number}, "", "%s for %s is "+means, pace.FormatTime(rep.Time, -1), rep.Distance, r.fromPace(rep))
	}
	return false
}

// reviewSlow reports whether all repeats are too slow to be swum: then the distance is wrong.
func (r Record) reviewSlow(out *review) bool {
	fastest, of := 0.0, pace.Length(0)
	for _, rep := range r.Repeats {
		if v, err := rep.Speed(); err == nil && v.MetresPerSecond() > fastest {
			fastest, of = v.MetresPerSecond(), rep.Distance
		}
	}
	if !(fastest > 0 && fastest < slowest) {
		return false
	}
	out.add(WarnOddTime, nil, "", "no repeat is faster than %s over %s, and a step test is: was %s meant?", pace.Speed(fastest).In(r.Pool).String(), of, "another distance")
	return true
}

// reviewUnit reports whether all samples are so high that they are likely in mg/dL; 1 mmol/L
// of lactate is 9.01 of them, by its molar mass.
func (r Record) reviewUnit(out *review) bool {
	least, n := math.Inf(1), 0
	for _, rep := range r.Repeats {
		if rep.Lactate > 0 {
			least, n = min(least, rep.Lactate), n+1
		}
	}
	if n < 3 || least < inMilligrams {
		return false
	}
	out.add(lactate.WarnOddSample, nil, "", "no sample is below %s, which would be %.1f divided by 9.01: were %s meant?", fmt.Sprintf("%.1f mmol/L", least), least/9.01, "mg/dL")
	return true
}

// fromPace returns the time of a repeat whose time is a pace per 100.
func (r Record) fromPace(rep Repeat) string {
	x := float64(rep.Distance / r.Pool.Per100())
	return pace.FormatTime(time.Duration(x*float64(rep.Time)).Round(100*time.Millisecond), -1)
}

// timeSlips finds repeats whose speed is far from what the others lead to.
func (r Record) timeSlips() []slip {
	var x, y []float64
	var of []Repeat
	for _, rep := range r.Repeats {
		if v, err := rep.Speed(); err == nil && v.MetresPerSecond() <= fastest(rep.Distance) {
			x, y, of = append(x, float64(rep.Number)), append(y, math.Log(v.MetresPerSecond())), append(of, rep)
		}
	}
	var out []slip
	for i, rep := range of {
		want, ok := ledTo(x, y, i)
		off := y[i] - want
		if !ok || !(math.Abs(off) > swapped) {
			continue
		}
		expected := pace.Speed(math.Exp(want)).Time(rep.Distance)
		near := closeBy
		if math.Abs(off) <= outOfLine {
			near = aSwap
		}
		t, ok := likelyTime(rep.Time, expected, near)
		if !ok && math.Abs(off) <= outOfLine {
			continue
		}
		out = append(out, slip{rep.Number, "%s is out of line: the other repeats lead to about %s",
			[]any{pace.FormatTime(rep.Time, -1), pace.FormatTime(expected, 0)}}.asking(pace.FormatTime(t, -1), ok, "is the time right?"))
	}
	return out
}

// likelyTime returns a time that is one slip away from the one found, and near
// the one expected.
func likelyTime(t, expected time.Duration, near float64) (time.Duration, bool) {
	const minute, hundred = time.Minute, 100 * time.Second
	var all []time.Duration
	if colon, ok := pace.WithColon(t); ok { // 551.7 for 5:51.7
		all = append(all, colon)
	}
	rest := t % minute
	all = append(all, t/minute*hundred+rest) // 5:51.7 for 551.7
	tens, ones := rest/(10*time.Second), rest%(10*time.Second)/time.Second
	if ones < 6 { // 5:15.7 for 5:51.7
		all = append(all, t-rest+ones*10*time.Second+tens*time.Second+rest%time.Second)
	}
	for _, by := range []time.Duration{minute, -minute, 2 * minute, -2 * minute} {
		all = append(all, t+by)
	}
	for _, c := range all {
		if c > 0 && math.Abs(math.Log(float64(c)/float64(expected))) < near {
			return c, true
		}
	}
	return 0, false
}

// beatSlips finds heart rates that are far from what the others lead to, or
// that hearts do not reach.
func (r Record) beatSlips() []slip {
	var x, y []float64
	var of []Repeat
	for _, rep := range r.Repeats {
		if rep.HeartRate > 0 && rep.Time > 0 {
			x, y, of = append(x, float64(rep.Number)), append(y, rep.HeartRate), append(of, rep)
		}
	}
	var out []slip
	for i, rep := range of {
		want, ok := ledTo(x, y, i)
		switch {
		case ok && math.Abs(y[i]-want) > beatsOff || y[i] > mostBeats:
		default:
			continue
		}
		s := slip{rep.Number, "a heart rate of %.0f /min is out of line", []any{rep.HeartRate}}
		if y[i] > mostBeats {
			s.words = "a heart rate of %.0f /min is hardly one"
		}
		if ok {
			s.words += ": the other repeats lead to about %.0f"
			s.values = append(s.values, want)
			v, found := likelyBeats(rep.HeartRate, want)
			s = s.asking(fmt.Sprintf("%.0f", v), found, "is it right?")
		}
		out = append(out, s)
	}
	return out
}

// likelyBeats returns a heart rate near the one expected, whose digits are those
// found, with two exchanged or the first one added.
func likelyBeats(found, expected float64) (float64, bool) {
	digits := []byte(strconv.FormatFloat(found, 'f', 0, 64))
	near := func(b []byte) (float64, bool) {
		v, err := strconv.ParseFloat(string(b), 64)
		return v, err == nil && math.Abs(v-expected) <= beatsClose
	}
	for i := len(digits) - 1; i > 0; i-- {
		b := slices.Clone(digits)
		b[i], b[i-1] = b[i-1], b[i]
		if v, ok := near(b); ok {
			return v, true
		}
	}
	return near(append([]byte{'1'}, digits...)) // 64 for 164
}

// ledTo returns what the other points lead to at point i: the line through them
// with the median of their slopes (Theil 1950, from memory), which one slip among
// them does not bend. It needs three of them. A line does not fall.
func ledTo(x, y []float64, i int) (float64, bool) {
	var slopes, levels []float64
	for j := range x {
		for k := range j {
			if j != i && k != i && x[j] != x[k] {
				slopes = append(slopes, (y[j]-y[k])/(x[j]-x[k]))
			}
		}
	}
	if len(slopes) < 3 {
		return 0, false
	}
	slope := max(median(slopes), 0)
	for j := range x {
		if j != i {
			levels = append(levels, y[j]-slope*x[j])
		}
	}
	return median(levels) + slope*x[i], true
}

func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}
