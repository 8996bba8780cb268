package zones

import (
	"errors"
	"math"

	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
)

// A Threshold is a threshold speed with its interval. The zero value is no
// threshold.
type Threshold struct {
	Speed pace.Speed `json:"speed"` // [m/s]
	// Low and High are the ends of the interval that comes with Speed [m/s]. Zero
	// means that there is none; so does an end that is not a finite number, as
	// if no interval was asked for, or if it is open.
	Low  pace.Speed `json:"low,omitzero"`
	High pace.Speed `json:"high,omitzero"`
}

// settled returns t without an interval that is none. Check and Apply settle the profiles of
// others; [ProfileOf] does too, since JSON has no numbers that are not finite.
func (t Threshold) settled() Threshold {
	for _, v := range []pace.Speed{t.Low, t.High} {
		if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
			t.Low, t.High = 0, 0
		}
	}
	return t
}

// A Profile is what a step test says about a swimmer, as far as zones need it.
// The zero value has no thresholds and gives no zones.
type Profile struct {
	LT1 Threshold `json:"lt1,omitzero"` // below LT2
	LT2 Threshold `json:"lt2,omitzero"`
	// Top is the speed of the fastest repeat [m/s]. Zero means not known; only a
	// scheme with a bound on [Top] needs it.
	Top pace.Speed `json:"top,omitzero"`
	// HeartRate gives the heart rate [1/min] at a speed, and an error outside
	// the tested range. Nil means that zones have no heart rates.
	HeartRate func(pace.Speed) (float64, error) `json:"-"`
	// Lactate gives the blood lactate [mmol/L] at a speed, and an error outside
	// the tested range. Nil means that zones have no lactate.
	Lactate func(pace.Speed) (float64, error) `json:"-"`
	// SpeedAtLactate gives the speed at a lactate level [mmol/L]. Nil means not
	// known; only a scheme with a bound on [LactateLevel] needs it.
	SpeedAtLactate func(float64) (pace.Speed, error) `json:"-"`
	// SpeedAtHeartRate gives the speed at a heart rate [1/min]. Nil means not
	// known; only a scheme with a bound on [HeartRatePercent] needs it.
	SpeedAtHeartRate func(float64) (pace.Speed, error) `json:"-"`
	// MaxHeartRate is the highest heart rate of the swimmer [1/min], measured,
	// not worked out from age. Zero means not known; only a scheme with a bound on
	// [HeartRatePercent] needs it.
	MaxHeartRate float64 `json:"max_heart_rate_per_min,omitzero"`
}

// Check reports all faults of p at once: a threshold that is missing or not
// positive, an interval that is none, LT1 not below LT2 ([ErrOrder]), a fastest
// repeat below LT2, a maximal heart rate that is not one. A threshold outside its
// own interval is no fault: definitions that jump from stage to stage, or that are
// not read off the fitted curve, give such ones (see package lactate).
// [Scheme.Apply] warns of it.
func (p Profile) Check() error {
	var errs []error
	for _, t := range []struct {
		name string
		Threshold
	}{{"LT1", p.LT1.settled()}, {"LT2", p.LT2.settled()}} {
		switch {
		case t.Threshold == Threshold{}:
			errs = append(errs, faultf(ErrMissing, "found no %s, want a speed", t.name))
		case !positive(float64(t.Speed)):
			errs = append(errs, faultf(ErrValue, "%s: found %v m/s, want a positive speed", t.name, float64(t.Speed)))
		case t.Low == 0 && t.High == 0:
		case !(t.Low > 0 && t.Low <= t.High):
			errs = append(errs, faultf(ErrValue, "%s: found an interval of %v to %v m/s, want two positive speeds, the slower first",
				t.name, float64(t.Low), float64(t.High)))
		}
	}
	if len(errs) == 0 && !(p.LT1.Speed < p.LT2.Speed) {
		errs = append(errs, faultf(ErrOrder, "found LT1 at %.6g m/s and LT2 at %.6g m/s, want LT1 below LT2 (as speeds, not paces)",
			float64(p.LT1.Speed), float64(p.LT2.Speed)))
	}
	if p.Top != 0 && !positive(float64(p.Top)) {
		errs = append(errs, faultf(ErrValue, "fastest repeat: found %v m/s, want a positive speed", float64(p.Top)))
	} else if p.Top != 0 && p.Top < p.LT2.Speed {
		errs = append(errs, faultf(ErrOrder, "fastest repeat: found %.6g m/s, want LT2, %.6g m/s, or faster", float64(p.Top), float64(p.LT2.Speed)))
	}
	const least = 60 // a maximum below that is none
	if p.MaxHeartRate != 0 && !(p.MaxHeartRate >= least && p.MaxHeartRate <= heartrate.Most) {
		errs = append(errs, faultf(ErrValue, "maximal heart rate: found %v /min, want %d to %d", p.MaxHeartRate, least, heartrate.Most))
	}
	return errors.Join(errs...)
}
