package zones

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// A PlannedSet is a set of a week, worked out, and what was swum of it. The zero value
// is no set.
type PlannedSet struct {
	Day     string  `json:"day"`
	SameDay bool    `json:"-"` // the line has no day of its own
	Plan    Workout `json:"plan"`
	Reason  string  `json:"reason,omitempty"`
	Review  *Review `json:"review,omitempty"` // nil if not swum
	// AgainstTest is the mean of the heart rates less those that were expected at the
	// same speeds [1/min]. Nil means not known.
	AgainstTest *float64 `json:"heart_rate_against_test_per_min,omitempty"`
}

// A Week is what the sets of a week come to. The zero value has none.
type Week struct {
	Sets    []PlannedSet  `json:"sets"`
	Planned *Distribution `json:"planned,omitempty"` // nil without sets
	Swum    *Distribution `json:"swum,omitempty"`    // nil if none was swum
	Hard    bool          `json:"above_lt2"`         // swimming near the maximum is asked for
}

// Week works the sets of a week out, and reviews those that were swum. expected gives
// the heart rate of the step test (1/min) at a speed, and an error outside the tested
// range; nil means not known. The error joins one for each set with a fault, which is
// left out, with its line.
func (t *Table) Week(sets []WeekSet, p pace.Pool, expected func(pace.Speed) (float64, error)) (*Week, error) {
	var planned, swum []Repeat
	var errs []error
	w := new(Week)
	for _, s := range sets {
		one, err := t.planned(s, p, expected)
		if err != nil {
			errs = append(errs, &fault{fmt.Sprintf("week: line %d: %s", s.Line, strings.ReplaceAll(plain(err), "\n", "; ")), err})
			continue
		}
		w.Sets = append(w.Sets, one)
		planned, swum = append(planned, one.Plan.Swims()...), append(swum, s.Swum...)
		to := one.Plan.Zone.To
		w.Hard = w.Hard || to.Open() || to.Speed > t.Profile.LT2.Speed
	}
	divide := func(repeats []Repeat) *Distribution {
		if len(repeats) == 0 {
			return nil
		}
		d, err := t.Distribute(repeats)
		errs = append(errs, err)
		return d
	}
	w.Planned, w.Swum = divide(planned), divide(swum)
	return w, errors.Join(errs...)
}

// planned plans one set and, if it was swum, reviews it.
func (t *Table) planned(s WeekSet, p pace.Pool, expected func(pace.Speed) (float64, error)) (out PlannedSet, err error) {
	out = PlannedSet{Day: s.Day, SameDay: s.SameDay, Reason: s.Reason}
	if out.Plan, err = t.Workout(s.Set, p); err != nil || len(s.Swum) == 0 {
		return out, err
	}
	if out.Review, err = t.Review(s.Swum, p); err != nil {
		return out, err
	}
	against, n := 0.0, 0
	for _, j := range out.Review.Repeats {
		if expected == nil || j.HeartRate == 0 {
			continue
		}
		if rate, err := expected(j.Speed); err == nil {
			against += j.HeartRate - rate
			n++
		}
	}
	if n > 0 {
		against /= float64(n)
		out.AgainstTest = &against
	}
	return out, nil
}

// day is what stands before a set: nothing if it goes on with the day above.
func (w *Week) day(i int) string {
	if s := w.Sets[i]; i == 0 || !s.SameDay || s.Day != w.Sets[i-1].Day {
		return s.Day
	}
	return ""
}

// PlannedTable returns a row for each set: its target and send-off, and the rest that
// they leave, or what the set is for.
func (w *Week) PlannedTable() table.Table {
	t := table.Table{Caption: "What to swim?", Head: make([]table.Column, 5)}
	for i, s := range w.Sets {
		why := s.Reason
		if why == "" {
			why = fmt.Sprintf("rest %.0f s or more", math.Floor(s.Plan.Rest.Seconds()))
			if s.Plan.Slow == 0 { // the zone is open there, the send-off is not
				why += " if swum in " + pace.FormatTime(s.Plan.Slowest.Truncate(100*time.Millisecond), 1)
			}
		}
		t.Rows = append(t.Rows, []string{w.day(i), fmt.Sprintf("%d × %v in zone %s", s.Plan.Set.Repeats, s.Plan.Set.Distance, s.Plan.Zone.Name),
			s.Plan.Target(), "on " + pace.FormatTime(s.Plan.SendOff, 0), why})
	}
	return t
}

// SwumTable returns a row for each set: the zone of each repeat, the mean pace, how pace
// and heart rate drifted, and the heart rate against the test.
func (w *Week) SwumTable() table.Table {
	t := table.Table{
		Caption: "What was swum?   (drift: from the first repeat to the last, along a line)",
		Head: []table.Column{{}, {Name: "zone of each repeat"}, {Number: true}, {Name: "drift, s", Number: true},
			{Name: "drift, /min", Number: true}, {Name: "against the test, /min", Number: true}},
		Notes: []string{"Against the test: the mean heart rate less that of the test's line at the same speeds. " +
			"It differs by a few beats from day to day, and in shorter repeats it lags behind."},
	}
	drift := func(d Drift, decimals int) string {
		if !d.Known() {
			return "not known"
		}
		return table.Signed(d.OverSet, decimals)
	}
	for i, s := range w.Sets {
		unit := s.Plan.Pool.Per100()
		t.Head[2].Name = "per " + unit.String()
		if s.Review == nil {
			t.Rows = append(t.Rows, []string{w.day(i), "not swum"})
			continue
		}
		var in []string
		for _, x := range s.Review.Repeats {
			in = append(in, x.Zone)
		}
		if n := len(in); n != s.Plan.Set.Repeats {
			in = append(in, fmt.Sprintf("(%d of %d)", n, s.Plan.Set.Repeats))
		}
		against := "not known"
		if s.AgainstTest != nil {
			against = table.Signed(*s.AgainstTest, 0)
		}
		d := s.Review.Distribution
		t.Rows = append(t.Rows, []string{w.day(i), strings.Join(in, " "), table.Clock(unit.Metres() * d.Time.Seconds() / d.Distance.Metres()),
			drift(s.Review.Pace, 1), drift(s.Review.HeartRate, 0), against})
	}
	return t
}
