package draw

import (
	"image/color"
	"sort"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Pen draws onto a page: it keeps what is drawn, to be put on any canvas later.
type Pen struct {
	Ground
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
	TitleSize = 11.5
	LabelSize = 10.5
	TextSize  = 9
	NoteSize  = 8.5
)

// Two faces of Liberation are enough: importing the whole collection links
// twelve into every program.
var faces = sync.OnceValues(func() (regular, bold *opentype.Font) {
	return parsed(liberationsansregular.TTF), parsed(liberationsansbold.TTF)
})

func parsed(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("chart: a font that is part of the program: " + err.Error())
	}
	return f
}

// Plain returns the face of most texts.
func Plain(size vg.Length) font.Face {
	f, _ := faces()
	return face(f, stdfont.WeightNormal, size)
}

// Strong returns the bold face.
func Strong(size vg.Length) font.Face {
	_, f := faces()
	return face(f, stdfont.WeightBold, size)
}

func face(f *opentype.Font, weight stdfont.Weight, size vg.Length) font.Face {
	return font.Face{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight, Size: size}, Face: f}
}

// LineHeight is the distance of two lines of text.
func LineHeight(f font.Face) vg.Length { return 1.2 * f.Font.Size }

// Descent is how far letters reach below the baseline.
func Descent(f font.Face) vg.Length { return f.Extents().Descent }

// Wide is the width of a text.
func Wide(f font.Face, s string) vg.Length { return f.Width(s) }

// extent returns the box of a text whose baseline starts at p.
func extent(f font.Face, p vg.Point, s string) Box {
	e := f.Extents()
	return Box{p.X, p.Y - e.Descent, p.X + f.Width(s), p.Y + e.Ascent}
}

// Text writes s with its baseline at y, and the share align of its width to
// the left of x: 0 starts there, 1 ends there.
func (p *Pen) Text(f font.Face, c color.Color, x, y, align vg.Length, s string) Box {
	if s == "" {
		return Box{x, y, x, y}
	}
	at := vg.Point{X: x - align*f.Width(s), Y: y}
	p.marks = append(p.marks, words{c, f, at, s})
	return extent(f, at, s)
}

// Fitted returns s, cut short if it is wider than w.
func Fitted(f font.Face, s string, w vg.Length) string {
	if f.Width(s) <= w {
		return s
	}
	r := []rune(s)
	n := sort.Search(len(r), func(i int) bool { return f.Width(string(r[:i+1])+"…") > w })
	return strings.TrimRight(string(r[:n]), " ") + "…"
}

// wrapped breaks s into lines no wider than w, at spaces.
func wrapped(f font.Face, s string, w vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		word = Fitted(f, word, w)
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

func (p *Pen) Line(c color.Color, width vg.Length, dashes []vg.Length, ps ...vg.Point) {
	if len(ps) < 2 {
		return
	}
	p.marks = append(p.marks, stroke{draw.LineStyle{Color: c, Width: width, Dashes: dashes}, polygon(ps)})
}

func (p *Pen) Vertical(c color.Color, width vg.Length, dashes []vg.Length, x, y0, y1 vg.Length) {
	p.Line(c, width, dashes, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y1})
}

func (p *Pen) Horizontal(c color.Color, width vg.Length, dashes []vg.Length, y, x0, x1 vg.Length) {
	p.Line(c, width, dashes, vg.Point{X: x0, Y: y}, vg.Point{X: x1, Y: y})
}

func (p *Pen) Patch(c color.Color, ps ...vg.Point) {
	path := polygon(ps)
	path.Close()
	p.marks = append(p.marks, fill{c, path})
}

func (p *Pen) Rect(c color.Color, b Box) {
	if b.Width() <= 0 || b.Height() <= 0 {
		return
	}
	p.Patch(c, vg.Point{X: b.X0, Y: b.Y0}, vg.Point{X: b.X1, Y: b.Y0}, vg.Point{X: b.X1, Y: b.Y1}, vg.Point{X: b.X0, Y: b.Y1})
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

// Dashed are the dashes of a line that comes second.
func Dashed() []vg.Length { return []vg.Length{5, 3} }

// Dotted are the dashes of a dotted line.
func Dotted() []vg.Length { return []vg.Length{1.5, 2} }
