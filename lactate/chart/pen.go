package chart

import (
	"image/color"
	"strings"
	"sync"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen draws onto a page: it keeps what is drawn, so that it can be put on any
// canvas later.
type pen struct {
	ground
	marks []mark
}

// mark is one thing on a page.
type mark interface{ put(*draw.Canvas) }

type stroke struct {
	style draw.LineStyle
	path  vg.Path
}

func (s stroke) put(c *draw.Canvas) {
	c.SetLineStyle(s.style)
	c.Stroke(s.path)
}

type fill struct {
	color color.Color
	path  vg.Path
}

func (f fill) put(c *draw.Canvas) {
	c.SetColor(f.color)
	c.Fill(f.path)
}

type words struct {
	color color.Color
	face  font.Face
	at    vg.Point
	text  string
}

func (w words) put(c *draw.Canvas) {
	c.SetColor(w.color)
	c.FillString(w.face, w.at, w.text)
}

// Sizes of type [pt].
const (
	titleSize = 11.5
	labelSize = 10.5
	textSize  = 9
	noteSize  = 8.5
)

var faces = sync.OnceValue(func() *font.Cache { return font.NewCache(liberation.Collection()) })

func face(bold bool, size vg.Length) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = stdfont.WeightBold
	}
	return faces().Lookup(f, size)
}

func plain(size vg.Length) font.Face  { return face(false, size) }
func strong(size vg.Length) font.Face { return face(true, size) }

// lineHeight is the distance of two lines of text.
func lineHeight(f font.Face) vg.Length { return 1.2 * f.Font.Size }

// descent is how far letters reach below the baseline.
func descent(f font.Face) vg.Length { return f.Extents().Descent }

// wide is the width of a text.
func wide(f font.Face, s string) vg.Length { return f.Width(s) }

// extent returns the box of a text whose baseline starts at p.
func extent(f font.Face, p vg.Point, s string) box {
	e := f.Extents()
	return box{p.X, p.Y - e.Descent, p.X + f.Width(s), p.Y + e.Ascent}
}

// text writes s with its baseline at y, and the share align of its width to
// the left of x: 0 starts there, 1 ends there.
func (p *pen) text(f font.Face, c color.Color, x, y, align vg.Length, s string) box {
	if s == "" {
		return box{x, y, x, y}
	}
	at := vg.Point{X: x - align*f.Width(s), Y: y}
	p.marks = append(p.marks, words{c, f, at, s})
	return extent(f, at, s)
}

// fitted returns s, cut short where it is wider than w.
func fitted(f font.Face, s string, w vg.Length) string {
	if f.Width(s) <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && f.Width(string(r)+"…") > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// wrapped breaks s into lines no wider than w, at spaces.
func wrapped(f font.Face, s string, w vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		word = fitted(f, word, w)
		switch longer := line + " " + word; {
		case line == "":
			line = word
		case f.Width(longer) <= w:
			line = longer
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func (p *pen) line(c color.Color, width vg.Length, dashes []vg.Length, ps ...vg.Point) {
	if len(ps) < 2 {
		return
	}
	p.marks = append(p.marks, stroke{draw.LineStyle{Color: c, Width: width, Dashes: dashes}, polygon(ps)})
}

func (p *pen) vertical(c color.Color, width vg.Length, dashes []vg.Length, x, y0, y1 vg.Length) {
	p.line(c, width, dashes, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y1})
}

func (p *pen) horizontal(c color.Color, width vg.Length, dashes []vg.Length, y, x0, x1 vg.Length) {
	p.line(c, width, dashes, vg.Point{X: x0, Y: y}, vg.Point{X: x1, Y: y})
}

func (p *pen) patch(c color.Color, ps ...vg.Point) {
	path := polygon(ps)
	path.Close()
	p.marks = append(p.marks, fill{c, path})
}

func (p *pen) rect(c color.Color, b box) {
	if b.width() <= 0 || b.height() <= 0 {
		return
	}
	p.patch(c, vg.Point{X: b.x0, Y: b.y0}, vg.Point{X: b.x1, Y: b.y0}, vg.Point{X: b.x1, Y: b.y1}, vg.Point{X: b.x0, Y: b.y1})
}

func polygon(ps []vg.Point) vg.Path {
	path := make(vg.Path, 0, len(ps)+1)
	for i, q := range ps {
		if i == 0 {
			path.Move(q)
		} else {
			path.Line(q)
		}
	}
	return path
}
