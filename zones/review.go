package zones

import (
	"errors"

	"example.com/steptest/pace"
)

// A Judged is a repeat with its speed and zone. The zero value is no repeat.
type Judged struct {
	Repeat
	Speed pace.Speed `json:"speed"`
	Zone  string     `json:"zone"`
}

// A Review is what a swum set was. The zero value is no set.
type Review struct {
	Repeats []Judged `json:"repeats"`
	// Pace is the drift of the pace, in seconds per 100 of the pool [s]:
	// positive if the swimmer slowed.
	Pace Drift `json:"pace_drift_s_per_100"`
	// HeartRate is the drift of the heart rate [1/min], over the repeats that
	// have one.
	HeartRate Drift `json:"heart_rate_drift_per_min"`
	// Distribution is time and distance per zone.
	Distribution Distribution `json:"distribution"`
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
		v, err := pace.MeanSpeed(x.Distance, x.Time)
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
