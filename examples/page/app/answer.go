package app

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// What the answers rest on: the same as in the other examples.
const (
	confidence = 0.90
	resamples  = 2000
	seed       = 1
	dayToDay   = 0.008 // of a speed: lactate.Options says whose
)

func options() lactate.Options {
	return lactate.Options{Confidence: confidence, Resamples: resamples, Seed: seed, FalseAlarms: 0.05, Power: 0.80, DayToDay: dayToDay}
}

// read analyses a test without intervals.
func read(r protocol.Record) (*lactate.Analysis, error) {
	t, err := r.Test()
	if err != nil {
		return nil, err
	}
	return lactate.Analyze(t, lactate.Options{})
}

func analysable(r protocol.Record) bool {
	a, err := read(r)
	return err == nil && a.LT2.Err == nil
}

// lastTest is the latest test of a swimmer before a day that has a curve.
func lastTest(records []protocol.Record, swimmer string, day time.Time) (*lactate.Analysis, string, error) {
	var found *lactate.Analysis
	var of protocol.Record
	for _, r := range records {
		if r.Swimmer != swimmer || !r.Date.Before(day) || found != nil && !r.Date.After(of.Date) {
			continue
		}
		if a, err := read(r); err == nil {
			found, of = a, r
		}
	}
	if found == nil {
		return nil, "", errors.New("found no earlier test")
	}
	return found, command.Day(of.Date), nil
}

// reviewed is what to think of before a plan is swum.
func reviewed(p protocol.Plan) []string {
	out := []string{}
	for _, f := range p.Review(protocol.Known{}) {
		out = append(out, f.String())
	}
	return out
}

// nextTarget is the target of a repeat, its pace, and why it is not the plan's, if so.
func nextTarget(r protocol.Record, number int) (target, pacing, why string) {
	plan := r.Plan()
	for i, t := range plan.Repeats {
		if t.Number != number {
			continue
		}
		v, err := t.Speed()
		if err != nil {
			return "", "", "No target: faster than the last one."
		}
		if i > 0 {
			if before, err := r.Repeats[i-1].Speed(); err == nil && before >= v && !t.AllOut {
				why = fmt.Sprintf("Repeat %d was as fast as this already: go a little faster than that.", number-1)
			}
		}
		return clock(t.Time), per100(v, r.Pool), why
	}
	return "", "", ""
}

// doubts adds what the library doubts about a test so far.
func doubts(r protocol.Record, add func(repeat int, format string, a ...any)) {
	a, err := read(r)
	if err != nil {
		return
	}
	for _, w := range a.Warnings {
		switch w.Kind {
		case lactate.CurveMisses:
			add(0, "%s", command.OfRepeats(w.Text, r))
		}
	}
}

// worked is a test with its answers.
type worked struct {
	record   protocol.Record
	test     lactate.Test
	analysis *lactate.Analysis
	zones    *zones.Table
}

func work(r protocol.Record) (*worked, error) {
	t, err := r.Test()
	if err != nil {
		return nil, command.InWords(err)
	}
	a, err := lactate.Analyze(t, options())
	if err != nil {
		return nil, command.InWords(err)
	}
	w := &worked{record: r, test: t, analysis: a}
	w.zones, _ = zonesOf(a) // their absence is said where they would stand
	return w, nil
}

// thresholdText is a threshold in words.
type thresholdText struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning"`
	Pace    string `json:"pace,omitempty"`
	Within  string `json:"within,omitempty"` // the bracket
	Beats   string `json:"beats,omitempty"`
	Lactate string `json:"lactate,omitempty"`
	Speed   string `json:"speed,omitempty"`
	Method  string `json:"method"`
	Problem string `json:"problem,omitempty"`
}

func (w *worked) thresholds() []thresholdText {
	var out []thresholdText
	for i, th := range []lactate.Threshold{w.analysis.LT1, w.analysis.LT2} {
		t := thresholdText{Name: []string{"LT1", "LT2"}[i], Method: th.Method.String(),
			Meaning: []string{"where lactate begins to rise", "where it begins to run away"}[i]}
		if th.Err != nil {
			t.Problem = command.InWords(th.Err).Error()
			out = append(out, t)
			continue
		}
		per := w.record.Pool.Per100()
		t.Pace, t.Within = split(command.PaceInterval(th.Intensity, per))
		t.Speed = command.Interval(th.Intensity, command.Number(3)) + " m/s"
		t.Lactate = command.Interval(th.Lactate, command.Number(1)) + " mmol/L"
		if !math.IsNaN(th.HeartRate.Value) {
			t.Beats = command.Interval(th.HeartRate, command.Number(0)) + " a minute"
		}
		out = append(out, t)
	}
	return out
}

// zonesOf puts the three-zone model on LT1 and LT2.
func zonesOf(a *lactate.Analysis) (*zones.Table, error) {
	if a.LT1.Err != nil || a.LT2.Err != nil {
		return nil, errors.New("zones need both LT1 and LT2")
	}
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
		LT1:     zones.Threshold{Speed: pace.Speed(a.LT1.Intensity.Value)},
		LT2:     zones.Threshold{Speed: pace.Speed(a.LT2.Intensity.Value)},
		Lactate: at(func(th lactate.Threshold) lactate.Estimate { return th.Lactate }),
	}
	if !math.IsNaN(a.LT1.HeartRate.Value) || !math.IsNaN(a.LT2.HeartRate.Value) {
		p.HeartRate = at(func(th lactate.Threshold) lactate.Estimate { return th.HeartRate })
	}
	return zones.ThreeZone().Of(p)
}

