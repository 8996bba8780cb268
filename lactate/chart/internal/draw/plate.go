package draw

import (
	"fmt"

	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// Panel is what one of the panels of a plate shows upward.
type Panel struct {
	Title    string
	Low, Top float64   // what it spans
	Share    float64   // of the height that is left for panels
	Head     vg.Length // room for labels above the data
	Bare     bool      // without grid and ticks
	Margin   vg.Length // least room to the left
}

// Across is the horizontal axis that all panels of a plate share.
type Across struct {
	Low, High float64
	Title     string
	Ticks     []Tick    // nil means round numbers
	Pool      pace.Pool // its paces stand along the top; zero means none
	Zones     []Zone
}

// Zone is a part of the axis with a name. An end that is zero is open.
type Zone struct {
	Name     string
	From, To float64
}

// Plate is a page of panels over one horizontal axis.
type Plate struct {
	*Page
	Across  Across
	Panels  []Panel
	Frames  []Frame // where the data are, from above
	Heads   []Box   // where the labels above them are
	Covered bool    // strips run through all panels
	ribbon  Box     // names of zones, between the first panel and what is below it
	paceY   vg.Length
}

const (
	tickLength = 3
	ribbonHigh = 12
	panelGap   = 8
)

// NewPlate divides the page into panels, from above, and draws axes and grid.
// Data are drawn over them. The error says that the page is too low.
func NewPlate(p *Page, a Across, panels ...Panel) (*Plate, error) {
	f := Plain(TextSize)
	line := LineHeight(f)
	area := p.Area
	y := area.Y1
	if !a.Pool.IsZero() { // the paces, and what they are
		y -= 2*line + tickLength + 4
	}
	paceY := y
	free := y - area.Y0 - 2*line - tickLength - 2 // two lines below: ticks, and what they are
	if len(a.Zones) > 0 {
		free -= ribbonHigh
	}
	shares := 0.0
	for _, q := range panels {
		free -= q.Head + line + 4
		shares += q.Share
	}
	free -= vg.Length(len(panels)-1) * panelGap

	for _, q := range panels {
		const least = 34 // three ticks
		if short := least*vg.Length(shares/q.Share) - free; short > 0 && !q.Bare {
			return nil, fmt.Errorf("chart: options: Height: found %.3g cm, want at least %.3g cm for this picture",
				p.Height/vg.Centimeter, (p.Height+short)/vg.Centimeter+0.05)
		}
	}

	pl := &Plate{Page: p, Across: a, Panels: panels, paceY: paceY}
	left := vg.Length(0)
	for i, q := range panels {
		if i > 0 {
			y -= panelGap
		}
		y -= line + 4 // its title
		pl.Heads = append(pl.Heads, Box{area.X0, y - q.Head, area.X1, y})
		y -= q.Head
		high := free * vg.Length(q.Share/shares)
		fr := Frame{Box{area.X0, y - high, area.X1, y}, a.Low, a.High, q.Low, q.Top}
		pl.Frames = append(pl.Frames, fr)
		y -= high
		if i == 0 && len(a.Zones) > 0 {
			pl.ribbon = Box{area.X0, y - ribbonHigh, area.X1, y}
			y -= ribbonHigh
		}
		left = max(left, q.Margin)
		for _, t := range pl.upTicks(i) {
			left = max(left, f.Width(t.Label)+5)
		}
	}
	for i := range pl.Frames {
		pl.Frames[i].X0 += left
		pl.Heads[i].X0 += left
	}
	pl.ribbon.X0 += left
	pl.axes()
	return pl, nil
}

func (pl *Plate) upTicks(i int) []Tick {
	if pl.Panels[i].Bare {
		return nil
	}
	f := pl.Frames[i]
	return Ticks(f.Bottom, f.Top, max(min(4, int(f.Height()/11)), min(5, int(f.Height()/14)), int(f.Height()/18)))
}

// axes draws tints of zones, grid, ticks and their labels.
func (pl *Plate) axes() {
	f := Plain(TextSize)
	pl.tints()
	for i, fr := range pl.Frames {
		for _, t := range pl.upTicks(i) {
			y := fr.Y(t.At)
			pl.Horizontal(pl.Grid, 0.6, nil, y, fr.X0, fr.X1)
			pl.Text(f, pl.Soft, fr.X0-5, y-0.36*f.Font.Size, 1, t.Label)
		}
		if !pl.Panels[i].Bare {
			pl.Horizontal(pl.Axis, 0.8, nil, fr.Y0, fr.X0, fr.X1)
		}
	}
	pl.bottom(pl.Frames[len(pl.Frames)-1])
	if !pl.Across.Pool.IsZero() {
		pl.paces(pl.Frames[0], pl.paceY)
	}
}

// Finish writes the titles of the panels, which stand on strips and not under
// them, and ends the page.
func (pl *Plate) Finish(title, description string) Drawing {
	f := Plain(TextSize)
	for i, q := range pl.Panels {
		at := vg.Point{X: pl.Area.X0, Y: pl.titleLine(i)}
		if i > 0 && pl.Covered {
			pl.Rect(pl.Paper, extent(f, at, q.Title).Grown(1))
		}
		pl.Text(f, pl.Ink, at.X, at.Y, 0, q.Title)
	}
	return pl.Page.Finish(title, description)
}

// bottom draws the horizontal axis below the last panel.
func (pl *Plate) bottom(last Frame) {
	f := Plain(TextSize)
	ascent := f.Extents().Ascent
	marks := pl.Across.Ticks
	if marks == nil {
		widest := vg.Length(0)
		for _, t := range Ticks(last.Left, last.Right, 6) {
			widest = max(widest, f.Width(t.Label))
		}
		marks = Ticks(last.Left, last.Right, int(last.Width()/(widest+16)))
	}
	y := last.Y0
	if len(pl.Frames) == 1 && len(pl.Across.Zones) > 0 {
		y = pl.ribbon.Y0
	}
	pl.Horizontal(pl.Axis, 0.8, nil, y, last.X0, last.X1)
	for _, t := range marks {
		x, w := last.X(t.At), f.Width(t.Label)
		pl.Vertical(pl.Axis, 0.8, nil, x, y, y-tickLength)
		if pl.onPage(x-w/2, x+w/2) {
			pl.Text(f, pl.Soft, x, y-tickLength-1-ascent, 0.5, t.Label)
		}
	}
	pl.Text(f, pl.Ink, (last.X0+last.X1)/2, y-tickLength-2-LineHeight(f)-ascent, 0.5, pl.Across.Title)
}

// titleLine returns the baseline of the title of a panel.
func (pl *Plate) titleLine(i int) vg.Length { return pl.Heads[i].Y1 + 4 + Descent(Plain(TextSize)) }

// paces draws the paces of the pool along the top, at y.
func (pl *Plate) paces(f Frame, y vg.Length) {
	face := Plain(TextSize)
	pl.Horizontal(pl.Axis, 0.8, nil, y, f.X0, f.X1)
	for widest := face.Width("0:00"); ; { // until all labels have room
		marks := PaceTicks(f.Left, f.Right, pl.Across.Pool.Per100(), int(f.Width()/(widest+14)))
		wider := widest
		for _, t := range marks {
			wider = max(wider, face.Width(t.Label))
		}
		if wider > widest {
			widest = wider
			continue
		}
		free := f.X0 - widest // paces crowd at the slow end, where their steps are short
		for _, t := range marks {
			x, w := f.X(t.At), face.Width(t.Label)
			pl.Vertical(pl.Axis, 0.8, nil, x, y, y+tickLength)
			if x-w/2 < free || !pl.onPage(x-w/2, x+w/2) {
				continue
			}
			pl.Text(face, pl.Soft, x, y+tickLength+1+Descent(face), 0.5, t.Label)
			free = x + w/2 + 5
		}
		break
	}
	above := y + tickLength + 4 + LineHeight(face) + Descent(face)
	pl.Text(face, pl.Ink, pl.Area.X1, above, 1, "pace per 100 "+pl.Across.Pool.UnitSymbol())
}

// tints draws every other zone as a quiet band through all panels, and the
// names that fit into their zone on the ribbon.
func (pl *Plate) tints() {
	f := Plain(NoteSize)
	first, last := pl.Frames[0], pl.Frames[len(pl.Frames)-1]
	for i, z := range pl.Across.Zones {
		x0, x1 := first.X0, first.X1
		if z.From > 0 {
			x0 = first.ClampX(z.From)
		}
		if z.To > 0 {
			x1 = first.ClampX(z.To)
		}
		if x1 <= x0 {
			continue
		}
		if i%2 == 1 {
			pl.Rect(pl.Zone, Box{x0, last.Y0, x1, pl.Heads[0].Y1})
		}
		if x0 > first.X0 {
			pl.Vertical(pl.Axis, 0.8, nil, x0, pl.ribbon.Y0, pl.ribbon.Y1)
		}
		if f.Width(z.Name)+6 <= x1-x0 {
			pl.Text(f, pl.Soft, (x0+x1)/2, pl.ribbon.Y0+(ribbonHigh-0.72*NoteSize)/2, 0.5, z.Name)
		}
	}
}
