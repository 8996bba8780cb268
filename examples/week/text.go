package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// caution goes with sets above LT2. Sampling is the step test's matter.
const caution = "Before swimming it: repeats above LT2 are close to a maximal effort. Be screened first, and leave them out when ill. Stop at chest pain, dizziness, " +
	"confusion, unusual breathlessness or failing technique. Never alone in the water, no breath-holding. Local rules and the word of a physician or coach on the spot come first."

// proposal goes with a week that nobody has decided on.
const proposal = "A coach decides: this is a draft from one test and two numbers. It knows nothing of the swimmer's age, health, season or other training. " +
	"About one session in four has a hard set, after counts in land athletes (Seiler & Kjerland 2006: 75 % of sessions below LT1, 8 % between, 17 % above)."

func (r *report) text() string {
	invented := ""
	switch {
	case r.InventedTest && (r.InventedWeek || r.Proposed):
		invented = "Invented data. Yours"
	case r.InventedTest:
		invented = "The step test is invented. Yours"
	case r.InventedWeek:
		invented = "The week is invented. Yours"
	}
	if invented != "" {
		invented += ": go run ./examples/week -test your-sheet.csv your-week.csv\n"
	}
	title := command.Line("A week for %s, %v pool, from the step test of %s", r.Test.Swimmer, r.Test.Pool, command.Day(r.Test.Date))
	if r.grave != "" {
		title += command.Line("%s", r.grave)
	}
	zoned := r.Zones.In(r.Test.Pool)
	zoned.Notes = zoned.Notes[:len(zoned.Notes)-len(r.Zones.Warnings)] // they stand below
	zoned.Caption = fmt.Sprintf("How fast is each zone?   (%s)", r.Zones.Scheme.Name)
	zoned.Notes = append(zoned.Notes, "Source: "+r.Zones.Scheme.Source)
	hard := ""
	if r.Hard {
		hard = command.Line("%s", caution)
	}
	return command.Sections(invented, title, zoned.String(), r.planned(), r.swum(), r.division(), command.List("What to know", r.Doubts.Doubts), hard)
}

func (r *report) planned() string {
	t := table.Table{Caption: "What to swim?", Head: make([]table.Column, 5)}
	if r.Proposed {
		t.Caption = "A proposal: what to swim?"
		t.Notes = []string{proposal}
	}
	for i, s := range r.Sets {
		rest := fmt.Sprintf("rest %.0f s or more", math.Floor(s.Plan.Rest.Seconds()))
		if s.Plan.Slow == 0 { // the zone is open there, the send-off is not
			rest += ", down to " + pace.FormatTime(s.Plan.Slowest.Truncate(100*time.Millisecond), 1)
		}
		t.Rows = append(t.Rows, []string{r.day(i), fmt.Sprintf("%d × %v in zone %s", s.Plan.Set.Repeats, s.Plan.Set.Distance, s.Plan.Zone.Name),
			s.Plan.Target(), "on " + pace.FormatTime(s.Plan.SendOff, 0), rest})
		if s.Reason != "" { // in place of the rest, which the send-off leaves
			t.Rows[i][4] = s.Reason
		}
	}
	return table.Tables{t}.String()
}

// day is what stands before a set: nothing where it goes on with the day above.
func (r *report) day(i int) string {
	if s := r.Sets[i]; i == 0 || !s.goesOn || s.Day != r.Sets[i-1].Day {
		return s.Day
	}
	return ""
}

func (r *report) swum() string {
	if r.Swum == nil {
		return ""
	}
	unit := r.Test.Pool.Per100()
	t := table.Table{
		Caption: "What was swum?   (drift: from the first repeat to the last, along a line)",
		Head: []table.Column{{}, {Name: "zone of each repeat"}, {Name: "per " + unit.String(), Number: true}, {Name: "drift, s", Number: true},
			{Name: "drift, /min", Number: true}, {Name: "against the test, /min", Number: true}},
		Notes: []string{"Against the test: the mean heart rate less that of the test's line at the same speeds. " +
			"It differs by a few beats from day to day, and in shorter repeats it lags behind."},
	}
	drift := func(d zones.Drift, decimals int) string {
		if !d.Known() {
			return "not known"
		}
		return table.Signed(d.OverSet, decimals)
	}
	for i, s := range r.Sets {
		if s.Review == nil {
			t.Rows = append(t.Rows, []string{r.day(i), "not swum"})
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
		t.Rows = append(t.Rows, []string{r.day(i), strings.Join(in, " "), table.Clock(unit.Metres() * d.Time.Seconds() / d.Distance.Metres()),
			drift(s.Review.Pace, 1), drift(s.Review.HeartRate, 0), against})
	}
	return t.String()
}

// division is what the week asks for, and what was swum of it.
func (r *report) division() string {
	if r.Planned == nil {
		return ""
	}
	text := command.Captioned("How is the week divided? (swimming, without rest)", r.Planned.Table())
	if r.Swum != nil {
		text += "\n" + command.Captioned("And as swum?", r.Swum.Table())
	}
	return text
}
