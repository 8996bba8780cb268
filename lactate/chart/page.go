package chart

import (
	"strings"

	"gonum.org/v1/plot/vg"
)

const edge = 10 // blank rim of a page [pt]

// page is a picture while it is drawn: title above, notes below, and what is
// between them.
type page struct {
	pen
	o    Options
	area box
}

// newPage starts a page of a picture that needs the given height beside title
// and notes.
func newPage(o Options, height vg.Length, notes ...string) (*page, error) {
	var lines []string
	small := plain(noteSize)
	width := o.Width
	if width == 0 {
		width = defaultWidth
	}
	for _, n := range notes {
		lines = append(lines, wrapped(small, n, width-2*edge)...)
	}
	head, foot := vg.Length(0), vg.Length(len(lines))*lineHeight(small)
	if o.Title != "" {
		head += lineHeight(strong(titleSize))
	}
	if o.Subtitle != "" {
		head += lineHeight(plain(textSize))
	}
	if head > 0 {
		head += 7
	}
	if foot > 0 {
		foot += 7
	}
	o, err := o.withDefaults(height + head + foot + 2*edge)
	if err != nil {
		return nil, err
	}
	p := &page{pen: pen{ground: o.ground()}, o: o}
	p.area = box{edge, edge + foot, o.Width - edge, o.Height - edge - head}
	y := o.Height - edge
	if o.Title != "" {
		f := strong(titleSize)
		p.text(f, p.ink, edge, y-f.Extents().Ascent, 0, fitted(f, o.Title, o.Width-2*edge))
		y -= lineHeight(f)
	}
	if o.Subtitle != "" {
		f := plain(textSize)
		p.text(f, p.soft, edge, y-f.Extents().Ascent, 0, fitted(f, o.Subtitle, o.Width-2*edge))
	}
	for i, l := range lines {
		p.text(small, p.soft, edge, edge+vg.Length(len(lines)-1-i)*lineHeight(small)+small.Extents().Descent, 0, l)
	}
	return p, nil
}

// picture ends the page. It keeps the description as one line.
func (p *page) picture(kind, describing string) *Picture {
	title := kind
	if p.o.Title != "" {
		title = p.o.Title + ": " + kind
	}
	return &Picture{
		width: p.o.Width, height: p.o.Height, dpi: p.o.DPI, ground: p.ground, marks: p.marks,
		title: title, describing: strings.Join(strings.Fields(describing), " "),
	}
}
