package chart

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"

	"example.com/steptest/lactate/internal/clean"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Picture is a drawn page. It does not change, and can be used by several
// goroutines at once. The zero value is an empty page of no size, which cannot
// be written.
type Picture struct {
	drawing drawing
	dpi     int
}

// Size returns the width and height on paper.
func (p *Picture) Size() (width, height vg.Length) { return p.drawing.Width, p.drawing.Height }

// Alt says in words what the picture shows, for those who do not see it:
// the text to put beside an image.
func (p *Picture) Alt() string { return p.drawing.Description }

// Draw puts the picture onto a canvas of gonum's plot, with its lower left
// corner at the canvas's. It is not scaled.
func (p *Picture) Draw(c draw.Canvas) { p.drawing.Onto(c) }

// Write writes the picture in the format that the ending of a file name says:
// .svg or .png. The file itself is not opened.
func (p *Picture) Write(w io.Writer, name string) error {
	switch ext := strings.ToLower(path.Ext(name)); ext {
	case ".svg":
		return p.WriteSVG(w)
	case ".png":
		return p.WritePNG(w)
	default:
		return fmt.Errorf("chart: file name %q: found ending %q, want .svg or .png", clean.Short(name, 80), clean.Short(ext, 20))
	}
}

// WriteSVG writes the picture as SVG, with a description for those who do not
// see it. It names fonts and holds none, which keeps it small.
func (p *Picture) WriteSVG(w io.Writer) error {
	if err := p.check(); err != nil {
		return err
	}
	if err := p.drawing.WriteSVG(w); err != nil {
		return fmt.Errorf("chart: svg: %w", err)
	}
	return nil
}

// WritePNG writes the picture as PNG with Options.DPI pixels per inch.
func (p *Picture) WritePNG(w io.Writer) error {
	if err := p.check(); err != nil {
		return err
	}
	if err := p.drawing.WritePNG(w, p.dpi); err != nil {
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
	if p == nil || p.drawing.Width <= 0 || p.drawing.Height <= 0 {
		return fmt.Errorf("chart: found a picture without a size, want one made by this package")
	}
	return nil
}
