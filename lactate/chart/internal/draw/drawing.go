package draw

import (
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Drawing is a finished page. The zero value has no size.
type Drawing struct {
	Width, Height      vg.Length
	Title, Description string
	ground             Ground
	marks              []mark
}

// Finish ends the page.
func (p *Page) Finish(title, description string) Drawing {
	return Drawing{p.Width, p.Height, title, description, p.Ground, p.marks}
}

// Onto puts the drawing onto a canvas, with its lower left corner at the
// canvas's.
func (d Drawing) Onto(c draw.Canvas) {
	c.Push()
	defer c.Pop()
	if c.Min != (vg.Point{}) {
		c.Translate(c.Min)
	}
	c.SetColor(d.ground.Paper)
	c.Fill(vg.Rectangle{Max: vg.Point{X: d.Width, Y: d.Height}}.Path())
	for _, m := range d.marks {
		m.put(&c)
	}
}

// WritePNG writes the drawing with so many pixels per inch.
func (d Drawing) WritePNG(w io.Writer, dpi int) error {
	c := vgimg.NewWith(vgimg.UseWH(d.Width, d.Height), vgimg.UseDPI(dpi), vgimg.UseBackgroundColor(d.ground.Paper))
	d.Onto(draw.New(c))
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}
