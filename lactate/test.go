package lactate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/steptest/lactate/internal/clean"
)

// Stage is an effort held at one intensity, and the samples taken at its end. The zero value
// is no stage: an intensity must be above zero.
type Stage struct {
	// Intensity is any number that grows with effort, in Test.Unit: speed [m/s] or [km/h],
	// power [W]. Pace does not qualify: it falls as effort grows.
	Intensity float64 `json:"intensity"`
	// Lactate of the blood at the end of the stage [mmol/L]. Zero means not taken, or lost.
	Lactate float64 `json:"lactate_mmol_per_l,omitzero"`
	// HeartRate at the end of the stage [1/min]. Zero means not taken, or lost.
	HeartRate float64 `json:"heart_rate_per_min,omitzero"`
	// Duration is how long the stage lasted. Zero means unknown. It is needed for the
	// error of the watch and for [RecoveryTangent] alone.
	Duration time.Duration `json:"duration_ns,omitzero"`
}

// sampled reports whether the stage has a lactate sample.
func (s *Stage) sampled() bool { return s.Lactate > 0 }

// Units of intensity that the library knows.
const (
	MetresPerSecond   = "m/s"
	KilometresPerHour = "km/h"
	Watts             = "W"
)

// unitFits reports whether a unit can be one.
func unitFits(unit string) bool {
	return utf8.RuneCountInString(unit) <= 8 && clean.Line(unit) == unit
}

// oneUnit returns an error for tests whose units are said and differ.
func oneUnit(tests ...Test) error {
	said := ""
	for _, t := range tests {
		switch {
		case said == "":
			said = t.Unit
		case t.Unit != "" && t.Unit != said:
			return fmt.Errorf("lactate: found intensities in %s and in %s, want tests in one unit", clean.Short(said, 8), clean.Short(t.Unit, 8))
		}
	}
	return nil
}

// RecoverySample is a lactate sample taken after the last stage, at rest. The zero value is
// no sample.
type RecoverySample struct {
	After   time.Duration `json:"after_ns"`           // time since the end of the last stage
	Lactate float64       `json:"lactate_mmol_per_l"` // [mmol/L]
}

// Test is one step test. The zero value is an empty test, which every method refuses.
type Test struct {
	// Rest is the lactate before the first stage [mmol/L], never a point of the curve. Zero
	// means not taken.
	Rest float64 `json:"rest_mmol_per_l,omitzero"`
	// Stages in any order.
	Stages []Stage `json:"stages"`
	// Recovery holds samples taken after the last stage, if any.
	Recovery []RecoverySample `json:"recovery,omitempty"`
	// Submaximal says that the test ended before the effort was all out: stopped early, or
	// the last stage held back. Definitions that depend on the last stage, as Dmax does,
	// then lie where they are reported or above.
	Submaximal bool `json:"submaximal,omitzero"`
	// Unit of the intensities, at most eight letters, such as [MetresPerSecond]. Zones and
	// paces refuse what is no speed. Empty means not said, and is taken for m/s where a
	// unit is needed.
	Unit string `json:"intensity_unit,omitzero"`
}

// endsEarly reports whether the test or its samples end before the effort was all out: said
// so, a stage without a sample above all that have one, or less lactate at the last stage
// than at the one before.
func (t Test) endsEarly() bool {
	if t.Submaximal {
		return true
	}
	stages, top := ordered(t), t.top()
	n := len(stages)
	return n > 0 && !top.sampled() || n > 1 && stages[n-1].Lactate < stages[n-2].Lactate
}

// top returns the stage of the highest intensity, one with a sample if there are several.
func (t Test) top() (top Stage) {
	for _, s := range t.Stages {
		if s.Intensity > top.Intensity || s.Intensity == top.Intensity && s.sampled() {
			top = s
		}
	}
	return top
}

// ErrNotRising is returned for a test whose lactate falls as intensity rises:
// most often pace was passed for speed.
var ErrNotRising = errors.New("lactate: the samples fall as intensity rises; was pace passed for speed?")

