package main

import (
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
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
	title := command.Line("A week for %s, %v pool, from the step test of %s", r.Test.Swimmer, r.Test.Pool, table.Day(r.Test.Date))
	if r.grave != "" {
		title += command.Line("%s", r.grave)
	}
	zoned := r.Zones.Table(r.Test.Pool)
	zoned.Notes = zoned.Notes[:len(zoned.Notes)-len(r.Zones.Warnings)] // they stand below
	zoned.Caption = fmt.Sprintf("How fast is each zone?   (%s)", r.Zones.Scheme.Name)
	if source := r.Zones.Scheme.Source; source != "" {
		zoned.Notes = append(zoned.Notes, "Source: "+source)
	}
	hard := ""
	if r.Hard {
		hard = command.Line("%s", caution)
	}
	return command.Sections(invented, title, zoned.String(), r.tables().String(), command.List("What to know", r.Doubts.Doubts), hard)
}

// tables have what the week asks for, and what was swum of it.
func (r *report) tables() table.Tables {
	all := table.Tables{r.PlannedTable()}
	if r.Proposed {
		all[0].Caption, all[0].Notes = "A proposal: what to swim?", []string{proposal}
	}
	if r.Swum != nil {
		all = append(all, r.SwumTable())
	}
	add := func(caption string, d *zones.Distribution) {
		if d != nil {
			t := d.Table()
			t.Caption = caption
			all = append(all, t)
		}
	}
	add("How is the week divided? (swimming, without rest)", r.Planned)
	add("And as swum?", r.Swum)
	return all
}
