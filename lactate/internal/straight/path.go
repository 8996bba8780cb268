// Package straight reads between points along straight lines.
package straight

import (
	"cmp"
	"math"
	"slices"
)

// Path is a number of points joined by straight lines, in order of x. The zero value has
// none.
type Path struct{ Xs, Ys []float64 }

// Point is one point.
type Point struct{ X, Y float64 }

// Through joins points in any order, which it puts in order of x. Points of equal x count
// as one with their mean.
func Through(points []Point) Path {
	slices.SortStableFunc(points, func(a, b Point) int { return cmp.Compare(a.X, b.X) })
	both := make([]float64, 2*len(points))
	p := Path{both[:0:len(points)], both[len(points):len(points)]}
	for i := 0; i < len(points); {
		mean, n := 0.0, 0.0
		x := points[i].X
		for ; i < len(points) && points[i].X == x; i++ {
			n++
			mean += (points[i].Y - mean) / n
		}
		p.Xs, p.Ys = append(p.Xs, x), append(p.Ys, mean)
	}
	return p
}

// At returns y at x, NaN outside the points.
func (p Path) At(x float64) float64 {
	n := len(p.Xs)
	if n == 0 || !(x >= p.Xs[0] && x <= p.Xs[n-1]) {
		return math.NaN()
	}
	i, exact := slices.BinarySearch(p.Xs, x)
	if exact {
		return p.Ys[i]
	}
	f := (x - p.Xs[i-1]) / (p.Xs[i] - p.Xs[i-1])
	return p.Ys[i-1] + f*(p.Ys[i]-p.Ys[i-1])
}

// Risen returns the lowest x above that of the lowest point, the last of these, at which the
// path has risen by so much from there.
func (p Path) Risen(by float64) (x float64, ok bool) {
	i := 0
	for k, y := range p.Ys {
		if y <= p.Ys[i] {
			i = k
		}
	}
	for k := i + 1; k < len(p.Ys); k++ {
		if level := p.Ys[i] + by; p.Ys[k] >= level {
			return p.Xs[k-1] + (level-p.Ys[k-1])/(p.Ys[k]-p.Ys[k-1])*(p.Xs[k]-p.Xs[k-1]), true
		}
	}
	return 0, false
}

// Along returns y and the slope at x, and goes on straight beyond two or more points.
func (p Path) Along(x float64) (y, slope float64) {
	i := 1
	for i < len(p.Xs)-1 && p.Xs[i] < x {
		i++
	}
	slope = (p.Ys[i] - p.Ys[i-1]) / (p.Xs[i] - p.Xs[i-1])
	return p.Ys[i-1] + slope*(x-p.Xs[i-1]), slope
}

// LeaveOutWorst leaves out the inner point that lies farthest from the line between its
// neighbours, if that is more than a limit.
func (p *Path) LeaveOutWorst(limit float64) (left Point, ok bool) {
	worst := 0
	for i := 1; i < len(p.Xs)-1; i++ {
		f := (p.Xs[i] - p.Xs[i-1]) / (p.Xs[i+1] - p.Xs[i-1])
		if off := math.Abs(p.Ys[i] - p.Ys[i-1] - f*(p.Ys[i+1]-p.Ys[i-1])); off > limit {
			worst, limit = i, off
		}
	}
	if worst == 0 {
		return Point{}, false
	}
	left = Point{p.Xs[worst], p.Ys[worst]}
	p.Xs, p.Ys = slices.Delete(p.Xs, worst, worst+1), slices.Delete(p.Ys, worst, worst+1)
	return left, true
}
