package main

import (
	"errors"
	"fmt"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// What the intervals of the thresholds rest on.
const (
	confidence = 0.90
	resamples  = 2000
	seed       = 1
)

// tableOf makes the zones of a swimmer from a step test. The line of heart rate
// against speed is nil where the test has none; the table then says so. Errors
// speak of the samples.
func tableOf(rec protocol.Record, scheme zones.Scheme) (*zones.Table, *lactate.HeartRateLine, []string, error) {
	test, err := rec.Test()
	if err != nil {
		return nil, nil, nil, err
	}
	a, err := lactate.Analyze(test, lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed})
	if err != nil {
		return nil, nil, nil, err
	}
	var errs []error
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err != nil {
			errs = append(errs, fmt.Errorf("no zones without LT%d: %w", i+1, command.InWords(th.Err)))
		}
	}
	if len(errs) > 0 {
		return nil, nil, nil, errors.Join(errs...)
	}
	p := zones.Profile{
		LT1: threshold(a.LT1.Intensity),
		LT2: threshold(a.LT2.Intensity),
		Top: pace.Speed(a.Highest),
		Lactate: func(v pace.Speed) (float64, error) {
			if x := float64(v); x >= a.Lowest && x <= a.Highest {
				return a.Curve.Predict(x), nil
			}
			return 0, fmt.Errorf("%v was not tested", v)
		},
		SpeedAtLactate: func(level float64) (pace.Speed, error) {
			x, err := lactate.Fixed{Lactate: level}.Locate(test, a.Curve)
			return pace.Speed(x), command.InWords(err)
		},
	}
	line, lineErr := heartRateLine(test)
	if lineErr == nil {
		p.HeartRate = func(v pace.Speed) (float64, error) {
			e, err := line.HeartRate(float64(v))
			return e.Value, command.InWords(err)
		}
		p.SpeedAtHeartRate = func(rate float64) (pace.Speed, error) {
			e, err := line.Intensity(rate)
			return pace.Speed(e.Value), command.InWords(err)
		}
	}
	var notes []string
	if hangsOnMax(scheme) {
		if lineErr != nil {
			return nil, nil, nil, fmt.Errorf("scheme %q needs heart rates: %w", scheme.Name, command.InWords(lineErr))
		}
		p.MaxHeartRate, notes = maxHeartRate(rec)
	}
	table, err := scheme.Of(p)
	switch {
	case errors.Is(err, zones.ErrOrder) && !(p.LT1.Speed < p.LT2.Speed):
		unit := rec.Pool.Per100()
		return nil, nil, nil, fmt.Errorf("no zones: LT1, at %s per %v, does not lie below LT2, at %s",
			command.Clock(unit.Metres()/a.LT1.Intensity.Value), unit, command.Clock(unit.Metres()/a.LT2.Intensity.Value))
	case err != nil:
		return nil, nil, nil, err
	}
	notes = append(notes, texts(table.Warnings)...)
	if lineErr != nil {
		notes = append(notes, fmt.Sprintf("no heart rates: %v", command.InWords(lineErr)))
		return table, nil, notes, nil
	}
	taken := 0
	for _, s := range test.Stages {
		if s.HeartRate > 0 {
			taken++
		}
	}
	left := ""
	if line.Stages < taken {
		left = fmt.Sprintf(": %d of %d; the last, near the maximum, is left out", line.Stages, taken)
	}
	notes = append(notes, "heart rates lie on a straight line through those of the repeats"+left+
		"; examples/steptest reads them from repeat to repeat, and differs by a few beats")
	for _, w := range line.Warnings {
		if w.Kind == lactate.FewHeartRates && left != "" {
			continue // that the test has too few would not be true
		}
		notes = append(notes, command.OfRepeats(w, rec))
	}
	return table, line, notes, nil
}

// hangsOnMax tells whether the edges of a scheme lie at parts of the maximal heart
// rate.
func hangsOnMax(scheme zones.Scheme) bool {
	return slices.ContainsFunc(scheme.Zones, func(z zones.Part) bool { return z.From.Of == zones.HeartRatePercent })
}

// maxHeartRate takes the highest heart rate of a test for the swimmer's, and says
// so; more loudly where the last repeat, the all-out one, has none.
func maxHeartRate(rec protocol.Record) (rate float64, notes []string) {
	var of, last protocol.Repeat
	for _, rep := range rec.Repeats {
		if rep.Time == 0 {
			continue
		}
		last = rep
		if rep.HeartRate > of.HeartRate {
			of = rep
		}
	}
	notes = []string{fmt.Sprintf("HRmax is taken to be %.0f /min, the highest heart rate of the test (repeat %d)", of.HeartRate, of.Number)}
	if last.HeartRate == 0 {
		notes = append(notes, fmt.Sprintf("repeat %d, the last and all out, has no heart rate: HRmax is likely higher, and then every zone here is too slow", last.Number))
	}
	return of.HeartRate, notes
}

// heartRateLine leaves the last stage out where heart rate flattens towards it.
func heartRateLine(test lactate.Test) (*lactate.HeartRateLine, error) {
	line, err := lactate.FitHeartRate(test, lactate.HeartRateOptions{Confidence: confidence})
	if err != nil {
		return nil, err
	}
	for _, w := range line.Warnings {
		if w.Kind != lactate.HeartRateFlattens {
			continue
		}
		below, err := lactate.FitHeartRate(test, lactate.HeartRateOptions{Confidence: confidence, WithoutLast: true})
		if err == nil {
			return below, nil
		}
	}
	return line, nil
}

// threshold takes an interval over where both its ends are known.
func threshold(e lactate.Estimate) zones.Threshold {
	th := zones.Threshold{Speed: pace.Speed(e.Value)}
	if e.Low > 0 && e.High < 10 { // not open
		th.Low, th.High = pace.Speed(e.Low), pace.Speed(e.High)
	}
	return th
}

func texts(ws []lactate.Warning) (out []string) {
	for _, w := range ws {
		out = append(out, w.Text("repeat"))
	}
	return out
}
