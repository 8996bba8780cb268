package command_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

const head = "swimmer,date,pool,distance,repeat,time,lactate\n"

// listed is a report on whose test it was given.
type listed string

func (l listed) Text(command.Detail) string      { return string(l) + "\n" }
func (l listed) Proposes() bool                  { return false }
func (l listed) Pictures(bool) []command.Drawing { return nil }

// The same test in two sheets counts once, and a name that another sheet spells
// otherwise is told, once; both as in one sheet.
func TestSheetsTogether(t *testing.T) {
	dir := t.TempDir()
	var names []string
	for name, text := range map[string]string{
		"1.csv": "Anna Lind,2025-02-01,25 m,200,1,2:40.0,1.1\nBo,2025-02-01,25 m,200,1,2:40.0,1.1\n",
		"2.csv": "Anna Lind,2025-04-01,25 m,200,1,2:40.0,1.1\nBo,2025-02-01,25 m,200,1,2:40.0,1.4\n",
		"3.csv": "anna  lind,2025-06-01,25 m,200,1,2:40.0,1.1\nanna  lind,2025-08-01,25 m,200,1,2:40.0,1.1\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(head+text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"1.csv", "2.csv", "3.csv", "1.csv"} {
		names = append(names, filepath.Join(dir, name))
	}
	p := command.Program{Name: "p", Sheets: 9, WorkOut: func(tests []protocol.Record) (command.Report, error) {
		return listed(tests[0].Whose()), nil
	}}
	var out, errs bytes.Buffer
	status := p.Run(names, nil, &out, &errs)
	said := strings.ReplaceAll(errs.String(), dir+string(filepath.Separator), "")
	const want = `p: 2.csv: the test of Bo, 2025-02-01, is in 1.csv already, and counts once, as it stands there: the two differ
p: 3.csv: found the swimmer "anna lind", want one spelling of a name; 1.csv has "Anna Lind"
p: 1.csv: the test of Anna Lind, 2025-02-01, is in 1.csv already, and counts once
p: 1.csv: the test of Bo, 2025-02-01, is in 1.csv already, and counts once
`
	if status != 1 || said != want {
		t.Errorf("exit status %d, standard error\n%swant\n%s", status, said, want)
	}
	const tests = "Anna Lind, 2025-02-01\nBo, 2025-02-01\nAnna Lind, 2025-04-01\nanna lind, 2025-06-01\nanna lind, 2025-08-01"
	if got := strings.ReplaceAll(out.String(), "\n"+strings.Repeat("-", table.Width)+"\n\n", ""); got != tests+"\n" {
		t.Errorf("tests\n%s\nwant\n%s", &out, tests)
	}
}

// D: of several sheets, each fault carries the name of its file; of one, none does.
func TestFaultsOfFiles(t *testing.T) {
	dir := t.TempDir()
	var names []string
	for name, text := range map[string]string{
		"1.csv": "Anna Lind,2025-02-01,25 m,200,1,x,1.1\nAnna Lind,2025-02-01,25 m,200,2,2:40.0,99\nBo,2025-02-01,25 m,200,0,2:40.0,1.1\n",
		"2.csv": "Bo,3/4/2025,25 m,200,1,2:40.0,1.1\nBo,,25 m,x,1,2:40.0,1.1\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(head+text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	const stdin = "Cy,2025-02-01,25 m,200,1,y,1.1\n"
	for _, name := range []string{"1.csv", "2.csv", "-"} {
		if name != "-" {
			name = filepath.Join(dir, name)
		}
		names = append(names, name)
	}
	p := command.Program{Name: "p", Sheets: 9, WorkOut: func(tests []protocol.Record) (command.Report, error) { return nil, nil }}
	for _, n := range []int{1, 3} {
		var out, errs bytes.Buffer
		status := p.Run(names[:n], strings.NewReader(head+stdin), &out, &errs)
		var said []string
		for line := range strings.Lines(strings.ReplaceAll(errs.String(), dir+string(filepath.Separator), "")) {
			line, _, _ = strings.Cut(line, ": found")
			said = append(said, line)
		}
		want := []string{"protocol: sheet line 2, time", "protocol: sheet line 3, lactate", "protocol: sheet line 4, repeat"}
		if n > 1 {
			for i := range want {
				want[i] = "1.csv: " + want[i]
			}
			want = append(want, "2.csv: protocol: sheet line 2, date", "2.csv: protocol: sheet line 3, date", "2.csv: protocol: sheet line 3, distance",
				"-dates day-first, or -dates month-first, says which of the two is meant\n", "standard input: protocol: sheet line 2, time")
		}
		if status != 1 || !slices.Equal(said, want) {
			t.Errorf("%d sheets: exit status %d, standard error\n%s\nwant\n%s", n, status, strings.Join(said, "\n"), strings.Join(want, "\n"))
		}
	}
}

// A plan that waits and a test whose samples are not in yet are told from one
// that can be read, and from one with faults.
func TestReady(t *testing.T) {
	records, _ := sheet.Read(strings.NewReader("swimmer,date,pool,distance,repeat,time,minutes after,lactate\n" +
		"Ann,2025-02-01,25 m,200,1,,,\nAnn,2025-02-02,25 m,200,1,2:40,,\nAnn,2025-02-03,25 m,200,1,2:40,,\nAnn,2025-02-03,25 m,200,1,,3,4.4\n" +
		"Ann,2025-02-04,25 m,200,1,2:40,,44\nAnn,2025-02-05,25 m,200,1,,,1.4\n"))
	for i, want := range []string{"not swum", "no lactate", "", "", ""} {
		if got := records[i].Pending(); got != want {
			t.Errorf("%s: %q, want %q", records[i].Date.Format(time.DateOnly), got, want)
		}
	}
	ready, notes := command.Ready(records)
	if len(ready) != 3 || strings.Join(notes, "\n") != "Ann, 1 February 2025: not swum, and left out\nAnn, 2 February 2025: no lactate, and left out" {
		t.Errorf("%d ready, notes %q", len(ready), notes)
	}
}

// What faults cost is what the record has lost: a row, a cell, or nothing.
func TestFaults(t *testing.T) {
	const head = "swimmer,date,pool,distance,repeat,time,lactate,heart rate\n"
	row := "Ann,2025-02-01,25 m,200,%s\n"
	for rows, want := range map[string]string{
		"1,2:40.0,1.1,120|2,2:36.0,1.4,130": "",
		"1,2:40.0,1.1,120|2,x,1.4,130":      "rows of this test with faults: 1, listed on standard error; rows left out: 1",
		"1,2:40.0,1.1,x|2,2:36.0,1.4,130":   "rows of this test with faults: 1, listed on standard error; single cells left out: 1",
		"1,2:40.0,1.1,x|2,x,1.4,130":        "rows of this test with faults: 2, listed on standard error; rows left out: 1; single cells left out: 1",
	} {
		text := head
		for _, r := range strings.Split(rows, "|") {
			text += fmt.Sprintf(row, r)
		}
		records, _ := sheet.Read(strings.NewReader(text))
		if len(records) != 1 || command.Faults(records[0]) != want {
			t.Errorf("%s: %q, want %q", rows, command.Faults(records[0]), want)
		}
	}
}
