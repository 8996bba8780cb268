package chart_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// Evidence D: no two boxes of labels overlap and none leaves the page, for five
// to nine stages, yards and metres, from the narrowest page on.
func TestLabelsNeverOverlap(t *testing.T) {
	for n := 5; n <= 9; n += 2 {
		for unit, pool := range pools() {
			for _, width := range []vg.Length{8.5, 12, 20} {
				o := chart.Options{
					Pool: pool, Width: width * vg.Centimeter,
					Title: "Robin Vale, 18 January 2025", Subtitle: "7 × 400 yd in a 25 yd pool, invented data",
					Before: "18 January 2025", After: "8 March 2025",
					Zones: []chart.Zone{{Name: "zone 1", To: 1.09}, {Name: "zone 2", From: 1.09, To: 1.095}, {Name: "zone 3", From: 1.095}},
				}
				for kind, p := range pictures(t, n, o) {
					if a, b, bad := crowded(p); bad {
						t.Errorf("%s of %d stages, pool %s, %g cm wide: %q and %q overlap", kind, n, unit, width, a.text, b.text)
					}
				}
			}
		}
	}
}

// Evidence D: the same, with both thresholds drawn anywhere, equal, in the
// wrong order or at the very ends.
func TestEqualThresholds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		test := invented(rapid.IntRange(5, 9).Draw(rt, "stages"), 0)
		first := rapid.Float64Range(1.04, 1.22).Draw(rt, "LT1")
		apart := rapid.SampledFrom([]float64{0, 1e-9, 0.0005, 0.004, -0.004, 0.1}).Draw(rt, "apart")
		second := math.Max(1.04, math.Min(first+apart, 1.22))
		a := analysed(rt, test, lactate.Options{LT1: at(first), LT2: at(second)})
		half := rapid.SampledFrom([]float64{0, 0.001, 0.02, math.Inf(1), math.NaN()}).Draw(rt, "half an interval")
		for _, l := range []*lactate.Threshold{&a.LT1, &a.LT2} {
			l.Intensity.Low, l.Intensity.High = l.Intensity.Value-half, l.Intensity.Value+half
		}
		pool := rapid.SampledFrom([]pace.Pool{{}, pace.SCY(), pace.SCM()}).Draw(rt, "pool")
		width := vg.Length(rapid.Float64Range(8.5, 20).Draw(rt, "width, cm")) * vg.Centimeter
		p := oneTest(rt, a, chart.Options{Pool: pool, Width: width})
		if a, b, bad := crowded(p); bad {
			rt.Fatalf("%q and %q overlap", a.text, b.text)
		}
		names := 0
		for _, l := range labels(p) {
			if strings.HasPrefix(l.text, "LT1\u00a0") || strings.HasPrefix(l.text, "LT2\u00a0") {
				names++
			}
		}
		if names != 2 {
			rt.Fatalf("%d of the two thresholds are named", names)
		}
	})
}

// Evidence D: any test that can be analysed can be drawn, in any unit: labels
// keep apart, and no number of the file is a NaN.
func TestAnyTest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		scale := rapid.SampledFrom([]float64{1e-3, 1, 3.6, 200, 1e6}).Draw(rt, "scale")
		n := rapid.IntRange(3, 12).Draw(rt, "stages")
		var test lactate.Test
		for range n {
			s := lactate.Stage{Intensity: scale * rapid.Float64Range(0.5, 2).Draw(rt, "intensity")}
			if rapid.IntRange(0, 9).Draw(rt, "sampled") > 0 {
				s.Lactate = rapid.Float64Range(0.5, 20).Draw(rt, "lactate")
			}
			if rapid.Bool().Draw(rt, "strap") {
				s.HeartRate = rapid.Float64Range(40, 220).Draw(rt, "heart rate")
			}
			test.Stages = append(test.Stages, s)
		}
		a, err := lactate.Analyze(test, lactate.Options{})
		if err != nil {
			rt.Skip(err)
		}
		o := chart.Options{Quantity: "power", Unit: "W"}
		one := oneTest(rt, a, o)
		methods, err := chart.Methods(a, o)
		if err != nil {
			rt.Fatal(err)
		}
		for _, p := range []*chart.Picture{one, methods} {
			if a, b, bad := crowded(p); bad {
				rt.Fatalf("%q and %q overlap", a.text, b.text)
			}
			if s := p.SVG(); s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				rt.Fatal("the SVG holds a number that is none")
			}
		}
	})
}

