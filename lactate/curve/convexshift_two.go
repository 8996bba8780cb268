package curve

import (
	"fmt"
	"math"
	"sync"

	"example.com/steptest/lactate/curve/internal/points"
)

// shiftWork is the work space of a fit of [ConvexShifted]. Fits share a few of them:
// it is some hundred times as large as what a fit keeps.
type shiftWork struct {
	joint   shiftEvidence
	chosen  []bool      // shapes that have weight
	at      []int       // their places
	shapes  *dictionary // they alone
	grid    shiftGrid
	shift   []float64 // of every group
	count   []int     // points of every group
	weights []float64 // for Fit
	pre     Shifted
	many    *shiftSample // with more than two groups
}

var shiftWorks = sync.Pool{New: func() any { return new(shiftWork) }}

// fitTwo finds the posterior of one shift on a grid: first with few shapes, then with
// all that have weight anywhere where the first posterior lies.
func (work *shiftWork) fitTwo(c *ConvexShifted) error {
	e, g := &work.joint, &work.grid
	thin := thinShapes()
	if err := g.survey(e, thin, 1, work.shift); err != nil {
		return err
	}
	p := &c.post[0]
	g.posterior(p)
	work.choose()
	for _, q := range [...]float64{0.002, 0.05, 0.3, 0.7, 0.95, 0.998} {
		work.shift[1] = p.Quantile(q)
		work.weighAll()
	}
	work.gather(len(shapes().prior))
	g.again(e, work.shapes, work.shift)
	if math.IsInf(g.top(), -1) {
		return errNoCommonShape
	}
	g.posterior(p)
	return c.ends(1, g)
}

// ends notes to which side the posterior is cut off by the prior: what it holds at an end
// would, were the prior as wide again, add more than a small share to it.
func (c *ConvexShifted) ends(group int, g *shiftGrid) error {
	const (
		share = 0.005 // of the posterior, beyond an end
		plain = 0.01  // density at an end, beside the highest
	)
	n := len(g.x)
	top, mass := g.top(), 0.0
	for k := range n - 1 {
		mass += (math.Exp(g.log[k]-top) + math.Exp(g.log[k+1]-top)) / 2 * (g.x[k+1] - g.x[k])
	}
	density := [2]float64{math.Exp(g.log[0] - top), math.Exp(g.log[n-1] - top)}
	span := g.x[n-1] - g.x[0]
	for side, d := range density {
		c.open[2*group-2+side] = d*span/2 > share*mass
	}
	if density[0] > plain && density[1] > plain {
		return fmt.Errorf("curve: groups 0 and %d: the points leave the shift open to both sides: %w", group, ErrUndetermined)
	}
	return nil
}

// relevant is the weight of a shape, relative to the largest, from which on it counts.
// Leaving out the others moves the ends of an interval by at most 0.2 % of its width.
const relevant = 1e-3

// choose begins a choice of shapes.
func (work *shiftWork) choose() {
	work.chosen = points.Resize(work.chosen, len(shapes().prior))
	clear(work.chosen)
}

// weighAll adds the shapes that have weight at work.shift to the choice.
func (work *shiftWork) weighAll() {
	e := &work.joint
	if math.IsInf(e.log(shapes(), work.shift), -1) {
		return
	}
	weights := e.num[:len(work.chosen)]
	top := 0.0
	for _, v := range weights {
		top = max(top, v)
	}
	for j, v := range weights {
		if v > relevant*top {
			work.chosen[j] = true
		}
	}
}

// gather ends a choice of shapes, of at most so many: if more have weight, the posterior
// is so wide that some of them say what all do.
func (work *shiftWork) gather(most int) {
	work.at = work.at[:0]
	for j, ok := range work.chosen {
		if ok {
			work.at = append(work.at, j)
		}
	}
	if step := (len(work.at) + most - 1) / most; step > 1 {
		few := work.at[:0]
		for i := step / 2; i < len(work.at); i += step {
			few = append(few, work.at[i])
		}
		work.at = few
	}
	work.shapes = shapes().subset(work.shapes, work.at)
}
