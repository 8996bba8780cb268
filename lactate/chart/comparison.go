package chart

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart/internal/draw"
	"example.com/steptest/lactate/internal/say"
	"gonum.org/v1/plot/vg"
)

// row is a definition and what it says on each curve.
type row struct {
	name     string
	of       []lactate.Threshold
	offCurve bool
	target   lactate.Target
	at       float64 // of the first answer
}

// answered reports whether a threshold has a place to draw.
func answered(th lactate.Threshold) bool { return th.Err == nil && say.Finite(th.Intensity.Value) }

// curveShapes distinguish the curves.
var curveShapes = [...]struct {
	draw.Shape
	hollow bool
	dashes []vg.Length
}{
	{draw.Circle, false, nil},
	{draw.Diamond, true, []vg.Length{5, 3}},
	{draw.Triangle, true, []vg.Length{1.5, 2}},
	{draw.Square, true, []vg.Length{6, 2, 1.5, 2}},
}

// A comparison is a picture of definitions: the curves above, a row for each
// definition below.
type comparison struct {
	*plate
	test   lactate.Test
	curves []*lactate.Analysis // nil if the curve could not be fitted
	names  []string            // of the curves
	rows   []row               // with an answer, from slow to fast
	silent []string            // definitions without an answer
	band   []lactate.BandPoint // of a single curve

	above, below draw.Frame
	blocked      draw.Obstacles // of the panel above
	step         vg.Length      // from row to row
}

func compared(t lactate.Test, curves []*lactate.Analysis, names []string, rows []row, o Options) (*Picture, error) {
	c := &comparison{test: t, curves: curves, names: names}
	c.sort(rows)
	if c.single() {
		c.band = bandOf(curves[0])
	}
	if err := c.layOut(o); err != nil {
		return nil, err
	}
	if c.single() {
		c.leaders()
	}
	keys := c.drawCurves()
	c.stages(c.above, t, nil, &c.blocked, true)
	for i, r := range c.rows {
		c.drawRow(i, r)
	}
	if !c.single() {
		if slices.ContainsFunc(c.rows, func(r row) bool { return r.offCurve }) {
			keys = append(keys, draw.Key{Name: "no curve", Shape: draw.Wedge})
		}
		c.Keys(c.above, &c.blocked, keys...)
	}
	return c.finish("definitions side by side", c.describe()), nil
}

// single reports whether there is one curve, which the rows then refer to.
func (c *comparison) single() bool { return len(c.curves) == 1 }

// sort takes the rows that have an answer, from slow to fast, and the names of
// the others.
func (c *comparison) sort(rows []row) {
	for _, r := range rows {
		first := slices.IndexFunc(r.of, answered)
		if first < 0 {
			c.silent = append(c.silent, r.name)
			continue
		}
		r.at = r.of[first].Intensity.Value
		c.rows = append(c.rows, r)
	}
	slices.SortStableFunc(c.rows, func(a, b row) int { return cmp.Compare(a.at, b.at) })
}

// layOut makes the panels.
func (c *comparison) layOut(o Options) error {
	high, margin := vg.Length(14), vg.Length(0)
	if !c.single() {
		high, margin = 15, draw.Wide(draw.Plain(draw.TextSize), "LT2")+5
	}
	need := vg.Length(len(c.rows))*high + 8
	p, err := newPage(o.in(c.curves...), 205+need, c.notes()...)
	if err != nil {
		return err
	}
	rest := max(40, p.Area.Height()-need-80) // of the curve's panel, axes aside
	lo, hi := span(c.test)
	c.plate, err = newPlate(p, p.o.intensity(lo, hi),
		draw.Panel{Title: "lactate, mmol/L", Margin: margin, Top: 1.06 * highest(c.test, p.o, c.band), Share: float64(rest)},
		draw.Panel{Title: "what each definition says", Top: float64(need), Share: float64(need), Bare: true})
	if err != nil {
		return err
	}
	c.above, c.below = c.Frames[0], c.Frames[1]
	c.blocked.Within = c.above.Box
	c.step = c.below.Height() / vg.Length(max(1, len(c.rows)))
	return nil
}

// notes says what the marks mean and which definitions have no answer.
func (c *comparison) notes() []string {
	marks := "LT1, LT2: what the definition sets out to estimate"
	if c.single() {
		marks = "Curve: " + c.names[0]
	}
	bars := ""
	if slices.ContainsFunc(c.rows, func(r row) bool {
		return slices.ContainsFunc(r.of, func(th lactate.Threshold) bool { return th.Intensity.HasInterval() })
	}) {
		confidence := 0.0
		for _, a := range c.curves {
			if a != nil {
				confidence = a.Confidence // one for all
			}
		}
		bars = "Bars: " + say.Interval(confidence) + "s"
	}
	silence := ""
	if len(c.silent) > 0 {
		silence = "No answer: " + strings.Join(c.silent, "; ")
	}
	return []string{sentences(marks, bars), sentences(silence)}
}

