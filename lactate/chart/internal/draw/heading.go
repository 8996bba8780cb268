package draw

import (
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// Heading is the answer of a picture, in bold, and the rows that go with it, in the room
// above a panel. Rows that are wider than the page are wrapped.
type Heading struct {
	answer, rest  []string  // lines
	Width, Height vg.Length // Height is that from the top of the room to the last baseline
}

// Heading wraps the rows to the page.
func (p *Page) Heading(answer string, rows ...string) Heading {
	big, small := Strong(LabelSize), Plain(TextSize)
	h := Heading{answer: p.rows(big, answer)}
	for _, r := range rows {
		h.rest = append(h.rest, p.rows(small, r)...)
	}
	for _, l := range h.answer {
		h.Width = max(h.Width, big.Width(l))
	}
	for _, l := range h.rest {
		h.Width = max(h.Width, small.Width(l))
	}
	h.Height = 4 + 0.75*LabelSize + vg.Length(len(h.answer)-1)*LineHeight(big) + vg.Length(len(h.rest))*(LineHeight(small)+0.5)
	return h
}

// rows wraps a row, at the bracket that ends it if that makes two lines.
func (p *Page) rows(f font.Face, row string) []string {
	wide := p.Area.Width()
	if at := strings.LastIndex(row, " ("); at > 0 && f.Width(row) > wide && f.Width(row[:at]) <= wide {
		return append([]string{row[:at]}, wrapped(f, row[at:], wide)...)
	}
	return wrapped(f, row, wide)
}

// Write writes a heading into the room above the first panel, from x to the right or as
// near to it as the page lets it.
func (pl *Plate) Write(h Heading, x vg.Length) {
	big, small := Strong(LabelSize), Plain(TextSize)
	x = max(pl.Area.X0, min(x, pl.Area.X1-h.Width))
	y := pl.Heads[0].Y1 - 4 - 0.75*LabelSize
	for i, l := range h.answer {
		if i > 0 {
			y -= LineHeight(big)
		}
		pl.Text(big, pl.Ink, x, y, 0, l)
	}
	for _, l := range h.rest {
		y -= LineHeight(small) + 0.5
		pl.Text(small, pl.Ink, x, y, 0, l)
	}
}
