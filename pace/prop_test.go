package pace_test

import (
	"encoding"
	"encoding/json"
	"math"
	"testing"
	"time"

	"example.com/steptest/pace"
	"pgregory.net/rapid"
)

func drawPool(t *rapid.T) pace.Pool {
	n := rapid.Float64Range(5, 200).Draw(t, "pool")
	if rapid.Bool().Draw(t, "usual") {
		n = rapid.SampledFrom([]float64{20, 25, 50, 33 + 1.0/3, 36 + 2.0/3, 18.3}).Draw(t, "n")
	}
	unit := pace.Metre
	if rapid.Bool().Draw(t, "yards") {
		unit = pace.Yard
	}
	p, err := pace.NewPool(n, unit)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func drawLength(t *rapid.T) pace.Length {
	if rapid.Bool().Draw(t, "yards") {
		return pace.Length(rapid.IntRange(1, 100000).Draw(t, "yards")) * pace.Yard
	}
	return pace.Length(rapid.Float64Range(1e-3, 1e6).Draw(t, "metres"))
}

// text and JSON give back what was written, to the last bit.
func roundTrip[T interface {
	comparable
	encoding.TextMarshaler
}, P interface {
	*T
	encoding.TextUnmarshaler
}](t *rapid.T, v T) {
	b, err := v.MarshalText()
	if err != nil {
		t.Fatalf("%v: %v", v, err)
	}
	var got T
	if err := P(&got).UnmarshalText(b); err != nil || got != v {
		t.Fatalf("%#v → %q → %#v, %v", v, b, got, err)
	}
	type holder struct {
		Value T
		Map   map[string]T
	}
	j, err := json.Marshal(holder{v, map[string]T{"x": v}})
	if err != nil {
		t.Fatal(err)
	}
	var h holder
	if err := json.Unmarshal(j, &h); err != nil || h.Value != v || h.Map["x"] != v {
		t.Fatalf("%#v → %s → %#v, %v", v, j, h, err)
	}
}

func TestPropRoundTrip(t *testing.T) {
	t.Run("length", rapid.MakeCheck(func(t *rapid.T) {
		roundTrip(t, drawLength(t))
		roundTrip(t, pace.Length(rapid.Float64Range(0, math.MaxFloat64).Draw(t, "any")))
	}))
	t.Run("speed", rapid.MakeCheck(func(t *rapid.T) {
		roundTrip(t, pace.Speed(rapid.Float64Range(0, math.MaxFloat64).Draw(t, "v")))
	}))
	t.Run("pace", rapid.MakeCheck(func(t *rapid.T) {
		roundTrip(t, pace.Pace{Time: time.Duration(rapid.Int64Range(1, math.MaxInt64/2).Draw(t, "t")), Per: drawLength(t)})
	}))
	t.Run("pool", rapid.MakeCheck(func(t *rapid.T) { roundTrip(t, drawPool(t)) }))
}

// A printed time is read back, is within half of the last printed decimal, and
// never shows 60 seconds.
func TestPropTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.Int64Range(0, math.MaxInt64/2).Draw(t, "t"))
		if rapid.Bool().Draw(t, "swim") {
			d = time.Duration(rapid.Int64Range(0, int64(2*time.Hour)).Draw(t, "swim t"))
		}
		decimals := rapid.IntRange(-1, 9).Draw(t, "decimals")
		s := pace.FormatTime(d, decimals)
		got, err := pace.ParseTime(s)
		if err != nil {
			t.Fatalf("%v prints as %q: %v", d, s, err)
		}
		off := got - d
		if off < 0 {
			off = -off
		}
		limit := time.Duration(0)
		if decimals >= 0 {
			limit = time.Duration(math.Round(0.5 * math.Pow10(9-decimals)))
		}
		if decimals == 9 {
			limit = 0
		}
		if off > limit {
			t.Fatalf("%v prints as %q, off by %v", d, s, off)
		}
		if d > 0 && decimals >= 0 && pace.FormatTime(-d, decimals) != "-"+s && got != 0 {
			t.Fatalf("-%v does not mirror %q", d, s)
		}
	})
}

