package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// What the intervals of a report rest on.
const (
	confidence = 0.90
	resamples  = 2000
	seed       = 1
)

// weeksToNext is six weeks, unless the sheet names the day: six to eight are
// common practice.
const weeksToNext = 6

// standing cautions hold for every test.
var standing = []string{
	"the brackets hold the error of analyser, drop of blood and watch, not how a swimmer differs from day to day; " +
		"those of heart rate say in beats what those of speed say, and nothing of how a heart rate varies",
}

// reportAll works all tests out. The error says which have no thresholds.
func reportAll(records []protocol.Record) (command.Report, error) {
	out := &output{Tests: []*report{}}
	var errs []error
	for _, rec := range records {
		r := reportOn(rec)
		if r.Problem != "" {
			errs = append(errs, fmt.Errorf("steptest: %s, %s: %s", r.Swimmer, r.Date, r.Problem))
		}
		if r.Next != nil {
			out.Safety = protocol.Cautions()
		}
		out.Tests = append(out.Tests, r)
	}
	return out, errors.Join(errs...)
}

// reportOn works a test out. What cannot be worked out is left out, and said.
func reportOn(rec protocol.Record) *report {
	r := &report{
		Swimmer: rec.Swimmer, Date: rec.Date.Format(time.DateOnly),
		Rest: rec.Rest, Cautions: []string{},
	}
	if rec.Pool != (pace.Pool{}) {
		r.Pool, r.PoolLength, r.pool = rec.Pool.String(), rec.Pool.Length().Metres(), rec.Pool
	}
	caution := func(format string, args ...any) { r.Cautions = append(r.Cautions, fmt.Sprintf(format, args...)) }
	if note := command.Faults(rec); note != "" {
		caution("%s", note)
	}
	// Faults of the rows are reported by sheet.Read; the rest stands.
	test, err := rec.Test()
	if errors.Is(err, protocol.ErrNoRepeats) {
		r.Problem = "no repeat was swum"
		if len(rec.Faults) > 0 {
			r.Problem = "no repeat could be read"
		}
		return r
	}
	for _, f := range rec.Review() {
		caution("%v", f)
	}
	r.addRepeats(rec, test)

	opts := lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed}
	exponential, err := lactate.Analyze(test, opts)
	if err != nil {
		r.Problem = command.InWords(err).Error()
		return r
	}
	r.Confidence, r.Resamples = confidence, resamples
	r.drawing = &drawing{rec, test, exponential}
	r.LT1 = read(exponential.LT1, "exponential")
	r.LT2 = read(exponential.LT2, "exponential")
	said := map[string]bool{}
	for _, w := range exponential.Warnings {
		if w.Kind == lactate.NotMaximal && rec.Repeats[len(rec.Repeats)-1].Range == protocol.AboveRange {
			continue // the review says what it did end at
		}
		said[w.Text] = true
		if w.Kind != lactate.LostSamples && w.Kind != lactate.FewStages { // the review says these
			caution("%s", command.OfRepeats(w.Text, rec))
		}
	}
	for i, th := range []lactate.Threshold{exponential.LT1, exponential.LT2} {
		if th.Err != nil {
			caution("no LT%d: %v", i+1, command.InWords(th.Err))
		} else if n := th.Failed - th.Beyond; n > 0 { // those beyond the range are in it
			caution("%d of %d simulated tests gave no LT%d; its interval is of the others", n, resamples, i+1)
		}
	}
	opts = lactate.Options{Curve: func() lactate.Curve { return new(curve.Polynomial) }}
	cubic, err := lactate.Analyze(test, opts)
	if err != nil {
		caution("no cubic: %v", command.InWords(err))
	} else {
		for _, w := range cubic.Warnings {
			if !said[w.Text] {
				caution("on the cubic, %s", command.OfRepeats(w.Text, rec))
			}
		}
		r.addOtherCurve(exponential, cubic)
	}
	for i, th := range exponential.Thresholds {
		row := methodRow{Method: th.Method.String(), Exponential: read(th, "exponential")}
		if cubic != nil {
			row.Cubic = read(cubic.Thresholds[i], "cubic")
		}
		r.Methods = append(r.Methods, row)
	}
	if err := r.addZones(exponential); err != nil {
		caution("no zones: %v", command.InWords(err))
	}
	if exponential.LT2.Err == nil && exponential.LT2.Method == (lactate.MaxDistance{}) {
		caution("LT2's bracket rests on how the curve bends and where the test starts and ends, as Dmax does, not on where the curve lies: " +
			"whether that has moved is for examples/retest to say")
	}
	r.addTechnique(rec, exponential)
	if err := r.addNext(rec, exponential); err != nil {
		caution("no plan for the next test: %v", command.InWords(err))
	}
	r.Cautions = append(r.Cautions, standing...)
	return r
}

// addOtherCurve says where the other curve in common use puts a threshold
// outside its interval: the interval holds only if its own curve does.
func (r *report) addOtherCurve(exponential, cubic *lactate.Analysis) {
	per := r.pool.Per100()
	for i, c := range [][2]lactate.Threshold{{exponential.LT1, cubic.LT1}, {exponential.LT2, cubic.LT2}} {
		in, other := c[0].Intensity, c[1].Intensity.Value
		if c[0].Err != nil || c[1].Err != nil || !in.HasInterval() || in.Low <= other && other <= in.High {
			continue
		}
		r.Cautions = append(r.Cautions, fmt.Sprintf("LT%d on a cubic is %s per %v, outside its bracket: that holds only if lactate rises as an exponential, "+
			"which so few samples cannot settle", i+1, command.Clock(per.Metres()/other), per))
	}
}

