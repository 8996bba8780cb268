package chart

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"
	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// WritePDF writes the picture as one page of PDF, with the letters that it
// uses. The page has no date of its own: it says 1 January 2000.
func (p *Picture) WritePDF(w io.Writer) error {
	if err := p.check(); err != nil {
		return err
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: p.width.Points(), Ht: p.height.Points()}})
	doc.SetCatalogSort(true)
	when := time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)
	doc.SetCreationDate(when)
	doc.SetModificationDate(when)
	doc.SetTitle(p.title, true)
	doc.SetSubject(p.describing, true)
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.AddPage()
	c := &pdfCanvas{doc: doc, height: p.height}
	vg.Initialize(c)
	p.Draw(draw.NewCanvas(c, p.width, p.height))
	if c.err != nil {
		return fmt.Errorf("chart: pdf: %w", c.err)
	}
	if err := doc.Output(w); err != nil {
		return fmt.Errorf("chart: pdf: %w", err)
	}
	return nil
}

// pdfCanvas is a canvas of gonum's plot on the PDF writer that plot itself uses.
// Plot's own canvas writes text in one western code page, has no bold letters,
// and dates each file by the clock.
type pdfCanvas struct {
	doc    *fpdf.Fpdf
	height vg.Length
	width  vg.Length // of lines
	fonts  map[string]bool
	err    error
}

func (c *pdfCanvas) point(p vg.Point) (x, y float64) {
	return p.X.Points(), (c.height - p.Y).Points()
}

func (c *pdfCanvas) SetLineWidth(w vg.Length) {
	c.width = w
	c.doc.SetLineWidth(w.Points())
}

func (c *pdfCanvas) SetLineDash(dashes []vg.Length, offset vg.Length) {
	ds := make([]float64, len(dashes))
	for i, d := range dashes {
		ds[i] = d.Points()
	}
	c.doc.SetDashPattern(ds, offset.Points())
}

func (c *pdfCanvas) SetColor(clr color.Color) {
	n := color.NRGBAModel.Convert(clr).(color.NRGBA)
	r, g, b := int(n.R), int(n.G), int(n.B)
	c.doc.SetDrawColor(r, g, b)
	c.doc.SetFillColor(r, g, b)
	c.doc.SetTextColor(r, g, b)
	c.doc.SetAlpha(float64(n.A)/math.MaxUint8, "Normal")
}

// Pictures are drawn without moving the axes.
func (c *pdfCanvas) Rotate(float64)         { c.err = errors.Join(c.err, errors.ErrUnsupported) }
func (c *pdfCanvas) Translate(vg.Point)     { c.err = errors.Join(c.err, errors.ErrUnsupported) }
func (c *pdfCanvas) Scale(float64, float64) { c.err = errors.Join(c.err, errors.ErrUnsupported) }
func (c *pdfCanvas) Push()                  {}
func (c *pdfCanvas) Pop()                   {}

func (c *pdfCanvas) Stroke(p vg.Path) {
	if c.width > 0 {
		c.trace(p)
		c.doc.DrawPath("D")
	}
}

func (c *pdfCanvas) Fill(p vg.Path) {
	c.trace(p)
	c.doc.DrawPath("F")
}

func (c *pdfCanvas) trace(p vg.Path) {
	for _, s := range p {
		x, y := c.point(s.Pos)
		switch s.Type {
		case vg.MoveComp:
			c.doc.MoveTo(x, y)
		case vg.LineComp:
			c.doc.LineTo(x, y)
		case vg.CloseComp:
			c.doc.ClosePath()
		case vg.ArcComp: // a whole circle, the only arc there is: four Bézier curves
			r := s.Radius.Points()
			k := r * 4 / 3 * (math.Sqrt2 - 1)
			c.doc.CurveBezierCubicTo(x+r, y-k, x+k, y-r, x, y-r)
			c.doc.CurveBezierCubicTo(x-k, y-r, x-r, y-k, x-r, y)
			c.doc.CurveBezierCubicTo(x-r, y+k, x-k, y+r, x, y+r)
			c.doc.CurveBezierCubicTo(x+k, y+r, x+r, y+k, x+r, y)
		default:
			c.err = errors.Join(c.err, errors.ErrUnsupported)
		}
	}
}

func (c *pdfCanvas) FillString(f font.Face, p vg.Point, s string) {
	style := ""
	if f.Font.Weight == stdfont.WeightBold {
		style = "B"
	}
	if !c.fonts[style] {
		var raw bytes.Buffer
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			c.err = errors.Join(c.err, err)
			return
		}
		c.doc.AddUTF8FontFromBytes("sans", style, raw.Bytes())
		if c.fonts == nil {
			c.fonts = map[string]bool{}
		}
		c.fonts[style] = true
	}
	c.doc.SetFont("sans", style, f.Font.Size.Points())
	x, y := c.point(p)
	c.doc.Text(x, y, s)
}

func (c *pdfCanvas) DrawImage(vg.Rectangle, image.Image) {
	c.err = errors.Join(c.err, errors.ErrUnsupported)
}
