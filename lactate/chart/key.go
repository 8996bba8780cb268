package chart

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"
)

// key tells a line and its marker apart from another.
type key struct {
	name string
	shape
	hollow bool
	line   bool // its dashes
	dashes []vg.Length
}

// keys writes a key into a free corner of the panel.
func (pl *plate) keys(f frame, blocked *obstacles, ks ...key) {
	face := plain(textSize)
	line := lineHeight(face) + 1
	names := make([]string, len(ks))
	width := vg.Length(0)
	for i, k := range ks {
		names[i] = fitted(face, k.name, f.width()/2-26)
		width = max(width, 26+face.Width(names[i]))
	}
	high := line * vg.Length(len(ks))
	left, right := f.x0+4, f.x1-4-width
	up, down := f.y1-high, f.y0+6
	var corners []box
	for _, c := range []vg.Point{{X: left, Y: up}, {X: right, Y: down}, {X: right, Y: up}, {X: left, Y: down}, {X: (left + right) / 2, Y: up}, {X: (left + right) / 2, Y: down}} {
		corners = append(corners, box{c.X, c.Y, c.X + width, c.Y + high})
	}
	b, ok := blocked.choose(corners...)
	if !ok {
		b = corners[0]
	}
	pl.rect(pl.paper, b)
	for i, k := range ks {
		y := b.y1 - vg.Length(i+1)*line + line/2
		if k.line {
			pl.horizontal(pl.ink, 1.7, k.dashes, y, b.x0, b.x0+21)
		}
		pl.marker(k.shape, pl.ink, vg.Point{X: b.x0 + 10.5, Y: y}, 2.5, k.hollow)
		pl.text(face, pl.ink, b.x0+26, y-0.36*textSize, 0, names[i])
	}
}

// capital returns s with its first letter in upper case.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// sentences joins what is not empty.
func sentences(parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p+".")
		}
	}
	return strings.Join(said, " ")
}
