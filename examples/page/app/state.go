package app

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// state is what is on the sheet.
type state struct {
	Swimmers []string `json:"swimmers"` // in order of appearance
	Tests    []test   `json:"tests"`
}

// test is one test of the sheet, as the page shows it.
type test struct {
	Swimmer string   `json:"swimmer"`
	Date    string   `json:"date"`
	Day     string   `json:"day"` // the date in words
	Pool    string   `json:"pool"`
	Unit    string   `json:"unit"`   // of paces: 100 yd or 100 m
	Status  string   `json:"status"` // planned, under way, swum
	Done    int      `json:"done"`   // repeats swum
	Rest    string   `json:"rest,omitempty"`
	Repeats []repeat `json:"repeats"`
	Cells   []cell   `json:"cells"` // in the order in which they are filled in
}

type repeat struct {
	Number   int    `json:"number"`
	Distance string `json:"distance"`
	Target   string `json:"target,omitempty"`
	AllOut   bool   `json:"all_out,omitempty"`
	Per100   string `json:"per_100,omitempty"` // of the target
	Leave    string `json:"leave,omitempty"`
	Time     string `json:"time,omitempty"`
	Swum     string `json:"swum,omitempty"` // per 100, as swum
	Late     string `json:"late,omitempty"`
	Lactate  string `json:"lactate,omitempty"`
	Beats    string `json:"beats,omitempty"`
}

// cell is one number to be entered.
type cell struct {
	ID     string `json:"id"`
	Repeat int    `json:"repeat"` // 0 for the sample at rest
	Label  string `json:"label"`
	Short  string `json:"short"`
	Kind   string `json:"kind"` // time, lactate, beats: how it is typed
	Value  string `json:"value"`
}

func stateOf(records []protocol.Record) state {
	s := state{Swimmers: []string{}, Tests: []test{}}
	seen := map[string]bool{}
	for _, r := range records {
		if !seen[r.Swimmer] {
			seen[r.Swimmer] = true
			s.Swimmers = append(s.Swimmers, r.Swimmer)
		}
		s.Tests = append(s.Tests, testOf(r))
	}
	return s
}

func testOf(r protocol.Record) test {
	t := test{
		Swimmer: r.Swimmer, Date: r.Date.Format(time.DateOnly), Day: table.Day(r.Date), Pool: r.Pool.String(), Unit: r.Pool.Per100().String(),
		Rest: tenths(r.Rest, protocol.InRange), Status: "planned", Cells: cellsOf(r), Repeats: []repeat{},
	}
	planned := false
	for _, rep := range r.Repeats {
		planned = planned || rep.Leave > 0
		if rep.Time > 0 {
			t.Done++
		}
	}
	if t.Done > 0 {
		t.Status = "under way"
	}
	if t.Done == len(r.Repeats) {
		t.Status = "swum"
	}
	for _, rep := range r.Repeats {
		out := repeat{
			Number: rep.Number, Distance: rep.Distance.String(), AllOut: rep.AllOut,
			Target: clock(rep.Target), Time: clock(rep.Time), Late: late(rep),
			Lactate: tenths(rep.Lactate, rep.Range), Beats: whole(rep.HeartRate),
		}
		if planned {
			out.Leave = pace.FormatTime(rep.Leave, -1)
		}
		if v, err := pace.MeanSpeed(rep.Distance, rep.Target); err == nil {
			out.Per100 = per100(v, r.Pool)
		}
		if v, err := rep.Speed(); err == nil {
			out.Swum = per100(v, r.Pool)
		}
		t.Repeats = append(t.Repeats, out)
	}
	return t
}

// cellsOf lists the numbers of a test in the order in which they come: the sample at
// rest; time, beats and lactate of each repeat; the samples after the last, which stand
// in place of its own.
func cellsOf(r protocol.Record) []cell {
	cells := []cell{{"rest", 0, "Lactate at rest, mmol/L", "at rest", "lactate", tenths(r.Rest, protocol.InRange)}}
	for i, rep := range r.Repeats {
		n := strconv.Itoa(rep.Number)
		cells = append(cells,
			cell{n + ".time", rep.Number, "Time of repeat " + n + ": minutes, seconds, tenth", "time", "time", clock(rep.Time)},
			cell{n + ".beats", rep.Number, "Heart beats a minute after repeat " + n, "beats", "beats", whole(rep.HeartRate)})
		if i < len(r.Repeats)-1 || len(r.Recovery) == 0 || rep.Lactate > 0 || rep.Range != protocol.InRange {
			cells = append(cells, cell{n + ".lactate", rep.Number, "Lactate after repeat " + n + ", mmol/L", "lactate", "lactate", tenths(rep.Lactate, rep.Range)})
		}
	}
	last := 0
	if n := len(r.Repeats); n > 0 {
		last = r.Repeats[n-1].Number
	}
	for _, s := range r.Recovery {
		m := strconv.FormatFloat(s.After.Minutes(), 'f', -1, 64)
		cells = append(cells, cell{afterID(s.After), last, "Lactate " + m + " min after the last repeat, mmol/L", m + " min", "lactate", tenths(s.Lactate, s.Range)})
	}
	return cells
}

// afterID names the sample taken so long after the last repeat.
func afterID(t time.Duration) string { return fmt.Sprintf("after.%g", t.Seconds()) }

// clock prints a time with the decimals that it has, and none as nothing.
func clock(t time.Duration) string {
	if t == 0 {
		return ""
	}
	return pace.FormatTime(t, -1)
}

// per100 prints a speed as the time over 100 of the pool.
func per100(v pace.Speed, p pace.Pool) string {
	return table.Clock(p.Per100().Metres() / v.MetresPerSecond())
}

// tenths prints a lactate, or what the analyser showed instead, HI or Lo.
func tenths(v float64, r protocol.Range) string {
	if v == 0 {
		return r.String()
	}
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

func whole(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// late says how a repeat was swum beside its target.
func late(r protocol.Repeat) string {
	if r.Target == 0 || r.Time == 0 {
		return ""
	}
	d := (r.Time - r.Target).Round(100 * time.Millisecond).Seconds()
	switch {
	case d > 0:
		return fmt.Sprintf("%.1f s slower", d)
	case d < 0:
		return fmt.Sprintf("%.1f s faster", -d)
	}
	return "on target"
}
