package curve_test

import (
	"errors"
	"testing"

	"example.com/steptest/lactate/curve"
)

// No input panics; every fit is an error of the two kinds, or of finite
// numbers, with joins where they may be. Raw reads any float64s, otherwise
// bytes are small integers, which makes ties and straight lines common.
func FuzzRegression(f *testing.F) {
	f.Add([]byte{1, 2, 2, 2, 3, 3, 3, 4, 5, 4, 5, 9, 5, 6, 20, 6, 7, 50, 7, 8, 99}, int8(3), false, true)
	f.Add([]byte{1, 2, 2, 3, 3, 4, 4, 6, 5, 9, 6, 20, 7, 50}, int8(5), false, false)
	f.Add(rawBytes(1.15, 1.4, 1.18, 1.5, 1.22, 1.7, 1.26, 1.8, 1.3, 2.7, 1.34, 4.6, 1e300, -1e300), int8(2), true, false)
	f.Fuzz(func(t *testing.T, data []byte, degree int8, raw, weighted bool) {
		if len(data) > 600 {
			return
		}
		kind := uint8(1)
		if raw {
			kind = 0
		}
		values := numbers(kind, data)
		per := 2
		if weighted {
			per = 3
		}
		var xs, ys, ws []float64
		for ; len(values) >= per; values = values[per:] {
			xs, ys = append(xs, values[0]), append(ys, values[1])
			if weighted {
				ws = append(ws, values[2])
			}
		}
		for _, r := range []regression{&curve.Polynomial{Degree: int(degree)}, &curve.BrokenLine{}, &curve.ThreeLine{}} {
			if err := r.FitWeighted(xs, ys, ws); err != nil {
				if !errors.Is(err, curve.ErrInput) && !errors.Is(err, curve.ErrUndetermined) {
					t.Fatalf("%T: %v", r, err)
				}
				continue
			}
			if !(r.RSS() >= 0) {
				t.Fatalf("%T: RSS %v", r, r.RSS())
			}
			assertFinite(t, r, xs)
			z := different(xs)
			switch r := r.(type) {
			case *curve.BrokenLine:
				if !(r.Join >= z[1] && r.Join <= z[len(z)-2]) {
					t.Fatalf("join at %v of %v", r.Join, z)
				}
			case *curve.ThreeLine:
				if !feasible(z, r.Lower, r.Upper) {
					t.Fatalf("joins at %v and %v of %v", r.Lower, r.Upper, z)
				}
			}
		}
	})
}
