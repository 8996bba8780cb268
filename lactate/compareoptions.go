package lactate

import (
	"cmp"
	"errors"
	"fmt"

	"example.com/steptest/lactate/internal/uncertain"
)

// CompareOptions are the choices of [Compare] and [FollowSeason]. The zero value is the
// documented default.
type CompareOptions struct {
	// Options of each analysis. Confidence is also that of the comparison's intervals and
	// grades. If Curve makes a [curve.Exponential], the common shape of the tests is an
	// exponential too; otherwise it is any convex shape.
	Options
	// DayToDay is the typical error of a speed between tests a few days apart in an athlete
	// who has not changed, as a share of the intensity: state the athlete's own if tests on
	// several days without training between have shown it. Zero means 0.008: 7 × 200 m in
	// 40 elite swimmers, Anderson and others (2006), Eur J Sport Sci 6:145–154 (abstract
	// seen). That figure holds measurement error too: adding both errs on the side of
	// caution.
	DayToDay float64
	// Power is the share of comparisons that show the smallest detectable shift. Zero means
	// 0.80.
	Power float64
	// Meaningful is the smallest change that matters, as a share of the intensity. Zero
	// means that none is asked about.
	Meaningful float64
}

// WithDefaults puts defaults in place of what is zero. The error joins one for each option
// that cannot be right.
func (o CompareOptions) WithDefaults() (CompareOptions, error) {
	var err error
	o.Options, err = o.Options.WithDefaults()
	errs := []error{err}
	o.DayToDay = cmp.Or(o.DayToDay, uncertain.DayToDay)
	if !nonNegative(o.DayToDay) || o.DayToDay >= 1 {
		errs = append(errs, fmt.Errorf("%w: DayToDay: found %v, want a share of the intensity, such as 0.008", ErrOptions, o.DayToDay))
	}
	o.Power = cmp.Or(o.Power, 0.80)
	if !(o.Power > 0 && o.Power < 1) {
		errs = append(errs, fmt.Errorf("%w: Power: found %v, want a number between 0 and 1, such as 0.80", ErrOptions, o.Power))
	}
	if !nonNegative(o.Meaningful) || o.Meaningful >= 1 {
		errs = append(errs, fmt.Errorf("%w: Meaningful: found %v, want a share of the intensity, such as 0.01", ErrOptions, o.Meaningful))
	}
	return o, errors.Join(errs...)
}
