package protocol

import (
	"fmt"
	"time"

	"example.com/steptest/protocol/internal/form"
)

// Schedule returns the days of the next n tests, every so many weeks after a
// first day, on the same day of the week. Six to eight weeks is common
// practice. A test that would fall into a week to avoid (ISO 8601, from Monday;
// named by any of its days) moves to the next week that is free, and the ones
// after it are counted from there.
//
// Days are at midnight UTC. The error says which argument cannot be.
func Schedule(first time.Time, weeks, n int, avoid ...time.Time) ([]time.Time, error) {
	switch {
	case first.IsZero() || !form.HasYear(first):
		return nil, fmt.Errorf("protocol: schedule: found %s as the first day, want one in the years %v", first.Format(time.DateOnly), form.Year)
	case weeks < 1 || weeks > 104:
		return nil, fmt.Errorf("protocol: schedule: found every %d weeks, want 1 to 104", weeks)
	case n < 0 || n > 1000:
		return nil, fmt.Errorf("protocol: schedule: found %d tests, want 0 to 1000", n)
	}
	type week struct{ year, number int }
	busy := make(map[week]bool, len(avoid))
	for _, day := range avoid {
		y, w := day.ISOWeek()
		busy[week{y, w}] = true
	}
	day := dayOf(first)
	out := make([]time.Time, 0, n)
	for range n {
		day = day.AddDate(0, 0, 7*weeks)
		for {
			y, w := day.ISOWeek()
			if !busy[week{y, w}] {
				break
			}
			day = day.AddDate(0, 0, 7)
		}
		out = append(out, day)
	}
	return out, nil
}
