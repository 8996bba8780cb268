package curve_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/steptest/lactate/curve"
)

func TestConvexShiftedRefuses(t *testing.T) {
	six := even(6, 1, 2)
	xs := append(slices.Clone(six), six...)
	rising := []float64{1, 1.1, 1.3, 2, 4, 8, 1, 1, 1.2, 1.8, 3.4, 7}
	flat := make([]float64, 12)
	for _, c := range []struct {
		name   string
		xs, ys []float64
		groups []int
		is     error
	}{
		{"no points", nil, nil, nil, curve.ErrInput},
		{"one group", xs, rising, make([]int, 12), curve.ErrInput},
		{"a gap in the groups", xs, rising, append(two(6, 5), 3), curve.ErrInput},
		{"too few groups", xs, rising, two(6, 5), curve.ErrInput},
		{"not a number", append(slices.Clone(xs[:11]), math.NaN()), rising, two(6, 6), curve.ErrInput},
		{"immense", xs, append(slices.Clone(rising[:11]), 1e300), two(6, 6), curve.ErrInput},
		{"flat", xs, flat, two(6, 6), curve.ErrUndetermined},
		{"one x in each", []float64{1, 1, 1, 2, 2, 2}, []float64{1, 2, 3, 4, 5, 6}, two(3, 3), curve.ErrUndetermined},
		{"a straight line", xs, []float64{1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6}, two(6, 6), nil},
	} {
		s := new(curve.ConvexShifted)
		err := s.Fit(c.xs, c.ys, c.groups)
		if c.is == nil {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if !errors.Is(err, c.is) || s.Groups() != 0 || s.DegreesOfFreedom() != 0 {
			t.Errorf("%s: %v, want %v; %d groups", c.name, err, c.is, s.Groups())
		}
	}
}

// Two tests that hardly share a range of lactate are far from certain; nothing is not
// a number.
func TestConvexShiftedHardlyOverlap(t *testing.T) {
	truth := func(x float64) float64 { return 1 + 7*math.Exp(14*(x-1.45)) }
	var whole float64
	for _, c := range []struct{ lo1, hi1, lo2, hi2 float64 }{
		{1.10, 1.45, 1.10, 1.45},
		{1.10, 1.25, 1.30, 1.45},
		{1.30, 1.45, 1.10, 1.25},
		{1.10, 1.20, 1.44, 1.45},
		{1.10, 1.12, 1.10, 1.12},
	} {
		var ys []float64
		xs := append(even(5, c.lo1, c.hi1), even(5, c.lo2, c.hi2)...)
		for i, x := range xs {
			ys = append(ys, truth(x)+0.1*math.Sin(7*float64(i)))
		}
		var s curve.ConvexShifted
		err := s.Fit(xs, ys, two(5, 5))
		if errors.Is(err, curve.ErrUndetermined) {
			t.Logf("%v: %v", c, err)
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		p := s.Shift(1)
		lo, hi := p.Quantile(0.05), p.Quantile(0.95)
		if math.IsNaN(lo) || math.IsNaN(hi) || !(lo < p.Mean() && p.Mean() < hi) || !(p.StdDev() > 0) {
			t.Errorf("%v: %v to %v about %v", c, lo, hi, p.Mean())
		}
		below, above := s.Open(1)
		t.Logf("%v: %.4f (%.4f to %.4f), open %v %v", c, p.Mean(), lo, hi, below, above)
		if whole == 0 {
			whole = hi - lo
		} else if !(hi-lo >= 1.5*whole) {
			t.Errorf("%v: %.4f wide, want at least 1.5 times %.4f", c, hi-lo, whole)
		}
	}
}

// Any points in any groups: as FuzzShifted.
func FuzzConvexShifted(f *testing.F) {
	f.Add(uint8(0), rawBytes(sevenStages...), []byte{0, 1, 0, 1, 0, 1, 0}, 4.0, 0.2)
	f.Add(uint8(0), rawBytes(1e300, 1, -1e300, 2, 5e-324, 9, 1, 4, 3, 3), []byte{0, 1}, 4.0, 0.2)
	f.Add(uint8(1), []byte{1, 2, 2, 3, 3, 9, 1, 3, 2, 5, 3, 30, 9, 9, 8, 8, 7, 2}, []byte{0, 0, 0, 1, 1, 1, 2}, -1.0, 1e-9)
	f.Add(uint8(2), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}, []byte{1, 0}, math.Inf(1), 1e9)
	f.Fuzz(func(t *testing.T, kind uint8, data, group []byte, weight, tilt float64) {
		values := numbers(kind, data)
		var xs, ys []float64
		var groups []int
		for ; len(values) >= 2 && len(xs) < 9; values = values[2:] {
			g := 0
			if i := len(xs); i < len(group) {
				g = int(int8(group[i])) % 3
			}
			xs, ys, groups = append(xs, values[0]), append(ys, values[1]), append(groups, g)
		}
		c := curve.ConvexShifted{Weight: weight, Tilt: tilt}
		if err := c.Fit(xs, ys, groups); err != nil {
			if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
				t.Fatal(err)
			}
			if c.Groups() != 0 {
				t.Fatalf("after %v there are %d groups", err, c.Groups())
			}
			return
		}
		d := make([]float64, c.Groups()-1)
		c.Draw(d, 0.5)
		for g := range d {
			p := c.Shift(g + 1)
			lo, hi, tail := p.Quantile(0.05), p.Quantile(0.95), p.Plus(1).Survival(0)
			if !(lo <= hi && p.StdDev() >= 0 && tail >= 0 && tail <= 1) || math.IsNaN(p.Mean()+d[g]) || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
				t.Fatalf("group %d: %v ± %v, %v to %v, drawn %v, tail %v", g+1, p.Mean(), p.StdDev(), lo, hi, d[g], tail)
			}
		}
	})
}

func BenchmarkConvexShifted(b *testing.B) {
	for _, k := range []int{2, 3, 10} {
		var xs, ys []float64
		var groups []int
		for g := range k {
			for i, y := range []float64{1.1, 1.2, 1.4, 2.1, 3.7, 7.9} {
				xs, ys, groups = append(xs, 1.10+0.07*float64(i)+0.003*float64(g)), append(ys, y+0.1*math.Sin(float64(7*(g+i)))), append(groups, g)
			}
		}
		b.Run(map[int]string{2: "groups=2", 3: "groups=3", 10: "groups=10"}[k], func(b *testing.B) {
			var c curve.ConvexShifted
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Fit(xs, ys, groups); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("quantile=plus", func(b *testing.B) {
		var c curve.ConvexShifted
		if err := c.Fit(shiftPairs[0].xs, shiftPairs[0].ys, shiftPairs[0].groups); err != nil {
			b.Fatal(err)
		}
		p := c.Shift(1).Plus(0.01)
		b.ReportAllocs()
		for b.Loop() {
			p.Quantile(0.05)
		}
	})
}
