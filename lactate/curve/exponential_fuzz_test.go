package curve_test

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

// Numbers that arithmetic trips over: both zeros, denormals, the ends of the
// range, neighbours of 1 to the last bit, not a number.
var nasty = []float64{
	0, math.Copysign(0, -1), 1, -1, 1 + 0x1p-52, 1 - 0x1p-53, 5e-324, -5e-324, 0x1p-1022, 1e-300, -1e-300,
	1e300, -1e300, math.MaxFloat64, -math.MaxFloat64, math.Inf(1), math.Inf(-1), math.NaN(), 1e16, 0.1, 0.3, 2, 1e-9, 1e9,
}

// numbers reads bytes as float64s: raw ones, eight bytes each; small integers,
// which makes ties and straight lines common; or picks of nasty.
func numbers(kind uint8, data []byte) (out []float64) {
	switch kind % 3 {
	case 0:
		for ; len(data) >= 8; data = data[8:] {
			out = append(out, math.Float64frombits(binary.LittleEndian.Uint64(data)))
		}
	case 1:
		for _, b := range data {
			out = append(out, float64(b))
		}
	default:
		for _, b := range data {
			out = append(out, nasty[int(b)%len(nasty)])
		}
	}
	return out
}

func rawBytes(values ...float64) (out []byte) {
	for _, v := range values {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	return out
}

// sevenStages is an invented test, x after y.
var sevenStages = []float64{1.15, 1.4, 1.18, 1.5, 1.22, 1.7, 1.26, 1.8, 1.3, 2.7, 1.34, 4.6, 1.4, 9.1}

// Any points and weights: no panic; an error of the two kinds and the zero
// curve, or numbers at every point; features inside the interval asked about.
func FuzzExponential(f *testing.F) {
	f.Add(uint8(0), rawBytes(sevenStages...), false)
	f.Add(uint8(0), rawBytes(1e300, 1, -1e300, 2, 5e-324, 9), false)
	f.Add(uint8(0), rawBytes(-1, 1, 0, 2, 5e-324, 9), false)
	f.Add(uint8(0), rawBytes(1, 1, 1+0x1p-52, 2, 1+0x1p-51, 9), false)
	f.Add(uint8(1), []byte{1, 2, 3, 2, 3, 1, 3, 9, 2, 4, 30, 1}, true)
	f.Add(uint8(2), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}, true)
	f.Fuzz(func(t *testing.T, kind uint8, data []byte, weighted bool) {
		values := numbers(kind, data)
		per := 2
		if weighted {
			per = 3
		}
		var xs, ys, ws []float64
		for ; len(values) >= per && len(xs) < 100; values = values[per:] {
			xs, ys = append(xs, values[0]), append(ys, values[1])
			if weighted {
				ws = append(ws, values[2])
			}
		}
		var e curve.Exponential
		if err := e.FitWeighted(xs, ys, ws); err != nil {
			if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
				t.Fatal(err)
			}
			if e.A != 0 || e.B != 0 || e.C != 0 || e.RSS() != 0 {
				t.Fatalf("after %v the curve is %v", err, e)
			}
			return
		}
		if !(e.RSS() >= 0) || e.C == 0 || e.B == 0 {
			t.Fatalf("A %v, B %v, C %v, RSS %v", e.A, e.B, e.C, e.RSS())
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range xs {
			lo, hi = min(lo, x), max(hi, x)
			if y := e.Predict(x); math.IsNaN(y) || math.IsInf(y, 0) {
				t.Fatalf("A %v, B %v, C %v predicts %v at %v", e.A, e.B, e.C, y, x)
			}
		}
		if x, y := e.Minimum(lo, hi); !(x >= lo && x <= hi) || math.IsNaN(y) {
			t.Fatalf("minimum %v at %v of %v to %v", y, x, lo, hi)
		}
		for _, v := range append(ys, nasty...) {
			if x, ok := e.Upcrossing(v, lo, hi); ok && !(x >= lo && x <= hi) {
				t.Fatalf("level %v at %v of %v to %v", v, x, lo, hi)
			}
			if x, ok := e.FarthestBelow(v, lo, hi); ok && !(x > lo && x < hi) {
				t.Fatalf("slope %v at %v of %v to %v", v, x, lo, hi)
			}
		}
	})
}

// Any points in any groups: as FuzzExponential.
func FuzzShifted(f *testing.F) {
	f.Add(uint8(0), rawBytes(sevenStages...), []byte{0, 1, 0, 1, 0, 1, 0})
	f.Add(uint8(0), rawBytes(1e300, 1, -1e300, 2, 5e-324, 9, 1, 4, 3, 3), []byte{0, 1})
	f.Add(uint8(1), []byte{1, 2, 2, 3, 3, 9, 1, 3, 2, 5, 3, 30, 9, 9, 8, 8, 7, 2}, []byte{0, 0, 0, 1, 1, 1, 2})
	f.Add(uint8(2), []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}, []byte{1, 0})
	f.Fuzz(func(t *testing.T, kind uint8, data, group []byte) {
		values := numbers(kind, data)
		var xs, ys []float64
		var groups []int
		for ; len(values) >= 2 && len(xs) < 100; values = values[2:] {
			g := 0
			if i := len(xs); i < len(group) {
				g = int(int8(group[i])) % 6
			}
			xs, ys, groups = append(xs, values[0]), append(ys, values[1]), append(groups, g)
		}
		var s curve.Shifted
		if err := s.Fit(xs, ys, groups); err != nil {
			if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
				t.Fatal(err)
			}
			if s.A != 0 || s.B != 0 || s.C != 0 || len(s.Shifts) != 0 || s.RSS() != 0 || s.Predict(1, 0) != 0 {
				t.Fatalf("after %v the curve is %v", err, s)
			}
			return
		}
		if !(s.RSS() >= 0) || s.C == 0 || s.B == 0 || s.Shifts[0] != 0 {
			t.Fatalf("A %v, B %v, C %v, shifts %v, RSS %v", s.A, s.B, s.C, s.Shifts, s.RSS())
		}
		for _, v := range s.Shifts {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("shifts %v", s.Shifts)
			}
		}
		for i, x := range xs {
			if y := s.Predict(x, groups[i]); math.IsNaN(y) || math.IsInf(y, 0) {
				t.Fatalf("A %v, B %v, C %v, shifts %v predicts %v at %v", s.A, s.B, s.C, s.Shifts, y, x)
			}
		}
	})
}
