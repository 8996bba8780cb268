package main

import (
	"errors"
	"fmt"
	"slices"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// zone makes the zones of the swimmer. The line of heart rate against speed stays
// nil if the test has none, and a note says so. Errors are of the samples.
func (r *report) zone(scheme zones.Scheme) error {
	rec := r.Test
	test, err := rec.Test()
	if err != nil {
		return err
	}
	a, err := lactate.Analyze(test, command.Options())
	if err != nil {
		return err
	}
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		if th.Err != nil {
			err = errors.Join(err, fmt.Errorf("no zones without LT%d: %w", i+1, command.InWords(th.Err)))
		}
	}
	if err != nil {
		return err
	}
	p, err := zones.ProfileOf(a)
	if err != nil {
		return err
	}
	p.SpeedAtLactate = spoken(p.SpeedAtLactate)
	p.HeartRate = nil
	line, lineErr := heartRateLine(test)
	if lineErr == nil {
		p.HeartRate = spoken(func(v pace.Speed) (float64, error) {
			e, err := line.HeartRate(float64(v))
			return e.Value, err
		})
		p.SpeedAtHeartRate = spoken(func(rate float64) (pace.Speed, error) {
			e, err := line.Intensity(rate)
			return pace.Speed(e.Value), err
		})
	}
	if hangsOnMax(scheme) {
		if lineErr != nil {
			return fmt.Errorf("scheme %q needs heart rates: %w", scheme.Name, command.InWords(lineErr))
		}
		var notes []string
		p.MaxHeartRate, notes = maxHeartRate(rec)
		for _, note := range notes {
			r.Add("%s", note)
		}
	}
	r.Zones, err = scheme.Apply(p)
	if errors.Is(err, zones.ErrOrder) && !(p.LT1.Speed < p.LT2.Speed) {
		unit := rec.Pool.Per100()
		return fmt.Errorf("no zones: LT1, at %s per %v, does not lie below LT2, at %s",
			table.Clock(unit.Metres()/a.LT1.Intensity.Value), unit, table.Clock(unit.Metres()/a.LT2.Intensity.Value))
	}
	if err != nil {
		return err
	}
	r.Of(rec, "", r.Zones.Warnings...)
	if lineErr != nil {
		r.Add("no heart rates: %v", command.InWords(lineErr))
		return nil
	}
	r.line = line
	r.noteLine(test)
	return nil
}

// spoken says the errors of a function in the words of a coach.
func spoken[X, Y any](f func(X) (Y, error)) func(X) (Y, error) {
	return func(x X) (Y, error) {
		y, err := f(x)
		return y, command.InWords(err)
	}
}

// noteLine says which repeats the line of heart rates rests on.
func (r *report) noteLine(test lactate.Test) {
	taken := 0
	for _, s := range test.Stages {
		if s.HeartRate > 0 {
			taken++
		}
	}
	left := ""
	if r.line.Stages < taken {
		left = fmt.Sprintf(": %d of %d; the last, near the maximum, is left out", r.line.Stages, taken)
	}
	r.Add("heart rates lie on a straight line through those of the repeats%s; examples/steptest reads them from repeat to repeat, and differs by a few beats", left)
	for _, w := range r.line.Warnings {
		if w.Kind != heartrate.WarnFewStages || left == "" { // else the test has enough
			r.Of(r.Test, "", w)
		}
	}
}

// hangsOnMax reports whether the edges of a scheme lie at parts of the maximal heart
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
func heartRateLine(test lactate.Test) (*heartrate.Line, error) {
	line, err := heartrate.Fit(test, heartrate.Options{})
	if err != nil {
		return nil, err
	}
	for _, w := range line.Warnings {
		if w.Kind != heartrate.WarnFlattens {
			continue
		}
		below, err := heartrate.Fit(test, heartrate.Options{WithoutLast: true})
		if err == nil {
			return below, nil
		}
	}
	return line, nil
}
