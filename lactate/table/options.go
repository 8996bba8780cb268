package table

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// Options say what the intensities of a table are. The zero value is the
// documented default.
type Options struct {
	// Pool adds paces per 100 of its unit, if intensities are in m/s. Zero
	// means no paces.
	Pool pace.Pool
	// Quantity and Unit of the intensity. Zero means the unit of the test, or else "m/s",
	// and what is measured in the unit: "speed", "power" for "W", or "intensity".
	Quantity, Unit string
	// Noun for a stage. Zero means "stage"; swimmers say "repeat".
	Noun string
	// Numbers that the stages have, in the order in which they were given. Nil
	// means 1, 2, …
	Numbers []int
	// Caption of the table, or of the first of several. Zero means one that says
	// what it is.
	Caption string
}

// withUnit puts the unit of a test into the options, if they have none.
func (o Options) withUnit(unit string) Options {
	if o.Unit == "" {
		o.Unit = unit
	}
	return o
}

// withUnitOf puts the unit of an analysis into the options, if they have none.
func (o Options) withUnitOf(a *lactate.Analysis) Options {
	if a == nil {
		return o
	}
	return o.withUnit(a.Unit)
}

func (o Options) withDefaults(caption string) Options {
	if o.Unit == "" {
		o.Unit = "m/s"
	}
	if o.Quantity == "" {
		o.Quantity = say.Quantity(o.Unit)
	}
	o.Noun = o.noun()
	if o.Unit != "m/s" {
		o.Pool = pace.Pool{}
	}
	if o.Caption == "" {
		o.Caption = caption
	}
	return o
}

func (o Options) noun() string {
	if o.Noun == "" {
		return "stage"
	}
	return o.Noun
}

func (o Options) axis(span float64) say.Axis { return say.Axis{Pool: o.Pool, Unit: o.Unit, Span: span} }

// place returns the one column of an intensity: its pace if there is a pool.
func (o Options) place() Column { return o.intensity()[0] }

// intensity returns the columns of an intensity, its pace first.
func (o Options) intensity() []Column {
	cs := []Column{{o.Quantity + ", " + o.Unit, true}}
	if !o.Pool.IsZero() {
		cs = append([]Column{{"pace per 100 " + o.Pool.UnitSymbol(), true}}, cs...)
	}
	return cs
}

// at returns the cells of an intensity.
func (o Options) at(v, span float64) []string {
	cells := []string{say.Number(v, say.Decimals(span))}
	if !o.Pool.IsZero() {
		cells = append([]string{o.axis(span).Pace(v)}, cells...)
	}
	return cells
}

// within returns the cell of an interval, empty where there is none.
func (o Options) within(e lactate.Estimate, span float64) string {
	if !e.HasInterval() {
		return ""
	}
	return o.axis(span).Interval(e)
}

// span is what intensities cover.
func span(vs ...float64) float64 {
	if len(vs) == 0 {
		return 0
	}
	lo, hi := vs[0], vs[0]
	for _, v := range vs {
		lo, hi = min(lo, v), max(hi, v)
	}
	return hi - lo
}

// optional prints a number, and nothing where it is not known.
func optional(v float64, decimals int) string {
	if !say.Finite(v) {
		return ""
	}
	return say.Number(v, decimals)
}

// taken is optional for a sample, which is not known where it is zero.
func taken(v float64, decimals int) string {
	if v == 0 {
		return ""
	}
	return optional(v, decimals)
}