// Evidence D: the same for every definition that there is, on both curves.
func TestCatalogueIsDrawn(t *testing.T) {
	test := invented(7, 0)
	panel, err := lactate.SideBySide(test, lactate.SideBySideOptions{Unit: "m/s", Options: lactate.Options{Resamples: 100}})
	if err != nil {
		t.Fatal(err)
	}
	for _, width := range []vg.Length{8.5, 12} {
		p, err := chart.SideBySide(panel, chart.Options{Width: width * vg.Centimeter})
		if err != nil {
			t.Fatal(err)
		}
		if a, b, bad := crowded(p); bad {
			t.Errorf("%q and %q overlap", a.text, b.text)
		}
		for _, r := range panel.Rows {
			if !strings.Contains(p.Alt(), r.Definition.Method.String()) {
				t.Errorf("%v is not named", r.Definition.Method)
			}
		}
	}
}

// axis reads a horizontal axis off the labels of a line: the straight line
// through place on paper against value.
func axis(t *testing.T, ls []label, read func(string) (float64, bool)) func(float64) vg.Length {
	t.Helper()
	type point struct {
		v float64
		x vg.Length
	}
	lines := map[string][]point{}
	for _, l := range ls {
		if v, ok := read(l.text); ok {
			key := fmt.Sprintf("%.3f", l.base)
			lines[key] = append(lines[key], point{v, (l.x0 + l.x1) / 2})
		}
	}
	for _, ps := range lines {
		if len(ps) < 3 {
			continue
		}
		p, q := ps[0], ps[len(ps)-1]
		f := func(v float64) vg.Length { return p.x + (q.x-p.x)*vg.Length((v-p.v)/(q.v-p.v)) }
		for _, r := range ps {
			if !(math.Abs(float64(f(r.v)-r.x)) <= 0.02) {
				t.Fatalf("label %v stands at %v, the axis puts it at %v", r.v, r.x, f(r.v))
			}
		}
		return f
	}
	t.Fatal("no axis found")
	return nil
}

// Evidence D: the paces along the top stand where the speeds along the bottom
// put them, 91.44 m or 100 m over the pace; so they do in every panel picture.
func TestPacesStandAtTheirSpeeds(t *testing.T) {
	for _, c := range []struct {
		pool pace.Pool
		per  float64
	}{{pace.SCY(), 91.44}, {pace.SCM(), 100}} {
		for kind, p := range pictures(t, 6, chart.Options{Pool: c.pool}) {
			if kind == "season" {
				continue
			}
			ls := labels(p)
			bottom := axis(t, ls, func(s string) (float64, bool) {
				v, err := strconv.ParseFloat(s, 64)
				return v, err == nil && v > 1 && v < 1.3
			})
			top := axis(t, ls, func(s string) (float64, bool) {
				if len(s) != 4 || s[1] != ':' { // ticks are whole seconds, thresholds tenths
					return 0, false
				}
				d, err := pace.ParseTime(s)
				return c.per / d.Seconds(), err == nil
			})
			for _, v := range []float64{1.05, 1.15, 1.2} {
				if !(math.Abs(float64(bottom(v)-top(v))) <= 0.05) {
					t.Errorf("%s: %v m/s stands at %v below and at %v above", kind, v, bottom(v), top(v))
				}
			}
		}
	}
}
