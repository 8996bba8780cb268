package command

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// Zones are those of a scheme on an analysis, with what to know about them. Heart
// rates are read between the repeats; if the zones hang on a part of the maximum,
// their speeds come from the straight line of heart rate against speed. Errors are of
// the samples.
func Zones(rec protocol.Record, test lactate.Test, a *lactate.Analysis, s zones.Scheme) (t *zones.Table, notes []string, err error) {
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} { // before ProfileOf, whose words do not name zones
		if th.Err != nil {
			err = errors.Join(err, fmt.Errorf("no zones without LT%d: %w", i+1, protocol.InWords(th.Err)))
		}
	}
	if err != nil {
		return nil, nil, err
	}
	p, err := zones.ProfileOf(a)
	if err != nil {
		return nil, nil, fmt.Errorf("zones cannot be drawn: %w", protocol.InWords(err))
	}
	p.SpeedAtLactate = inWords(p.SpeedAtLactate)
	if slices.ContainsFunc(s.Zones, func(z zones.Part) bool { return z.From.Of == zones.HeartRatePercent }) {
		line, err := HeartRateLine(test)
		if err != nil {
			return nil, nil, fmt.Errorf("scheme %q needs heart rates: %w", s.Name, protocol.InWords(err))
		}
		p.SpeedAtHeartRate = inWords(func(rate float64) (pace.Speed, error) {
			e, err := line.Intensity(rate)
			return pace.Speed(e.Value), err
		})
		p.MaxHeartRate, notes = maxHeartRate(rec)
	}
	if p.HeartRate != nil {
		p.HeartRate = inWords(p.HeartRate)
	}
	t, err = s.Apply(p)
	return t, notes, protocol.InWords(err)
}

// inWords says the errors of a function in the words of a coach.
func inWords[X, Y any](f func(X) (Y, error)) func(X) (Y, error) {
	return func(x X) (Y, error) {
		y, err := f(x)
		return y, protocol.InWords(err)
	}
}

// maxHeartRate takes the highest heart rate of a test for the swimmer's, and says
// so; more loudly if the last repeat, the all-out one, has none.
func maxHeartRate(rec protocol.Record) (rate float64, notes []string) {
	swum := slices.DeleteFunc(slices.Clone(rec.Repeats), func(r protocol.Repeat) bool { return r.Time == 0 })
	of := slices.MaxFunc(swum, func(a, b protocol.Repeat) int { return cmp.Compare(a.HeartRate, b.HeartRate) })
	notes = []string{fmt.Sprintf("HRmax is taken to be %.0f /min, the highest heart rate of the test (repeat %d)", of.HeartRate, of.Number)}
	if last := swum[len(swum)-1]; last.HeartRate == 0 {
		notes = append(notes, fmt.Sprintf("repeat %d, the last and all out, has no heart rate: HRmax is likely higher, and then every zone here is too slow", last.Number))
	}
	return of.HeartRate, notes
}

// HeartRateLine fits the line of heart rate over speed, without the last stage if heart
// rate flattens towards it. The error is that of [heartrate.Fit].
func HeartRateLine(test lactate.Test) (*heartrate.Line, error) {
	line, err := heartrate.Fit(test, heartrate.Options{})
	if err != nil {
		return nil, err
	}
	if slices.ContainsFunc(line.Warnings, func(w lactate.Warning) bool { return w.Kind == heartrate.WarnFlattens }) {
		if below, err := heartrate.Fit(test, heartrate.Options{WithoutLast: true}); err == nil {
			return below, nil
		}
	}
	return line, nil
}
