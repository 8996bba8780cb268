package chart

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Methods draws what every definition of an analysis says on its one curve:
// where each lies on the curve, and below, one row for each from slow to fast,
// its value with its interval. The definitions that the analysis takes for LT1
// and LT2 are coloured as such. Definitions without an answer are named below
// the picture.
func Methods(a *lactate.Analysis, o Options) (*Picture, error) {
	t, err := drawable(a)
	if err != nil {
		return nil, err
	}
	var rows []row
	for _, th := range a.Thresholds {
		rows = append(rows, row{name: say.Method(th.Method), of: []lactate.Threshold{th}})
	}
	return compared(t, []*lactate.Analysis{a}, []string{lactate.CurveName(a.Curve)}, rows, o)
}

// SideBySide draws a panel of definitions read on several curves: a row for
// each definition, from slow to fast, and a marker for each curve, whose
// shapes are named in the picture: at most four curves. A definition that does
// not use the curve has one marker of its own shape.
func SideBySide(p *lactate.Panel, o Options) (*Picture, error) {
	if p == nil || len(p.Curves) == 0 || len(p.Curves) > len(curveShapes) {
		return nil, fmt.Errorf("chart: found no panel of one to %d curves", len(curveShapes))
	}
	as := make([]*lactate.Analysis, len(p.Curves))
	names := make([]string, len(p.Curves))
	var errs []error
	var t lactate.Test // of all curves
	fitted := false
	for i, c := range p.Curves {
		as[i], names[i] = c.Analysis, c.Name
		if c.Analysis != nil {
			var err error
			fitted = true
			t, err = drawable(c.Analysis)
			errs = append(errs, err)
		}
	}
	if !fitted {
		errs = append(errs, errors.New("chart: panel: found no curve that could be fitted, want one or more"))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var rows []row
	for i, r := range p.Rows {
		if len(r.Cells) > len(p.Curves) {
			return nil, fmt.Errorf("chart: panel: row %d: found %d answers, want one for each of %d curves", i+1, len(r.Cells), len(p.Curves))
		}
		rows = append(rows, row{name: say.Method(r.Definition.Method), of: r.Cells, offCurve: !r.Definition.OnCurve, target: r.Definition.Target})
	}
	return compared(t, as, names, rows, o)
}
