package sheet_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// edits are the steps of somebody who fills in a sheet and slips.
type edits struct{ script []byte }

// next returns a number below n; zero at the end of the script.
func (e *edits) next(n int) int {
	if len(e.script) == 0 || n <= 0 {
		return 0
	}
	b := e.script[0]
	e.script = e.script[1:]
	return int(b) % n
}

// slips are what stands in a cell by right or by mistake.
var slips = []string{"", "5:32.4", "1:21.6", "332", "5.32", "5,32", "1.4", "12,1", "0", "-", "nil", "lost", "-1", "=1", "99", "142", "Ada", "ada ", "B", "2026-03-07", "7.3.2026",
	"25 m", "scy", "400", "200", "1", "2", "7", "1e9", "\"", "a,b", "x\x00", "\u202e", "\xff", strings.Repeat("9", 400), "all out", "5:40 all out"}

// A plan becomes a sheet; the sheet is edited at random, by cells, rows and their order;
// it is read and matched with the plan. No row is lost in silence: each that was left is
// in a test, or its line in a fault. No planned or swum repeat is missing in the match.
func FuzzPoolside(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{3, 0, 1, 4, 5, 1, 1, 5, 6, 7, 8})
	f.Add([]byte{6, 1, 0, 5, 30, 2, 3, 1, 0, 3, 4, 1, 4, 2, 2, 5, 1, 1, 2, 3})
	f.Add([]byte("fill in the sheet at the pool, and slip"))
	f.Fuzz(func(t *testing.T, script []byte) {
		e := &edits{script[:min(len(script), 300)]}
		plan, err := protocol.NewPlan(protocol.Request{
			Swimmer: "Ada", Date: time.Date(2026, 3, 7, 0, 0, 0, 0, time.UTC), Pool: []pace.Pool{pace.SCY(), pace.SCM(), pace.LCM()}[e.next(3)],
			Repeats: 2 + e.next(7), Distance: 0, Start: pace.Pace{Time: 95 * time.Second, Per: 100 * pace.Metre},
		})
		if err != nil {
			t.Fatal(err)
		}
		var written bytes.Buffer
		if err := sheet.WritePlan(&written, plan); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&written).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		header, rows := rows[0], rows[1:]
		remark, at := -1, map[string]int{}
		for i, name := range header {
			at[name] = i
			if name == "remark" {
				remark = i
			}
		}
		timeAt, lactateAt := at["time"], at["lactate"]
		for i, r := range rows { // swum as planned, to begin with
			r[remark] = fmt.Sprintf("row %d", i)
			if i < len(plan.Repeats) {
				r[timeAt], r[lactateAt] = pace.FormatTime(plan.Repeats[i].Time+time.Second, 1), fmt.Sprintf("%.1f", 1.2+0.5*float64(i*i))
			}
		}
		e.edit(&rows, remark)
		lines := map[int]string{} // mark of the row on a line
		var text bytes.Buffer
		out := csv.NewWriter(&text)
		_ = out.Write(header)
		for i, r := range rows {
			r[remark] = fmt.Sprintf("row %d", i)
			lines[i+2] = r[remark]
			_ = out.Write(r)
		}
		out.Flush()

		records, err := sheet.Read(bytes.NewReader(text.Bytes()))
		kept := map[string]bool{}
		for _, rec := range records {
			for _, rep := range rec.Repeats {
				kept[rep.Remark] = true
			}
			for _, s := range rec.Recovery {
				kept[s.Remark] = true
			}
		}
		faulty, more := map[int]bool{}, 0 // more rows have a fault that is told of the first
		for _, f := range protocol.Faults(err) {
			faulty[f.Line] = true
			more += max(f.Rows-1, 0)
		}
		for line, mark := range lines {
			if kept[mark] || faulty[line] || errors.Is(err, sheet.ErrColumns) {
				continue
			}
			if more--; more < 0 {
				t.Errorf("line %d, %q, is in no test and in no fault:\n%s\n%v", line, mark, &text, err)
			}
		}
		for _, rec := range records {
			matched(t, plan, rec)
		}
	})
}

// edit carries the script out.
func (e *edits) edit(all *[][]string, remark int) {
	for len(e.script) > 0 && len(*all) > 0 {
		rows := *all
		i := e.next(len(rows))
		switch e.next(6) {
		case 0, 1, 2: // a cell
			if c := e.next(len(rows[i])); c != remark {
				rows[i][c] = slips[e.next(len(slips))]
			}
		case 3: // a row is struck out
			*all = append(rows[:i:i], rows[i+1:]...)
		case 4: // a row is copied, to be filled in anew
			if len(rows) < 40 {
				*all = append(rows, append([]string(nil), rows[i]...))
			}
		case 5: // two rows change places
			k := e.next(len(rows))
			rows[i], rows[k] = rows[k], rows[i]
		}
	}
}

// matched checks that a match, where there is one, holds every repeat once.
func matched(t *testing.T, plan protocol.Plan, rec protocol.Record) {
	deviations, err := plan.Match(rec)
	if err != nil {
		return
	}
	seen := map[int]protocol.Deviation{}
	for _, d := range deviations {
		if _, twice := seen[d.Number]; twice {
			t.Errorf("repeat %d is matched twice", d.Number)
		}
		seen[d.Number] = d
	}
	for _, target := range plan.Repeats {
		if d, ok := seen[target.Number]; !ok || d.Extra {
			t.Errorf("planned repeat %d: %+v", target.Number, d)
		}
	}
	for _, rep := range rec.Repeats {
		if d, ok := seen[rep.Number]; rep.Time > 0 && (!ok || d.Missing || d.Time != rep.Time) {
			t.Errorf("swum repeat %d: %+v", rep.Number, d)
		}
	}
}
