package chart_test

import (
	"bytes"
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// invented returns a test of n even stages from 1.04 to 1.22 m/s on the curve
// 1.1 + 0.35·exp(18·(v − 1.04)) mmol/L, with heart rates on a line, printed to
// tenths. It is invented.
func invented(n int, moved float64) lactate.Test {
	var t lactate.Test
	for i := range n {
		v := 1.04 + 0.18*float64(i)/float64(n-1)
		y := 1.1 + 0.35*math.Exp(18*(v-moved-1.04))
		t.Stages = append(t.Stages, lactate.Stage{
			Intensity: v, Lactate: math.Round(10*y) / 10, HeartRate: math.Round(118 + 330*(v-1.04)), Duration: 5 * time.Minute,
		})
	}
	return t
}

// fataler is a test, of the standard library or of rapid.
type fataler interface {
	Helper()
	Fatal(...any)
}

func analysed(t fataler, test lactate.Test, o lactate.Options) *lactate.Analysis {
	t.Helper()
	a, err := lactate.Analyze(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func oneTest(t fataler, a *lactate.Analysis, o chart.Options) *chart.Picture {
	t.Helper()
	p, err := chart.OneTest(a, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// at is a method that puts a threshold at a given intensity: for thresholds that
// nearly coincide.
type at float64

func (m at) Locate(lactate.Test, lactate.Curve) (float64, error) { return float64(m), nil }
func (m at) String() string                                      { return "by decree" }

// label is a text of a picture with the box that it covers.
type label struct {
	text       string
	x0, y0     vg.Length
	x1, y1     vg.Length
	size, base vg.Length
}

// labels returns the texts of a picture. The boxes are those of the letters in
// use: from a fifth of the size below the baseline to three quarters above it.
func labels(p *chart.Picture) []label {
	w, h := p.Size()
	var c recorder.Canvas
	p.Draw(draw.NewCanvas(&c, w, h))
	cache := font.NewCache(liberation.Collection())
	var ls []label
	for _, a := range c.Actions {
		f, ok := a.(*recorder.FillString)
		if !ok {
			continue
		}
		face := cache.Lookup(f.Font, f.Size)
		ls = append(ls, label{
			f.String, f.Point.X, f.Point.Y - f.Size/5, f.Point.X + face.Width(f.String), f.Point.Y + 3*f.Size/4, f.Size, f.Point.Y,
		})
	}
	return ls
}

// crowded returns the first pair of labels that overlap, or a label that leaves
// the page.
func crowded(p *chart.Picture) (a, b label, bad bool) {
	w, h := p.Size()
	ls := labels(p)
	for i, a := range ls {
		if !(a.x0 >= 0 && a.x1 <= w && a.y0 >= 0 && a.y1 <= h) {
			return a, label{text: "the edge of the page"}, true
		}
		for _, b := range ls[i+1:] {
			if a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 {
				return a, b, true
			}
		}
	}
	return a, b, false
}

func has(p *chart.Picture, text string) bool {
	for _, l := range labels(p) {
		if l.text == text {
			return true
		}
	}
	return false
}

// pictures returns one picture of each kind from n stages.
func pictures(t testing.TB, n int, o chart.Options) map[string]*chart.Picture {
	t.Helper()
	before, after := invented(n, 0), invented(n, 0.012)
	a := analysed(t, before, lactate.Options{Resamples: 200})
	c, err := lactate.Compare(before, after, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var dated []lactate.DatedTest
	for i := range n {
		day := time.Date(2025, time.January, 11+i*45, 0, 0, 0, 0, time.UTC)
		dated = append(dated, lactate.DatedTest{Date: day, Test: invented(6, 0.004*float64(i))})
	}
	s, err := lactate.FollowSeason(dated, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	panel, err := lactate.SideBySide(before, lactate.SideBySideOptions{Definitions: []lactate.Definition{
		{Method: lactate.AboveBaseline{Rise: 0.5}, Target: lactate.FirstThreshold, OnCurve: true},
		{Method: lactate.LogLog{}, Target: lactate.FirstThreshold},
		{Method: lactate.Fixed{Lactate: 3}, OnCurve: true},
		{Method: lactate.MaxDistance{}, Target: lactate.SecondThreshold, OnCurve: true},
		{Method: lactate.Fixed{Lactate: 40}, OnCurve: true},
	}})
	if err != nil {
		t.Fatal(err)
	}
	var repeats []chart.Repeat
	var strokes chart.Strokes
	for i, st := range before.Stages {
		repeats = append(repeats, chart.Repeat{Intensity: st.Intensity, AllOut: i == n-1})
		rate := 26 + 40*(st.Intensity-1.04)
		strokes.Repeats = append(strokes.Repeats, chart.Stroke{
			Intensity: st.Intensity,
			Rate:      lactate.Estimate{Value: rate, Low: rate - 0.5, High: rate + 0.5},
			Length:    lactate.Estimate{Value: 56 * st.Intensity / rate, Low: math.NaN(), High: math.NaN()},
		})
	}
	strokes.Shortens = lactate.Estimate{Value: 1.12, Low: 1.08, High: math.Inf(1)}
	ps := map[string]*chart.Picture{}
	keep := func(name string, p *chart.Picture, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		ps[name] = p
	}
	add := func(name string) func(*chart.Picture, error) {
		return func(p *chart.Picture, err error) { keep(name, p, err) }
	}
	add("one")(chart.OneTest(a, o))
	add("methods")(chart.Methods(a, o))
	add("sidebyside")(chart.SideBySide(panel, o))
	add("two")(chart.TwoTests(c, o))
	add("season")(chart.Season(s, o))
	add("plan")(chart.Plan(repeats, a, o))
	add("technique")(chart.Technique(strokes, a, o))
	return ps
}

func svg(t testing.TB, p *chart.Picture) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := p.WriteSVG(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pools in which paces are told.
func pools() map[string]pace.Pool {
	return map[string]pace.Pool{"yd": pace.SCY(), "m": pace.LCM(), "none": {}}
}
