package chart

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Picture is a drawn page. It does not change, and can be used by several
// goroutines at once. The zero value is an empty page of no size, which cannot
// be written.
type Picture struct {
	width, height     vg.Length
	dpi               int
	title, describing string
	ground            ground
	marks             []mark
}

// Size returns the width and height on paper.
func (p *Picture) Size() (width, height vg.Length) { return p.width, p.height }

// String says in words what the picture shows, for those who do not see it:
// the text to put beside an image.
func (p *Picture) String() string { return p.describing }

// Draw puts the picture onto a canvas of gonum's plot, with its lower left
// corner at the canvas's. It is not scaled.
func (p *Picture) Draw(c draw.Canvas) {
	c.Push()
	defer c.Pop()
	if c.Min != (vg.Point{}) {
		c.Translate(c.Min)
	}
	c.SetColor(p.ground.paper)
	c.Fill(vg.Rectangle{Max: vg.Point{X: p.width, Y: p.height}}.Path())
	for _, m := range p.marks {
		m.put(&c)
	}
}

// Write writes the picture in the format that the ending of a file name says:
// .svg, .png or .pdf. The name is looked at and not opened.
func (p *Picture) Write(w io.Writer, name string) error {
	switch ext := strings.ToLower(path.Ext(name)); ext {
	case ".svg":
		return p.WriteSVG(w)
	case ".png":
		return p.WritePNG(w)
	case ".pdf":
		return p.WritePDF(w)
	default:
		return fmt.Errorf("chart: file name %q: found ending %q, expected .svg, .png or .pdf", name, ext)
	}
}

// WritePNG writes the picture as PNG with Options.DPI pixels per inch.
func (p *Picture) WritePNG(w io.Writer) error {
	if err := p.check(); err != nil {
		return err
	}
	c := vgimg.NewWith(vgimg.UseWH(p.width, p.height), vgimg.UseDPI(p.dpi), vgimg.UseBackgroundColor(p.ground.paper))
	p.Draw(draw.New(c))
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(w); err != nil {
		return fmt.Errorf("chart: png: %w", err)
	}
	return nil
}

// SVG returns the picture as SVG: the method by which a notebook shows it. It
// is empty for the zero Picture.
func (p *Picture) SVG() string {
	var b bytes.Buffer
	if err := p.WriteSVG(&b); err != nil {
		return ""
	}
	return b.String()
}

func (p *Picture) check() error {
	if p == nil || p.width <= 0 || p.height <= 0 {
		return fmt.Errorf("chart: found a picture without a size, expected one made by this package")
	}
	return nil
}
