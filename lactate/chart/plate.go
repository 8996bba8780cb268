package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

// panel is what one of the panels of a plate shows upward.
type panel struct {
	title    string
	low, top float64   // what it spans
	share    float64   // of the height that is left for panels
	head     vg.Length // room for labels above the data
	bare     bool      // without grid and ticks
	margin   vg.Length // least room to the left
}

// across is the horizontal axis that all panels of a plate share.
type across struct {
	low, high float64
	title     string
	ticks     []tick // nil means round numbers
	paces     bool   // along the top
	zones     []Zone
}

// intensity returns the axis of the intensities of some tests.
func (o Options) intensity(low, high float64) across {
	return across{low: low, high: high, title: o.Quantity + ", " + o.Unit, paces: !o.Pool.IsZero(), zones: o.Zones}
}

// plate is a page of panels over one horizontal axis.
type plate struct {
	*page
	across across
	panels []panel
	frames []frame // where the data are, from above
	heads  []box   // where the labels above them are
	ribbon box     // names of zones, between the first panel and what is below it
	// covered says that strips run through all panels.
	covered bool
}

const (
	tickLength = 3
	ribbonHigh = 12
	panelGap   = 8
)

// newPlate divides the page into panels, from above, and draws axes and grid.
// Data are drawn over them. The error says that the page is too low.
func newPlate(p *page, a across, panels ...panel) (*plate, error) {
	f := plain(textSize)
	line := lineHeight(f)
	area := p.area
	y := area.y1
	if a.paces {
		y -= line + tickLength
	}
	free := y - area.y0 - 2*line - tickLength - 2 // two lines below: ticks, and what they are
	if len(a.zones) > 0 {
		free -= ribbonHigh
	}
	shares := 0.0
	for _, q := range panels {
		free -= q.head + line + 4
		shares += q.share
	}
	free -= vg.Length(len(panels)-1) * panelGap

	for _, q := range panels {
		const least = 34 // three ticks
		if short := least*vg.Length(shares/q.share) - free; short > 0 && !q.bare {
			return nil, fmt.Errorf("chart: options: Height: found %.3g cm, expected at least %.3g cm for this picture",
				p.o.Height/vg.Centimeter, (p.o.Height+short)/vg.Centimeter+0.05)
		}
	}

	pl := &plate{page: p, across: a, panels: panels}
	left := vg.Length(0)
	for i, q := range panels {
		if i > 0 {
			y -= panelGap
		}
		y -= line + 4 // its title
		pl.heads = append(pl.heads, box{area.x0, y - q.head, area.x1, y})
		y -= q.head
		high := free * vg.Length(q.share/shares)
		fr := frame{box{area.x0, y - high, area.x1, y}, a.low, a.high, q.low, q.top}
		pl.frames = append(pl.frames, fr)
		y -= high
		if i == 0 && len(a.zones) > 0 {
			pl.ribbon = box{area.x0, y - ribbonHigh, area.x1, y}
			y -= ribbonHigh
		}
		left = max(left, q.margin)
		for _, t := range pl.upTicks(i) {
			left = max(left, f.Width(t.label)+5)
		}
	}
	for i := range pl.frames {
		pl.frames[i].x0 += left
		pl.heads[i].x0 += left
	}
	pl.ribbon.x0 += left
	pl.axes()
	return pl, nil
}

func (pl *plate) upTicks(i int) []tick {
	if pl.panels[i].bare {
		return nil
	}
	f := pl.frames[i]
	return ticks(f.bottom, f.top, max(min(4, int(f.height()/11)), min(5, int(f.height()/14)), int(f.height()/18)))
}

// axes draws tints of zones, grid, ticks and their labels.
func (pl *plate) axes() {
	f := plain(textSize)
	pl.tints()
	for i, fr := range pl.frames {
		for _, t := range pl.upTicks(i) {
			y := fr.y(t.at)
			pl.horizontal(pl.grid, 0.6, nil, y, fr.x0, fr.x1)
			pl.text(f, pl.soft, fr.x0-5, y-0.36*f.Font.Size, 1, t.label)
		}
		if !pl.panels[i].bare {
			pl.horizontal(pl.axis, 0.8, nil, fr.y0, fr.x0, fr.x1)
		}
	}
	pl.bottom(pl.frames[len(pl.frames)-1])
	if pl.across.paces {
		pl.paces(pl.frames[0], pl.heads[0].y1)
	}
}

