package chart_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// Every picture is compared with the one kept in testdata by gonum's image
// comparison, and so is what it says of itself. After looking at what changed, go test ./lactate/chart -regen
// keeps the new ones. Evidence E.
func TestRegressPictures(t *testing.T) {
	today := time.Date(2025, 5, 6, 0, 0, 0, 0, time.UTC)
	var said []string
	for _, dark := range []bool{false, true} {
		ps := pictures(t, 7, chart.Options{
			Pool: pace.SCY(), DPI: 60, Dark: dark, Title: "Invented swimmer",
			Zones: []chart.Zone{{Name: "zone 1", To: 1.085}, {Name: "zone 2", From: 1.085, To: 1.15}, {Name: "zone 3", From: 1.15}},
		})
		if !dark {
			for name, o := range map[string]between.Options{"between": {}, "between-shifts": {Lactate: lactate.Options{LT2: lactate.Fixed{Lactate: 40}}}} {
				p, err := chart.Between(course(t, o), today, chart.Options{Pool: pace.SCY(), DPI: 60})
				if err != nil {
					t.Fatal(err)
				}
				ps[name] = p
			}
			// One sample lost, one odd, no heart rates, slow.
			spoilt := invented(7, 0)
			spoilt.Stages[2].Lactate, spoilt.Stages[5].Lactate = 0, 1.6
			for i := range spoilt.Stages {
				spoilt.Stages[i].Intensity, spoilt.Stages[i].HeartRate = spoilt.Stages[i].Intensity-0.4, 0
			}
			a := analysed(t, spoilt, lactate.Options{Resamples: 200})
			p, err := chart.OneTest(a, chart.Options{Pool: pace.LCM(), DPI: 60, Quantity: strings.Repeat("speed ", 5), Width: 100 * vg.Centimeter})
			if err == nil {
				p, err = chart.OneTest(a, chart.Options{Pool: pace.LCM(), DPI: 60})
			}
			if err != nil {
				t.Fatal(err)
			}
			ps["spoilt"] = p
			for kind, p := range pictures(t, 7, chart.Options{}) {
				said = append(said, kind+" without a pool: "+p.Alt()+"\n")
			}
		}
		for kind, p := range ps {
			name := kind
			if dark {
				name += "-dark"
			} else {
				said = append(said, name+": "+p.Alt()+"\n")
			}
			var got bytes.Buffer
			if err := p.WritePNG(&got); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join("testdata", "golden", name+".png")
			if *cmpimg.GenerateTestData {
				if err := os.WriteFile(file, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			same, err := cmpimg.EqualApprox("png", got.Bytes(), want, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			if !same {
				t.Errorf("%s is not the picture in %s", name, file)
			}
		}
	}
	slices.Sort(said)
	file, got := filepath.Join("testdata", "golden", "alt.txt"), strings.Join(said, "")
	if *cmpimg.GenerateTestData {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want, err := os.ReadFile(file); err != nil || got != string(want) {
		t.Errorf("%v, the pictures say\n%s\nwant\n%s", err, got, want)
	}
}

// Evidence D: the same picture gives the same bytes, whenever, and from several
// goroutines at once.
func TestSameBytes(t *testing.T) {
	o := chart.Options{DPI: 50, Pool: pace.SCY(), Title: "Łucja <Żak> & \"co\""}
	first, second := pictures(t, 6, o), pictures(t, 6, o)
	for kind := range first {
		for _, file := range []string{"a.svg", "b.PNG"} {
			out := make([]bytes.Buffer, 4)
			var wg sync.WaitGroup
			for i := range out {
				wg.Add(1)
				go func() {
					defer wg.Done()
					p := first[kind]
					if i%2 == 1 {
						p = second[kind]
					}
					if err := p.Write(&out[i], file); err != nil {
						t.Error(err)
					}
				}()
			}
			wg.Wait()
			if out[0].Len() < 1000 {
				t.Errorf("%s, %s: %d bytes", kind, file, out[0].Len())
			}
			for i := range out {
				if !bytes.Equal(out[0].Bytes(), out[i].Bytes()) {
					t.Errorf("%s, %s: differs from run to run", kind, file)
				}
			}
		}
	}
}

// Evidence D: an SVG is well-formed XML that shows a name as it was given, is
// as large as asked, and describes itself; a PNG has the pixels asked for.
func TestFormats(t *testing.T) {
	const title = `Łucja <Żak> & "co" style="font-family:Liberation Sans;font-variant:normal;`
	test := invented(6, 0)
	a := analysed(t, test, lactate.Options{})
	p := oneTest(t, a, chart.Options{Title: title, Width: 30 * vg.Centimeter, Height: 20 * vg.Centimeter, DPI: 127})
	var texts []string
	var root xml.StartElement
	d := xml.NewDecoder(bytes.NewReader(svg(t, p)))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			if root.Name.Local == "" {
				root = token.Copy()
			}
		case xml.CharData:
			texts = append(texts, string(token))
		}
	}
	if !strings.Contains(strings.Join(texts, "\n"), "\n"+title+"\n") {
		t.Errorf("the title %q is not among the texts", title)
	}
	want := map[string]string{"width": "850.39pt", "height": "566.93pt", "role": "img", "aria-label": title + ": lactate against speed"}
	for _, attr := range root.Attr {
		if w, ok := want[attr.Name.Local]; ok && w != attr.Value {
			t.Errorf("%s=%q, want %q", attr.Name.Local, attr.Value, w)
		}
		delete(want, attr.Name.Local)
	}
	if len(want) > 0 {
		t.Errorf("the SVG lacks %v", want)
	}
	if !strings.Contains(strings.Join(texts, ""), p.Alt()) || !strings.Contains(p.Alt(), "LT2 by baseline + 1.5 mmol/L: 1.1") {
		t.Errorf("description %q", p.Alt())
	}
	if n := strings.Count(p.SVG(), "'Liberation Sans',Arial,Helvetica,sans-serif"); n != strings.Count(p.SVG(), "<text ") {
		t.Errorf("%d texts of %d name fonts that are like each other", n, strings.Count(p.SVG(), "<text "))
	}

	var b bytes.Buffer
	if err := p.WritePNG(&b); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if s := img.Bounds().Size(); s.X != 1500 || s.Y != 1000 { // 30 cm and 20 cm at 50 pixels per cm
		t.Errorf("PNG of %v pixels, want 1500 by 1000", s)
	}
}

// Evidence D: the threshold's line, strip and the bar's ends stand on the axis
// where the analysis puts them.
func TestThresholdStandsWhereItIs(t *testing.T) {
	test := invented(7, 0)
	a := analysed(t, test, lactate.Options{Resamples: 500})
	p := oneTest(t, a, chart.Options{})
	place := axis(t, labels(p), func(s string) (float64, bool) {
		v, err := strconv.ParseFloat(s, 64)
		return v, err == nil && v > 1 && v < 1.3
	})
	w, h := p.Size()
	var c recorder.Canvas
	p.Draw(draw.NewCanvas(&c, w, h))
	verticals := map[string]bool{} // places of vertical lines and edges
	for _, action := range c.Actions {
		var path vg.Path
		switch action := action.(type) {
		case *recorder.Stroke:
			path = action.Path
		case *recorder.Fill:
			path = action.Path
		}
		for i := 1; i < len(path); i++ {
			if path[i].Type == vg.LineComp && path[i].Pos.X == path[i-1].Pos.X && math.Abs(float64(path[i].Pos.Y-path[i-1].Pos.Y)) > 5 {
				verticals[fmt.Sprintf("%.1f", path[i].Pos.X)] = true
			}
		}
	}
	for name, e := range map[string]lactate.Estimate{"LT1": a.LT1.Intensity, "LT2": a.LT2.Intensity} {
		for _, v := range []float64{e.Value, e.Low, e.High} {
			x := float64(place(v))
			if !verticals[fmt.Sprintf("%.1f", x)] && !verticals[fmt.Sprintf("%.1f", x-0.05)] && !verticals[fmt.Sprintf("%.1f", x+0.05)] {
				t.Errorf("%s: nothing stands at %v, which is %v on paper", name, v, x)
			}
		}
	}
}

// Evidence B: WCAG 2.1, success criterion 1.4.3 and its definition of relative
// luminance: text has a contrast of 4.5 to 1 or more with its ground (from
// memory). And it is 9 pixels or more in a picture 360 pixels wide.
func TestTextIsLegible(t *testing.T) {
	luminance := func(hex string) float64 {
		n, err := strconv.ParseUint(hex, 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		l := 0.0
		for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
			v := float64(n>>(16-8*i)&0xFF) / 255
			if v <= 0.03928 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			l += weight * v
		}
		return l
	}
	style := regexp.MustCompile(`font-size:([0-9.]+)px;fill:#([0-9A-F]{6})`)
	paper := regexp.MustCompile(`<path d="M0,0L[^"]*" style="fill:#([0-9A-F]{6})"`)
	for _, dark := range []bool{false, true} {
		for kind, p := range pictures(t, 6, chart.Options{Dark: dark, Pool: pace.SCY()}) {
			s := string(svg(t, p))
			ground := paper.FindStringSubmatch(s)
			texts := style.FindAllStringSubmatch(s, -1)
			if ground == nil || len(texts) < 10 {
				t.Fatalf("%s: no ground, or %d texts", kind, len(texts))
			}
			width, _ := p.Size()
			for _, text := range texts {
				a, b := luminance(ground[1]), luminance(text[2])
				if contrast := (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05); !(contrast >= 4.5) {
					t.Errorf("%s: text of #%s on #%s has a contrast of %.1f", kind, text[2], ground[1], contrast)
				}
				size, err := strconv.ParseFloat(text[1], 64)
				if err != nil {
					t.Fatal(err)
				}
				if px := size * 360 / width.Points(); !(px >= 8.95) {
					t.Errorf("%s: text of %.1f pixels at 360 pixels wide", kind, px)
				}
			}
		}
	}
}

// Evidence D: what has no answer is said, and nothing stands in for it.
func TestWhatIsMissing(t *testing.T) {
	test := invented(6, 0)
	test.Stages[2].Lactate = 0
	for i := range test.Stages {
		test.Stages[i].HeartRate = 0
	}
	a := analysed(t, test, lactate.Options{LT2: lactate.Fixed{Lactate: 30}})
	p := oneTest(t, a, chart.Options{Pool: pace.SCY()})
	if !has(p, "no sample") {
		t.Error("the lost sample is not marked")
	}
	said := ""
	for _, l := range labels(p) {
		said += l.text + " "
		if strings.HasPrefix(l.text, "LT2\u00a0") || l.text == "heart rate, /min" {
			t.Errorf("%q is drawn", l.text)
		}
	}
	for _, want := range []string{"LT2 is not drawn", "30", "No intervals were asked for"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
}

// Evidence D: data gives an error that names it, never a panic.
func TestErrors(t *testing.T) {
	test := invented(6, 0)
	a := analysed(t, test, lactate.Options{})
	one := func(o chart.Options) error {
		_, err := chart.OneTest(a, o)
		return err
	}
	of := func(_ *chart.Picture, err error) error { return err }
	for want, err := range map[string]error{
		"found no analysis":            of(chart.OneTest(nil, chart.Options{})),
		"found no analysis, want":      of(chart.Methods(new(lactate.Analysis), chart.Options{})),
		"without a lactate sample":     of(chart.OneTest(&lactate.Analysis{Curve: a.Curve, Lowest: 1, Highest: 2}, chart.Options{})),
		"tested range":                 of(chart.OneTest(&lactate.Analysis{Curve: a.Curve}, chart.Options{})),
		"found no change":              of(chart.TwoTests(nil, chart.Options{})),
		"found no season":              of(chart.Season(nil, chart.Options{})),
		"found no panel":               of(chart.SideBySide(&lactate.Panel{}, chart.Options{})),
		"could be fitted":              of(chart.SideBySide(&lactate.Panel{Curves: make([]lactate.PanelCurve, 2)}, chart.Options{})),
		"found no repeat":              of(chart.Plan(nil, a, chart.Options{})),
		"repeat 1: found an intensity": of(chart.Plan([]chart.Repeat{{}}, a, chart.Options{})),
		"repeat 2: found":              of(chart.Technique(chart.Strokes{Repeats: []chart.Stroke{{0.9, lactate.Estimate{Value: 30}, lactate.Estimate{Value: 0.9}}, {}}}, nil, chart.Options{})),
		"repeats, want two or more":    of(chart.Technique(chart.Strokes{}, nil, chart.Options{})),
		"of one intensity": of(chart.Technique(chart.Strokes{Repeats: []chart.Stroke{
			{1, lactate.Estimate{Value: 30}, lactate.Estimate{Value: 2}}, {1, lactate.Estimate{Value: 30}, lactate.Estimate{Value: 2}}}}, nil, chart.Options{})),
		"Width":         one(chart.Options{Width: vg.Length(math.NaN())}),
		"found 101 cm":  one(chart.Options{Width: 101 * vg.Centimeter}),
		"8.5 to 100 cm": one(chart.Options{Width: vg.Centimeter}),
		"Height":        one(chart.Options{Height: 7 * vg.Centimeter}),
		"DPI":           one(chart.Options{DPI: 601}),
		"Unit":          one(chart.Options{Unit: "furlong/d"}),
		"Quantity":      one(chart.Options{Quantity: strings.Repeat("s", 31)}),
		"Pool":          one(chart.Options{Unit: "W", Pool: pace.SCY()}),
		"Zones[1]":      one(chart.Options{Zones: []chart.Zone{{}, {From: 2, To: 1}}}),
		".svg or .png": func() error {
			p, err := chart.OneTest(a, chart.Options{})
			if err != nil {
				return err
			}
			return p.Write(io.Discard, "picture.bmp")
		}(),
		"without a size": new(chart.Picture).WriteSVG(io.Discard),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	// All faults of the options at once.
	if err := one(chart.Options{DPI: 1, Height: 2, Width: 1}); strings.Count(err.Error(), "\n") != 2 {
		t.Errorf("error %q, want three faults", err)
	}
	p := oneTest(t, a, chart.Options{})
	for _, file := range []string{"a.svg", "a.png"} {
		if err := p.Write(broken{}, file); !errors.Is(err, errBroken) {
			t.Errorf("%s: error %v, want that of the writer", file, err)
		}
	}
	if s := new(chart.Picture).SVG(); s != "" {
		t.Errorf("SVG of the zero picture: %q", s)
	}
}

var errBroken = errors.New("broken")

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errBroken }

// Importing the other packages pulls in no plotting code.
func TestNoPlottingElsewhere(t *testing.T) {
	const module = "example.com/steptest/"
	packages := []string{"pace", "lactate/curve", "lactate", "lactate/table", "zones", "protocol", "protocol/sheet", "protocol/technique"}
	for _, p := range packages {
		out, err := exec.Command("go", "list", "-deps", module+p).CombinedOutput()
		if err != nil {
			t.Fatalf("go list -deps %s: %v\n%s", p, err, out)
		}
		deps := strings.Fields(string(out))
		if len(deps) < 10 {
			t.Fatalf("%s: %d dependencies, want more", p, len(deps))
		}
		for _, d := range deps {
			for _, plotting := range []string{"gonum.org/v1/plot", "codeberg.org/", "git.sr.ht/", "golang.org/x/image", "image/png", module + "lactate/chart"} {
				if strings.HasPrefix(d, plotting) {
					t.Errorf("%s depends on %s", p, d)
				}
			}
		}
	}
	out, err := exec.Command("go", "list", "-deps", module+"lactate/chart").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "gonum.org/v1/plot") {
		t.Errorf("lactate/chart does not depend on plot, and this test cannot fail: %v", err)
	}
	// The whole collection of Liberation, twelve faces, is a third of a program.
	if n := strings.Count(string(out), "/liberation/"); n != 2 {
		t.Errorf("lactate/chart links %d faces of Liberation, want 2", n)
	}
}
