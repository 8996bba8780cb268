package zones

// A Drift is how a quantity changed over a set: the straight line by least squares
// through its values against the number of the repeat. The zero value is not known.
type Drift struct {
	PerRepeat float64 `json:"per_repeat"` // slope, per repeat
	OverSet   float64 `json:"over_set"`   // from the first repeat to the last, along the line
	Repeats   int     `json:"repeats"`    // how many values there were; with fewer than two nothing is known
}

// Known reports whether there were two values or more.
func (d Drift) Known() bool { return d.Repeats >= 2 }

// A line is a straight line by least squares.
type line struct{ xs, ys []float64 }

func (l *line) add(x, y float64) { l.xs, l.ys = append(l.xs, x), append(l.ys, y) }

func (l *line) drift(repeats int) Drift {
	d := Drift{Repeats: len(l.xs)}
	if !d.Known() {
		return d
	}
	n := float64(len(l.xs))
	var mx, my float64
	for i := range l.xs {
		mx, my = mx+l.xs[i]/n, my+l.ys[i]/n
	}
	var xx, xy float64
	for i := range l.xs {
		xx, xy = xx+(l.xs[i]-mx)*(l.xs[i]-mx), xy+(l.xs[i]-mx)*(l.ys[i]-my)
	}
	d.PerRepeat = xy / xx // repeat numbers differ: xx > 0
	d.OverSet = d.PerRepeat * float64(repeats-1)
	return d
}
