package chart

import (
	"math"
	"time"

	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// frame is a panel: the paper it covers and the data it spans. Data grow to
// the right and upward.
type frame struct {
	box
	left, right, bottom, top float64
}

func (f frame) x(v float64) vg.Length {
	return f.x0 + f.width()*vg.Length((v-f.left)/(f.right-f.left))
}

func (f frame) y(v float64) vg.Length {
	return f.y0 + f.height()*vg.Length((v-f.bottom)/(f.top-f.bottom))
}

func (f frame) at(x, y float64) vg.Point { return vg.Point{X: f.x(x), Y: f.y(y)} }

// clampX returns the place of v, or the nearer edge of the panel.
func (f frame) clampX(v float64) vg.Length { return max(f.x0, min(f.x(v), f.x1)) }

func (f frame) clampY(v float64) vg.Length { return max(f.y0, min(f.y(v), f.y1)) }

// tick is a place on an axis with its label.
type tick struct {
	at    float64
	label string
}

// ticks returns the multiples of the finest round step (1, 2 or 5 times a power
// of ten) that leaves no more than n of them between lo and hi.
func ticks(lo, hi float64, n int) []tick {
	step := roundStep((hi - lo) / float64(max(n, 1)+1))
	for i := 0; i < 4 && math.Floor(hi/step)-math.Ceil(lo/step) >= float64(n); i++ {
		step = roundStep(step * 1.01)
	}
	decimals := max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	var ts []tick
	for k := math.Ceil(lo/step - 1e-9); k <= hi/step+1e-9; k++ {
		v := k * step
		ts = append(ts, tick{v, say.Number(v, decimals)})
	}
	return ts
}

// roundStep returns the least of 1, 2, 5, 10 … that is not below s.
func roundStep(s float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(s)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= s*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// paceTicks returns round paces between two speeds (m/s), slow first, as few
// as n: multiples of a step that divides the minute.
func paceTicks(lo, hi float64, per pace.Length, n int) []tick {
	slow, fast := per.Metres()/lo, per.Metres()/hi // [s]
	steps := []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600}
	for _, step := range steps {
		first, last := math.Floor(slow/step+1e-9), math.Ceil(fast/step-1e-9)
		if first-last >= float64(n) {
			continue
		}
		places := 0
		if step < 1 {
			places = 1
		}
		var ts []tick
		for k := first; k >= max(last, 1); k-- {
			s := k * step
			ts = append(ts, tick{per.Metres() / s, pace.FormatTime(time.Duration(math.Round(s*1e3))*time.Millisecond, places)})
		}
		return ts
	}
	return nil
}
