package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

const help = `  5:36.4            the time of the repeat that was asked for (or: lost)
  5:36.4 1.8 162    its time, its lactate [mmol/L] and its heart rate [1/min] at once
  1.8 162           its lactate (or: lost), and its heart rate if taken
  fix 3 1.9         what repeat 3 should say: its lactate, or all three as above
  all out           leave out the repeats before the last, and swim that next
  Enter             skip the sample at rest; the next target while a sample is not in yet
  quit              end; start again at any time
`

// lost is the remark of a repeat whose time or sample will not come.
const lost = "lost"

// what is asked for next.
type what int

const (
	askRest what = iota
	askTime
	askLactate
	askRecovery
	askNothing
)

// asked returns what is asked for, the index of the repeat or sample, and the question.
func (c *companion) asked() (w what, i int, question string) {
	rec := c.test()
	last := len(rec.Repeats) - 1
	next := slices.IndexFunc(rec.Repeats, func(r protocol.Repeat) bool { return r.Time == 0 && r.Remark != lost })
	if next < 0 {
		next = last + 1
	}
	switch {
	case c.fault != nil:
		return askNothing, 0, "Mend the sheet, then press Enter:"
	case next == 0 && rec.Rest == 0 && !c.noRest:
		return askRest, 0, "Lactate at rest, before the first repeat [mmol/L] (Enter: none):"
	case next > 0 && rec.Repeats[next-1].Lactate == 0 && rec.Repeats[next-1].Remark != lost && (next <= last || len(rec.Recovery) == 0):
		return askLactate, next - 1, fmt.Sprintf("Lactate of repeat %d [mmol/L], and heart rate (or: lost):", rec.Repeats[next-1].Number)
	case next <= last:
		return askTime, next, fmt.Sprintf("Time of repeat %d:", rec.Repeats[next].Number)
	}
	for i, s := range rec.Recovery {
		if i > 1 && rec.Recovery[i-1].Lactate > 0 && rec.Recovery[i-1].Lactate < rec.Recovery[i-2].Lactate {
			break // it falls
		}
		if s.Lactate == 0 && s.Remark != lost {
			return askRecovery, i, fmt.Sprintf("Lactate %g min after the last repeat [mmol/L] (or: lost):", s.After.Minutes())
		}
	}
	return askNothing, 0, "(fix or quit)"
}

// answer takes one line; false means that it was the last.
func (c *companion) answer(line string) (more bool) {
	words := strings.Fields(strings.ToLower(line))
	switch strings.Join(words, " ") {
	case "quit", "exit", "q":
		return false
	case "?", "help", "h":
		fmt.Fprint(c.out, help)
		return true
	}
	if err := c.load(); err != nil { // what the sheet says now counts
		c.say("%v", err)
		return true
	}
	if c.fault != nil || len(words) == 0 {
		c.enter()
		return true
	}
	c.typed = true
	defer func() { c.typed = false }()
	before := slices.Clone(c.test().Repeats)
	err := c.fill(words)
	if err == nil {
		err = c.save()
	}
	if err != nil {
		c.refuse(err)
		return true
	}
	c.sayOdd(before)
	if words[0] == "fix" {
		c.say("Repeat %s is mended.", words[1])
	}
	c.stand()
	return true
}

// enter goes on without an answer: without the sample at rest, or to the next target while
// a sample is not in yet.
func (c *companion) enter() {
	switch w, _, _ := c.asked(); w {
	case askRest:
		c.noRest = true
	case askLactate:
		c.sayNext()
		return
	}
	c.stand()
}

// refuse says what is wrong with an answer, and goes back to what the sheet says.
func (c *companion) refuse(err error) {
	if f := (*protocol.Fault)(nil); errors.As(err, &f) {
		err = fmt.Errorf("%s: found %q, want %s", f.Column, f.Found, f.Want)
	}
	c.say("%v. Nothing was written; ? lists what can be typed.", table.Bare(err))
	if err := c.load(); err != nil {
		c.say("%v", err)
	}
}

// fill puts an answer into the test. Writing the sheet refuses what cannot be true.
func (c *companion) fill(words []string) (err error) {
	rec := c.test()
	w, i, _ := c.asked()
	switch {
	case words[0] == "fix" && len(words) > 2:
		i = slices.IndexFunc(rec.Repeats, func(r protocol.Repeat) bool { return strconv.Itoa(r.Number) == words[1] })
		if i < 0 || rec.Repeats[i].Time == 0 && i > 0 && rec.Repeats[i-1].Time == 0 {
			return fmt.Errorf("found no repeat %q that was swum", words[1])
		}
		return put(&rec.Repeats[i], words[2:])
	case w == askTime && strings.Join(words, " ") == "all out":
		last := rec.Repeats[len(rec.Repeats)-1]
		last.Number, last.Leave = rec.Repeats[i].Number, rec.Repeats[i].Leave
		rec.Repeats = append(rec.Repeats[:i], last)
		return nil
	case w == askTime || w == askLactate:
		return put(&rec.Repeats[i], words)
	case w == askRest:
		rec.Rest, err = number(words[0])
	case w == askRecovery && words[0] == lost:
		rec.Recovery[i].Remark = lost
	case w == askRecovery:
		rec.Recovery[i].Lactate, err = number(words[0])
	default:
		err = fmt.Errorf("found %q, want one of what is listed by ?", strings.Join(words, " "))
	}
	return err
}

// put reads "5:36.4 1.8 162", or a part of it, into a repeat.
func put(r *protocol.Repeat, words []string) (err error) {
	if words[0] != lost && (strings.Contains(words[0], ":") || r.Time == 0) {
		r.Time, err = pace.ParseTime(words[0])
		if err != nil || r.Target > 0 && (float64(r.Time) > 1.4*float64(r.Target) || float64(r.Time) < 0.7*float64(r.Target)) {
			return fmt.Errorf("found %q, want a time such as %s, near the target", words[0], command.Clock(max(r.Target, 300*time.Second)))
		}
		words = words[1:]
	}
	switch {
	case len(words) > 2:
		return fmt.Errorf("found %q too much, want a time, a lactate and a heart rate", words[2])
	case len(words) > 0 && words[0] == lost:
		r.Lactate, r.Remark = 0, lost
	case len(words) > 0:
		r.Lactate, err = number(words[0])
		r.Remark = strings.TrimPrefix(r.Remark, lost)
	}
	if len(words) > 1 && err == nil {
		r.HeartRate, err = number(words[1])
	}
	return err
}

func number(word string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	if err != nil || !(v > 0) {
		return 0, fmt.Errorf("found %q, want a number above zero, or: lost", word)
	}
	return v, nil
}

// adopt writes the targets of an advice into the sheet, unless someone else writes there.
func (c *companion) adopt(p protocol.Plan) {
	if !c.typed {
		return
	}
	for i, t := range p.Repeats {
		if r := &c.test().Repeats[i]; r.Time == 0 {
			r.Target, r.Leave = t.Time, t.Leave.Round(time.Second)
		}
	}
	if err := c.save(); err != nil {
		c.say("The new targets are not in the sheet: %v.", err)
	}
}
