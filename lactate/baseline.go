package lactate

import (
	"cmp"
	"fmt"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/words"
)

// Baseline says what a rise is measured from. The zero value is BaselineFittedLowest.
type Baseline int

// The baselines. BaselineFittedLowest is ours; the others are in use.
const (
	// BaselineFittedLowest is the lowest value of the fitted curve inside the tested range;
	// it prints as "baseline". In simulated tests it has no visible bias, unlike the lowest
	// stage. On the exponential, which is monotone, it is the curve's value at the first
	// stage: a test that starts faster has a higher one.
	BaselineFittedLowest Baseline = iota
	// BaselineLowestStage is the lowest measured stage.
	BaselineLowestStage
	// BaselineFirstStage is the stage of the lowest intensity.
	BaselineFirstStage
	// BaselineFirstTwoStages is the mean of the two stages of the lowest intensities.
	BaselineFirstTwoStages
	// BaselineRestingSample is Test.Rest.
	BaselineRestingSample
)

var baselineNames = [...]string{"baseline", "lowest stage", "first stage", "mean of the first two stages", "rest"}

func (b Baseline) String() string {
	if b < 0 || int(b) >= len(baselineNames) {
		return fmt.Sprintf("Baseline(%d)", int(b))
	}
	return baselineNames[b]
}

// value returns the baseline lactate (mmol/L).
func (b Baseline) value(t Test, c Curve) (float64, error) {
	switch b {
	case BaselineFittedLowest:
		lo, hi, err := rangeOn(t.Stages, c)
		if err != nil {
			return 0, err
		}
		_, y := reading.Minimum(c, lo, hi)
		return y, nil
	case BaselineRestingSample:
		if !(t.Rest > 0) {
			return 0, fmt.Errorf("lactate: baseline from rest: %w: resting lactate", ErrMissing)
		}
		return t.Rest, nil
	case BaselineLowestStage, BaselineFirstStage, BaselineFirstTwoStages:
	default:
		return 0, fmt.Errorf("lactate: found %v, want a baseline of this package", b)
	}
	stages := ordered(t)
	if len(stages) < 2 {
		return 0, fmt.Errorf("lactate: baseline from the %v: %w: found %d with a lactate sample, want 2", b, ErrTooFewStages, len(stages))
	}
	switch b {
	case BaselineFirstStage:
		return stages[0].Lactate, nil
	case BaselineFirstTwoStages:
		return (stages[0].Lactate + stages[1].Lactate) / 2, nil
	}
	least := stages[0].Lactate
	for _, s := range stages[1:] {
		least = min(least, s.Lactate)
	}
	return least, nil
}

// AboveBaseline is the intensity at which the curve has risen by a given amount above a
// baseline.
//
// Rises in use (from memory): 1.0 mmol/L, Coyle and others (1983), J Appl Physiol 54:18–23,
// and Hagberg & Coyle (1983), Med Sci Sports Exerc 15:287–289; 0.5, Zoladz and others (1993),
// Eur J Appl Physiol 67:71–76; 1.5, Berg and others (1990). Above the lowest lactate
// equivalent, as in Dickhuth and others (1999), it is [AboveLowestEquivalent].
//
// The baseline changes the answer: Pfitzinger & Freedson (1998), Int J Sports Med 19:349–357,
// count 1 mmol/L above rest and above the exercise baseline as two methods (abstract seen). On
// seven stages that rise from 1.1 to 8.4 mmol/L, + 1.0 from the lowest stage, the first and
// the first two give 1.384, 1.388 and 1.386 m/s (constructed example in the tests). Bishop and
// others (1998), Med Sci Sports Exerc 30:1270–1275, take the first stage that meets the rise,
// which is [ObservedRise].
//
// Read by straight lines between samples, from the lowest of them, a rise comes earlier: a
// chord lies above the curve, and the lowest of several samples is low by chance. On real
// cycling tests of five stages or more the default reading of 0.5 mmol/L lies 4 % of the power
// above that, in half of them more, and that of 1.5 mmol/L 1 %. On simulated tests of an
// exponential straight lines lie 1.7 % too low for 0.5 mmol/L, the default 0.5 % too high (tests
// of this package): compare like readings alone.
//
// Every baseline but rest depends on where the test starts: only tests with like first stages
// compare. On 1 + 7·exp(14·(v − 1.45)) a first stage of 1.15 in place of 1.10 m/s moves the
// rise of 0.5 above the fitted lowest from 1.269 to 1.275 m/s, with no change of the curve
// (constructed).
//
// It needs the samples that the baseline is made of (else [ErrMissing] or [ErrTooFewStages])
// and a curve that reaches the level inside the tested range, else the error is a
// [*NotReachedError].
type AboveBaseline struct {
	Rise float64  // [mmol/L]. Zero means 1.0.
	From Baseline // Zero means BaselineFittedLowest.
}

func (m AboveBaseline) rise() float64 { return cmp.Or(m.Rise, 1) }

// Locate implements [Method].
func (m AboveBaseline) Locate(t Test, c Curve) (float64, error) {
	if !positive(m.rise()) {
		return 0, fmt.Errorf("lactate: rise above baseline: found %v, want a number above zero in mmol/L", m.Rise)
	}
	base, err := m.From.value(t, c)
	if err != nil {
		return 0, err
	}
	return locateLevel(t, c, base+m.rise())
}

func (m AboveBaseline) String() string {
	return fmt.Sprintf("%v + %s mmol/L", m.From, words.Short(m.rise()))
}
