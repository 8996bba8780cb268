package between_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
)

// The long form, whose table stands in testdata/README.md, is run by
//
//	go test ./lactate/between -run Simulated -v -long -timeout 60m
var long = flag.Bool("long", false, "run the simulations in their long form")

// A swimmer is simulated: tests every seven weeks, two readings a week near LT2 from the
// first test until the day before the next one.
type swimmer struct {
	curve  func(u float64) float64
	drift  float64 // true, share of speed per √week
	offset func(rng *rand.Rand) [3]float64
	tests  int
	wrong  float64 // share of readings that are drawn from nowhere
}

const (
	speed = 1.3 // of the reference, m/s
	gap   = 49  // days between tests
)

var kinds = [3]string{"4 × 400 on 6:30", "8 × 200 on 3:15", "3 × 600 on 10:00"}

func exponential(u float64) float64 { return 1 + math.Exp(16*(u-1.275)) }

// A two-line curve with a rounded corner.
func hinge(u float64) float64 { return 1.1 + 0.9*math.Log1p(math.Exp((u-1.235)/0.025)) }

func normalOffsets(sd float64) func(*rand.Rand) [3]float64 {
	return func(rng *rand.Rand) (o [3]float64) {
		for i := range o {
			o[i] = sd * rng.NormFloat64()
		}
		return o
	}
}

func sample(rng *rand.Rand, y float64) float64 {
	return max(math.Round(10*(y+math.Hypot(0.2, 0.03*y)*rng.NormFloat64()))/10, 0.1)
}

// simulate returns tests, readings, the day before the next test and the true shift then.
func (s swimmer) simulate(rng *rand.Rand) (tests []lactate.DatedTest, readings []between.Reading, eve time.Time, truth float64) {
	start := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
	offsets := s.offset(rng)
	place, first := 0.0, 0.0
	for day := range s.tests * gap {
		date := start.AddDate(0, 0, day)
		if day > 0 {
			place += s.drift * speed * math.Sqrt(1./7) * rng.NormFloat64()
		}
		of := 0.008 * speed * rng.NormFloat64()
		if day%gap == 0 {
			if day == 0 {
				first = place + of
			}
			var t lactate.Test
			for i := range 6 {
				x := 1.12 + 0.056*float64(i)
				t.Stages = append(t.Stages, lactate.Stage{Intensity: x, Lactate: sample(rng, s.curve(x-place-of))})
			}
			tests = append(tests, lactate.DatedTest{Date: date, Test: t})
		} else if day%7 == 2 || day%7 == 5 {
			x := speed + place + 0.01*rng.NormFloat64()
			k := rng.IntN(3)
			y := sample(rng, s.curve(x-place-of)+offsets[k])
			if rng.Float64() < s.wrong {
				y = 1 + 7*rng.Float64()
			}
			readings = append(readings, between.Reading{Date: date, Intensity: x, Lactate: y, Kind: kinds[k]})
		}
	}
	return tests, readings, start.AddDate(0, 0, s.tests*gap-1), place - first
}

// Kind D: coverage, width and bias of the place on the day before the next test, and how
// many readings are news.
func TestSimulated(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	n := 10
	if *long {
		n = 400
	}
	fixed := func(*rand.Rand) [3]float64 { return [3]float64{0.3, 0.3, 0.3} }
	for k, c := range []struct {
		name    string
		swimmer swimmer
		least   float64 // coverage
		most    float64
	}{
		{"as stated", swimmer{exponential, 0.005, normalOffsets(0.5), 4, 0}, 87, 93},
		{"as stated, hinge", swimmer{hinge, 0.005, normalOffsets(0.5), 4, 0}, 87, 93},
		{"drift half of stated", swimmer{exponential, 0.0025, normalOffsets(0.5), 4, 0}, 82, 100},
		{"drift twice the stated", swimmer{exponential, 0.01, normalOffsets(0.5), 4, 0}, 82, 100},
		{"offsets of 0.3", swimmer{exponential, 0.005, fixed, 4, 0}, 87, 93},
		{"offsets of 0.3, hinge", swimmer{hinge, 0.005, fixed, 4, 0}, 87, 93},
		{"two tests", swimmer{exponential, 0.005, normalOffsets(0.3), 2, 0}, 87, 96},
		{"one reading in 30 wrong", swimmer{exponential, 0.005, normalOffsets(0.3), 4, 1. / 30}, 75, 100},
	} {
		rng := rand.New(rand.NewPCG(uint64(k), 20))
		var covered, alone, news, judged, due int
		var width, without, bias, square float64
		for range n {
			tests, readings, eve, truth := c.swimmer.simulate(rng)
			m, err := between.New(tests, between.Options{})
			if err != nil {
				t.Fatal(err)
			}
			course, err := m.Follow(readings)
			if err != nil {
				t.Fatal(err)
			}
			with, by := course.At(eve).Shift, course.ByTests(eve).Shift
			if with.Low <= truth && truth <= with.High {
				covered++
			}
			if by.Low <= truth && truth <= by.High {
				alone++
			}
			width += (with.High - with.Low) / float64(n)
			without += (by.High - by.Low) / float64(n)
			bias += (with.Value - truth) / float64(n)
			square += (with.Value - truth) * (with.Value - truth) / float64(n)
			for _, r := range course.Readings {
				if !math.IsNaN(r.Percentile) {
					judged++
				}
				if r.News {
					news++
				}
			}
			if course.Due(eve).Disagree {
				due++
			}
		}
		share := func(hits, of int) float64 { return 100 * float64(hits) / float64(of) }
		line := fmt.Sprintf("%-26s bracket %.4f m/s (tests alone %.4f): %2.0f %% narrower; holds %.1f %% (%.1f); bias %+.4f; rms %.4f; news %.1f %%; disagree %.1f %%",
			c.name, width, without, 100*(1-width/without), share(covered, n), share(alone, n), bias, math.Sqrt(square), share(news, judged), share(due, n))
		t.Log(line)
		// Three standard errors of a share of 90 % of n, none if n is large.
		slack := 0.0
		if !*long {
			slack = 300 * math.Sqrt(0.09/float64(n))
		}
		if got := share(covered, n); !(got >= c.least-slack && got <= c.most+slack) {
			t.Errorf("%s: brackets hold %.1f %%, want %v to %v", c.name, got, c.least, c.most)
		}
		if c.name == "as stated" && !(width <= 0.65*without) {
			t.Errorf("%s: bracket %.4f, want 35 %% narrower than %.4f", c.name, width, without)
		}
		if limit := 0.003 + 3*math.Sqrt(square/float64(n)); c.swimmer.wrong == 0 && !(math.Abs(bias) <= limit) {
			t.Errorf("%s: bias %.4f m/s, want at most %.4f", c.name, bias, limit)
		}
	}
}
