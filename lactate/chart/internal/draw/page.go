package draw

import "gonum.org/v1/plot/vg"

const edge = 10 // blank rim of a page [pt]

// Texts are the words around a picture: title and subtitle above it, notes
// below. An empty one takes no room.
type Texts struct {
	Title, Subtitle string
	Notes           []string
}

// Height returns the height of a page of the given width, with its texts, for a
// picture of the given height.
func (t Texts) Height(width, picture vg.Length) vg.Length {
	head, foot := t.room(t.lines(width))
	return picture + head + foot + 2*edge
}

// lines returns the notes, wrapped.
func (t Texts) lines(width vg.Length) []string {
	var lines []string
	for _, n := range t.Notes {
		lines = append(lines, wrapped(Plain(NoteSize), n, width-2*edge)...)
	}
	return lines
}

// room returns what the texts take above and below the picture.
func (t Texts) room(lines []string) (head, foot vg.Length) {
	foot = vg.Length(len(lines)) * LineHeight(Plain(NoteSize))
	if t.Title != "" {
		head += LineHeight(Strong(TitleSize))
	}
	if t.Subtitle != "" {
		head += LineHeight(Plain(TextSize))
	}
	if head > 0 {
		head += 7
	}
	if foot > 0 {
		foot += 7
	}
	return head, foot
}

// Page is a picture while it is drawn, its texts already in place.
type Page struct {
	Pen
	Width, Height vg.Length
	Area          Box // between the texts
}

// NewPage returns a page with its texts.
func NewPage(g Ground, width, height vg.Length, t Texts) *Page {
	lines := t.lines(width)
	head, foot := t.room(lines)
	p := &Page{Pen: Pen{Ground: g}, Width: width, Height: height}
	p.Area = Box{edge, edge + foot, width - edge, height - edge - head}
	y := height - edge
	if t.Title != "" {
		f := Strong(TitleSize)
		p.Text(f, p.Ink, edge, y-f.Extents().Ascent, 0, Fitted(f, t.Title, width-2*edge))
		y -= LineHeight(f)
	}
	if t.Subtitle != "" {
		f := Plain(TextSize)
		p.Text(f, p.Soft, edge, y-f.Extents().Ascent, 0, Fitted(f, t.Subtitle, width-2*edge))
	}
	small := Plain(NoteSize)
	for i, l := range lines {
		p.Text(small, p.Soft, edge, edge+vg.Length(len(lines)-1-i)*LineHeight(small)+small.Extents().Descent, 0, l)
	}
	return p
}

// onPage reports whether a label from x0 to x1 keeps clear of the edges.
func (p *Page) onPage(x0, x1 vg.Length) bool { return x0 >= edge/2 && x1 <= p.Width-edge/2 }
