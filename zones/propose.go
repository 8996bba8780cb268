package zones

import (
	"math"
	"slices"
	"time"

	"example.com/steptest/pace"
)

// A Volume is what a swimmer's week can hold. The zero value is no week.
type Volume struct {
	Time time.Duration // in the water, in the whole week, rests included
	Days int           // 1 to 7, one session each
}

// What a session of a proposal is made of: conventions of ours.
const (
	leastSession = 20 * time.Minute
	mostSession  = 4 * time.Hour
	easyRest     = 15 * time.Second
	steadyRest   = 20 * time.Second
	hardRest     = time.Minute
	mostSteady   = 40 * time.Minute // between LT1 and LT2, in one session, rests included
	mostHard     = 25 * time.Minute // above LT2
	mostWarmUp   = 5                // repeats of 200
)

// weekdays are those of so many sessions, from one to seven, spread over a week.
var weekdays = [][]time.Weekday{
	{3}, {2, 5}, {1, 3, 5}, {1, 2, 4, 6}, {1, 2, 3, 5, 6}, {1, 2, 3, 4, 5, 6}, {1, 2, 3, 4, 5, 6, 0},
}

// Propose returns a week of sets for the swimmer, each with its send-off and its
// reason: a draft for a coach, who decides. The table needs zones that meet at LT1 and
// LT2, as [ThreeZone] and [Domains] have them; else the error wraps [ErrMissing].
//
// One session in four has a hard set and the others are easy, below LT1: Seiler &
// Kjerland (2006) counted 75 % of sessions easy, 8 % between LT1 and LT2 and 17 %
// above, in land athletes. The hard set of the first such session is above LT2, that
// of the second, from six days on, between LT1 and LT2; a single session a week stays
// easy. Hard sessions start and end easily and never follow one another. How a session
// is divided, repeats of 400, 200 and 100 and their rests are conventions of ours:
// above LT2 a session has at most three tenths of its time and 25 minutes, between LT1
// and LT2 four tenths and 40 minutes; a hard session warms up over 1,000 at most. Nothing shows that such a week suits this
// swimmer.
func (t *Table) Propose(v Volume, p pace.Pool) ([]WeekSet, error) {
	if v.Days < 1 || v.Days > 7 {
		return nil, faultf(ErrValue, "proposal: found %d days, want 1 to 7", v.Days)
	}
	session := v.Time / time.Duration(v.Days)
	if session < leastSession || session > mostSession {
		return nil, faultf(ErrValue, "proposal: found %s on %d days, want 20 min to 4 h a day", pace.FormatTime(v.Time, 0), v.Days)
	}
	d := draft{table: t, pool: p}
	for i, of := range []Anchor{LT1, LT2} {
		edge := Bound{of, 1}
		k := slices.IndexFunc(t.Zones, func(z Zone) bool { return z.To.Bound == edge })
		if k < 0 || k+1 == len(t.Zones) || i == 1 && t.Zones[k].From.Bound != (Bound{LT1, 1}) {
			return nil, faultf(ErrMissing, "proposal: scheme %q: found no zones that meet at LT1 and LT2, want some, as three zones have", t.Scheme.Name)
		}
		d.zones[i], d.zones[i+1] = t.Zones[k].Name, t.Zones[k+1].Name
	}
	hard, steady := max(1, (v.Days-1)/3), -1 // sessions; a single one is easy
	if v.Days >= 6 {
		steady = hard + 3
	}
	for i, day := range weekdays[v.Days-1] {
		d.day = day.String()
		switch i {
		case hard:
			d.around(session, "above LT2: at one even pace", 2, 100, hardRest, min(session*3/10, mostHard))
		case steady:
			d.around(session, "between LT1 and LT2: steady", 1, 200, steadyRest, min(session*4/10, mostSteady))
		default:
			left := d.fill(session*3/4, "easy volume, most of the week", 0, 400, easyRest)
			d.fill(left+session-session*3/4, "easy, looking after the stroke", 0, 200, easyRest)
		}
	}
	if d.err != nil {
		return nil, d.err
	}
	return d.week, nil
}

// A draft is a week while it is written.
type draft struct {
	table *Table
	pool  pace.Pool
	zones [3]string // easy, between, above
	day   string
	week  []WeekSet
	err   error
}

// around adds a hard set between two easy ones, of about 1,000 at most; what else there
// is room for is easy volume before the last.
func (d *draft) around(session time.Duration, reason string, zone, distance int, rest, most time.Duration) {
	easy := (session - most) * 6 / 10
	left := d.fillUpTo(mostWarmUp, easy, "to warm up", 0, 200, easyRest)
	warm := easy - left
	left += d.fill(most, reason, zone, distance, rest) + session - most - easy
	if left > warm {
		left = warm + d.fill(left-warm, "easy volume, most of the week", 0, 400, easyRest)
	}
	d.fill(left, "to swim down", 0, 200, easyRest)
}

// fill adds as many repeats as the time holds, and returns what is left. Without room
// for a single one, it adds nothing.
func (d *draft) fill(room time.Duration, reason string, zone, distance int, rest time.Duration) (left time.Duration) {
	return d.fillUpTo(math.MaxInt, room, reason, zone, distance, rest)
}

// fillUpTo is fill with a largest number of repeats.
func (d *draft) fillUpTo(most int, room time.Duration, reason string, zone, distance int, rest time.Duration) (left time.Duration) {
	lengths := max(1, int(math.Round(float64(distance)*float64(d.pool.Unit()/d.pool.Length()))))
	set := Set{Zone: d.zones[zone], Repeats: 1, Distance: d.pool.Distance(lengths), Rest: rest}
	plan, err := d.table.Workout(set, d.pool)
	if err != nil {
		if d.err == nil {
			d.err = err
		}
		return room
	}
	set.SendOff = plan.SendOff
	set.Repeats = min(most, int(room/plan.SendOff))
	if set.Repeats < 1 {
		return room
	}
	n := len(d.week)
	d.week = append(d.week, WeekSet{Day: d.day, SameDay: n > 0 && d.week[n-1].Day == d.day, Set: set, Reason: reason})
	return room - plan.SendOff*time.Duration(set.Repeats)
}
