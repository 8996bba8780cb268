package between

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

// Options are the choices of [New]. The zero value is the documented default.
type Options struct {
	// Lactate has the noise, the confidence of the brackets and the definition of LT2. Its
	// other fields are not used.
	Lactate lactate.Options
	// DayToDay is how far one day is from an average one, one standard deviation, as a
	// share of the speed. Zero means 0.008: Anderson and others (2006), Eur J Sport Sci
	// 6:145–154 (abstract seen), as for two tests.
	DayToDay float64
	// Drift is how far the place of the curve moves in a week, one standard deviation, as a
	// share of the speed; in n weeks it is √n times that. It is taken for known to a
	// factor of two; tests and readings say the rest. Zero means 0.005: 2.2 % in 20
	// weeks. In 40 elite swimmers what changed between phases of a season differed from
	// swimmer to swimmer by 2.2 %, Anderson and others (2006), Eur J Sport Sci 6:145–154
	// (abstract seen); that its phases lie some 20 weeks apart is our reading.
	Drift float64
	// Offset is the prior standard deviation of what one kind of training repeat adds to
	// the lactate of a test at the same intensity [mmol/L]. Zero means 0.5, our judgement.
	Offset float64
	// Matters is the size from which on not knowing the place matters, as a share of the
	// speed: half the bracket at which a test is worth its blood. Zero means 0.03, our
	// judgement: with the other defaults and without readings it is reached about five weeks
	// after a test. Tests are often six to eight weeks apart (common practice).
	Matters float64
}

// WithDefaults puts defaults in place of what is zero. The error joins one for each option
// that cannot be right.
func (o Options) WithDefaults() (Options, error) {
	var errs []error
	var err error
	if o.Lactate, err = o.Lactate.WithDefaults(); err != nil {
		errs = append(errs, err)
	}
	set := func(v *float64, field string, standard, most float64, want string) {
		if *v == 0 {
			*v = standard
		}
		if !(*v > 0 && *v <= most) {
			errs = append(errs, fmt.Errorf("between: options: %s: found %v, want %s", field, *v, want))
		}
	}
	set(&o.DayToDay, "DayToDay", uncertain.DayToDay, 1, "a share of the speed, such as 0.008")
	set(&o.Drift, "Drift", 0.005, 1, "a share of the speed per √week, such as 0.005")
	set(&o.Offset, "Offset", 0.5, 100, "a standard deviation in mmol/L, such as 0.5")
	set(&o.Matters, "Matters", 0.03, 1, "a share of the speed, such as 0.03")
	return o, errors.Join(errs...)
}
