package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// sayOdd says what is odd about the rows that are not as before.
func (c *companion) sayOdd(before []protocol.Repeat) {
	rec := c.test()
	for i, r := range rec.Repeats {
		if i >= len(before) || before[i].Number != r.Number || before[i].Time == r.Time && before[i].Lactate == r.Lactate {
			continue
		}
		if late := r.Time - r.Target; before[i].Time != r.Time && r.Target > 0 && late.Abs() >= time.Second && !r.AllOut {
			c.say("Repeat %d: %s, %s s %s than the target of %s.", r.Number, command.Clock(r.Time), table.Number(math.Abs(late.Seconds()), 1), map[bool]string{true: "slower", false: "faster"}[late > 0], command.Clock(r.Target))
		}
		if text := rec.Unexpected(r.Number, c.known); text != "" {
			c.say("Odd: %s. Then type: fix %d, and the new value. If it stands, go on.", text, r.Number)
		}
	}
}

// stand says where the test stands and what comes next.
func (c *companion) stand() {
	if c.fault != nil {
		c.say("The sheet has faults, and nothing is written into it until they are mended:")
		fmt.Fprintln(c.out, c.fault)
		return
	}
	switch w, i, _ := c.asked(); w {
	case askNothing:
		c.report()
		return
	case askRecovery:
		if i > 0 {
			return
		}
		c.say("That was the last repeat. Now the samples after it, until they fall; swim down easily, and watch the swimmer.")
		return
	case askLactate:
		return // the sample decides
	}
	fmt.Fprintln(c.out)
	c.sayCurve()
	c.sayNext()
}

// sayCurve says where the curve stands.
func (c *companion) sayCurve() {
	rec := c.test()
	t, err := rec.Test()
	var got []string
	for _, s := range t.Sampled() {
		got = append(got, fmt.Sprintf("%.1f", s.Lactate))
	}
	a, noCurve := lactate.Analyze(t, command.Options())
	switch {
	case errors.Is(err, protocol.ErrNoRepeats):
		return
	case len(got) < 3:
		c.say("So far %s mmol/L: a curve takes three samples.", cmp.Or(strings.Join(got, ", "), "none"))
		return
	case noCurve != nil:
		c.say("So far %s mmol/L: no curve yet, %v.", strings.Join(got, ", "), protocol.InWords(noCurve))
		return
	}
	hundred := rec.Pool.Per100()
	var parts []string
	for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
		name := fmt.Sprintf("LT%d", i+1)
		switch {
		case errors.Is(th.Err, lactate.ErrNotReached):
			parts = append(parts, name+" is not reached yet")
		case th.Err != nil:
			parts = append(parts, fmt.Sprintf("%s: %v", name, protocol.InWords(th.Err)))
		case math.IsInf(th.Intensity.High, 1):
			parts = append(parts, fmt.Sprintf("%s is near %s per %v, or faster than was swum", name, table.Clock(hundred.Metres()/th.Intensity.Value), hundred))
		default:
			parts = append(parts, fmt.Sprintf("%s is at %s per %v", name, table.Pace(th.Intensity, hundred), hundred))
		}
	}
	c.say("So far %s mmol/L. %s.", strings.Join(got, ", "), strings.Join(parts, "; "))
	for _, w := range rec.Numbered(a.Warnings) {
		if w.Kind == lactate.WarnOddSample {
			c.say("Odd: %v. If the time or the sample is wrong: fix %d m:ss mmol/L.", w, w.Stages[0])
		}
	}
}

// sayNext says what to swim, and why.
func (c *companion) sayNext() {
	rec := c.test()
	w, i, _ := c.asked()
	if w == askLactate {
		i++ // it is not in yet
	}
	if i >= len(rec.Repeats) {
		return
	}
	next, why, a := c.advice(i)
	if a != nil {
		why += fmt.Sprintf(". Expect about %.1f mmol/L (%.1f to %.1f)", a.Lactate.Value, a.Lactate.Low, a.Lactate.High)
	}
	c.say("Next: repeat %d%s, leaving at %s, %s.", next.Number, targetText(next, rec.Pool), pace.FormatTime(next.Leave, 0), why)
	switch {
	case next.AllOut:
		c.say("Stop at once if something is wrong: the cautions above, and local rules, come first.")
	case a != nil && a.Enough && a.LT1.All > 0:
		c.say("Enough has been learned: with all out as the next repeat, the brackets of LT1 and LT2 would be %.2f and %.2f times as wide as after all %d that are left. To do so, type: all out.",
			a.LT1.AllOut/a.LT1.All, a.LT2.AllOut/a.LT2.All, a.Left)
	}
}

// advice returns the repeat to swim next and why, and puts new targets into the sheet. The
// advice is nil if none can be given, as while a sample is odd: nothing is to be learned
// from it.
func (c *companion) advice(i int) (next protocol.Target, why string, a *protocol.Advice) {
	rec := c.test()
	plan := rec.Plan()
	odd := slices.IndexFunc(rec.Repeats[:i], func(r protocol.Repeat) bool { return rec.Unexpected(r.Number, c.known) != "" })
	a, err := plan.NextRepeat(*rec, c.known, lactate.Options{}, forecast.Rules{Keep: odd >= 0})
	next, why = plan.Repeats[i], "as planned"
	switch {
	case odd >= 0:
		return next, fmt.Sprintf("as planned, while the sample of repeat %d is odd", rec.Repeats[odd].Number), nil
	case err != nil:
		return next, fmt.Sprintf("as planned; no other advice, since %s", protocol.InWords(err).Error()), nil
	case a.Reason == forecast.SpreadAnew:
		why = "the repeats that are left are spread evenly again after what was swum"
	case a.Reason == forecast.Narrower:
		why = "spaced anew after the samples so far, which narrows LT1 and LT2 by a twentieth or more"
	case a.Reason == forecast.NoRoom && a.Left > 1:
		c.say("What was swum is close to the last repeat, and leaves no room for the %d that were planned before it. Type: all out. Or swim on as planned.", a.Left-1)
	}
	if a.Reason != forecast.NoRoom {
		next = a.Next
		if a.Reason != forecast.AsPlanned {
			c.adopt(a.Plan)
		}
	}
	return next, why, a
}

// targetText says in which time to swim a repeat.
func targetText(r protocol.Target, pool pace.Pool) string {
	if r.Time == 0 {
		return ", all out"
	}
	per := pool.Per100()
	target := fmt.Sprintf("%s (%s per %v, %s per length)", command.Clock(r.Time), pace.FormatTime(r.Split(per), 1), per, pace.FormatTime(r.Split(pool.Length()), 1))
	if r.AllOut {
		return ", all out, as fast as can be (about " + target + " is what is expected, not a limit)"
	}
	return " in " + target
}

// report ends with what the test says.
func (c *companion) report() {
	rec := c.test()
	fmt.Fprintln(c.out)
	c.say("The test is done: stop here, swim down. What it says:")
	t, err := rec.Test()
	if err != nil {
		c.say("%v", protocol.InWords(err))
	}
	a, err := lactate.Analyze(t, command.Options())
	if err != nil {
		c.say("No thresholds: %v.", protocol.InWords(err))
		return
	}
	found := table.Thresholds(a, command.Tables(rec.Pool))
	parts := []string{found[0].String()}
	if swum, err := rec.Plan().Swum(*rec, a); err == nil {
		swum.Caption = "Target and swum"
		parts = append(parts, swum.String())
	}
	parts = append(parts, command.Line("What to doubt, zones, other definitions: go run ./examples/steptest -full %s", c.file))
	fmt.Fprintln(c.out, command.Sections(parts...))
}
