package chart

import (
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// panel is what one of the panels of a plate shows upward.
type panel struct {
	title    string
	low, top float64   // what it spans
	share    float64   // of the height that is left for panels
	head     vg.Length // room for labels above the data
}

// plate is a page of panels over one horizontal axis.
type plate struct {
	*page
	frames []frame // where the data are, from above
	heads  []box   // where the labels above them are
	ribbon box     // names of zones, between the first panel and what is below it
}

const (
	tickLength = 3
	ribbonHigh = 12
)

// newPlate divides the page into panels from above that span lo to hi.
func newPlate(p *page, lo, hi float64, panels ...panel) *plate {
	f := plain(textSize)
	line := lineHeight(f)
	area := p.area
	y := area.y1
	if !p.o.Pool.IsZero() {
		y -= line + tickLength
	}
	free := y - area.y0 - 2*line - tickLength - 2 // two lines below: ticks, and what they are
	if len(p.o.Zones) > 0 {
		free -= ribbonHigh
	}
	shares := 0.0
	for _, q := range panels {
		free -= q.head + line + 4
		shares += q.share
	}
	free -= vg.Length(len(panels)-1) * 8

	pl := &plate{page: p}
	left := vg.Length(0)
	for i, q := range panels {
		if i > 0 {
			y -= 8
		}
		y -= line + 4 // its title
		pl.heads = append(pl.heads, box{area.x0, y - q.head, area.x1, y})
		y -= q.head
		high := free * vg.Length(q.share/shares)
		fr := frame{box{area.x0, y - high, area.x1, y}, lo, hi, q.low, q.top}
		pl.frames = append(pl.frames, fr)
		y -= high
		if i == 0 && len(p.o.Zones) > 0 {
			pl.ribbon = box{area.x0, y - ribbonHigh, area.x1, y}
			y -= ribbonHigh
		}
		for _, t := range pl.upTicks(fr) {
			left = max(left, f.Width(t.label)+5)
		}
	}
	for i := range pl.frames {
		pl.frames[i].x0 += left
		pl.heads[i].x0 += left
	}
	pl.ribbon.x0 += left
	return pl
}

func (pl *plate) upTicks(f frame) []tick {
	return ticks(f.bottom, f.top, max(min(4, int(f.height()/11)), int(f.height()/18)))
}

// axes draws tints of zones, grid, ticks and their labels, and the titles of
// the panels. It comes first, so that data are drawn over it.
func (pl *plate) axes(panels []panel) {
	f := plain(textSize)
	e := f.Extents()
	line := lineHeight(f)
	first, last := pl.frames[0], pl.frames[len(pl.frames)-1]
	pl.zones()
	for i, fr := range pl.frames {
		for _, t := range pl.upTicks(fr) {
			y := fr.y(t.at)
			pl.horizontal(pl.grid, 0.6, nil, y, fr.x0, fr.x1)
			pl.text(f, pl.soft, fr.x0-5, y-0.36*f.Font.Size, 1, t.label)
		}
		pl.text(f, pl.ink, pl.area.x0, pl.titleLine(i), 0, panels[i].title)
	}
	// Along the bottom.
	widest := vg.Length(0)
	for _, t := range ticks(last.left, last.right, 6) {
		widest = max(widest, f.Width(t.label))
	}
	pl.horizontal(pl.axis, 0.8, nil, last.y0, last.x0, last.x1)
	for _, t := range ticks(last.left, last.right, int(last.width()/(widest+16))) {
		x := last.x(t.at)
		pl.vertical(pl.axis, 0.8, nil, x, last.y0, last.y0-tickLength)
		pl.text(f, pl.soft, x, last.y0-tickLength-1-e.Ascent, 0.5, t.label)
	}
	pl.text(f, pl.ink, (last.x0+last.x1)/2, last.y0-tickLength-2-line-e.Ascent, 0.5, pl.o.Quantity+", "+pl.o.Unit)
	if len(pl.frames) > 1 || len(pl.o.Zones) > 0 {
		pl.horizontal(pl.axis, 0.8, nil, first.y0, first.x0, first.x1)
	}
	pl.paces(first, pl.heads[0].y1)
}

// titleLine returns the baseline of the title of a panel.
func (pl *plate) titleLine(i int) vg.Length {
	f := plain(textSize)
	y := pl.heads[i].y1 + 4
	if i == 0 && !pl.o.Pool.IsZero() {
		y += lineHeight(f) + tickLength
	}
	return y + f.Extents().Descent
}

// paces draws the paces of the pool along the top, at y.
func (pl *plate) paces(f frame, y vg.Length) {
	if pl.o.Pool.IsZero() {
		return
	}
	face := plain(textSize)
	per := pl.o.Pool.Per100()
	pl.horizontal(pl.axis, 0.8, nil, y, f.x0, f.x1)
	widest := face.Width("0:00")
	for range 2 {
		marks := paceTicks(f.left, f.right, per, int(f.width()/(widest+14)))
		again := false
		for _, t := range marks {
			if w := face.Width(t.label); w > widest {
				widest, again = w, true
			}
		}
		if again {
			continue
		}
		for _, t := range marks {
			x := f.x(t.at)
			pl.vertical(pl.axis, 0.8, nil, x, y, y+tickLength)
			pl.text(face, pl.soft, x, y+tickLength+1+face.Extents().Descent, 0.5, t.label)
		}
		break
	}
	pl.text(face, pl.ink, pl.area.x1, pl.titleLine(0), 1, "pace per 100 "+pl.o.Pool.UnitSymbol())
}

// zones draws every other zone as a quiet band through all panels, and the
// names that fit into their zone on the ribbon.
func (pl *plate) zones() {
	if len(pl.o.Zones) == 0 {
		return
	}
	f := plain(noteSize)
	first, last := pl.frames[0], pl.frames[len(pl.frames)-1]
	for i, z := range pl.o.Zones {
		x0, x1 := first.x0, first.x1
		if z.From > 0 {
			x0 = first.clampX(z.From)
		}
		if z.To > 0 {
			x1 = first.clampX(z.To)
		}
		if x1 <= x0 {
			continue
		}
		if i%2 == 1 {
			pl.rect(pl.zone, box{x0, last.y0, x1, pl.heads[0].y1})
		}
		if x0 > first.x0 {
			pl.vertical(pl.axis, 0.8, nil, x0, pl.ribbon.y0, pl.ribbon.y1)
		}
		if f.Width(z.Name)+6 <= x1-x0 {
			pl.text(f, pl.soft, (x0+x1)/2, pl.ribbon.y0+(ribbonHigh-0.72*noteSize)/2, 0.5, z.Name)
		}
	}
}

// said returns an intensity in words: its pace where there is a pool.
func (o Options) said(v float64, span float64) string {
	if !o.Pool.IsZero() {
		return pace.FormatTime(pace.Speed(v).In(o.Pool).Time, 1)
	}
	return number(v, decimals(span)) + " " + o.Unit
}
