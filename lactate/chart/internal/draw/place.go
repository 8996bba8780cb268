package draw

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// Obstacles are what labels keep clear of.
type Obstacles struct {
	Within Box
	Boxes  []Box         // never covered
	Lines  [][2]vg.Point // crossed only if nothing else is free
}

func (o *Obstacles) Add(b Box) { o.Boxes = append(o.Boxes, b) }

func (o *Obstacles) Polyline(ps []vg.Point) {
	for i := 1; i < len(ps); i++ {
		o.Lines = append(o.Lines, [2]vg.Point{ps[i-1], ps[i]})
	}
}

// Choose returns the first of the boxes that is free, or the one that crosses
// the fewest lines, and takes it. It returns false if each of them covers
// another box or leaves the page.
func (o *Obstacles) Choose(candidates ...Box) (Box, bool) {
	best, fewest := -1, 0
	for i, c := range candidates {
		if !o.Within.Holds(c) || slices.ContainsFunc(o.Boxes, c.Overlaps) {
			continue
		}
		n := 0
		for _, l := range o.Lines {
			if c.Crosses(l[0], l[1]) {
				n++
			}
		}
		if best < 0 || n < fewest {
			best, fewest = i, n
		}
		if n == 0 {
			break
		}
	}
	if best < 0 {
		return Box{}, false
	}
	o.Add(candidates[best])
	return candidates[best], true
}

// Around returns the places for a label beside a mark, the best first: above,
// to the upper left, left, below, right, and then farther off.
func Around(f font.Face, s string, m Box) []Box {
	w, e := f.Width(s), f.Extents()
	h := e.Ascent + e.Descent
	x, y := (m.X0+m.X1)/2, (m.Y0+m.Y1)/2
	var places []Box
	for _, c := range []vg.Point{
		{X: x - w/2, Y: m.Y1},
		{X: m.X0 - w, Y: m.Y1 - h/3},
		{X: m.X0 - w, Y: y - h/2},
		{X: x - w/2, Y: m.Y0 - h},
		{X: m.X1, Y: m.Y0 - h/2},
		{X: m.X1, Y: y - h/2},
		{X: m.X1, Y: m.Y1 - h/3},
		{X: x - w/2, Y: m.Y1 + h/2},
		{X: x - w/2, Y: m.Y0 - 1.5*h},
		{X: m.X0 - w, Y: m.Y0 - h}, // farther off, if a line crosses all of these
		{X: m.X0 - w - h/2, Y: m.Y1 + h/2},
		{X: m.X0 - w - h/2, Y: y - h/2},
		{X: m.X1 + h/2, Y: m.Y0 - h},
		{X: x - w/2, Y: m.Y1 + h},
		{X: m.X1 + h/2, Y: m.Y0 - 1.5*h},
		{X: m.X0 - w - h/2, Y: m.Y0 - 1.5*h},
	} {
		places = append(places, Box{c.X, c.Y, c.X + w, c.Y + h})
	}
	return places
}

// Spread puts labels of the given widths in one row between lo and hi, with a
// gap between them, each as near to the middle that it wants as its
// neighbours allow (least squares, in the order of what is wanted), and returns
// their left ends. It returns false if the row is too short for them.
func Spread(wanted, widths []vg.Length, gap, lo, hi vg.Length) ([]vg.Length, bool) {
	type block struct {
		first, n int       // in order
		left     vg.Length // of the first label
		width    vg.Length // of all, gaps included
		sum      vg.Length // of the left ends of the block that its labels want
	}
	order := make([]int, len(wanted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(wanted[i], wanted[j]) })
	settle := func(b block) block {
		b.left = max(lo, min(b.sum/vg.Length(b.n), hi-b.width))
		return b
	}
	var blocks []block
	for k, i := range order {
		b := settle(block{first: k, n: 1, width: widths[i], sum: wanted[i] - widths[i]/2})
		for len(blocks) > 0 {
			a := blocks[len(blocks)-1]
			if a.left+a.width+gap <= b.left {
				break
			}
			blocks = blocks[:len(blocks)-1]
			shift := a.width + gap // from the left end of a to that of b
			b = settle(block{
				first: a.first, n: a.n + b.n, width: shift + b.width,
				sum: a.sum + b.sum - vg.Length(b.n)*shift,
			})
		}
		blocks = append(blocks, b)
	}
	lefts := make([]vg.Length, len(wanted))
	for _, b := range blocks {
		if b.width > hi-lo {
			return nil, false
		}
		x := b.left
		for _, i := range order[b.first : b.first+b.n] {
			lefts[i] = x
			x += widths[i] + gap
		}
	}
	return lefts, true
}
