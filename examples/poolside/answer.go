package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

const help = `  5:36.4            the time of the repeat that was asked for
  5:36.4 1.8 162    its time, its lactate [mmol/L] and its heart rate [1/min] at once
  1.8 162           its lactate, and its heart rate if taken
  lost              its sample is lost
  again 1.9         another sample of the latest repeat, in place of the first
  fix 3 5:36.4 1.8  what repeat 3 should say
  all out           leave out the repeats before the last, and swim that next
  Enter             skip the sample at rest; the next target while a sample is not in yet
  ?                 this list
  quit              end; start again at any time
`

// lost is the remark of a repeat whose sample will not come.
const lost = "sample lost"

// what is asked for next.
type what int

const (
	askRest what = iota
	askTime
	askLactate
	askRecovery
	askNothing
)

// asked returns what is asked for, and the index of the repeat or sample.
func (c *companion) asked() (what, int) {
	rec := c.test()
	swum := slices.IndexFunc(rec.Repeats, func(r protocol.Repeat) bool { return r.Time == 0 })
	last := len(rec.Repeats) - 1
	if swum < 0 {
		swum = last + 1
	}
	switch {
	case swum == 0 && rec.Rest == 0 && !c.noRest:
		return askRest, 0
	case swum > 0 && rec.Repeats[swum-1].Lactate == 0 && rec.Repeats[swum-1].Remark != lost && (swum <= last || len(rec.Recovery) == 0):
		return askLactate, swum - 1
	case swum <= last:
		return askTime, swum
	}
	for i, s := range rec.Recovery {
		if s.Lactate == 0 && s.Remark != lost {
			if i > 1 && rec.Recovery[i-1].Lactate > 0 && rec.Recovery[i-1].Lactate < rec.Recovery[i-2].Lactate {
				break // it falls
			}
			return askRecovery, i
		}
	}
	return askNothing, 0
}

// question asks for it.
func (c *companion) question() string {
	if c.fault != nil {
		return "Mend the sheet, then press Enter:"
	}
	rec := c.test()
	switch w, i := c.asked(); w {
	case askRest:
		return "Lactate at rest, before the first repeat [mmol/L] (Enter: none):"
	case askTime:
		return fmt.Sprintf("Time of repeat %d:", rec.Repeats[i].Number)
	case askLactate:
		return fmt.Sprintf("Lactate of repeat %d [mmol/L], and heart rate (or: lost):", rec.Repeats[i].Number)
	case askRecovery:
		return fmt.Sprintf("Lactate %g min after the last repeat [mmol/L] (or: lost):", rec.Recovery[i].After.Minutes())
	}
	return "(again, fix or quit)"
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
	if c.fault != nil {
		c.stand()
		return true
	}
	if len(words) == 0 {
		switch w, _ := c.asked(); w {
		case askRest:
			c.noRest = true
		case askLactate:
			c.next()
			return true
		}
		c.stand()
		return true
	}
	c.typed = true
	before := slices.Clone(c.test().Repeats)
	changed, err := c.take(words)
	if err == nil {
		err = c.save()
	}
	if err != nil {
		c.say("%v. Nothing was written; ? lists what can be typed.", strings.TrimPrefix(err.Error(), "protocol: "))
		if err := c.load(); err != nil {
			c.say("%v", err)
		}
		return true
	}
	c.told(before, changed)
	c.stand()
	c.typed, c.suspect = false, false
	return true
}

// take puts an answer into the test, and returns the number of the repeat whose row
// it changed; zero means none.
func (c *companion) take(words []string) (number int, err error) {
	rec := c.test()
	w, i := c.asked()
	switch {
	case words[0] == "again":
		for i := range slices.Backward(rec.Repeats) {
			if rec.Repeats[i].Time > 0 {
				return rec.Repeats[i].Number, put(&rec.Repeats[i], words[1:], false)
			}
		}
		return 0, errors.New("no repeat was swum yet")
	case words[0] == "fix" && len(words) > 2:
		for i := range rec.Repeats {
			if r := &rec.Repeats[i]; strconv.Itoa(r.Number) == words[1] {
				if r.Time == 0 && (i > 0 && rec.Repeats[i-1].Time == 0) {
					return 0, fmt.Errorf("repeat %d was not swum yet", r.Number)
				}
				return r.Number, put(r, words[2:], r.Time == 0)
			}
		}
		return 0, fmt.Errorf("found no repeat %q", words[1])
	case strings.Join(words, " ") == "all out" && w == askTime:
		last := rec.Repeats[len(rec.Repeats)-1]
		last.Number, last.Leave = rec.Repeats[i].Number, rec.Repeats[i].Leave
		rec.Repeats = append(rec.Repeats[:i], last)
		return 0, nil
	case w == askTime:
		return rec.Repeats[i].Number, put(&rec.Repeats[i], words, true)
	case w == askLactate:
		return rec.Repeats[i].Number, put(&rec.Repeats[i], words, false)
	case w == askRest && words[0] != "lost":
		rec.Rest, err = lactateIn(words[0])
		return 0, err
	case w == askRecovery:
		s := &rec.Recovery[i]
		if words[0] == "lost" {
			s.Remark = lost
			return 0, nil
		}
		s.Lactate, err = lactateIn(words[0])
		return 0, err
	}
	return 0, fmt.Errorf("found %q, want one of what is listed by ?", strings.Join(words, " "))
}

// put reads "5:36.4 1.8 162", or a part of it, into a repeat.
func put(r *protocol.Repeat, words []string, timeFirst bool) error {
	if len(words) > 0 && (timeFirst || strings.Contains(words[0], ":")) {
		t, err := pace.ParseTime(words[0])
		if err != nil || t == 0 {
			return fmt.Errorf("found %q, want a time such as 5:36.4", words[0])
		}
		if v, err := pace.Over(r.Distance, t); err != nil || v < 0.2 || v > 3 {
			return fmt.Errorf("found %s for %v, want a time at 0.2 to 3 m/s", command.Clock(t), r.Distance)
		}
		if r.Target > 0 && (t > 2*r.Target || t < r.Target/2) {
			return fmt.Errorf("found %s, want a time near the target of %s", command.Clock(t), command.Clock(r.Target))
		}
		r.Time, words = t, words[1:]
	}
	for k, word := range words {
		switch v, err := lactateIn(word); {
		case k == 0 && word == "lost":
			r.Lactate, r.Remark = 0, lost
		case k == 0 && err == nil:
			r.Lactate = v
			if r.Remark == lost {
				r.Remark = ""
			}
		case k == 0:
			return err
		case k == 1:
			hr, err := strconv.ParseFloat(word, 64)
			if err != nil || !(hr >= 30 && hr <= 250) {
				return fmt.Errorf("found a heart rate of %q, want 30 to 250 a minute", word)
			}
			r.HeartRate = hr
		default:
			return fmt.Errorf("found %q too much, want a time, a lactate and a heart rate", word)
		}
	}
	return nil
}

func lactateIn(word string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	if err != nil || !(v >= 0.1 && v <= 40) {
		return 0, fmt.Errorf("found a lactate of %q, want 0.1 to 40 mmol/L, or: lost", word)
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