// warned are the doubts about a test, in the words of swimmers.
func (w *worked) warned() []string {
	var out []string
	for _, f := range w.record.Review() {
		out = append(out, f.String())
	}
	for _, x := range w.analysis.Warnings {
		if x.Kind != lactate.LostSamples && x.Kind != lactate.FewStages { // the review says these
			out = append(out, command.OfRepeats(x.Text, w.record))
		}
	}
	return append(out, "the brackets hold the error of analyser, drop of blood and watch, not how a swimmer differs from day to day")
}

// nextTest plans the same test again.
func (w *worked) nextTest() (protocol.Plan, error) {
	day := w.record.Next
	if day.IsZero() {
		day = w.record.Date.AddDate(0, 0, 7*6) // six to eight weeks are common practice
	}
	last := w.record.Repeats[len(w.record.Repeats)-1]
	q := protocol.Request{Swimmer: w.record.Swimmer, Date: day, Pool: w.record.Pool, Repeats: last.Number, Distance: last.Distance}
	return protocol.NewPlan(q.FromLast(w.analysis))
}

// compared are two tests of a swimmer.
type compared struct {
	before, after *worked
	change        *lactate.Change
}

func compare(before, after *worked) (*compared, error) {
	c, err := lactate.Compare(before.test, after.test, options())
	if err != nil {
		return nil, command.InWords(err)
	}
	return &compared{before, after, c}, nil
}

// answer is the verdict in words, and the numbers behind it.
func (c *compared) answer() (string, []string) {
	per := c.after.record.Pool.Per100()
	faster := "faster"
	if c.change.Shift.Value < 0 {
		faster = "slower"
	}
	measured, between := c.change.Measured.Verdict != lactate.NoChangeSeen, c.change.BetweenDays.Verdict != lactate.NoChangeSeen
	gain := func(j lactate.Judgement) string {
		return command.Faster(command.Gain(j.Shift, c.change.Reference, per))
	}
	var first string
	switch {
	case measured && between:
		first = "Yes, " + faster + ", by more than two days may differ."
	case measured:
		first = "Probably " + faster + ". A different day alone could do this. Test again."
	case between:
		first = "Perhaps " + faster + ", but these samples alone do not show it. Test again."
	default:
		first = "Cannot tell: no change that these two tests could see."
	}
	return first, []string{
		fmt.Sprintf("At the same lactate, per %v: %s by error of measurement alone.", per, gain(c.change.Measured)),
		fmt.Sprintf("With days that differ by %.1f %% of speed: %s.", 100*dayToDay, gain(c.change.BetweenDays)),
	}
}

func (c *compared) warned() []string {
	var out []string
	if p, q := c.before.record.Pool, c.after.record.Pool; p != q {
		out = append(out, fmt.Sprintf("the pools differ, %v and %v: a shorter pool is faster by its turns, and may feign a shift or hide one", p, q))
	}
	if d, e := longest(c.before.record), longest(c.after.record); d != e {
		out = append(out, fmt.Sprintf("the repeats differ, %v and %v: longer ones gather more lactate at the same speed", d, e))
	}
	for _, w := range c.change.Warnings {
		out = append(out, command.OfRepeats(w.Text, c.after.record))
	}
	return append(out, "a curve that moves right can mean a fitter swimmer, or less carbohydrate, a tired or an easier day: test fed and rested alike")
}

func longest(r protocol.Record) pace.Length {
	var d pace.Length
	for _, rep := range r.Repeats {
		d = max(d, rep.Distance)
	}
	return d
}

// follow fits all tests of a swimmer that have a curve.
func follow(tests []*worked) (*lactate.Season, error) {
	var dated []lactate.Dated
	for _, w := range tests {
		dated = append(dated, lactate.Dated{Date: w.record.Date, Test: w.test})
	}
	s, err := lactate.FollowSeason(dated, options())
	if err != nil {
		return nil, command.InWords(err)
	}
	return s, nil
}

// trend says whether the season has one.
func trend(s *lactate.Season, p pace.Pool) (string, []string) {
	first := "No trend that these tests could see."
	switch s.Trend.Verdict {
	case lactate.MovedRight:
		first = "Yes: faster from test to test."
	case lactate.MovedLeft:
		first = "Slower from test to test."
	}
	gain := command.Faster(command.Gain(s.Trend.Shift, s.Reference, p.Per100()))
	return first, []string{fmt.Sprintf("Every four weeks, per %v at the same lactate: %s.", p.Per100(), gain)}
}

// moved is the shift of a test from the first of its season, in words.
func moved(s *lactate.Season, i int, p pace.Pool) string {
	if i == 0 {
		return "first test"
	}
	return command.Faster(command.Gain(s.Tests[i].Measured.Shift, s.Reference, p.Per100()))
}

// of returns a swimmer's tests that have a curve, in order of their days.
func of(records []protocol.Record, swimmer string) []protocol.Record {
	var out []protocol.Record
	for _, r := range records {
		if _, err := read(r); r.Swimmer == swimmer && err == nil {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b protocol.Record) int { return a.Date.Compare(b.Date) })
	return out
}
