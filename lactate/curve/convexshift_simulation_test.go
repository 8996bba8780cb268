package curve_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/stat/distuv"
)

// The long form, whose table stands in testdata/README.md, is run by
//
//	go test ./lactate/curve -run SimulatedShifts -v -simulate 2000 -timeout 5h
var simulate = flag.Int("simulate", 0, "number of simulated pairs in each cell of the simulations")

// A shiftTruth makes a curve to draw a pair of tests from: 1.10 to 1.45 m/s, from
// about 1 to about 8 mmol/L, and beyond both ends as far as stages and curves move.
type shiftTruth struct {
	name string
	make func(rng *rand.Rand) func(x float64) float64
}

func scaled(x float64) float64 { return (x - 1.10) / 0.35 }

func fixed(f func(u float64) float64) func(*rand.Rand) func(float64) float64 {
	return func(*rand.Rand) func(float64) float64 {
		return func(x float64) float64 { return f(scaled(x)) }
	}
}

// soft is a hinge at zero, rounded over about 3·width.
func soft(u, width float64) float64 {
	if u > 30*width {
		return u
	}
	return width * math.Log1p(math.Exp(u/width))
}

var shiftTruths = []shiftTruth{
	{"exponential", fixed(func(u float64) float64 { return 1 + 7*math.Exp(4.9*(u-1)) })},
	{"convex cubic", fixed(func(u float64) float64 { p := max(u, 0); return 1.1 + 0.3*u + 6.6*p*p*p })},
	{"two lines", fixed(func(u float64) float64 { return 1.1 + 0.5*u + 12*max(0, u-0.45) })},
	{"bent cable", fixed(func(u float64) float64 { // a parabola from 0.35 to 0.65 between two lines
		b := min(max(u-0.35, 0), 0.3)
		return 1.1 + 0.3*u + 13*(b*b/0.6+max(0, u-0.65))
	})},
	{"soft hinge", fixed(func(u float64) float64 { return 1.1 + 14*soft(u-0.5, 0.08) })},
	{"early dip", fixed(func(u float64) float64 { p := max(u, 0); return 1.1 + 0.5*math.Exp(-u/0.12) + 6.8*p*p*p*p })},
	{"random convex", func(rng *rand.Rand) func(float64) float64 {
		const hinges = 4
		var at, width, weight [hinges]float64
		for i := range at {
			at[i], width[i], weight[i] = 0.1+0.85*rng.Float64(), 0.005+0.1*rng.Float64(), rng.ExpFloat64()
		}
		sum := func(u float64) float64 {
			y := 0.0
			for i := range at {
				y += weight[i] * soft(u-at[i], width[i])
			}
			return y
		}
		lowest, tilt := sum(0), 0.2*rng.NormFloat64()
		rise := (5 + 3*rng.Float64()) / (sum(1) - lowest)
		return func(x float64) float64 {
			u := scaled(x)
			return 1.2 + tilt*u + rise*(sum(u)-lowest)
		}
	}},
	{"power", fixed(func(u float64) float64 { return 0.9 + 7*math.Pow((1.1+0.35*u)/1.45, 19) })},
	{"parabola", fixed(func(u float64) float64 { p := max(u, 0); return 1.1 + 7*p*p })},
}

// A shiftCell is what a pair of simulated tests is made with.
type shiftCell struct {
	truth  shiftTruth
	stages int
	factor float64 // noise beside 0.2 mmol/L and 3 %
	moved  float64 // stages of the second test
}

func (s shiftCell) String() string {
	return fmt.Sprintf("%-13s %d stages, noise %.1f, moved %.2f", s.truth.name, s.stages, s.factor, s.moved)
}

// draw makes two tests; the curves of both are drawn anew.
func (s shiftCell) draw(rng *rand.Rand, first, second float64) (xs, ys []float64, groups []int) {
	f := s.truth.make(rng)
	for g, shift := range []float64{first, second} {
		for i := range s.stages {
			x := 1.10 + 0.35*float64(i)/float64(s.stages-1) + float64(g)*s.moved
			y := f(x - shift)
			y += s.factor * math.Hypot(0.2, 0.03*y) * rng.NormFloat64()
			xs, ys, groups = append(xs, x), append(ys, max(math.Round(10*y)/10, 0.1)), append(groups, g)
		}
	}
	return xs, ys, groups
}

// count is a share in per cent.
type count struct{ hits, of int }

func (c *count) add(hit bool) {
	c.of++
	if hit {
		c.hits++
	}
}

