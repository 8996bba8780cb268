package shift

import (
	"fmt"
	"math"
	"sync"

	"example.com/steptest/lactate/curve/internal/points"
	"example.com/steptest/lactate/curve/internal/shape"
)

// fitTwo finds the posterior of one shift on a grid: first with few shapes, then with
// all that have weight anywhere where the first posterior lies.
func (work *Work) fitTwo(j *Joint) error {
	e, g := &work.all, &work.grid
	if err := g.survey(e, thin(), 1, work.shift); err != nil {
		return err
	}
	p := &j.post[0]
	g.posterior(p)
	work.choose()
	for _, q := range [...]float64{0.002, 0.05, 0.3, 0.7, 0.95, 0.998} {
		work.shift[1] = p.Quantile(q)
		work.weighAll()
	}
	work.gather(len(shape.All().Prior))
	g.again(e, work.shapes, work.shift)
	if math.IsInf(g.top(), -1) {
		return errNoCommonShape
	}
	g.posterior(p)
	return j.ends(1, g)
}

// ends notes to which side the posterior is cut off by the prior: what it holds at an end
// would, were the prior as wide again, add more than a small share to it.
func (j *Joint) ends(group int, g *grid) error {
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
		j.open[2*group-2+side] = d*span/2 > share*mass
	}
	if density[0] > plain && density[1] > plain {
		return fmt.Errorf("curve: groups 0 and %d: the points leave the shift open to both sides: %w", group, points.ErrUndetermined)
	}
	return nil
}

// thinning is the step by which a first look takes shapes. It is odd, and so goes
// through all widths and delays.
const thinning = 5

var thin = sync.OnceValue(func() *shape.Dictionary {
	d := shape.All()
	var at []int
	for j := thinning / 2; j < len(d.Prior); j += thinning {
		at = append(at, j)
	}
	return d.Subset(nil, at)
})
