package chart

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot/vg"
)

// obstacles are what labels keep clear of.
type obstacles struct {
	within box
	boxes  []box         // never covered
	lines  [][2]vg.Point // crossed only where nothing else is free
}

func (o *obstacles) add(b box) { o.boxes = append(o.boxes, b) }

func (o *obstacles) polyline(ps []vg.Point) {
	for i := 1; i < len(ps); i++ {
		o.lines = append(o.lines, [2]vg.Point{ps[i-1], ps[i]})
	}
}

// choose returns the first of the boxes that is free, or the one that crosses
// the fewest lines, and takes it. It returns false where each of them covers
// another box or leaves the page.
func (o *obstacles) choose(candidates ...box) (box, bool) {
	best, fewest := -1, 0
	for i, c := range candidates {
		if !o.within.holds(c) || slices.ContainsFunc(o.boxes, c.overlaps) {
			continue
		}
		n := 0
		for _, l := range o.lines {
			if c.crosses(l[0], l[1]) {
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
		return box{}, false
	}
	o.add(candidates[best])
	return candidates[best], true
}

// spread puts labels of the given widths in one row between lo and hi, with a
// gap between them, each as near to the middle that it wants as its
// neighbours allow (least squares, in the order of what is wanted), and returns
// their left ends. It returns false where the row is too short for them.
func spread(wanted, widths []vg.Length, gap, lo, hi vg.Length) ([]vg.Length, bool) {
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