// StageError says which value of a test cannot be right.
type StageError struct {
	Stage int     // index into Test.Stages, or into Test.Recovery; −1 for Test.Rest
	Field string  // "intensity", "lactate", "heart rate", "duration", "rest", "recovery time", "recovery lactate"
	Value float64 // what was found
	Want  string  // what was expected
}

func (e *StageError) Error() string {
	if e.Stage < 0 {
		return fmt.Sprintf("lactate: %s: found %v, want %s", e.Field, e.Value, e.Want)
	}
	if what, ok := strings.CutPrefix(e.Field, "recovery "); ok {
		return fmt.Sprintf("lactate: recovery sample %d: %s: found %v, want %s", e.Stage+1, what, e.Value, e.Want)
	}
	return fmt.Sprintf("lactate: stage %d: %s: found %v, want %s", e.Stage+1, e.Field, e.Value, e.Want)
}

// Check reports every value that cannot be right: numbers that are not finite, intensities
// not above zero, negative lactates, heart rates or times; not whether there are enough
// stages, which depends on the method. The error joins a [*StageError] for each fault.
func (t Test) Check() error {
	if t.plausible() {
		return nil
	}
	var errs []error
	check := func(stage int, field string, v float64, want string, ok bool) {
		if !ok {
			errs = append(errs, &StageError{stage, field, v, want})
		}
	}
	check(-1, "rest", t.Rest, "a lactate in mmol/L, or zero if not taken", nonNegative(t.Rest))
	for i, s := range t.Stages {
		check(i, "intensity", s.Intensity, "a finite number above zero", positive(s.Intensity))
		check(i, "lactate", s.Lactate, "a lactate in mmol/L, or zero if not taken", nonNegative(s.Lactate))
		check(i, "heart rate", s.HeartRate, "beats per minute, or zero if not taken", nonNegative(s.HeartRate))
		check(i, "duration", s.Duration.Seconds(), "a time, or zero if unknown", s.Duration >= 0)
	}
	for i, r := range t.Recovery {
		check(i, "recovery time", r.After.Seconds(), "a time since the end of the last stage", r.After >= 0)
		check(i, "recovery lactate", r.Lactate, "a lactate above zero in mmol/L", positive(r.Lactate))
	}
	if !unitFits(t.Unit) {
		errs = append(errs, fmt.Errorf("lactate: unit of intensity: found %q, want at most 8 letters, such as \"W\"", clean.Short(t.Unit, 40)))
	}
	return errors.Join(errs...)
}

// plausible is Check's answer without its words, for refits.
func (t Test) plausible() bool {
	ok := nonNegative(t.Rest) && (t.Unit == "" || unitFits(t.Unit))
	for i := range t.Stages {
		s := &t.Stages[i]
		ok = ok && positive(s.Intensity) && nonNegative(s.Lactate) && nonNegative(s.HeartRate) && s.Duration >= 0
	}
	for i := range t.Recovery {
		ok = ok && positive(t.Recovery[i].Lactate) && t.Recovery[i].After >= 0
	}
	return ok
}

func positive(v float64) bool    { return v > 0 && v <= math.MaxFloat64 }
func nonNegative(v float64) bool { return v >= 0 && v <= math.MaxFloat64 }

// inOrder returns the indexes of what Sampled returns.
func (t Test) inOrder() []int {
	out := make([]int, 0, len(t.Stages))
	for i, s := range t.Stages {
		if s.sampled() {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(t.Stages[a].Intensity, t.Stages[b].Intensity) })
	return out
}

// Sampled returns a copy of the stages that have a lactate sample, in order of intensity;
// stages of equal intensity keep their order.
func (t Test) Sampled() []Stage {
	out := make([]Stage, 0, len(t.Stages))
	for _, i := range t.inOrder() {
		out = append(out, t.Stages[i])
	}
	return out
}
