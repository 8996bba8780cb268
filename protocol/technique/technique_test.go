package technique_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/testdata/sheets"
)

// stroked makes a record of 400 m repeats in a 50 m pool, with cycles over 20 m.
// All tests of this file that need numbers of their own take invented ones.
func stroked(speeds, cycles, seconds []float64) protocol.Record {
	r := protocol.Record{Swimmer: "Ann", Pool: pace.LCM()}
	for i, v := range speeds {
		r.Repeats = append(r.Repeats, protocol.Repeat{
			Number: i + 1, Distance: 400, Time: pace.Speed(v).Time(400),
			Cycles: cycles[i], Segment: 20, SegmentTime: time.Duration(math.Round(seconds[i] * 1e9)),
		})
	}
	return r
}

func techniqueOf(t testing.TB, r protocol.Record, o technique.Options) *technique.Profile {
	t.Helper()
	tech, err := technique.Of(r, o)
	if err != nil {
		t.Fatal(err)
	}
	return tech
}

func strokesNear(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

// Evidence D: 8 cycles over 20 m in 16 s are 30 /min, 2.5 m, and at 1.25 m/s in
// the segment an index of 3.125 m²/s; the repeat was swum at 1.3 m/s and that
// stays.
func TestByHand(t *testing.T) {
	tech := techniqueOf(t, stroked([]float64{1.3, 1.4, 1.5}, []float64{8, 9, 10}, []float64{16, 15, 14}), technique.Options{})
	for i, want := range [][4]float64{
		{30, 2.5, 3.125, 1.25 / 1.3},
		{36, 20. / 9, 400. / 135, 20. / 15 / 1.4},
		{600. / 14, 2, 400. / 140, 20. / 14 / 1.5},
	} {
		r := tech.Repeats[i]
		strokesNear(t, "rate", r.Rate.Value, want[0], 1e-8)
		strokesNear(t, "length", r.Length.Value, want[1], 1e-8)
		strokesNear(t, "index", r.Index.Value, want[2], 1e-8)
		strokesNear(t, "share", r.Share.Value, want[3], 1e-8)
		strokesNear(t, "speed", float64(r.Speed), 1.3+0.1*float64(i), 1e-9)
		if r.Rate.HasInterval() || r.Number != i+1 {
			t.Errorf("%+v: an interval that nobody asked for, or another repeat", r)
		}
	}
	// Half-way between the first two: 8.5 cycles in 15.5 s.
	at, err := tech.At(1.35)
	if err != nil {
		t.Fatal(err)
	}
	strokesNear(t, "rate at 1.35", at.Rate.Value, 60*8.5/15.5, 1e-7)
	strokesNear(t, "length at 1.35", at.Length.Value, 20/8.5, 1e-7)
	strokesNear(t, "index at 1.35", at.Index.Value, 400/8.5/15.5, 1e-7)
	// The slope of three equally spaced points is that of the first to the last.
	strokesNear(t, "change of length", tech.Length.Change.Value, -0.5, 1e-8)
	start := (2.5+20./9+2)/3 + 0.25
	strokesNear(t, "per cent", tech.Length.Percent.Value, -50/start, 1e-6)
	strokesNear(t, "change of rate", tech.Rate.Change.Value, 600./14-30, 1e-7)
}

// Evidence A: Arsoniadis et al. (2020), Sports 8:23, print group means of
// 34.5 /min, 2.25 m and 1.29 m/s for repeats of 400 m; 34.5 · 2.25 / 60 = 1.294.
// Other printed means of whole repeats are 6 to 12 % above rate × length: Share
// says so, and Speed is not touched.
func TestWorked(t *testing.T) {
	const cycles = 20 / 2.25
	seconds := 60 * cycles / 34.5
	tech := techniqueOf(t, stroked([]float64{1.38, 1.45}, []float64{cycles, cycles}, []float64{seconds, seconds}), technique.Options{})
	r := tech.Repeats[0]
	strokesNear(t, "rate × length", r.Rate.Value*r.Length.Value/60, 1.29, 0.005)
	strokesNear(t, "share", r.Share.Value, 1.294/1.38, 0.0005)
	strokesNear(t, "speed", float64(r.Speed), 1.38, 1e-9)
}

// Evidence D: repeats of one speed count as one with their mean; at a repeat's
// own speed At says what the repeat says.
func TestAt(t *testing.T) {
	tech := techniqueOf(t, stroked([]float64{1.4, 1.2, 1.4, 1.5}, []float64{9, 8, 10, 10}, []float64{15, 17, 15.5, 14}), technique.Options{Resamples: 50})
	at, err := tech.At(tech.Repeats[0].Speed)
	if err != nil {
		t.Fatal(err)
	}
	strokesNear(t, "rate of two", at.Rate.Value, 60*9.5/15.25, 1e-8)
	for _, i := range []int{1, 3} {
		at, err := tech.At(tech.Repeats[i].Speed)
		if err != nil || !reflect.DeepEqual(at, tech.Repeats[i].Stroke) {
			t.Errorf("repeat %d: %v, but at its speed %v, %v", i+1, tech.Repeats[i].Stroke, at, err)
		}
	}
	for _, v := range []pace.Speed{0, 1.19, 1.51, pace.Speed(math.NaN()), pace.Speed(math.Inf(1))} {
		var r *lactate.OutsideRangeError
		if _, err := tech.At(v); !errors.Is(err, lactate.ErrOutsideRange) || !errors.As(err, &r) || r.Unit != "m/s" {
			t.Errorf("at %v: %v, want ErrOutsideRange", v, err)
		}
	}
	if _, err := new(technique.Profile).At(0); err == nil {
		t.Error("the zero technique answers")
	}
}

// Evidence D: length depends on the count alone, so that its 90 % interval is
// 20 m over 8 ∓ 1.645·0.15 cycles; the time's is 16 ∓ 1.645·0.1 s.
func TestInterval(t *testing.T) {
	rec := stroked([]float64{1.3, 1.5}, []float64{8, 10}, []float64{16, 14})
	tech := techniqueOf(t, rec, technique.Options{Resamples: 40000, Seed: 3})
	z := distuv.UnitNormal.Quantile(0.95)
	r := tech.Repeats[0]
	strokesNear(t, "length, low", r.Length.Low, 20/(8+z*0.15), 0.002)
	strokesNear(t, "length, high", r.Length.High, 20/(8-z*0.15), 0.002)
	strokesNear(t, "share, low", r.Share.Low, 20/(16+z*0.1)/1.3, 0.0003)
	strokesNear(t, "share, high", r.Share.High, 20/(16-z*0.1)/1.3, 0.0003)
	// Rate is 60·c/t: to first order its relative errors add as squares.
	half := 30 * z * math.Hypot(0.15/8, 0.1/16)
	strokesNear(t, "rate, low", r.Rate.Low, 30-half, 0.03)
	strokesNear(t, "rate, high", r.Rate.High, 30+half, 0.03)

	again := techniqueOf(t, rec, technique.Options{Resamples: 40000, Seed: 3})
	first, err := json.Marshal(tech)
	second, err2 := json.Marshal(again)
	if err != nil || err2 != nil || !bytes.Equal(first, second) {
		t.Error("the same seed gives other bits")
	}
	other := techniqueOf(t, rec, technique.Options{Resamples: 40000, Seed: 4})
	if other.Repeats[0].Length == r.Length {
		t.Error("another seed gives the same bits")
	}
	// A quarter of the error, a quarter of the interval.
	narrow := techniqueOf(t, rec, technique.Options{Resamples: 40000, CountError: 0.0375}).Repeats[0].Length
	strokesNear(t, "narrower", (narrow.High-narrow.Low)/(r.Length.High-r.Length.Low), 0.25, 0.01)
}

// fallingAt makes a record whose stroke length is 2.4 m up to a speed and falls
// by 4 m per m/s beyond it, with normal errors of the count.
func fallingAt(join, slope, sd float64, rng *rand.Rand) protocol.Record {
	var speeds, cycles, seconds []float64
	for v := 1.1; v < 1.455; v += 0.05 {
		length := 2.4 - slope*max(0, v-join)
		c := 20 / length
		if sd > 0 {
			c += sd * rng.NormFloat64()
		}
		speeds, cycles, seconds = append(speeds, v), append(cycles, c), append(seconds, 20/(0.93*v))
	}
	return stroked(speeds, cycles, seconds)
}

// Evidence D: without errors the two lines are found as they were made.
func TestShortening(t *testing.T) {
	tech := techniqueOf(t, fallingAt(1.27, 4, 0, nil), technique.Options{CountError: 0.03, Resamples: 1000})
	s := tech.Shortening
	if s.Err != nil {
		t.Fatal(s.Err)
	}
	strokesNear(t, "join", s.Speed.Value, 1.27, 1e-6)
	strokesNear(t, "length there", s.Length, 2.4, 1e-6)
	strokesNear(t, "slope below", s.Below, 0, 1e-5)
	strokesNear(t, "slope above", s.Above, -4, 1e-5)
	if !(s.Speed.Low < 1.27 && s.Speed.High > 1.27 && s.Speed.High-s.Speed.Low < 0.05) || !(s.PValue <= 0.01) {
		t.Errorf("%+v, want a narrow interval about 1.27 and a clear bend", s)
	}
	// A coarser count knows less, and one with the default error nearly nothing.
	coarse := techniqueOf(t, fallingAt(1.27, 1, 0, nil), technique.Options{Resamples: 1000}).Shortening
	if !(coarse.PValue > 0.05) || !(coarse.Speed.High-coarse.Speed.Low > 0.1) {
		t.Errorf("%+v, want a wide interval and no clear bend", coarse)
	}
}

// Stroke lengths in which nothing starts to fall say what was found instead.
func TestShorteningNone(t *testing.T) {
	speeds := []float64{1.1, 1.2, 1.3, 1.4, 1.5}
	seconds := []float64{18, 17, 16, 15, 14}
	of := func(lengths ...float64) []float64 {
		for i := range lengths {
			lengths[i] = 20 / lengths[i]
		}
		return lengths
	}
	for _, c := range []struct {
		name   string
		cycles []float64
		noFall bool
		text   string
	}{
		{"equal", []float64{8, 8, 8, 8, 8}, true, "8 cycles in every repeat"},
		{"a straight line", of(2.5, 2.4, 2.3, 2.2, 2.1), true, "one straight line"},
		{"rises", of(2, 2, 2.1, 2.2, 2.3), true, "rises at the fast end"},
		{"falls, then rises", of(2.5, 2.3, 2.1, 2.2, 2.3), true, "rises at the fast end"},
		{"falls from the start", of(2.5, 2.2, 2.1, 2.05, 2), true, "falls from the start"},
		{"three repeats", of(2.5, 2.5, 2.3), false, "found 3 different speeds"},
	} {
		n := len(c.cycles)
		s := techniqueOf(t, stroked(speeds[:n], c.cycles, seconds[:n]), technique.Options{Resamples: 20}).Shortening
		if s.Err == nil || errors.Is(s.Err, technique.ErrNoFall) != c.noFall || !strings.Contains(s.Err.Error(), c.text) || !math.IsNaN(s.Speed.Value) {
			t.Errorf("%s: %+v", c.name, s)
		}
		b, err := json.Marshal(s)
		if err != nil || !strings.HasPrefix(string(b), `{"error":`) {
			t.Errorf("%s: JSON %s, %v", c.name, b, err)
		}
	}
}

// Evidence D: over simulated tests with the stated error, the 90 % interval
// holds the true join in about nine of ten, and without a bend a p-value below
// 0.1 is as rare as it says. Four standard errors are allowed for chance, and the
// interval may hold more: it opens where the join reaches an end.
func TestShorteningCoverage(t *testing.T) {
	const n = 400
	rng := rand.New(rand.NewPCG(5, 5))
	held, alarms := 0, 0
	for range n {
		o := technique.Options{CountError: 0.05, Resamples: 200, Seed: rng.Uint64()}
		s := techniqueOf(t, fallingAt(1.27, 4, o.CountError, rng), o).Shortening
		if s.Err == nil && s.Speed.Low <= 1.27 && 1.27 <= s.Speed.High {
			held++
		}
		// One line that falls: the join at the slow end.
		if s = techniqueOf(t, fallingAt(1.0, 1, o.CountError, rng), o).Shortening; s.PValue < 0.1 {
			alarms++
		}
	}
	chance := 4 * math.Sqrt(0.1*0.9/n)
	if share := float64(held) / n; !(share >= 0.9-chance-0.03) {
		t.Errorf("90 %% intervals hold the join in %.3f", share)
	}
	if share := float64(alarms) / n; !(share <= 0.1+chance) {
		t.Errorf("p < 0.1 in %.3f of tests without a bend", share)
	}
	t.Logf("held %d of %d, alarms %d", held, n, alarms)
}

func TestFaults(t *testing.T) {
	speeds, cycles, seconds := []float64{1.2, 1.3, 1.4, 1.5}, []float64{8, 8.5, 9, 10}, []float64{18, 17, 16, 15}
	for _, c := range []struct {
		name   string
		change func(r *protocol.Record)
		left   int    // repeats that stand; 0: no technique
		faults int    // Errors
		text   string // part of the error
	}{
		{"none", func(*protocol.Record) {}, 4, 0, ""},
		{"no measurement in one", func(r *protocol.Record) {
			r.Repeats[1].Cycles, r.Repeats[1].Segment, r.Repeats[1].SegmentTime = 0, 0, 0
		}, 3, 0, ""},
		{"no cycles", func(r *protocol.Record) { r.Repeats[1].Cycles = 0 }, 3, 1, "repeat 2: stroke cycles: found nothing"},
		{"no segment", func(r *protocol.Record) { r.Repeats[1].Segment = 0 }, 3, 1, "repeat 2: stroke segment: found nothing"},
		{"no segment time", func(r *protocol.Record) { r.Repeats[1].SegmentTime = 0 }, 3, 1, "repeat 2: segment time: found nothing"},
		{"not swum", func(r *protocol.Record) { r.Repeats[1].Time = 0 }, 3, 1, "repeat 2: time: found nothing"},
		{"another segment", func(r *protocol.Record) { r.Repeats[2].Segment = 15 }, 3, 1, "repeat 3: stroke segment: found 15 m, want 20 m"},
		{"longer than the pool", func(r *protocol.Record) { r.Repeats[3].Segment = 60 }, 3, 1, "repeat 4: stroke segment: found 60 m, want a stretch inside one length of a 50 m pool"},
		{"as long as the pool, all", func(r *protocol.Record) {
			for i := range r.Repeats {
				r.Repeats[i].Segment = 50
			}
		}, 0, 4, "inside one length"},
		{"not a number", func(r *protocol.Record) { r.Repeats[0].Cycles = math.NaN() }, 3, 1, "repeat 1: stroke cycles: found NaN"},
		{"negative", func(r *protocol.Record) { r.Repeats[0].SegmentTime, r.Repeats[1].Segment = -1, -20 }, 2, 2, "repeat 2: stroke segment: found -20 m"},
		{"fewer cycles than their error", func(r *protocol.Record) { r.Repeats[0].Cycles = 0.2 }, 3, 1, "above 0.3"},
		{"nothing measured", func(r *protocol.Record) {
			for i := range r.Repeats {
				r.Repeats[i].Cycles, r.Repeats[i].Segment, r.Repeats[i].SegmentTime = 0, 0, 0
			}
		}, 0, 0, "found 0 of 0 different speeds"},
		{"one speed", func(r *protocol.Record) {
			for i := range r.Repeats {
				r.Repeats[i].Time = 5 * time.Minute
			}
		}, 0, 0, "found 4 of 1 different speeds"},
	} {
		rec := stroked(speeds, cycles, seconds)
		c.change(&rec)
		tech, err := technique.Of(rec, technique.Options{})
		left := 0
		if tech != nil {
			left = len(tech.Repeats)
		}
		if left != c.left || errors.Is(err, technique.ErrTooFew) != (c.left == 0) {
			t.Errorf("%s: %d repeats stand, want %d; %v", c.name, left, c.left, err)
		}
		if (err == nil) != (c.text == "") || err != nil && !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: %v, want %q", c.name, err, c.text)
		}
		if got := strings.Count(errText(err), "technique: repeat"); got != c.faults {
			t.Errorf("%s: %d faults, want %d: %v", c.name, got, c.faults, err)
		}
		var fault *technique.Error
		if errors.As(err, &fault) != (c.faults > 0) {
			t.Errorf("%s: %v holds no Error, or one too many", c.name, err)
		}
	}
	rec := stroked(speeds, cycles, seconds)
	for _, o := range []technique.Options{
		{CountError: -1}, {CountError: math.NaN()}, {TimingError: -1}, {Confidence: 90}, {Resamples: -1}, {Resamples: 1 << 30},
	} {
		if tech, err := technique.Of(rec, o); tech != nil || err == nil {
			t.Errorf("%+v is taken", o)
		}
	}
	// Faults of the sheet's rows come along.
	records, _ := sheet.Read(strings.NewReader(
		"swimmer,date,pool,distance,repeat,time,lactate,stroke cycles,stroke segment,segment time\n" +
			"Ann,2025-01-18,50 m,400,1,6:00,1.2,8,20 m,0:18\nAnn,2025-01-18,50 m,400,2,5:50,1.3,8.5,20 m,0:17\nAnn,2025-01-18,50 m,400,3,5:75,1.3,9,20 m,0:17\n"))
	tech, err := technique.Of(records[0], technique.Options{})
	var fault *protocol.Fault
	if tech == nil || len(tech.Repeats) != 2 || !errors.As(err, &fault) {
		t.Errorf("%v, %v, want two repeats and the fault of the third", tech, err)
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// Measurements that are possible but look like slips are found.
func TestFindings(t *testing.T) {
	tech := techniqueOf(t, stroked([]float64{1.2, 1.3, 1.4}, []float64{17, 9, 10}, []float64{18, 10, 16}), technique.Options{})
	var texts []string
	for _, f := range tech.Findings {
		texts = append(texts, f.String())
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{"repeat 1: 1.18 m per cycle is short", "repeat 2: the segment was swum at 1.54"} {
		if !strings.Contains(all, want) {
			t.Errorf("findings lack %q:\n%s", want, all)
		}
	}
	if len(texts) != 2 {
		t.Errorf("%d findings, want 2:\n%s", len(texts), all)
	}
}

// Evidence D: the change between two tests is the difference at one speed; its
// errors add as squares; a test has not changed against itself.
func TestCompare(t *testing.T) {
	o := technique.Options{Resamples: 20000}
	before := techniqueOf(t, stroked([]float64{1.2, 1.4}, []float64{8, 10}, []float64{18, 16}), o)
	after := techniqueOf(t, stroked([]float64{1.25, 1.35}, []float64{8, 9}, []float64{17.5, 16.5}), o)
	c, err := technique.Compare(before, after, 1.3) // 9 cycles in 17 s, and 8.5 in 17
	if err != nil {
		t.Fatal(err)
	}
	strokesNear(t, "length", c.Length.Value, 20/8.5-20/9., 1e-7)
	strokesNear(t, "rate", c.Rate.Value, -60*0.5/17, 1e-7)
	strokesNear(t, "index", c.Index.Value, 20./17*(20/8.5-20/9.), 1e-7)
	// Each count is the mean of two, so that its error is 0.15/√2.
	sd := 0.15 / math.Sqrt2 * math.Hypot(20/(8.5*8.5), 20/(9.*9))
	z := distuv.UnitNormal.Quantile(0.95)
	strokesNear(t, "length, low", c.Length.Low, c.Length.Value-z*sd, 0.003)
	strokesNear(t, "length, high", c.Length.High, c.Length.Value+z*sd, 0.003)

	back, err := technique.Compare(after, before, 1.3)
	if err != nil || back.Length.Value != -c.Length.Value {
		t.Errorf("the other way round: %v, %v", back.Length, err)
	}
	self, err := technique.Compare(before, before, 1.3)
	if err != nil || self.Rate.Value != 0 || !(self.Rate.Low < 0 && self.Rate.High > 0) {
		t.Errorf("against itself: %v, %v", self.Rate, err)
	}
	if c.SegmentsDiffer {
		t.Error("the segments are the same")
	}

	_, err = technique.Compare(before, after, 1.22)
	if !errors.Is(err, lactate.ErrOutsideRange) || !strings.Contains(err.Error(), "second test") || strings.Contains(err.Error(), "first test") {
		t.Errorf("below the second test: %v", err)
	}
	short := stroked([]float64{1.2, 1.4}, []float64{4, 5}, []float64{9, 8})
	short.Pool = pace.SCM()
	for i := range short.Repeats {
		short.Repeats[i].Segment = 10
	}
	other := techniqueOf(t, short, technique.Options{})
	if _, err := technique.Compare(before, other, 1.3); err == nil || !strings.Contains(err.Error(), "50 m and 25 m") {
		t.Errorf("two pools: %v", err)
	}
	short.Pool = pace.LCM()
	other = techniqueOf(t, short, technique.Options{})
	if c, err := technique.Compare(before, other, 1.3); err != nil || !c.SegmentsDiffer || c.Length.HasInterval() {
		t.Errorf("other marks: %+v, %v", c, err)
	}
	if _, err := technique.Compare(before, nil, 1.3); err == nil {
		t.Error("nothing is compared")
	}
}

// The bundled retest, read from its sheet, has a technique in both tests, and
// JSON holds it.
func TestOfSheet(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Retest()))
	if err != nil {
		t.Fatal(err)
	}
	before := techniqueOf(t, records[0], technique.Options{Resamples: 200})
	after := techniqueOf(t, records[1], technique.Options{Resamples: 200})
	if len(before.Repeats) != 6 || before.Segment != 15*pace.Yard {
		t.Errorf("%d repeats over %v", len(before.Repeats), before.Segment)
	}
	c, err := technique.Compare(before, after, 1.15)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []any{before, *before, after, c} {
		b, err := json.Marshal(v)
		if err != nil || bytes.Contains(b, []byte("NaN")) || len(b) < 500 {
			t.Errorf("JSON %s, %v", b, err)
		}
	}
}

// Property: whatever a record holds, there is an answer or an error, no number
// is NaN, rate × length is the speed of the segment and share its ratio, mean
// speeds are those of the repeats, and JSON can be written.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.SampledFrom([]float64{0, -1, math.NaN(), math.Inf(1), 1e-300, 1e300, 1e9})
		value := func(name string, low, high float64) float64 {
			if rapid.IntRange(0, 30).Draw(t, name+" odd") == 0 {
				return odd.Draw(t, name)
			}
			return rapid.Float64Range(low, high).Draw(t, name)
		}
		rec := protocol.Record{Pool: pace.SCM()}
		for i := range rapid.IntRange(0, 8).Draw(t, "repeats") {
			rec.Repeats = append(rec.Repeats, protocol.Repeat{
				Number: i + 1, Distance: 400, Time: time.Duration(value("time", 240, 420) * 1e9),
				Cycles: value("cycles", 3, 9), Segment: 15, SegmentTime: time.Duration(value("segment time", 9, 16) * 1e9),
			})
		}
		tech, err := technique.Of(rec, technique.Options{Resamples: rapid.SampledFrom([]int{0, 20}).Draw(t, "resamples"), CountError: rapid.SampledFrom([]float64{0, 1e-12, 1}).Draw(t, "count error")})
		if tech == nil {
			if !errors.Is(err, technique.ErrTooFew) {
				t.Fatal(err)
			}
			return
		}
		for _, r := range tech.Repeats {
			clean := r.Rate.Value * r.Length.Value / 60
			if v, err := rec.Repeats[r.Number-1].Speed(); err != nil || v != r.Speed || !(math.Abs(clean/float64(v)-r.Share.Value) <= 1e-9*r.Share.Value) {
				t.Fatalf("%+v beside %v, %v", r, v, err)
			}
			if r.Length.HasInterval() && !(r.Length.Low <= r.Length.High) {
				t.Fatalf("%+v", r)
			}
		}
		if s := tech.Shortening; s.Err == nil && !(s.Speed.Value >= float64(tech.Slowest) && s.Speed.Value <= float64(tech.Fastest) && s.Above < s.Below && s.Above < 0) {
			t.Fatalf("%+v", s)
		}
		if _, err := json.Marshal(tech); err != nil {
			t.Fatal(err)
		}
	})
}
