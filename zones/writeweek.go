package zones

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
)

// WriteWeek writes the sets of a week as [ReadWeek] reads them, with distances in the
// unit of the pool and the send-offs that they have.
func WriteWeek(w io.Writer, week []WeekSet, pool pace.Pool) error {
	out := csv.NewWriter(w)
	if err := out.Write(weekColumns); err != nil {
		return err
	}
	clock := func(t time.Duration) string {
		if t == 0 {
			return ""
		}
		return pace.FormatTime(t, -1)
	}
	for _, s := range week {
		day := s.Day
		if s.SameDay {
			day = ""
		}
		var times, rates []string
		taken := false
		for _, r := range s.Swum {
			rate := "-"
			if r.HeartRate > 0 {
				rate, taken = strconv.FormatFloat(r.HeartRate, 'f', -1, 64), true
			}
			times, rates = append(times, pace.FormatTime(r.Time, -1)), append(rates, rate)
		}
		if !taken {
			rates = nil
		}
		err := out.Write([]string{day, strconv.Itoa(s.Set.Repeats), strconv.FormatFloat(float64(tidy(s.Set.Distance)/pool.Unit()), 'f', -1, 64), s.Set.Zone,
			clock(s.Set.Rest), clock(s.Set.SendOff), strings.Join(times, " "), strings.Join(rates, " "), s.Reason})
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
