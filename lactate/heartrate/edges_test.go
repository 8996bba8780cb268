package heartrate_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// D: a stage is warned about where the line of the others, worked out without it,
// misses it by its share of 5 % of Student's t, and by 2 /min at least; the last
// one below by 5 %, one-sided. Stages are numbered as given.
func TestHeartRateStraysByRefit(t *testing.T) {
	xs := []float64{1.2, 1.1, 1.15, 1.25, 1.3, 1.35} // the first two not in order
	noise := []float64{0.4, -0.5, 0.3, -0.6, 0.5, -0.1}
	for _, where := range []int{0, 2, 5} {
		for k := -60; k <= 60; k++ {
			hs := make([]float64, len(xs))
			for i, x := range xs {
				hs[i] = 120 + 200*(x-1.1) + noise[i]
			}
			hs[where] += float64(k) / 10
			l := fitHearts(t, hearts(xs, hs), heartrate.Options{})
			said := ""
			for _, w := range l.Warnings {
				said += w.String() + "\n"
			}
			for i := range xs {
				off, ratio, n := deleted(xs, hs, i)
				dist := distuv.StudentsT{Sigma: 1, Nu: n - 3}
				flat := i == 5 && ratio < dist.Quantile(0.05)
				stray := !flat && math.Abs(ratio) > dist.Quantile(1-0.05/2/n)
				enough := math.Abs(off) >= 2
				if got := strings.Contains(said, "flattens"); i == 5 && got != (flat && enough) {
					t.Fatalf("stage 6 off by %v, ratio %v: %q", off, ratio, said)
				}
				side := map[bool]string{true: "below", false: "above"}[off < 0]
				text := fmt.Sprintf("stage %d has a heart rate of %.0f /min, %.0f %s the line", i+1, hs[i], math.Abs(off), side)
				if strings.Contains(said, text) != (stray && enough) {
					t.Fatalf("stage %d off by %v, ratio %v: %q", i+1, off, ratio, said)
				}
			}
		}
	}
}

// deleted returns how far a reading lies from the line of the others, and that in
// its standard errors.
func deleted(xs, hs []float64, without int) (off, ratio, n float64) {
	var x, y []float64
	for i := range xs {
		if i != without {
			x, y = append(x, xs[i]), append(y, hs[i])
		}
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	rss := 0.0
	for i := range x {
		r := y[i] - a - b*x[i]
		rss += r * r
	}
	m := float64(len(x))
	mean, variance := stat.PopMeanVariance(x, nil)
	d := xs[without] - mean
	off = hs[without] - a - b*xs[without]
	return off, off / math.Sqrt(rss/(m-2)*(1+1/m+d*d/(m*variance))), m + 1
}

// Four stages are enough to see a last heart rate that flattens, also where it lies
// far from the others; of two fastest ones neither is the last.
func TestHeartRateFlattens(t *testing.T) {
	for _, c := range []struct {
		name   string
		xs, hs []float64
		want   lactate.WarningKind
	}{
		{"four stages", []float64{1.1, 1.2, 1.3, 1.4}, []float64{120, 130, 140.01, 141}, heartrate.WarnFlattens},
		{"the last far away", []float64{1, 1.01, 1.02, 3}, []float64{120, 121, 122, 170}, heartrate.WarnFlattens},
		{"two fastest", []float64{1.1, 1.2, 1.3, 1.35, 1.4, 1.4}, []float64{120, 130, 140.01, 145, 150, 141}, heartrate.WarnStrays},
	} {
		l := fitHearts(t, hearts(c.xs, c.hs), heartrate.Options{})
		for _, kind := range []lactate.WarningKind{heartrate.WarnFlattens, heartrate.WarnStrays} {
			if has(l.Warnings, kind) != (kind == c.want) {
				t.Errorf("%s: %v, want %q", c.name, l.Warnings, c.want)
			}
		}
	}
	// The last stage is the fastest, however slow.
	l := fitHearts(t, hearts([]float64{0.6, 0.7, 0.8, 0.9}, []float64{120, 130, 140, 141}), heartrate.Options{WithoutLast: true})
	if l.Stages != 3 || l.Highest != 0.8 {
		t.Errorf("without the last: %+v", l)
	}
}

// D: at either end the line and its inverse agree; two stages of one intensity at
// either end are two intensities with the third.
func TestHeartRateEnds(t *testing.T) {
	l := fitHearts(t, january(), heartrate.Options{})
	for _, x := range []float64{l.Lowest, l.Highest} {
		h, err := l.Mean(x)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := l.Intensity(h.Value); err != nil || !(math.Abs(back.Value-x) <= 1e-12) {
			t.Errorf("intensity of %v: %v, %v", h.Value, back, err)
		}
	}
	for _, xs := range [][]float64{{1, 1, 2}, {1, 2, 2}} {
		if _, err := heartrate.Fit(hearts(xs, []float64{120, 122, 150}), heartrate.Options{}); err != nil {
			t.Errorf("%v: %v", xs, err)
		}
	}
}

// The limits of the options, on either side.
func TestHeartRateOptionEdges(t *testing.T) {
	for _, c := range []struct {
		o  heartrate.Options
		ok bool
	}{
		{heartrate.Options{Confidence: 1}, false}, {heartrate.Options{Confidence: 0.999}, true}, {heartrate.Options{Confidence: -0.9}, false},
		{heartrate.Options{DayToDay: 0.5}, true}, {heartrate.Options{DayToDay: -0.5}, false},
		{heartrate.Options{DayToDay: 250}, true}, {heartrate.Options{DayToDay: 250.5}, false},
	} {
		if _, err := heartrate.Fit(january(), c.o); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.o, err)
		}
	}
}

// D: one line may be read, and one test fitted, by several goroutines at once.
func TestHeartRateConcurrent(t *testing.T) {
	l := fitHearts(t, january(), heartrate.Options{})
	want := fmt.Sprint(l.HeartRate(1.25))
	var wait sync.WaitGroup
	for range 8 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			m, err := heartrate.Fit(january(), heartrate.Options{})
			if err != nil || m.Slope != l.Slope || fmt.Sprint(l.HeartRate(1.25)) != want {
				t.Errorf("slope %v, want %v (%v)", m.Slope, l.Slope, err)
			}
		}()
	}
	wait.Wait()
}

func has(ws []lactate.Warning, c lactate.WarningKind) bool {
	return slices.ContainsFunc(ws, func(w lactate.Warning) bool { return w.Kind == c })
}
