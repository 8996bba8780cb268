package zones

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/pace"
)

// A Repeat is one swim of a set, as swum or as planned. The zero value is no
// swim.
type Repeat struct {
	Distance  pace.Length
	Time      time.Duration
	HeartRate float64 // at the end [1/min]; zero: not taken
}

// A RepeatError says which repeat is at fault. The zero value says nothing.
type RepeatError struct {
	Number int    // of the repeat, from 1
	Field  string // "distance", "time", "heart rate"
	Err    error
}

// Error returns one line.
func (e *RepeatError) Error() string {
	return fmt.Sprintf("zones: repeat %d, %s: %s", e.Number, e.Field, plain(e.Err))
}

// Unwrap returns e.Err.
func (e *RepeatError) Unwrap() error { return e.Err }

// check returns all faults of the repeats at once.
func check(repeats []Repeat) error {
	var errs []error
	if len(repeats) == 0 {
		errs = append(errs, faultf(ErrMissing, "no repeats"))
	}
	for i, r := range repeats {
		if _, err := pace.Over(r.Distance, time.Second); err != nil {
			errs = append(errs, &RepeatError{i + 1, "distance", err})
		}
		if r.Time <= 0 {
			errs = append(errs, &RepeatError{i + 1, "time", faultf(ErrValue, "%v, want a positive one", r.Time)})
		}
		if r.HeartRate != 0 && !(r.HeartRate >= 30 && r.HeartRate <= 260) {
			errs = append(errs, &RepeatError{i + 1, "heart rate", faultf(ErrValue, "%v /min, want 30 to 260, or 0 where not taken", r.HeartRate)})
		}
	}
	return errors.Join(errs...)
}

// A Judged is a repeat with its speed and zone. The zero value is no repeat.
type Judged struct {
	Repeat
	Speed pace.Speed
	Zone  string
}

// A Drift is how a quantity changed over a set: the straight line by least squares
// through its values against the number of the repeat. The zero value is not known.
type Drift struct {
	PerRepeat float64 // slope, per repeat
	OverSet   float64 // from the first repeat to the last, along the line
	Repeats   int     // how many values there were; with fewer than two nothing is known
}

// Known reports whether there were two values or more.
func (d Drift) Known() bool { return d.Repeats >= 2 }

// A Review is what a swum set was. The zero value is no set.
type Review struct {
	Repeats []Judged
	// Pace is the drift of the pace, in seconds per 100 of the pool [s]:
	// positive where the swimmer slowed.
	Pace Drift
	// HeartRate is the drift of the heart rate [1/min], over the repeats that
	// have one.
	HeartRate Drift
	Distribution
}

// Review judges a swum set repeat by repeat: the zone of its mean speed, the
// drift of pace and heart rate over it, time and distance per zone. Drift means
// what it says for repeats of one distance; a mixed set has its own pattern.
//
// It returns all faults at once, each a [*RepeatError]: a distance that is not a
// whole number of lengths of the pool, a time that is not positive, a heart rate
// that is not one.
func (t *Table) Review(repeats []Repeat, p pace.Pool) (*Review, error) {
	err := check(repeats)
	if err == nil {
		var errs []error
		for i, r := range repeats {
			if _, e := p.Lengths(r.Distance); e != nil {
				errs = append(errs, &RepeatError{i + 1, "distance", e})
			}
		}
		err = errors.Join(errs...)
	}
	if err != nil {
		return nil, err
	}
	d, err := t.Distribute(repeats)
	if err != nil {
		return nil, err
	}
	r := &Review{Distribution: *d}
	paces, rates := line{}, line{}
	for i, x := range repeats {
		v, err := pace.Over(x.Distance, x.Time)
		if err != nil {
			return nil, &RepeatError{i + 1, "time", err}
		}
		z, err := t.At(v)
		if err != nil {
			return nil, &RepeatError{i + 1, "time", err}
		}
		r.Repeats = append(r.Repeats, Judged{Repeat: x, Speed: v, Zone: z.Name})
		paces.add(float64(i), float64(p.Per100())/float64(v))
		if x.HeartRate != 0 {
			rates.add(float64(i), x.HeartRate)
		}
	}
	r.Pace, r.HeartRate = paces.drift(len(repeats)), rates.drift(len(repeats))
	return r, nil
}

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
	d.PerRepeat = xy / xx // repeat numbers differ, so that xx > 0
	d.OverSet = d.PerRepeat * float64(repeats-1)
	return d
}
