package zones

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// A Share is what was swum in one zone. The zero value is nothing.
type Share struct {
	Zone          string        `json:"zone"`
	Time          time.Duration `json:"time_ns"`
	Distance      pace.Length   `json:"distance"`
	TimeShare     float64       `json:"time_share"`     // of all time swum, 0 to 1
	DistanceShare float64       `json:"distance_share"` // of all distance, 0 to 1
}

// A Distribution is time and distance per zone. It counts swimming, not rest.
// The zero value is nothing swum.
type Distribution struct {
	Scheme   string        `json:"scheme"`      // its name
	Zones    []Share       `json:"zones"`       // of the table, slowest first, also those not swum in
	Three    [3]Share      `json:"three_zones"` // below LT1, between, above LT2, whatever the scheme
	Time     time.Duration `json:"time_ns"`     // swum in all
	Distance pace.Length   `json:"distance"`    // swum in all
}

// Distribute adds up time and distance per zone, over a set, a week or a season. A
// repeat counts as a whole for the zone of its mean speed.
//
// Shares published for the three zones (Seiler & Kjerland 2006: 75, 8 and 17 %
// by heart rate, 71, 7 and 22 % by lactate) were counted in other ways, on land;
// shares of swimming time by mean speed are a different quantity.
//
// It returns all faults at once, each a [*RepeatError].
func (t *Table) Distribute(repeats []Repeat) (*Distribution, error) {
	if err := check(repeats); err != nil {
		return nil, err
	}
	d := &Distribution{Scheme: t.Scheme.Name, Zones: make([]Share, len(t.Zones))}
	for i, z := range t.Zones {
		d.Zones[i].Zone = z.Name
	}
	d.Three = [3]Share{{Zone: "below LT1"}, {Zone: "LT1–LT2"}, {Zone: "above LT2"}}
	for n, r := range repeats {
		v, err := pace.MeanSpeed(r.Distance, r.Time)
		if err != nil {
			return nil, &RepeatError{n + 1, "time", err}
		}
		found := false
		for i, z := range t.Zones {
			if z.Contains(v) {
				d.Zones[i].add(r)
				found = true
			}
		}
		if !found {
			return nil, &RepeatError{n + 1, "time", faultf(ErrValue, "found a speed of %v m/s, want one that lies in a zone", float64(v))}
		}
		switch {
		case v < t.Profile.LT1.Speed:
			d.Three[0].add(r)
		case v < t.Profile.LT2.Speed:
			d.Three[1].add(r)
		default:
			d.Three[2].add(r)
		}
		if d.Time > math.MaxInt64-r.Time {
			return nil, &RepeatError{n + 1, "time", faultf(ErrValue, "found times of more than 292 years in all, want less")}
		}
		d.Time += r.Time
		d.Distance += r.Distance
	}
	for i := range d.Zones {
		d.Zones[i].close(d)
	}
	for i := range d.Three {
		d.Three[i].close(d)
	}
	d.Distance = tidy(d.Distance)
	return d, nil
}

func (s *Share) add(r Repeat) {
	s.Time += r.Time
	s.Distance += r.Distance
}

func (s *Share) close(d *Distribution) {
	s.TimeShare = float64(s.Time) / float64(d.Time)
	s.DistanceShare = float64(s.Distance / d.Distance)
	s.Distance = tidy(s.Distance)
}

// tidy undoes the rounding of a sum of whole metres or whole yards.
func tidy(l pace.Length) pace.Length {
	for _, unit := range []pace.Length{pace.Metre, pace.Yard} {
		if x := pace.Length(math.Round(float64(l/unit))) * unit; math.Abs(float64(x-l)) < 1e-9*float64(l) {
			return x
		}
	}
	return l
}

// String prints the three-zone distribution of the time on a line:
// "8400 yd in 2:05:10: below LT1 74 %, LT1–LT2 15 %, above LT2 11 % of the time".
func (d Distribution) String() string {
	s := make([]string, len(d.Three))
	for i, x := range d.Three {
		s[i] = fmt.Sprintf("%s %.0f %%", x.Zone, 100*x.TimeShare)
	}
	return fmt.Sprintf("%v in %s: %s of the time", d.Distance, pace.FormatTime(d.Time, 0), strings.Join(s, ", "))
}

// Table returns time and distance of each zone, a row for each.
func (d Distribution) Table() table.Table {
	out := table.Table{Head: []table.Column{{Name: "zone"}}}
	for _, name := range []string{"time", "share", "distance", "share"} {
		out.Head = append(out.Head, table.Column{Name: name, Number: true})
	}
	for _, s := range d.Zones {
		distance := "0"
		if s.Distance > 0 {
			distance = s.Distance.String()
		}
		out.Rows = append(out.Rows, []string{s.Zone, pace.FormatTime(s.Time, 0), table.Number(100*s.TimeShare, 0) + " %", distance, table.Number(100*s.DistanceShare, 0) + " %"})
	}
	out.Notes = []string{d.String()}
	return out
}
