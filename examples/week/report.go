package main

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// report is all that is said about a week. Every quantity has its unit in the
// name of its field.
type report struct {
	InventedTest bool         `json:"invented_test"`
	InventedWeek bool         `json:"invented_week"`
	Swimmer      string       `json:"swimmer"`
	TestDate     string       `json:"test_date"`
	Pool         string       `json:"pool"`
	Scheme       string       `json:"scheme"`
	Source       string       `json:"scheme_source"`
	MaxHeartRate float64      `json:"max_heart_rate_per_min,omitempty"` // where the zones hang on it
	Zones        []zones.Zone `json:"zones"`
	Sets         []set        `json:"sets"`
	Planned      *division    `json:"planned,omitempty"`
	Swum         *division    `json:"swum,omitempty"`
	Notes        []string     `json:"notes"`
	Cautions     []string     `json:"safety_cautions,omitempty"` // where swimming near the maximum is asked for

	record protocol.Record
	table  *zones.Table
}

type set struct {
	Day      string  `json:"day"`
	Zone     string  `json:"zone"`
	Repeats  int     `json:"repeats"`
	Distance float64 `json:"distance_m"`
	Slow     float64 `json:"slow_target_s,omitempty"` // none: open
	Fast     float64 `json:"fast_target_s,omitempty"`
	SendOff  float64 `json:"send_off_s"`
	Slowest  float64 `json:"slowest_for_send_off_s"` // the time of a repeat that leaves the least rest
	Rest     float64 `json:"least_rest_s"`
	Time     float64 `json:"whole_set_s"`
	Swum     []swim  `json:"swum,omitempty"`
	// Drift over the set, along a line; above zero: slower, or a higher heart rate.
	PaceDrift      *float64 `json:"pace_drift_s_per_100,omitempty"`
	HeartRateDrift *float64 `json:"heart_rate_drift_per_min,omitempty"`
	// AgainstTest is the mean of the heart rates less those of the test's line
	// at the same speeds.
	AgainstTest *float64 `json:"heart_rate_against_test_per_min,omitempty"`

	goesOn bool // the line has no day of its own
	plan   zones.Plan
	review *zones.Review
}

type swim struct {
	Time      float64 `json:"time_s"`
	Speed     float64 `json:"speed_m_per_s"`
	HeartRate float64 `json:"heart_rate_per_min,omitempty"`
	Zone      string  `json:"zone"`
	// Expected is the heart rate of the test's line at this speed, with the
	// interval that one reading is expected in.
	Expected *lactate.Estimate `json:"heart_rate_expected_per_min,omitempty"`
}

// division is time and distance per zone.
type division struct {
	Zones []share  `json:"zones"`
	Three [3]share `json:"three_zones"` // below LT1, between, above LT2

	distribution *zones.Distribution
}

type share struct {
	Zone     string  `json:"zone"`
	Time     float64 `json:"time_s"`
	Distance float64 `json:"distance_m"`
	Share    float64 `json:"share_of_time"`
}

// cautions for sets above LT2. Sampling is the step test's matter.
var cautions = []string{
	"repeats above LT2 are close to a maximal effort: be screened first (a questionnaire, a physician where it says so, a parent's consent for a minor), and leave them out when ill",
	"stop at chest pain, dizziness, confusion, unusual breathlessness or wheeze, or when technique fails",
	"never alone in the water, with a lifeguard on duty; no breath-holding or hyperventilation; local rules and the word of a physician or coach on the spot come before anything printed here",
}

// reportOn works the week out. The error joins all that is wrong with its sets;
// the report holds the rest.
func reportOn(rec protocol.Record, table *zones.Table, line *lactate.HeartRateLine, notes []string, week []daySet) (*report, error) {
	r := &report{
		Swimmer: rec.Swimmer, TestDate: rec.Date.Format(time.DateOnly), Pool: rec.Pool.String(),
		Scheme: table.Scheme.Name, Source: table.Scheme.Source, MaxHeartRate: table.Profile.MaxHeartRate, Zones: table.Zones,
		Notes: append([]string{}, notes...), record: rec, table: table,
	}
	var planned, swum []zones.Repeat
	var errs []error
	hard := false
	for _, d := range week {
		s, err := oneSet(rec.Pool, table, line, d)
		if err != nil {
			errs = append(errs, fmt.Errorf("week: line %d: %w", d.line, command.InWords(err)))
			continue
		}
		r.Sets = append(r.Sets, *s)
		planned = append(planned, s.plan.Swims()...)
		swum = append(swum, d.swum...)
		to := s.plan.Zone.To
		hard = hard || to.Open() || to.Speed > table.Profile.LT2.Speed
	}
	if hard {
		r.Cautions = cautions
	}
	divide := func(repeats []zones.Repeat) *division {
		if len(repeats) == 0 {
			return nil
		}
		d, err := table.Distribute(repeats)
		if err != nil {
			errs = append(errs, err)
			return nil
		}
		out := &division{distribution: d}
		for _, z := range d.Zones {
			out.Zones = append(out.Zones, shareOf(z))
		}
		for i, z := range d.Three {
			out.Three[i] = shareOf(z)
		}
		return out
	}
	r.Planned, r.Swum = divide(planned), divide(swum)
	return r, errors.Join(errs...)
}

func shareOf(s zones.Share) share {
	return share{s.Zone, s.Time.Seconds(), s.Distance.Metres(), s.TimeShare}
}

// oneSet plans one set and, where it was swum, reviews it.
func oneSet(pool pace.Pool, table *zones.Table, line *lactate.HeartRateLine, d daySet) (*set, error) {
	plan, err := table.Plan(d.set, pool)
	if err != nil {
		return nil, err
	}
	s := &set{
		Day: d.day, Zone: plan.Zone.Name, Repeats: d.set.Repeats, Distance: d.set.Distance.Metres(),
		Slow: plan.Slow.Seconds(), Fast: plan.Fast.Seconds(),
		SendOff: plan.SendOff.Seconds(), Slowest: plan.Slowest.Seconds(), Rest: plan.Rest.Seconds(), Time: plan.Time.Seconds(), goesOn: d.goesOn, plan: plan,
	}
	if len(d.swum) == 0 {
		return s, nil
	}
	if s.review, err = table.Review(d.swum, pool); err != nil {
		return nil, err
	}
	known := func(x zones.Drift) *float64 {
		if !x.Known() {
			return nil
		}
		return &x.OverSet
	}
	s.PaceDrift, s.HeartRateDrift = known(s.review.Pace), known(s.review.HeartRate)
	against, n := 0.0, 0
	for _, j := range s.review.Repeats {
		out := swim{Time: j.Time.Seconds(), Speed: j.Speed.MetresPerSecond(), HeartRate: j.HeartRate, Zone: j.Zone}
		if line != nil {
			// Outside the tested range nothing is expected.
			if e, err := line.HeartRate(out.Speed); err == nil {
				out.Expected = &e
				if j.HeartRate > 0 {
					against += j.HeartRate - e.Value
					n++
				}
			}
		}
		s.Swum = append(s.Swum, out)
	}
	if n > 0 {
		against /= float64(n)
		s.AgainstTest = &against
	}
	return s, nil
}
