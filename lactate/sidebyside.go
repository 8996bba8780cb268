package lactate

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"

	"example.com/steptest/lactate/curve"
)

// NamedCurve is a kind of curve and the name to print for it. The zero value is none.
type NamedCurve struct {
	Name string
	New  func() Curve // makes a curve to fit
}

// CommonCurves returns the default curve and two in common use: the exponential-plus-constant
// and the cubic.
func CommonCurves() []NamedCurve {
	return []NamedCurve{
		{"convex", func() Curve { return new(curve.Convex) }},
		{"exponential", func() Curve { return new(curve.Exponential) }},
		{"cubic", func() Curve { return new(curve.Polynomial) }},
	}
}

// SideBySideOptions are the choices of [SideBySide]. The zero value is the documented default.
type SideBySideOptions struct {
	// Definitions are the rows. Nil means Catalogue(Unit).
	Definitions []Definition
	// Unit of the test's intensities, for Catalogue. Empty means that of the test.
	Unit string
	// Curves are the columns. Nil means CommonCurves.
	Curves []NamedCurve
	// Options of each analysis; Curve, LT1, LT2 and Methods are ignored. Zero means no
	// intervals.
	Options Options
}

// Panel is one test read by many definitions on several curves. The zero value is empty.
type Panel struct {
	Curves []PanelCurve `json:"curves"` // the columns
	Rows   []PanelRow   `json:"rows"`   // one for each entry, in order
}

// PanelCurve is a column of a [Panel].
type PanelCurve struct {
	Name     string
	Analysis *Analysis // nil if the curve could not be fitted
	Err      error     // why not
}

// MarshalJSON writes the name, and the error in words; the thresholds are in the rows.
func (c PanelCurve) MarshalJSON() ([]byte, error) {
	out := struct {
		Name string `json:"name"`
		Err  string `json:"error,omitempty"`
	}{Name: c.Name}
	if c.Err != nil {
		out.Err = c.Err.Error()
	}
	return json.Marshal(out)
}

// PanelRow is a row of a [Panel].
type PanelRow struct {
	Definition Definition `json:"definition"`
	// Cells holds the threshold on each of Panel.Curves; a single one if the definition is
	// not read on the curve. Lactate in a single cell is that of the first curve that could
	// be fitted, NaN if there was none.
	Cells []Threshold `json:"cells"`
}

// SideBySide reads a test by every definition of the options on every curve.
//
// Definitions of one threshold define different points, and differ by more than the noise of
// a good test: [Panel.Spread] says by how much. They share samples and curves: their agreement
// is no evidence, and their mean no better estimate.
//
// A curve that cannot be fitted empties its column only. The error is not nil if nothing can
// be read: options or values of the test that cannot be right, or lactate that falls as
// intensity rises ([ErrNotRising]).
func SideBySide(t Test, o SideBySideOptions) (*Panel, error) {
	if o.Definitions == nil {
		o.Definitions = Catalogue(cmp.Or(o.Unit, t.Unit))
	}
	if o.Curves == nil {
		o.Curves = CommonCurves()
	}
	var errs []error
	methods := make([]Method, len(o.Definitions))
	for i, e := range o.Definitions {
		methods[i] = e.Method
		if e.Method == nil {
			errs = append(errs, fmt.Errorf("%w: side by side: Definitions[%d]: found no method, want one", ErrOptions, i))
		}
	}
	for i, c := range o.Curves {
		if c.New == nil {
			errs = append(errs, fmt.Errorf("%w: side by side: Curves[%d]: found no function, want one that makes a curve", ErrOptions, i))
		}
	}
	o.Options.LT1, o.Options.LT2, o.Options.Methods = nil, nil, []Method{}
	_, err := o.Options.WithDefaults()
	if err := errors.Join(append(errs, err, t.Check())...); err != nil {
		return nil, err
	}
	o.Options.Methods = methods

	p := &Panel{Curves: make([]PanelCurve, len(o.Curves)), Rows: make([]PanelRow, len(o.Definitions))}
	var first *Analysis
	for i, c := range o.Curves {
		o.Options.Curve = c.New
		a, err := Analyze(t, o.Options)
		if errors.Is(err, ErrNotRising) {
			return nil, err
		}
		p.Curves[i] = PanelCurve{c.Name, a, err}
		if first == nil {
			first = a
		}
	}
	for i, e := range o.Definitions {
		row := PanelRow{Definition: e}
		switch {
		case !e.OnCurve && first != nil:
			row.Cells = []Threshold{first.Thresholds[i]}
		case !e.OnCurve:
			row.Cells = []Threshold{withoutCurve(t, e.Method)}
		default:
			for _, c := range p.Curves {
				if c.Err != nil {
					row.Cells = append(row.Cells, unread(e.Method, c.Err))
					continue
				}
				row.Cells = append(row.Cells, c.Analysis.Thresholds[i])
			}
		}
		p.Rows[i] = row
	}
	return p, nil
}

// withoutCurve reads a method that needs no curve.
func withoutCurve(t Test, m Method) Threshold {
	x, err := m.Locate(t, nil)
	if lo, hi, none := testedRange(t.Stages); err == nil && (none != nil || !(x >= lo && x <= hi)) {
		err = outsideTested(m, x, lo, hi)
	}
	if err != nil {
		return unread(m, err)
	}
	return Threshold{Method: m, Intensity: exactly(x), Unit: t.Unit, Lactate: none(), HeartRate: exactly(heartRatesOf(t).At(x))}
}
