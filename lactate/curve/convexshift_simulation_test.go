package curve_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/steptest/lactate/curve"
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

// draw makes two tests on a new curve.
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

// within fails unless a share is from least to most per cent, but for four standard
// errors of it.
func (c count) within(t *testing.T, what string, least, most float64) {
	t.Helper()
	room := func(share float64) float64 {
		return 400 * math.Sqrt(share/100*(1-share/100)/float64(max(c.of, 1)))
	}
	if got := c.share(); !(got >= least-room(least) && got <= most+room(most)) {
		t.Errorf("%s: %.1f %% of %d, want %v to %v", what, got, c.of, least, most)
	}
}

// shiftShares is what a cell, or several, come to.
type shiftShares struct {
	right, left         count    // false alarms
	covers              count    // 90 % intervals that hold the shift
	cover               [4]count // the same, by the shift
	sure                count    // right, of those that are 90 % sure
	daysRight, daysLeft count    // false alarms if days differ, and are stated to
	seen, daysSeen      count    // of the smallest shift stated
}

// check holds the shares against what was asked for. They are more cautious if the noise
// is half of what the fits are told, and on a curve that falls steeply at first, which the
// prior of b hardly allows and the scale of the noise takes up.
func (s *shiftShares) check(t *testing.T, what string, cautious bool) {
	s.right.within(t, what+": false alarms to the right", 0, 6)
	s.left.within(t, what+": false alarms to the left", 0, 6)
	s.daysRight.within(t, what+": false alarms to the right, with days", 0, 6)
	s.daysLeft.within(t, what+": false alarms to the left, with days", 0, 6)
	s.daysSeen.within(t, what+": smallest shift seen, with days", 75, 88)
	held, sure, seen := 94., 93., 88.
	if cautious {
		held, sure, seen = 100, 100, 96
	}
	s.seen.within(t, what+": smallest shift seen", 75, seen)
	s.covers.within(t, what+": 90 % intervals", 87, held)
	s.sure.within(t, what+": right, of 90 % sure", 87, sure)
}

var shiftDeltas = [...]float64{0, 0.01, 0.02, 0.04}

// Kind D, on nine shapes: false alarms, coverage, graded probabilities, and the smallest
// shift seen, over all cells; with -simulate of 1000 or more in each cell.
func TestSimulatedShifts(t *testing.T) {
	if testing.Short() {
		t.Skip("simulation")
	}
	n, step := *simulate, 1
	if n == 0 { // a fifth of the cells, of every kind
		n, step = 6, 5
	}
	const day = 0.008 * 1.33
	var c curve.ConvexShifted
	var all [2]shiftShares
	for k := 0; k < 8*len(shiftTruths); k += step {
		half := k / 2 % 2
		cell := shiftCell{shiftTruths[k/8], []int{6, 8}[k%2], []float64{1, 0.5}[half], []float64{0, 0.03}[k/4%2]}
		rng := rand.New(rand.NewPCG(uint64(k), 5))
		// each fits n pairs, and hands over the posterior and the true shift.
		each := func(first, second func() float64, do func(p curve.ShiftPosterior, truth float64)) {
			for range n {
				a, b := first(), second()
				if err := c.Fit(cell.draw(rng, a, b)); err != nil {
					t.Errorf("%v: %v", cell, err)
					continue
				}
				do(c.Shift(1), b-a)
			}
		}
		fix := func(v float64) func() float64 { return func() float64 { return v } }
		normal := func(mean, sd float64) func() float64 {
			return func() float64 { return mean + sd*rng.NormFloat64() }
		}
		var s shiftShares
		both := func(pick func(s *shiftShares) *count, hit bool) {
			pick(&s).add(hit)
			pick(&all[half]).add(hit)
		}
		var bias, width, stated, daysStated float64
		for i, delta := range shiftDeltas {
			each(fix(0), fix(delta), func(p curve.ShiftPosterior, truth float64) {
				held := p.Quantile(0.05) <= truth && truth <= p.Quantile(0.95)
				both(func(s *shiftShares) *count { return &s.covers }, held)
				both(func(s *shiftShares) *count { return &s.cover[i] }, held)
				if delta == 0 {
					both(func(s *shiftShares) *count { return &s.right }, p.Survival(0) > 0.95)
					both(func(s *shiftShares) *count { return &s.left }, p.Survival(0) < 0.05)
					bias += p.Mean() / float64(n)
					width += p.StdDev() / float64(n)
					stated += smallestSeen(p) / float64(n)
				}
			})
		}
		each(fix(0), normal(0, 0.02), func(p curve.ShiftPosterior, truth float64) {
			if v := p.Survival(0); v >= 0.88 && v <= 0.92 || v >= 0.08 && v <= 0.12 {
				both(func(s *shiftShares) *count { return &s.sure }, (v > 0.5) == (truth > 0))
			}
		})
		each(normal(0, day), normal(0, day), func(p curve.ShiftPosterior, _ float64) {
			p = p.Plus(math.Sqrt2 * day)
			both(func(s *shiftShares) *count { return &s.daysRight }, p.Survival(0) > 0.95)
			both(func(s *shiftShares) *count { return &s.daysLeft }, p.Survival(0) < 0.05)
			daysStated += smallestSeen(p) / float64(n)
		})
		each(fix(0), fix(stated), func(p curve.ShiftPosterior, _ float64) {
			both(func(s *shiftShares) *count { return &s.seen }, p.Survival(0) > 0.95)
		})
		each(normal(0, day), normal(daysStated, day), func(p curve.ShiftPosterior, _ float64) {
			both(func(s *shiftShares) *count { return &s.daysSeen }, p.Plus(math.Sqrt2*day).Survival(0) > 0.95)
		})
		t.Logf("%v: bias %+.4f sd %.4f; alarms %.1f %.1f; held %.1f %.1f %.1f %.1f; of %d 90 %% sure %.1f right; days %.1f %.1f; stated %.4f seen %.1f; with days %.4f seen %.1f",
			cell, bias, width, s.right.share(), s.left.share(), s.cover[0].share(), s.cover[1].share(), s.cover[2].share(), s.cover[3].share(),
			s.sure.of, s.sure.share(), s.daysRight.share(), s.daysLeft.share(), stated, s.seen.share(), daysStated, s.daysSeen.share())
		if *simulate >= 1000 {
			s.check(t, cell.String(), half == 1 || cell.truth.name == "early dip")
		}
	}
	for half, factor := range []float64{1, 0.5} {
		s := &all[half]
		t.Logf("noise %.1f: alarms %.1f %.1f; held %.1f %.1f %.1f %.1f; of %d 90 %% sure %.1f right; days %.1f %.1f; seen %.1f; with days seen %.1f", factor,
			s.right.share(), s.left.share(), s.cover[0].share(), s.cover[1].share(), s.cover[2].share(), s.cover[3].share(),
			s.sure.of, s.sure.share(), s.daysRight.share(), s.daysLeft.share(), s.seen.share(), s.daysSeen.share())
		s.check(t, fmt.Sprintf("noise %.1f", factor), half == 1)
	}
}

// smallestSeen returns the smallest shift that a pair like this one shows with 95 % in
// 80 of 100 pairs: its own distances from the mean to the quantiles of 5 % and 20 %.
func smallestSeen(p curve.ShiftPosterior) float64 {
	return 2*p.Mean() - p.Quantile(0.05) - p.Quantile(0.2)
}
