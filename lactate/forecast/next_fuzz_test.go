package forecast_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// Any test under way, whatever was swum and sampled: advice whose stages go on from the fastest that was swum to the last of the test, or an
// error; never NaN.
func FuzzNext(f *testing.F) {
	f.Add(uint8(6), []byte{100, 14, 98, 15, 95, 20}, uint8(0), 0.0, 0.0, 1.0, 2.0)
	f.Add(uint8(6), []byte{}, uint8(1), 0.2, 1e-300, 5e-324, 1e300)
	f.Add(uint8(9), []byte{100, 0, 99, 0, 98, 0, 97, 0, 96, 0, 95, 0, 94, 0, 93, 0}, uint8(2), 1e300, 0.03, math.Copysign(0, -1), math.MaxFloat64)
	f.Add(uint8(4), []byte{100, 255, 70, 1}, uint8(0), 0.2, 0.03, math.Inf(1), math.NaN())
	f.Add(uint8(5), []byte{10, 20, 90, 20, 95, 40}, uint8(3), 5e-324, 0.0, 1.2, 9.0)
	f.Fuzz(func(t *testing.T, stages uint8, swum []byte, known uint8, noise, relative, lactate1, lactate2 float64) {
		if stages%16 < 2 {
			return
		}
		plan := even(int(stages%16), 352*time.Second, 300*time.Second)
		var done []lactate.Stage
		for i := range plan {
			if len(swum) < 2 {
				break
			}
			// 100 is as planned, 0 is not swum; lactate in tenths, 254 and 255 are any number.
			if swum[0] == 0 {
				break
			}
			st := over(plan[i].Duration * time.Duration(swum[0]) / 100)[0]
			switch v := swum[1]; v {
			case 254:
				st.Lactate = lactate1
			case 255:
				st.Lactate = lactate2
			default:
				st.Lactate = float64(v) / 10
			}
			done = append(done, st)
			swum = swum[2:]
		}
		e := forecast.Expected{}
		if known&0x80 != 0 {
			e.Tests = []lactate.Test{{Stages: []lactate.Stage{
				{Intensity: 1.1, Lactate: 1.2}, {Intensity: 1.2, Lactate: lactate1}, {Intensity: 1.25, Lactate: lactate2}, {Intensity: 1.35, Lactate: 9},
			}}}
		}
		a, err := forecast.Next(plan, done, e, lactate.Options{Noise: lactate.Noise{Absolute: noise, Relative: relative}}, forecast.Rules{})
		if err != nil {
			if a != nil {
				t.Fatalf("%v beside %v", a, err)
			}
			return
		}
		for _, w := range []float64{a.LT1.All, a.LT1.AllOut, a.LT2.All, a.LT2.AllOut} {
			if !(w >= 0) || math.IsInf(w, 0) {
				t.Fatalf("widths %v and %v", a.LT1, a.LT2)
			}
		}
		if len(a.Stages) != len(plan) || a.Left < 0 || a.Left > len(plan) || (a.Left == 0) != (a.Next == -1) {
			t.Fatalf("%d left of %d, next %+v", a.Left, len(a.Stages), a.Next)
		}
		for i, r := range a.Stages {
			if r.Duration <= 0 || i > 0 && i > len(plan)-a.Left && r.Duration > a.Stages[i-1].Duration {
				t.Fatalf("stages %+v", a.Stages)
			}
		}
	})
}