// addRepeats lists what was swum. Each repeat that has a time is a stage of the
// test, in the same order; the stage's lactate is the one that the curve sees.
func (r *report) addRepeats(rec protocol.Record, test lactate.Test) {
	stage := 0
	for _, rep := range rec.Repeats {
		out := repeat{
			Number: rep.Number, Distance: rep.Distance.Metres(), distance: rep.Distance, time: rep.Time,
			Lactate: rep.Lactate, HeartRate: rep.HeartRate, Remark: rep.Remark,
		}
		if v, err := rep.Speed(); err == nil {
			out.Time, out.Speed = rep.Time.Seconds(), v.MetresPerSecond()
			out.Per100Yd, out.Per100M = per100(v)
			out.Lactate = test.Stages[stage].Lactate
			stage++
		}
		r.Repeats = append(r.Repeats, out)
	}
	for _, s := range rec.Recovery {
		r.Recovery = append(r.Recovery, sample{s.After.Seconds(), s.Lactate})
	}
}

// addZones puts the three-zone model on LT1 and LT2.
func (r *report) addZones(a *lactate.Analysis) error {
	if a.LT1.Err != nil || a.LT2.Err != nil {
		return errors.New("they need both thresholds")
	}
	// The edges of the three zones are the thresholds themselves.
	at := func(value func(lactate.Threshold) lactate.Estimate) func(pace.Speed) (float64, error) {
		return func(v pace.Speed) (float64, error) {
			for _, th := range []lactate.Threshold{a.LT1, a.LT2} {
				if y := value(th).Value; v == pace.Speed(th.Intensity.Value) && !math.IsNaN(y) {
					return y, nil
				}
			}
			return 0, fmt.Errorf("none at %v", v)
		}
	}
	p := zones.Profile{
		LT1:     bounds(a.LT1.Intensity),
		LT2:     bounds(a.LT2.Intensity),
		Lactate: at(func(th lactate.Threshold) lactate.Estimate { return th.Lactate }),
	}
	if low, high := a.LT1.HeartRate.Value, a.LT2.HeartRate.Value; low >= high {
		r.Cautions = append(r.Cautions, fmt.Sprintf("the zones have no heart rates: that at LT1, %.0f, is not below that at LT2, %.0f", low, high))
	} else if !math.IsNaN(a.LT1.HeartRate.Value) || !math.IsNaN(a.LT2.HeartRate.Value) {
		p.HeartRate = at(func(th lactate.Threshold) lactate.Estimate { return th.HeartRate })
	}
	table, err := zones.ThreeZone().Of(p)
	if errors.Is(err, zones.ErrOrder) {
		return errors.New("LT1 does not lie below LT2")
	}
	if err != nil {
		return err
	}
	r.table = table
	r.Cautions = append(r.Cautions, table.Warnings...)
	for _, z := range table.Zones {
		r.Zones = append(r.Zones, zone{z.Name, z.Meaning, edgeOf(z.From), edgeOf(z.To)})
	}
	return nil
}

func bounds(e lactate.Estimate) zones.Threshold {
	th := zones.Threshold{Speed: pace.Speed(e.Value)}
	if !math.IsInf(e.Low, 0) && !math.IsInf(e.High, 0) && e.HasInterval() {
		th.Low, th.High = pace.Speed(e.Low), pace.Speed(e.High)
	}
	return th
}

func edgeOf(e zones.Edge) *edge {
	if e.Open() {
		return nil
	}
	out := &edge{Anchor: e.Bound.String(), Speed: e.Speed.MetresPerSecond(), Lactate: e.Lactate, HeartRate: e.HeartRate}
	out.Per100Yd, out.Per100M = per100(e.Speed)
	return out
}

// addNext plans the same test again, between the same ends, so that the two
// compare.
func (r *report) addNext(rec protocol.Record, a *lactate.Analysis) error {
	day := rec.Next
	if day.IsZero() {
		day = rec.Date.AddDate(0, 0, 7*weeksToNext)
	}
	last := rec.Repeats[len(rec.Repeats)-1]
	request := protocol.Request{
		Swimmer: rec.Swimmer, Date: day, Pool: rec.Pool, Repeats: last.Number, Distance: last.Distance,
	}
	plan, err := protocol.NewPlan(request.FromLast(a))
	if err != nil {
		return err
	}
	r.target = plan.Repeats
	r.Next = &nextTest{Date: plan.Date.Format(time.DateOnly), Rest: plan.Rest()[0].Seconds()}
	for _, t := range plan.Repeats {
		v, err := t.Speed()
		if err != nil {
			return err
		}
		out := target{
			Number: t.Number, Distance: t.Distance.Metres(), Time: t.Time.Seconds(), AllOut: t.AllOut,
			Speed: v.MetresPerSecond(), Leave: t.Leave.Seconds(),
		}
		out.Per100Yd, out.Per100M = per100(v)
		r.Next.Repeats = append(r.Next.Repeats, out)
	}
	return nil
}

func read(th lactate.Threshold, curve string) *threshold {
	out := &threshold{Method: th.Method.String(), Curve: curve}
	if th.Err != nil {
		out.Problem = command.InWords(th.Err).Error()
		return out
	}
	yd, m := command.Paces(th.Intensity, 100*pace.Yard), command.Paces(th.Intensity, 100*pace.Metre)
	out.Per100Yd, out.Per100M, out.Speed, out.Lactate = &yd, &m, &th.Intensity, &th.Lactate
	if !math.IsNaN(th.HeartRate.Value) {
		out.HeartRate = &th.HeartRate
	}
	return out
}

// per100 returns a speed as paces per 100 yd and per 100 m [s].
func per100(v pace.Speed) (yd, m float64) {
	return (100 * pace.Yard).Metres() / v.MetresPerSecond(), 100 / v.MetresPerSecond()
}