// Speed and pace undo each other; a pace turned into another pool's and back
// moves by no more than the rounding to a nanosecond.
func TestPropUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := pace.Speed(rapid.Float64Range(0.3, 2.5).Draw(t, "v"))
		a, b := drawPool(t), drawPool(t)
		p := v.In(a)
		back, err := p.Speed()
		if err != nil || !(math.Abs(float64(back-v)) <= 1e-10*float64(v)) {
			t.Fatalf("%v → %v → %v, %v", float64(v), p, float64(back), err)
		}
		other, err := p.In(b.Per100())
		if err != nil {
			t.Fatal(err)
		}
		if d := other.Time - v.In(b).Time; d < -2 || d > 2 {
			t.Fatalf("%v in %v is %v by speed and %v by pace", v, b, v.In(b).Time, other.Time)
		}
		again, err := other.In(a.Per100())
		if d := again.Time - p.Time; err != nil || d < -2 || d > 2 {
			t.Fatalf("%v → %v → %v, %v", p.Time, other.Time, again.Time, err)
		}
		// 1 yd = 0.9144 m: the pace per 100 yd is 0.9144 of that per 100 m
		yd, m := v.Pace(100*pace.Yard).Time.Seconds(), v.Pace(100*pace.Metre).Time.Seconds()
		if !(math.Abs(yd-0.9144*m) <= 2e-9) {
			t.Fatalf("%v s/100 yd, %v s/100 m", yd, m)
		}
	})
}

func TestPropSplits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPool(t)
		n := rapid.IntRange(1, 400).Draw(t, "lengths")
		step := rapid.IntRange(1, 40).Draw(t, "step")
		d := time.Duration(rapid.Int64Range(1, math.MaxInt64).Draw(t, "t"))
		got, err := p.EvenSplits(p.Distance(n), d, p.Distance(step))
		if err != nil {
			t.Fatal(err)
		}
		var sum time.Duration
		for i, s := range got {
			sum += s.Lap
			if s.Time != sum || s.Lap < 0 {
				t.Fatalf("split %d: %+v, laps so far %v", i, s, sum)
			}
			if full := s.Lap - got[0].Lap; i < len(got)-1 && (full < -1 || full > 1) {
				t.Fatalf("laps %v and %v", got[0].Lap, s.Lap)
			}
		}
		if last := got[len(got)-1]; len(got) != (n+step-1)/step || last.Time != d || last.Distance != p.Distance(n) {
			t.Fatalf("%d splits, the last %+v", len(got), last)
		}
	})
}

// Swims on a straight line give the line back, in any order and any unit.
func TestPropCriticalSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.8, 1.8).Draw(t, "v")
		r := rapid.Float64Range(5, 40).Draw(t, "reserve")
		all := rapid.Permutation([]pace.Length{100, 200, 300, 400, 800, 1500}).Draw(t, "distances")
		ds := all[:rapid.IntRange(2, len(all)).Draw(t, "n")]
		bests := make([]pace.Best, len(ds))
		for i, d := range ds {
			bests[i] = pace.Best{Distance: d, Time: seconds((float64(d) - r) / v)}
		}
		c, err := pace.CriticalSpeed(bests)
		if err != nil || !within(float64(c.Speed), v, 1e-8) || !within(float64(c.Reserve), r, 1e-6) {
			t.Fatalf("%+v, %v; want %v m/s and %v m", c, err, v, r)
		}
		if len(ds) > 2 && !(c.SpeedError >= 0 && c.SpeedError < 1e-8) {
			t.Fatalf("standard error %v of an exact line", c.SpeedError)
		}
	})
}

// Rate times length is the speed over the segment.
func TestPropStroke(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := pace.Segment{
			Length: pace.Length(rapid.Float64Range(5, 30).Draw(t, "length")),
			Time:   time.Duration(rapid.Int64Range(int64(2*time.Second), int64(time.Minute)).Draw(t, "time")),
			Cycles: rapid.Float64Range(1, 40).Draw(t, "cycles"),
		}
		s, err := g.Stroke()
		v, err2 := pace.MeanSpeed(g.Length, g.Time)
		if err != nil || err2 != nil || !within(float64(s.Speed()), float64(v), 1e-12*float64(v)) {
			t.Fatalf("%+v: %v and %v, %v, %v", g, s.Speed(), v, err, err2)
		}
		if !within(s.Index(), float64(v)*float64(g.Length)/g.Cycles, 1e-11*s.Index()) {
			t.Fatalf("%+v: index %v", g, s.Index())
		}
	})
}
