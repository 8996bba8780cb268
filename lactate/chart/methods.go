package chart

import (
	"cmp"
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// Methods draws what every definition of an analysis says on its one curve:
// where each lies on the curve, and below, one row for each from slow to fast,
// its value with its interval. The definitions that the analysis takes for LT1
// and LT2 are coloured as such. Definitions without an answer are named below
// the picture.
func Methods(t lactate.Test, a *lactate.Analysis, o Options) (*Picture, error) {
	if err := drawable(t, a); err != nil {
		return nil, err
	}
	var rows []row
	for _, th := range a.Thresholds {
		rows = append(rows, row{name: say.Method(th.Method), of: []lactate.Threshold{th}})
	}
	return comparison(t, []*lactate.Analysis{a}, []string{lactate.CurveName(a.Curve)}, rows, o)
}

// SideBySide draws a panel of definitions read on several curves: a row for
// each definition, from slow to fast, and a marker for each curve, whose
// shapes are named in the picture: at most four curves. A definition that does
// not use the curve has one marker of its own shape.
func SideBySide(t lactate.Test, p *lactate.Panel, o Options) (*Picture, error) {
	if p == nil || len(p.Curves) == 0 || len(p.Curves) > len(curveShapes) {
		return nil, fmt.Errorf("chart: found no panel of one to %d curves", len(curveShapes))
	}
	as := make([]*lactate.Analysis, len(p.Curves))
	names := make([]string, len(p.Curves))
	var errs []error
	fitted := false
	for i, c := range p.Curves {
		as[i], names[i] = c.Analysis, c.Name
		if c.Analysis != nil {
			fitted = true
			errs = append(errs, drawable(t, c.Analysis))
		}
	}
	if !fitted {
		errs = append(errs, errors.New("chart: panel: found no curve that could be fitted, expected one or more"))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var rows []row
	for _, r := range p.Rows {
		rows = append(rows, row{name: say.Method(r.Entry.Method), of: r.Cells, offCurve: !r.Entry.OnCurve, target: r.Entry.Target})
	}
	return comparison(t, as, names, rows, o)
}

// row is a definition and what it says on each curve.
type row struct {
	name     string
	of       []lactate.Threshold
	offCurve bool
	target   lactate.Target
	at       float64 // of the first answer
}

// curveShapes tell curves apart: shape, hollow, dashes.
var curveShapes = [...]struct {
	shape
	hollow bool
	dashes []vg.Length
}{{circle, false, nil}, {diamond, true, []vg.Length{5, 3}}, {triangle, true, []vg.Length{1.5, 2}}, {square, true, []vg.Length{6, 2, 1.5, 2}}}

// rowHigh is the height of a row, for one curve and for several.
func rowHigh(curves int) vg.Length {
	if curves == 1 {
		return 14
	}
	return 15
}

func comparison(t lactate.Test, as []*lactate.Analysis, names []string, rows []row, o Options) (*Picture, error) {
	var answered []row
	var silent []string
	for _, r := range rows {
		r.at = math.NaN()
		for _, th := range r.of {
			if th.Err == nil && say.Finite(th.Intensity.Value) {
				r.at = th.Intensity.Value
				break
			}
		}
		if math.IsNaN(r.at) {
			silent = append(silent, r.name)
			continue
		}
		answered = append(answered, r)
	}
	slices.SortStableFunc(answered, func(a, b row) int { return cmp.Compare(a.at, b.at) })
	confidence := 0.0
	for _, a := range as {
		if a != nil {
			confidence = a.Confidence // one for all
		}
	}
	interval := false
	for _, r := range answered {
		for _, th := range r.of {
			interval = interval || th.Intensity.HasInterval()
		}
	}
	note := "Curve: " + names[0]
	if len(as) > 1 {
		note = "LT1, LT2: what the definition sets out to estimate"
	}
	silence := ""
	if len(silent) > 0 {
		silence = "No answer: " + strings.Join(silent, "; ")
	}
	if interval {
		note = sentences(note, "Bars: "+say.Interval(confidence)+"s")
	} else {
		note = sentences(note)
	}
	need := vg.Length(len(answered))*rowHigh(len(as)) + 8
	p, err := newPage(o, 205+need, note, sentences(silence))
	if err != nil {
		return nil, err
	}
	lo, hi := span(t)
	rest := p.area.height() - need - 80 // of the curve's panel, axes aside
	if rest < 40 {
		rest = 40
	}
	margin := vg.Length(0)
	if len(as) > 1 {
		margin = wide(plain(textSize), "LT2") + 5
	}
	panels := []panel{
		{title: "lactate, mmol/L", margin: margin, top: 1.06 * highest(t, p.o), share: float64(rest)},
		{title: "what each definition says", low: 0, top: float64(need), share: float64(need), bare: true},
	}
	pl, err := newPlate(p, p.o.intensity(lo, hi), panels...)
	if err != nil {
		return nil, err
	}
	f, g := pl.frames[0], pl.frames[1]
	step := g.height() / vg.Length(max(1, len(answered)))

	toneOf := func(r row) (t tone, s shape, hollow bool) {
		switch {
		case len(as) == 1 && r.name == say.Method(as[0].LT1.Method):
			return pl.first, diamond, false
		case len(as) == 1 && r.name == say.Method(as[0].LT2.Method):
			return pl.second, square, false
		case r.target == lactate.FirstThreshold:
			return pl.first, wedge, false
		case r.target == lactate.SecondThreshold:
			return pl.second, wedge, false
		}
		return tone{pl.ink, pl.quiet.strip}, wedge, len(as) == 1
	}

	// Leaders from the curve to the rows, below everything else.
	for i, r := range answered {
		y := g.y1 - step*(vg.Length(i)+0.5)
		if len(as) == 1 {
			pl.vertical(pl.grid, 0.8, nil, f.x(r.at), y, f.clampY(r.of[0].Lactate.Value))
		}
	}
	blocked := obstacles{within: f.box}
	var ks []key
	for i, a := range as {
		if a == nil {
			continue
		}
		var band []lactate.BandPoint
		if len(as) == 1 {
			band = p.o.Band
		}
		blocked.polyline(pl.curve(f, a, band, curveShapes[i].dashes))
		ks = append(ks, key{names[i], curveShapes[i].shape, curveShapes[i].hollow, true, curveShapes[i].dashes})
	}
	pl.stages(f, t, &blocked, true)
	for i, r := range answered {
		y := g.y1 - step*(vg.Length(i)+0.5)
		tn, sh, hol := toneOf(r)
		words := obstacles{within: box{g.x0, y - step/2, pl.area.x1, y + step/2}}
		ground := pl.paper
		if i%2 == 0 {
			pl.rect(pl.zone, words.within)
			ground = pl.zone
		}
		if len(as) > 1 && r.target != lactate.OtherPoint {
			pl.text(plain(textSize), pl.soft, g.x0-4, y-0.36*textSize, 1, [...]string{lactate.FirstThreshold: "LT1", lactate.SecondThreshold: "LT2"}[r.target])
		}
		var said string
		n := vg.Length(len(r.of))
		for k, th := range r.of {
			if th.Err != nil || !say.Finite(th.Intensity.Value) {
				continue
			}
			s, hollow, size := sh, hol, vg.Length(2.5)
			yk := y
			if len(as) > 1 && !r.offCurve {
				s, hollow, size = curveShapes[k].shape, curveShapes[k].hollow, min(2.3, 0.31*step/n)
				yk += step / n * 0.92 * ((n-1)/2 - vg.Length(k))
			}
			x := g.x(th.Intensity.Value)
			if th.Intensity.HasInterval() {
				pl.whisker(g, th.Intensity, yk, 1.2, tn)
				words.add(box{g.clampX(th.Intensity.Low) - 4, y - step, g.clampX(th.Intensity.High) + 4, y + step})
			}
			words.add(pl.marker(s, tn.line, vg.Point{X: x, Y: yk}, size, hollow).grown(2))
			if len(as) == 1 && !r.offCurve && say.Finite(th.Lactate.Value) {
				pl.marker(s, tn.line, f.at(th.Intensity.Value, th.Lactate.Value), 2.5, hollow)
			}
			if said == "" {
				said = p.o.said(th.Intensity.Value, hi-lo)
			}
		}
		pl.rowWords(r.name, said, y, len(as) == 1, &words, ground)
	}
	if len(as) > 1 {
		pl.curveKeys(f, &blocked, ks, answered)
	}
	return pl.finish("definitions side by side", describeRows(answered, names, silent, p.o, hi-lo)), nil
}

// rowWords writes the name of a row, and where asked its value, on the side of
// its marks that has room.
func (pl *plate) rowWords(name, value string, y vg.Length, withValue bool, words *obstacles, ground color.Color) {
	small, bold := plain(textSize), strong(textSize)
	lo, hi := words.within.x1, words.within.x0
	for _, b := range words.boxes {
		lo, hi = min(lo, b.x0), max(hi, b.x1)
	}
	if !withValue {
		value = ""
	}
	gap := vg.Length(4)
	if value == "" {
		gap = 0
	}
	room := max(lo-words.within.x0, words.within.x1-hi) - 6
	name = fitted(small, name, room-bold.Width(value)-gap)
	w := small.Width(name) + gap + bold.Width(value)
	base := y - 0.36*textSize
	x := hi + 3
	if w+3 > words.within.x1-hi || lo-words.within.x0 > words.within.x1-hi && w+3 <= lo-words.within.x0 {
		x = lo - 3 - w
	}
	behind := box{x - 1, words.within.y0 + 1, x + w + 1, words.within.y1 - 1}
	pl.rect(pl.paper, behind)
	pl.rect(ground, behind)
	pl.text(bold, pl.ink, x, base, 0, value)
	pl.text(small, pl.ink, x+bold.Width(value)+gap, base, 0, name)
}

// curveKeys names the curves, and the marker of the definitions that use none.
func (pl *plate) curveKeys(f frame, blocked *obstacles, ks []key, rows []row) {
	if slices.ContainsFunc(rows, func(r row) bool { return r.offCurve }) {
		ks = append(ks, key{"no curve", wedge, false, false, nil})
	}
	pl.keys(f, blocked, ks...)
}

func describeRows(rows []row, names, silent []string, o Options, span float64) string {
	parts := []string{fmt.Sprintf("Definitions of thresholds on one test, %s in %s, from slow to fast; curves: %s.", o.Quantity, o.Unit, strings.Join(names, ", "))}
	for _, r := range rows {
		var said []string
		for _, th := range r.of {
			if th.Err != nil || !say.Finite(th.Intensity.Value) {
				said = append(said, "none")
				continue
			}
			s := o.said(th.Intensity.Value, span)
			if th.Intensity.HasInterval() {
				s += " (" + o.between(th.Intensity, span) + ")"
			}
			said = append(said, s)
		}
		parts = append(parts, r.name+": "+strings.Join(said, ", ")+".")
	}
	if len(silent) > 0 {
		parts = append(parts, "No answer: "+strings.Join(silent, "; ")+".")
	}
	return strings.Join(parts, " ")
}