func (c count) share() float64 { return 100 * float64(c.hits) / float64(max(c.of, 1)) }

// Kind D: what is said with 95 % is right in at least 94 % where nothing has
// moved, 90 % intervals hold the shift, and the probabilities are what they say, on
// nine shapes.
func TestSimulatedShifts(t *testing.T) {
	n := *simulate
	if n == 0 {
		n = 10
	}
	if testing.Short() {
		t.Skip("simulation")
	}
	const day = 0.008 * 1.33
	deltas := []float64{0, 0.01, 0.02, 0.04}
	var c curve.ConvexShifted
	refused := 0
	var all [2]count
	for k := range len(shiftTruths) * 8 {
		cell := shiftCell{shiftTruths[k/8], []int{6, 8}[k%2], []float64{1, 0.5}[k/2%2], []float64{0, 0.03}[k/4%2]}
		rng := rand.New(rand.NewPCG(uint64(k), 5))
		// each fits n pairs, and hands over the posterior and the true shift.
		each := func(first, second func() float64, do func(p curve.ShiftPosterior, truth float64)) {
			for range n {
				a, b := first(), second()
				if err := c.Fit(cell.draw(rng, a, b)); err != nil {
					refused++
					continue
				}
				do(c.Shift(1), b-a)
			}
		}
		fix := func(v float64) func() float64 { return func() float64 { return v } }
		normal := func(sd float64) func() float64 { return func() float64 { return sd * rng.NormFloat64() } }
		var right, left, daysRight, daysLeft, sure, seen, daysSeen count
		var bias, width, stated, daysStated float64
		var covers [4]count
		for i, delta := range deltas {
			each(fix(0), fix(delta), func(p curve.ShiftPosterior, truth float64) {
				covers[i].add(p.Quantile(0.05) <= truth && truth <= p.Quantile(0.95))
				if delta == 0 {
					right.add(p.Survival(0) > 0.95)
					left.add(p.Survival(0) < 0.05)
					bias += p.Mean() / float64(n)
					width += p.StdDev() / float64(n)
					stated += smallestSeen(p) / float64(n)
				}
			})
		}
		each(fix(0), normal(0.02), func(p curve.ShiftPosterior, truth float64) {
			if v := p.Survival(0); v >= 0.88 && v <= 0.92 || v >= 0.08 && v <= 0.12 {
				sure.add((v > 0.5) == (truth > 0))
				all[k/2%2].add((v > 0.5) == (truth > 0))
			}
		})
		each(normal(day), normal(day), func(p curve.ShiftPosterior, _ float64) {
			p = p.Plus(math.Sqrt2 * day)
			daysRight.add(p.Survival(0) > 0.95)
			daysLeft.add(p.Survival(0) < 0.05)
			daysStated += smallestSeen(p) / float64(n)
		})
		each(normal(day), func() float64 { return daysStated + day*rng.NormFloat64() }, func(p curve.ShiftPosterior, _ float64) {
			daysSeen.add(p.Plus(math.Sqrt2*day).Survival(0) > 0.95)
		})
		each(fix(0), fix(stated), func(p curve.ShiftPosterior, _ float64) { seen.add(p.Survival(0) > 0.95) })
		z := distuv.UnitNormal.Quantile
		reached := stated * (z(0.95) + z(0.8)) / (z(0.95) + z(min(max(seen.share(), 1), 99)/100))
		t.Logf("%v: bias %+.4f sd %.4f; alarms %.1f %.1f; held %.1f %.1f %.1f %.1f; of %d 90 %% sure %.1f right; days %.1f %.1f; stated %.4f seen %.1f, 80 %% at about %.4f; with days %.4f seen %.1f",
			cell, bias, width, right.share(), left.share(), covers[0].share(), covers[1].share(), covers[2].share(), covers[3].share(),
			sure.of, sure.share(), daysRight.share(), daysLeft.share(), stated, seen.share(), reached, daysStated, daysSeen.share())
	}
	t.Logf("of those 90 %% sure, %.1f %% are right of %d, and %.1f %% of %d with half the noise; %d refused", all[0].share(), all[0].of, all[1].share(), all[1].of, refused)
}

// smallestSeen returns the smallest shift that a pair like this one shows with 95 % in
// 80 of 100 pairs: its own distances from the mean to the quantiles of 5 % and 20 %.
func smallestSeen(p curve.ShiftPosterior) float64 {
	return 2*p.Mean() - p.Quantile(0.05) - p.Quantile(0.2)
}