// finish writes the titles of the panels, which stand on strips and not under
// them, and ends the page.
func (pl *plate) finish(kind, describing string) *Picture {
	f := plain(textSize)
	for i, q := range pl.panels {
		at := vg.Point{X: pl.area.x0, Y: pl.titleLine(i)}
		if i > 0 && pl.covered {
			pl.rect(pl.paper, extent(f, at, q.title).grown(1))
		}
		pl.text(f, pl.ink, at.X, at.Y, 0, q.title)
	}
	return pl.picture(kind, describing)
}

// bottom draws the horizontal axis below the last panel.
func (pl *plate) bottom(last frame) {
	f := plain(textSize)
	ascent := f.Extents().Ascent
	marks := pl.across.ticks
	if marks == nil {
		widest := vg.Length(0)
		for _, t := range ticks(last.left, last.right, 6) {
			widest = max(widest, f.Width(t.label))
		}
		marks = ticks(last.left, last.right, int(last.width()/(widest+16)))
	}
	y := last.y0
	if len(pl.frames) == 1 && len(pl.across.zones) > 0 {
		y = pl.ribbon.y0
	}
	pl.horizontal(pl.axis, 0.8, nil, y, last.x0, last.x1)
	for _, t := range marks {
		x, w := last.x(t.at), f.Width(t.label)
		pl.vertical(pl.axis, 0.8, nil, x, y, y-tickLength)
		if pl.onPage(x-w/2, x+w/2) {
			pl.text(f, pl.soft, x, y-tickLength-1-ascent, 0.5, t.label)
		}
	}
	pl.text(f, pl.ink, (last.x0+last.x1)/2, y-tickLength-2-lineHeight(f)-ascent, 0.5, pl.across.title)
}

// onPage reports whether a label from x0 to x1 keeps clear of the edges.
func (p *page) onPage(x0, x1 vg.Length) bool { return x0 >= edge/2 && x1 <= p.o.Width-edge/2 }

// titleLine returns the baseline of the title of a panel.
func (pl *plate) titleLine(i int) vg.Length {
	f := plain(textSize)
	y := pl.heads[i].y1 + 4
	if i == 0 && pl.across.paces {
		y += lineHeight(f) + tickLength
	}
	return y + descent(f)
}

// paces draws the paces of the pool along the top, at y.
func (pl *plate) paces(f frame, y vg.Length) {
	face := plain(textSize)
	pl.horizontal(pl.axis, 0.8, nil, y, f.x0, f.x1)
	for widest := face.Width("0:00"); ; { // until all labels have room
		marks := paceTicks(f.left, f.right, pl.o.Pool.Per100(), int(f.width()/(widest+14)))
		wider := widest
		for _, t := range marks {
			wider = max(wider, face.Width(t.label))
		}
		if wider > widest {
			widest = wider
			continue
		}
		free := f.x0 - widest // paces crowd at the slow end, where their steps are short
		for _, t := range marks {
			x, w := f.x(t.at), face.Width(t.label)
			pl.vertical(pl.axis, 0.8, nil, x, y, y+tickLength)
			if x-w/2 < free || !pl.onPage(x-w/2, x+w/2) {
				continue
			}
			pl.text(face, pl.soft, x, y+tickLength+1+descent(face), 0.5, t.label)
			free = x + w/2 + 5
		}
		break
	}
	pl.text(face, pl.ink, pl.area.x1, pl.titleLine(0), 1, "pace per 100 "+pl.o.Pool.UnitSymbol())
}

// tints draws every other zone as a quiet band through all panels, and the
// names that fit into their zone on the ribbon.
func (pl *plate) tints() {
	f := plain(noteSize)
	first, last := pl.frames[0], pl.frames[len(pl.frames)-1]
	for i, z := range pl.across.zones {
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
