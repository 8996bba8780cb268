package lines

// A line is the least-squares line through some points:
// y + slope·(at − x), with (x, y) the weighted mean of the points.
type line struct {
	w         float64 // sum of weights
	x, y      float64
	sxx, sxy  float64 // sums of squares and products about the mean
	slope     float64 // 0 while sxx is 0: fewer than two different xs
	rss       float64 // residual sum of squares
	different int     // number of points added, each at an x of its own
}

// add takes in one more point. The residual sum of squares grows by the square
// of the new point's distance from the line so far, over its variance (Brown,
// Durbin & Evans 1975, JRSS B 37:149–192; from memory): no difference of large
// sums is taken: small sums keep their digits.
func (l *line) add(p weighted) {
	l.different++
	if l.w == 0 {
		l.w, l.x, l.y = p.w, p.x, p.y
		return
	}
	dx, dy := p.x-l.x, p.y-l.y
	e := dy - l.slope*dx
	w := l.w + p.w
	r := l.w * (p.w / w)
	sxx := l.sxx + r*dx*dx
	if sxx > 0 {
		l.rss += r * e * e * (l.sxx / sxx)
	}
	l.sxx = sxx
	l.sxy += r * dx * dy
	l.x += dx * (p.w / w)
	l.y += dy * (p.w / w)
	l.w = w
	if sxx > 0 {
		l.slope = l.sxy / sxx
	}
}

// through fits a line to the points in two passes: the mean, then the sums
// about it.
func through(pts []weighted) line {
	l := line{different: len(pts)}
	var x, y float64
	for _, p := range pts {
		l.w += p.w
		x += p.w * p.x
		y += p.w * p.y
	}
	l.x, l.y = x/l.w, y/l.w
	for _, p := range pts {
		dx := p.x - l.x
		l.sxx += p.w * dx * dx
		l.sxy += p.w * dx * (p.y - l.y)
	}
	if len(pts) > 1 && l.sxx > 0 {
		l.slope = l.sxy / l.sxx
	}
	return l
}

// at returns the value of the line at x.
func (l *line) at(x float64) float64 { return l.y + l.slope*(x-l.x) }

// variance returns the variance of the value of the line at x, in units of the
// variance of a point of weight 1. The line needs two different xs.
func (l *line) variance(x float64) float64 {
	d := x - l.x
	return 1/l.w + d*d/l.sxx
}

// slopeFrom returns the slope of the best line that passes through (x, y).
func (l *line) slopeFrom(x, y float64) float64 {
	dx := l.x - x
	return (l.sxy + l.w*dx*(l.y-y)) / (l.sxx + l.w*dx*dx)
}

// meet returns the x at which two lines meet, and whether that is strictly
// between a and b; otherwise x is a or b, whichever is nearer.
func meet(l, r *line, a, b float64) (x float64, ok bool) {
	da, db := l.at(a)-r.at(a), l.at(b)-r.at(b)
	ok = da < 0 && db > 0 || da > 0 && db < 0
	t := da / (da - db)
	switch {
	case !(t > 0): // or parallel
		return a, ok
	case t >= 1:
		return b, ok
	}
	return a + (b-a)*t, ok
}
