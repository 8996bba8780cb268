package sheet_test

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// endless gives n bytes without holding them.
type endless struct {
	chunk string
	left  int
}

func (e *endless) Read(p []byte) (int, error) {
	if e.left <= 0 {
		return 0, io.EOF
	}
	n := copy(p[:min(len(p), e.left)], e.chunk)
	e.left -= n
	return n, nil
}

// growth returns by how much the live heap grows, at most, while a sheet is
// read test by test.
func growth(t *testing.T, r io.Reader) (bytes uint64, tests, faults int, last error) {
	t.Helper()
	var before, now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	most := before.HeapAlloc
	n := 0
	for rec, err := range sheet.Scan(r) {
		if rec.Repeats != nil {
			tests++
		}
		if err != nil {
			faults++
			last = err
		}
		if n++; n%20000 == 0 {
			runtime.GC()
			runtime.ReadMemStats(&now)
			most = max(most, now.HeapAlloc)
		}
	}
	runtime.GC()
	runtime.ReadMemStats(&now)
	return max(most, now.HeapAlloc) - before.HeapAlloc, tests, faults, last
}

const header = "swimmer,date,pool,distance,repeat,time,lactate,remark\n"

// A sheet of any length is read in bounded memory, be it good or hostile.
func TestScanMemory(t *testing.T) {
	rows, size := 30_000, 16<<20 // many times the bound below
	row := "Ada,2025-03-04,25 m,400,1,5:32,1.2,\n"
	tests := []struct {
		name  string
		sheet io.Reader
		tests int
		is    error
	}{
		{"many tests", &generated{rows: rows}, (rows + 5) / 6, nil},
		{"one long line", io.MultiReader(strings.NewReader(header+row), &endless{"x", size}), 1, protocol.ErrRow},
		{"a header without end", &endless{"swimmer,", size}, 0, protocol.ErrRow},
		{"one quote that is never closed", io.MultiReader(strings.NewReader(header+row+`Ben,"`), &endless{"lost\n", size / 8}), 1, protocol.ErrRow},
		{"quotes that are never closed", io.MultiReader(strings.NewReader(header+row), &endless{"\"a\n\"b\n", size / 8}), 1, protocol.ErrRow},
		{"one test without end", io.MultiReader(strings.NewReader(header), &endless{row, size / 8}), 1, protocol.ErrConflict},
		{"commas without end", io.MultiReader(strings.NewReader(header+row), &endless{",,,,,,,,,\n", size}), 1, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			grown, tests, _, err := growth(t, tt.sheet)
			if tests != tt.tests || !errors.Is(err, tt.is) {
				t.Errorf("%d tests, error %v; want %d tests, error %v", tests, err, tt.tests, tt.is)
			}
			if grown > 4<<20 {
				t.Errorf("the heap grew by %d bytes", grown)
			}
		})
	}
}

// generated is a sheet of tests of six repeats, made while it is read.
type generated struct {
	rows, next int
	rest       string
}

func (g *generated) Read(p []byte) (int, error) {
	if g.rest == "" {
		if g.next == 0 {
			g.rest = header
		}
		if g.next == g.rows {
			return 0, io.EOF
		}
		g.rest += fmt.Sprintf("Swimmer %d,2025-03-04,25 m,400,%d,5:%02d,1.2,\n", g.next/6, g.next%6+1, 50-g.next%6)
		g.next++
	}
	n := copy(p, g.rest)
	g.rest = g.rest[n:]
	return n, nil
}

// An error of the reader ends the sheet, and the tests before it stand.
func TestReaderError(t *testing.T) {
	broken := errors.New("the card was pulled out")
	r := io.MultiReader(strings.NewReader(good()), &failing{broken})
	recs, err := sheet.Read(r)
	if len(recs) != 2 || !errors.Is(err, broken) {
		t.Errorf("%d tests, error %v", len(recs), err)
	}
	n := 0
	var last error
	for rec, err := range sheet.Scan(io.MultiReader(strings.NewReader(good()), &failing{broken})) {
		if len(rec.Repeats) == 5 {
			n++
		}
		last = err
	}
	if n != 2 || !errors.Is(last, broken) {
		t.Errorf("test by test: %d tests, last error %v", n, last)
	}
}

type failing struct{ err error }

func (f *failing) Read([]byte) (int, error) { return 0, f.err }

// A caller may stop anywhere.
func TestScanStop(t *testing.T) {
	text := strings.Replace(good(), "heart rate", "hart rate", 1) + "x\n"
	for stopAt := range 5 { // the fault of the header, Ada, the row of nobody, Ben
		n := 0
		for range sheet.Scan(strings.NewReader(text)) {
			if n++; n > stopAt {
				break
			}
		}
		if n != min(stopAt+1, 4) {
			t.Errorf("stopped after %d, saw %d", stopAt+1, n)
		}
	}
}

// Too many faults to list are cut short, and said to be.
func TestManyFaults(t *testing.T) {
	text := header + strings.Repeat("Ada,2025-03-04,25 m,400,1,4:75,1,\n", 5000)
	_, err := sheet.Read(strings.NewReader(text))
	if !strings.Contains(err.Error(), "4900 more faults in the test of Ada") {
		t.Errorf("error ends in %q", err.Error()[len(err.Error())-200:])
	}
	text = header
	for i := range 5000 {
		text += fmt.Sprintf("Swimmer %d,2025-03-04,25 m,400,1,5:32,x,\n", i)
	}
	_, err = sheet.Read(strings.NewReader(text))
	if n := strings.Count(err.Error(), "\n"); n != 1000 || !errors.Is(err, sheet.ErrManyFaults) {
		t.Errorf("%d lines of error", n)
	}
}

func (f *failing) Write([]byte) (int, error) { return 0, f.err }
