package protocol_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Any test under way, whatever was swum and sampled, by any aim: advice whose
// repeats go on from the fastest that was swum to the last of the plan, or an
// error; never NaN.
func FuzzNextRepeat(f *testing.F) {
	f.Add(uint8(6), []byte{100, 14, 98, 15, 95, 20}, uint8(0), 0.0, 0.0, 1.0, 2.0)
	f.Add(uint8(6), []byte{}, uint8(1), 0.2, 1e-300, 5e-324, 1e300)
	f.Add(uint8(9), []byte{100, 0, 99, 0, 98, 0, 97, 0, 96, 0, 95, 0, 94, 0, 93, 0}, uint8(2), 1e300, 0.03, math.Copysign(0, -1), math.MaxFloat64)
	f.Add(uint8(4), []byte{100, 255, 70, 1}, uint8(0), 0.2, 0.03, math.Inf(1), math.NaN())
	f.Add(uint8(5), []byte{10, 20, 90, 20, 95, 40}, uint8(3), 5e-324, 0.0, 1.2, 9.0)
	f.Fuzz(func(t *testing.T, repeats uint8, swum []byte, aim uint8, noise, relative, lactate1, lactate2 float64) {
		plan, err := protocol.NewPlan(protocol.Request{
			Pool: pace.SCM(), Distance: 400, Repeats: int(repeats % 16), Best: 300 * time.Second, Start: pace.Must(pace.ParsePace("1:28/100 m")),
		})
		if err != nil {
			return
		}
		rec := plan.Record()
		rec.Swimmer, rec.Date = "Robin Vale", time.Date(2025, 1, 18, 0, 0, 0, 0, time.UTC)
		for i := range rec.Repeats {
			if len(swum) < 2 {
				break
			}
			// 100 is as planned; lactate in tenths, 254 and 255 are any number.
			rec.Repeats[i].Time = plan.Repeats[i].Time * time.Duration(swum[0]) / 100
			switch v := swum[1]; v {
			case 254:
				rec.Repeats[i].Lactate = lactate1
			case 255:
				rec.Repeats[i].Lactate = lactate2
			default:
				rec.Repeats[i].Lactate = float64(v) / 10
			}
			swum = swum[2:]
		}
		e := protocol.Expected{}
		if aim&0x80 != 0 {
			e.Tests = []lactate.Test{{Stages: []lactate.Stage{
				{Intensity: 1.1, Lactate: 1.2}, {Intensity: 1.2, Lactate: lactate1}, {Intensity: 1.25, Lactate: lactate2}, {Intensity: 1.35, Lactate: 9},
			}}}
		}
		a, err := plan.NextRepeat(rec, protocol.Aim(aim&0x7f), e, lactate.Options{Noise: lactate.Noise{Absolute: noise, Relative: relative}}, protocol.Rules{})
		if err != nil {
			if a != nil {
				t.Fatalf("%v beside %v", a, err)
			}
			return
		}
		if !(a.Width >= 0 && a.AllOutWidth >= 0) || math.IsInf(a.Width, 0) || math.IsInf(a.AllOutWidth, 0) {
			t.Fatalf("widths %v and %v", a.Width, a.AllOutWidth)
		}
		if len(a.Plan.Repeats) != len(plan.Repeats) || a.Left < 0 || a.Left > len(plan.Repeats) || (a.Left == 0) != (a.Next.Number == 0) {
			t.Fatalf("%d left of %d, next %+v", a.Left, len(a.Plan.Repeats), a.Next)
		}
		for i, r := range a.Plan.Repeats {
			if r.Time <= 0 || i > 0 && i > len(plan.Repeats)-a.Left && r.Time > a.Plan.Repeats[i-1].Time {
				t.Fatalf("repeats %+v", a.Plan.Repeats)
			}
		}
	})
}
