package main

import (
	"errors"
	"fmt"

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
// against speed is nil where the test has none; the table then says so.
func tableOf(rec protocol.Record, scheme zones.Scheme) (*zones.Table, *lactate.HeartRateLine, error) {
	test, err := rec.Test()
	if err != nil {
		return nil, nil, err
	}
	a, err := lactate.Analyze(test, lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed})
	if err != nil {
		return nil, nil, err
	}
	if err := errors.Join(a.LT1.Err, a.LT2.Err); err != nil {
		return nil, nil, fmt.Errorf("week: the test gives no zones: %w", err)
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
			return pace.Speed(x), err
		},
	}
	line, lineErr := heartRateLine(test)
	if lineErr == nil {
		p.HeartRate = func(v pace.Speed) (float64, error) {
			e, err := line.HeartRate(float64(v))
			return e.Value, err
		}
		p.SpeedAtHeartRate = func(rate float64) (pace.Speed, error) {
			e, err := line.Intensity(rate)
			return pace.Speed(e.Value), err
		}
		for _, s := range test.Stages {
			p.MaxHeartRate = max(p.MaxHeartRate, s.HeartRate)
		}
	}
	table, err := scheme.Of(p)
	if err != nil {
		return nil, nil, err
	}
	if lineErr != nil {
		table.Warnings = append(table.Warnings, fmt.Sprintf("no heart rates: %v", lineErr))
		return table, nil, nil
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
	table.Warnings = append(table.Warnings, "heart rates lie on a straight line through those of the repeats"+left+
		"; examples/steptest reads them from repeat to repeat, and differs by a few beats")
	for _, w := range line.Warnings {
		if w.Kind == lactate.FewHeartRates && left != "" {
			continue // that the test has too few would not be true
		}
		table.Warnings = append(table.Warnings, w.Text)
	}
	return table, line, nil
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
