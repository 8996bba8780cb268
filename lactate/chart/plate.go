package chart

import (
	"strings"

	"example.com/steptest/lactate/chart/internal/draw"
	"gonum.org/v1/plot/vg"
)

// plate is a picture while it is drawn: panels over one horizontal axis.
type plate struct {
	*draw.Plate
	o Options
}

// page is a page without panels yet.
type page struct {
	*draw.Page
	o Options
}

// newPage starts a page for a picture that needs the given height beside title
// and notes.
func newPage(o Options, height vg.Length, notes ...string) (*page, error) {
	texts := draw.Texts{Title: o.Title, Subtitle: o.Subtitle, Notes: notes}
	width := o.Width
	if width == 0 {
		width = defaultWidth
	}
	o, err := o.withDefaults(texts.Height(width, height))
	if err != nil {
		return nil, err
	}
	return &page{draw.NewPage(o.ground(), o.Width, o.Height, texts), o}, nil
}

// newPlate divides a page into panels. The error says that it is too low.
func newPlate(p *page, a draw.Across, panels ...draw.Panel) (*plate, error) {
	pl, err := draw.NewPlate(p.Page, a, panels...)
	if err != nil {
		return nil, err
	}
	return &plate{pl, p.o}, nil
}

// intensity returns the axis of the intensities of some tests.
func (o Options) intensity(low, high float64) draw.Across {
	a := draw.Across{Low: low, High: high, Title: o.Quantity + ", " + o.Unit, Pool: o.Pool}
	for _, z := range o.Zones {
		a.Zones = append(a.Zones, draw.Zone(z))
	}
	return a
}

// finish ends the picture. It keeps the description as one line.
func (pl *plate) finish(kind, describing string) *Picture {
	title := kind
	if pl.o.Title != "" {
		title = pl.o.Title + ": " + kind
	}
	return &Picture{pl.Finish(title, strings.Join(strings.Fields(describing), " ")), pl.o.DPI}
}

// drawing is the finished page of a [Picture].
type drawing = draw.Drawing