// leaders draws lines from the one curve down to the rows.
func (c *comparison) leaders() {
	for i, r := range c.rows {
		c.Vertical(c.Grid, 0.8, nil, c.above.X(r.at), c.middle(i), c.above.ClampY(r.of[0].Lactate.Value))
	}
}

// middle returns the height of a row's middle.
func (c *comparison) middle(i int) vg.Length { return c.below.Y1 - c.step*(vg.Length(i)+0.5) }

// drawCurves draws the curves and returns the keys that name them.
func (c *comparison) drawCurves() []draw.Key {
	var keys []draw.Key
	for i, a := range c.curves {
		if a == nil {
			continue
		}
		s := curveShapes[i]
		c.blocked.Polyline(c.curve(c.above, a, c.band, s.dashes))
		keys = append(keys, draw.Key{Name: c.names[i], Shape: s.Shape, Hollow: s.hollow, Line: true, Dashes: s.dashes})
	}
	return keys
}

// drawRow draws the answers of a definition and writes its name beside them.
func (c *comparison) drawRow(i int, r row) {
	y := c.middle(i)
	words := rowWords{paper: c.Paper, Obstacles: draw.Obstacles{Within: draw.Rect(c.below.X0, y-c.step/2, c.Area.X1, y+c.step/2)}}
	if i%2 == 0 {
		words.paper = c.Zone
		c.Rect(c.Zone, words.Within)
	}
	if target := map[lactate.Target]string{lactate.FirstThreshold: "LT1", lactate.SecondThreshold: "LT2"}[r.target]; !c.single() {
		c.Text(draw.Plain(draw.TextSize), c.Soft, c.below.X0-4, y-0.36*draw.TextSize, 1, target)
	}
	for k, th := range r.of {
		if answered(th) {
			c.drawAnswer(r, k, y, &words)
		}
	}
	if c.single() {
		words.value = c.o.said(r.at, c.above.Right-c.above.Left)
	}
	words.name = r.name
	words.write(c.plate, y)
}

// drawAnswer draws what a definition says on curve k, in its row at y, and on
// the curve if that is the only one.
func (c *comparison) drawAnswer(r row, k int, y vg.Length, words *rowWords) {
	th := r.of[k]
	tone, shape, hollow := c.mark(r)
	size := vg.Length(2.5)
	yk := y
	if !c.single() && !r.offCurve {
		n := vg.Length(len(r.of))
		shape, hollow, size = curveShapes[k].Shape, curveShapes[k].hollow, min(2.3, 0.31*c.step/n)
		yk += c.step / n * 0.92 * ((n-1)/2 - vg.Length(k))
	}
	x := c.below.X(th.Intensity.Value)
	if th.Intensity.HasInterval() {
		c.whisker(c.below, th.Intensity, yk, 1.2, tone)
		words.Add(draw.Rect(c.below.ClampX(th.Intensity.Low)-4, y-c.step, c.below.ClampX(th.Intensity.High)+4, y+c.step))
	}
	words.Add(c.Marker(shape, tone.Line, vg.Point{X: x, Y: yk}, size, hollow).Grown(2))
	if c.single() && !r.offCurve && say.Finite(th.Lactate.Value) {
		c.Marker(shape, tone.Line, c.above.At(th.Intensity.Value, th.Lactate.Value), 2.5, hollow)
	}
}

// mark returns how a definition is drawn: coloured by the threshold that it is
// taken for, or sets out to estimate.
func (c *comparison) mark(r row) (t draw.Tone, s draw.Shape, hollow bool) {
	switch {
	case c.single() && r.name == say.Method(c.curves[0].LT1.Method):
		return c.First, draw.Diamond, false
	case c.single() && r.name == say.Method(c.curves[0].LT2.Method):
		return c.Second, draw.Square, false
	case r.target == lactate.FirstThreshold:
		return c.First, draw.Wedge, false
	case r.target == lactate.SecondThreshold:
		return c.Second, draw.Wedge, false
	}
	return draw.Tone{Line: c.Ink, Strip: c.Quiet.Strip}, draw.Wedge, c.single()
}

func (c *comparison) describe() string {
	o, span := c.o, c.above.Right-c.above.Left
	parts := []string{fmt.Sprintf("Definitions of thresholds on one test, %s in %s, from slow to fast; curves: %s.", o.Quantity, o.Unit, strings.Join(c.names, ", "))}
	for _, r := range c.rows {
		var said []string
		for _, th := range r.of {
			if !answered(th) {
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
	if len(c.silent) > 0 {
		parts = append(parts, "No answer: "+strings.Join(c.silent, "; ")+".")
	}
	return strings.Join(parts, " ")
}
