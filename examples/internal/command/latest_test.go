package command_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/protocol"
)

// pairs lists the tests that it is given.
func pairs() command.Program {
	return command.Program{Name: "p", Sheets: 9, WorkOutLatest: func(tests []protocol.Record, earlier int) (command.Report, error) {
		text := fmt.Sprintf("%s, %d earlier", tests[0].Swimmer, earlier)
		ready, notes := command.Ready(tests)
		for _, rec := range ready {
			text += fmt.Sprintf("\n%+v", rec)
		}
		if len(ready) == 0 {
			return nil, fmt.Errorf("none of %s: %s", tests[0].Swimmer, notes)
		}
		return listed(strings.Join(append([]string{text}, notes...), "\n")), nil
	}}
}

// every is the same of all tests, as a whole sheet has them.
func every() command.Program {
	p := pairs()
	latest := p.WorkOutLatest
	p.WorkOutLatest, p.Season = nil, true
	p.WorkOut = func(tests []protocol.Record) (command.Report, error) {
		ready, _ := command.Ready(tests)
		older := max(0, len(ready)-2)
		var kept []protocol.Record
		for _, rec := range tests {
			if rec.Pending() == "" && older > 0 {
				older--
				continue
			}
			rec.Notes = nil
			kept = append(kept, rec)
		}
		return latest(kept, max(0, len(ready)-2))
	}
	return p
}

