package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"unicode/utf8"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// Options say how a picture looks and what is known beside the results. The
// zero value is the documented default.
type Options struct {
	// Width and Height on paper. Zero means 12 cm, and what the picture needs.
	// The least that can be asked for is 8.5 cm by 7 cm, the most 1 m.
	Width, Height vg.Length
	// DPI is the number of pixels per inch of PNG files, from 50 to 600. Zero
	// means 144.
	DPI int
	// Dark asks for a dark ground. Zero means a white one.
	Dark bool
	// Title stands above the picture, Subtitle below the title. Zero means none.
	Title, Subtitle string

	// Pool puts paces per 100 of its unit along the top, and beside speeds in
	// words. It needs intensities in m/s. Zero means no paces.
	Pool pace.Pool
	// Quantity and Unit of the intensity. Zero means the unit of the test, or else "m/s",
	// and what is measured in the unit: "speed", "power" for "W", or "intensity".
	Quantity, Unit string

	// Noise is what the bars of the stages show. Zero means
	// [lactate.DefaultNoise].
	Noise lactate.Noise
	// Zones are drawn as quiet bands. Nil means none.
	Zones []Zone
	// Before and After name the two tests of [TwoTests], such as their dates.
	// Zero means "before" and "after".
	Before, After string
}

// Zone is a part of the intensity axis with a name. The zero value covers
// everything and has no name.
type Zone struct {
	Name string // "1", "easy"; left out if the zone is narrower than its name
	// From and To in the tests' unit. Zero means that this end is open.
	From, To float64
}

const (
	defaultWidth = 12 * vg.Centimeter
	minWidth     = 8.5 * vg.Centimeter
	minHeight    = 7 * vg.Centimeter
	maxSize      = 100 * vg.Centimeter
)

// in puts the unit of the first of some results that has one into the options, if they
// have none.
func (o Options) in(as ...*lactate.Analysis) Options {
	for _, a := range as {
		if a != nil && o.Unit == "" {
			o.Unit = a.Unit
		}
	}
	return o
}

// withDefaults fills in what is zero; height is what the picture needs.
func (o Options) withDefaults(height vg.Length) (Options, error) {
	if o.Width == 0 {
		o.Width = defaultWidth
	}
	if o.Height == 0 {
		o.Height = height
	}
	if o.DPI == 0 {
		o.DPI = 144
	}
	if o.Unit == "" {
		o.Unit = "m/s"
	}
	if o.Quantity == "" {
		o.Quantity = say.Quantity(o.Unit)
	}
	if o.Before == "" {
		o.Before = "before"
	}
	if o.After == "" {
		o.After = "after"
	}
	for _, s := range []*string{&o.Title, &o.Subtitle, &o.Quantity, &o.Unit, &o.Before, &o.After} {
		*s = clean.Line(*s)
	}
	o.Zones = slices.Clone(o.Zones)
	for i := range o.Zones {
		o.Zones[i].Name = clean.Line(o.Zones[i].Name)
	}
	return o, o.validate()
}

func (o Options) validate() error {
	var errs []error
	wrong := func(field string, found any, want string) {
		errs = append(errs, fmt.Errorf("chart: options: %s: found %v, want %s", field, found, want))
	}
	if !(o.Width >= minWidth && o.Width <= maxSize) {
		wrong("Width", fmt.Sprintf("%.3g cm", o.Width/vg.Centimeter), "8.5 to 100 cm")
	}
	if !(o.Height >= minHeight && o.Height <= maxSize) {
		wrong("Height", fmt.Sprintf("%.3g cm", o.Height/vg.Centimeter), "7 to 100 cm")
	}
	if o.DPI < 50 || o.DPI > 600 {
		wrong("DPI", o.DPI, "50 to 600")
	}
	if utf8.RuneCountInString(o.Quantity) > 30 {
		wrong("Quantity", fmt.Sprintf("%q", clean.Short(o.Quantity, 40)), "at most 30 letters")
	}
	if utf8.RuneCountInString(o.Unit) > 8 {
		wrong("Unit", fmt.Sprintf("%q", clean.Short(o.Unit, 40)), "at most 8 letters")
	}
	if !o.Pool.IsZero() && o.Unit != "m/s" {
		wrong("Pool", o.Pool.String()+" with intensities in "+clean.Short(o.Unit, 40), "speeds in m/s, which have a pace")
	}
	for i, z := range o.Zones {
		if !(z.From >= 0 && z.To >= 0) || math.IsInf(z.From, 0) || math.IsInf(z.To, 0) || (z.To > 0 && z.To <= z.From) {
			wrong(fmt.Sprintf("Zones[%d]", i), fmt.Sprintf("from %v to %v", z.From, z.To), "finite ends, the first below the second")
		}
	}
	return errors.Join(errs...)
}

func (o Options) ground() draw.Ground {
	if o.Dark {
		return draw.Dark()
	}
	return draw.Light()
}
