package draw

import (
	"math"
	"time"

	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
	"gonum.org/v1/plot/vg"
)

// Frame is a panel: the paper it covers and the data it spans. Data grow to
// the right and upward.
type Frame struct {
	Box
	Left, Right, Bottom, Top float64
}

func (f Frame) X(v float64) vg.Length {
	return f.X0 + f.Width()*vg.Length((v-f.Left)/(f.Right-f.Left))
}

func (f Frame) Y(v float64) vg.Length {
	return f.Y0 + f.Height()*vg.Length((v-f.Bottom)/(f.Top-f.Bottom))
}

func (f Frame) At(x, y float64) vg.Point { return vg.Point{X: f.X(x), Y: f.Y(y)} }

// ClampX returns the place of v, or the nearer edge of the panel.
func (f Frame) ClampX(v float64) vg.Length { return max(f.X0, min(f.X(v), f.X1)) }

func (f Frame) ClampY(v float64) vg.Length { return max(f.Y0, min(f.Y(v), f.Y1)) }

// Tick is a place on an axis with its label.
type Tick struct {
	At    float64
	Label string
}

// Ticks returns the multiples of the finest round step (1, 2 or 5 times a power
// of ten) that leaves no more than n of them between lo and hi; none if the two are not
// apart, or not by more than their last digits.
func Ticks(lo, hi float64, n int) []Tick {
	if !(hi-lo > 1e-9*math.Max(math.Abs(lo), math.Abs(hi))) || math.IsInf(hi-lo, 0) {
		return nil
	}
	step := roundStep((hi - lo) / float64(max(n, 1)+1))
	for i := 0; i < 4 && math.Floor(hi/step)-math.Ceil(lo/step) >= float64(n); i++ {
		step = roundStep(step * 1.01)
	}
	decimals := max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	var ts []Tick
	for k := math.Ceil(lo/step - 1e-9); k <= hi/step+1e-9; k++ {
		v := k * step
		ts = append(ts, Tick{v, say.Number(v, decimals)})
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

// PaceTicks returns round paces between two speeds (m/s), slow first, as few
// as n: multiples of a step that divides the minute.
func PaceTicks(lo, hi float64, per pace.Length, n int) []Tick {
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
		var ts []Tick
		for k := first; k >= max(last, 1); k-- {
			s := k * step
			ts = append(ts, Tick{per.Metres() / s, pace.FormatTime(time.Duration(math.Round(s*1e3))*time.Millisecond, places)})
		}
		return ts
	}
	return nil
}
