package forecast_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// D: what is known of 4 mmol/L after one test is the mean and the standard deviation
// of the posterior, here by adding up prior times likelihood over a dense grid of A,
// P and C: no Kalman update, and no cubature. The day moves the curve as a whole.
func TestPosteriorByGrid(t *testing.T) {
	p := sixOf400()
	for _, s := range []swimmer{{1.1, 9, 15.5}, {0.8, 11, 20}, {1.4, 7, 12}} {
		test := s.test(p, 0)
		test.Stages[1].Lactate += 0.2 // off the curve, so that the order of samples could matter
		test.Stages[4].Lactate -= 0.3
		o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}}
		const day = 0.0005
		out, err := forecast.Of(p, forecast.Expected{Tests: []lactate.Test{test}, DayToDay: day}, o)
		if err != nil {
			t.Fatal(err)
		}
		first, last := test.Stages[0].Intensity, test.Stages[5].Intensity
		noise := lactate.DefaultNoise()
		var sum, mean, square float64
		for i := -50; i <= 50; i++ {
			z := 2.5 * float64(i) / 50 // of ln C: 11 to 22 per m/s are one standard deviation either side
			c := math.Sqrt(11*22) * math.Exp(z*math.Log(2)/2)
			for j := -40; j <= 40; j++ {
				a := 1.1 + 0.3*4*float64(j)/40
				for k := -60; k <= 60; k++ {
					end := s.final + 3*float64(k)/60
					log := -z*z/2 - (a-1.1)*(a-1.1)/(2*0.3*0.3) - (end-9)*(end-9)/(2*10*10)
					for _, st := range test.Stages {
						sd := noise.Stage(st, st.Lactate, c*max(st.Lactate-1.1, 0))
						off := (st.Lactate - a - (end-a)*math.Exp(c*(st.Intensity-last))) / sd
						log -= math.Log(sd) + off*off/2
					}
					w := math.Exp(log)
					x := last + math.Log((4-a)/(end-a))/c
					sum, mean, square = sum+w, mean+w*x, square+w*x*x
				}
			}
		}
		mean /= sum
		days := math.Sqrt2 * day * (first + last) / 2
		sd := math.Sqrt(square/sum - mean*mean + days*days)
		t.Logf("%+v: %.5f ± %.5f m/s, by the grid %.5f ± %.5f", s, out.LT2.Speed.Value, out.LT2.Unknown, mean, sd)
		if !(math.Abs(out.LT2.Speed.Value-mean) <= 2e-5) || !(math.Abs(out.LT2.Unknown/sd-1) <= 0.01) {
			t.Errorf("%+v: %.5f ± %.5f m/s, by the grid %.5f ± %.5f", s, out.LT2.Speed.Value, out.LT2.Unknown, mean, sd)
		}
	}
}