// Evidence D: a report on the two latest tests is given what it would be of all tests of
// a whole sheet, and all faults are told, however the sheet is: in order, with rows that
// stand apart, with two spellings, two pools, faults told once, tests that wait, in several
// sheets.
func TestLatest(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 1))
	pick := func(of ...string) string { return of[rng.IntN(len(of))] }
	dir := t.TempDir()
	test := func(swimmer string, day int, odd bool) (rows []string) {
		pool, times := "25 m", rng.IntN(8) > 0
		if odd {
			pool = pick("25 m", "25 yd", "swimming", "50 m")
		}
		for i := range 4 {
			lactate := fmt.Sprintf("%.1f", 1.1+float64(i*i)/2)
			clock := fmt.Sprintf("2:%d.0", 40-4*i)
			if odd {
				lactate, clock = pick(lactate, lactate, "x", "", "44"), pick(clock, clock, clock, "0:01")
			}
			if !times {
				lactate, clock = "", pick("", clock)
			}
			rows = append(rows, fmt.Sprintf("%s,%s,%s,200,%d,%s,%s", swimmer, time.Date(2025, 1, day, 0, 0, 0, 0, time.UTC).Format(time.DateOnly), pool, i+1, clock, lactate))
		}
		return rows
	}
	for round := range 200 {
		var files []string
		for n := range 1 + rng.IntN(2) {
			var rows []string
			for range 1 + rng.IntN(12) {
				name := pick("Ann Lee", "Bo", "Cy Marsh", "Di")
				if round%4 == 1 {
					name = pick(name, "ann lee", "Cy Marsch")
				}
				rows = append(rows, test(name, 1+rng.IntN(40), round%3 == 1)...)
			}
			if round%5 == 2 {
				rng.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
			}
			if round%7 == 3 {
				rows = append(rows, strings.TrimSuffix(head, "\n"), ",,,,,,", "Ann Lee,,,,,2:30,1.4")
			}
			file := filepath.Join(dir, fmt.Sprintf("%d.csv", n))
			if err := os.WriteFile(file, []byte(head+strings.Join(rows, "\n")+"\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
		if round%6 == 5 {
			files = append([]string{"-swimmer", pick("bo", "Cy  Marsh", "Eve")}, files...)
		}
		var got, want [2]bytes.Buffer
		status, wanted := pairs().Run(files, nil, &got[0], &got[1]), every().Run(files, nil, &want[0], &want[1])
		if status != wanted || !sameReports(got[0].String(), want[0].String()) || got[1].String() != want[1].String() {
			text, _ := os.ReadFile(files[len(files)-1])
			t.Fatalf("round %d, of\n%s\nexit status %d\n%s%swant %d\n%s%s", round, text, status, &got[0], &got[1], wanted, &want[0], &want[1])
		}
	}
}

// sameReports compares them but for the places of faults in memory.
func sameReports(a, b string) bool {
	cut := func(s string) (out []string) {
		for _, l := range strings.Split(s, "\n") {
			before, _, _ := strings.Cut(l, "Faults:")
			before, _, _ = strings.Cut(before, "Notes:")
			out = append(out, before)
		}
		return out
	}
	return strings.Join(cut(a), "\n") == strings.Join(cut(b), "\n")
}

// season is a sheet of tests of six repeats, day by day, made while it is read. It notes
// by how much the heap grows.
type season struct {
	swimmers, rows int

	next          int
	rest          string
	before, grown uint64
}

func (s *season) Read(p []byte) (int, error) {
	if s.rest == "" {
		switch s.next {
		case 0:
			s.rest, s.before = head, heap()
		case s.rows:
			return 0, io.EOF
		}
		if s.next%30_000 == 0 {
			s.grow()
		}
		test := s.next / 6
		s.rest += fmt.Sprintf("Swimmer %d,%s,25 m,200,%d,2:%02d.0,%.1f\n", test%s.swimmers,
			time.Date(2001, 1, 1+test/s.swimmers, 0, 0, 0, 0, time.UTC).Format(time.DateOnly), s.next%6+1, 40-4*(s.next%6), 1+0.2*float64(s.next%6*(s.next%6)))
		s.next++
	}
	n := copy(p, s.rest)
	s.rest = s.rest[n:]
	return n, nil
}

// Seek says that the sheet could be read again.
func (s *season) Seek(offset int64, whence int) (int64, error) {
	if offset != 0 || whence != io.SeekCurrent {
		return 0, errors.New("the sheet is read a second time")
	}
	return 0, nil
}

func (s *season) grow() { s.grown = max(s.grown, heap()) }

func heap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// heavy is a report that takes a megabyte.
type heavy struct {
	listed
	_ [1 << 20]byte
}

var large = flag.Bool("large", false, "read sheets of a million rows")

// The two latest tests of each swimmer are read, and reported, in bounded memory: earlier
// tests are counted, and a report that is printed is let go. Whole tests take many times
// the bound. For a million rows:
//
//	go test ./examples/internal/command -run LatestMemory -large -v
func TestLatestMemory(t *testing.T) {
	type sheet struct {
		season
		bound uint64
	}
	sheets := []*sheet{{season{swimmers: 20, rows: 120_000}, 6 << 20}, {season{swimmers: 2_000, rows: 60_000}, 6 << 20}}
	if *large {
		sheets = []*sheet{{season{swimmers: 40, rows: 1_000_080}, 16 << 20}, {season{swimmers: 83_334, rows: 1_000_008}, 90 << 20}}
	}
	for _, s := range sheets {
		reports, tests := 0, 0
		p := command.Program{Name: "p", Sheets: 1, WorkOutLatest: func(records []protocol.Record, earlier int) (command.Report, error) {
			tests += len(records) + earlier
			if reports++; reports%100 == 20 && reports < 2000 {
				s.grow()
			}
			return &heavy{listed: "x"}, nil
		}}
		var errs bytes.Buffer
		if status := p.Run([]string{"-"}, s, io.Discard, &errs); status != 0 || reports != s.swimmers || 6*tests != s.rows {
			t.Errorf("exit status %d, %d reports on %d tests; want %d on %d\n%s", status, reports, tests, s.swimmers, s.rows/6, &errs)
		}
		grown := s.grown - s.before
		if t.Logf("%d swimmers, %d rows: the heap grew by %.1f MB", s.swimmers, s.rows, float64(grown)/1e6); grown > s.bound {
			t.Errorf("the heap grew by %d bytes, want at most %d", grown, s.bound)
		}
	}
}

// Faults beyond the first thousand tests that have some are not listed, as in a whole
// sheet.
func TestLatestManyFaults(t *testing.T) {
	var rows strings.Builder
	rows.WriteString(head)
	for i := range 1100 {
		fmt.Fprintf(&rows, "Bo %d,2025-01-01,25 m,200,1,2:40.0,1.1\nBo %d,2025-01-01,25 m,200,2,x,1.4\n", i, i)
	}
	var said [2]string
	for i, p := range []command.Program{pairs(), every()} {
		var out, errs bytes.Buffer
		p.Run([]string{"-"}, strings.NewReader(rows.String()), &out, &errs)
		said[i] = errs.String()
	}
	if said[0] != said[1] || strings.Count(said[0], "\n") != 1001 || !strings.HasSuffix(said[0], "more faults than these\n") {
		t.Errorf("%d lines of faults, want 1001 as of a whole sheet, %d", strings.Count(said[0], "\n"), strings.Count(said[1], "\n"))
	}
}
