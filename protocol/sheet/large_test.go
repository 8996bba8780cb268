package sheet_test

import (
	"errors"
	"flag"
	"io"
	"runtime"
	"strings"
	"testing"

	"example.com/steptest/protocol"
)

var large = flag.Bool("large", false, "read a million rows, and lines of a gigabyte")

// The long form of TestScanMemory: a million rows, and hostile sheets of a
// gigabyte, made while they are read. Memory is bounded by one test and its
// faults.
//
//	go test ./protocol/sheet -run LargeSheets -large -v
func TestLargeSheets(t *testing.T) {
	if !*large {
		t.Skip("takes a minute; ask for it with -large")
	}
	const gigabyte = 1 << 30
	for _, tt := range []struct {
		name  string
		sheet io.Reader
		tests int
		is    error
	}{
		{"a million rows", &generated{rows: 1_000_000}, 166_667, nil},
		{"a line of a gigabyte", io.MultiReader(strings.NewReader(header), &endless{strings.Repeat("x", 4096), gigabyte}), 0, protocol.ErrRow},
		{"a quote opened and a gigabyte after it", io.MultiReader(strings.NewReader(header+`Ben,"`), &endless{strings.Repeat("lost,", 800), gigabyte}), 0, protocol.ErrRow},
		{"a header of a gigabyte", &endless{strings.Repeat("swimmer,", 512), gigabyte}, 0, protocol.ErrRow},
		{"a quote opened and 64 MB of short lines", io.MultiReader(strings.NewReader(header+`Ben,"`), &endless{strings.Repeat("lost\n", 800), 64 << 20}), 0, protocol.ErrRow},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := &metered{r: tt.sheet}
			grown, tests, faults, err := growth(t, m)
			t.Logf("%d tests, %d faulty; the heap grew by %d kB and was %d kB at most, garbage included", tests, faults, grown>>10, m.most>>10)
			if tests != tt.tests || !errors.Is(err, tt.is) {
				t.Errorf("%d tests, error %v; want %d tests, error %v", tests, err, tt.tests, tt.is)
			}
			if grown > 4<<20 || m.most > 32<<20 {
				t.Errorf("the heap grew by %d bytes, to %d at most", grown, m.most)
			}
		})
	}
}

// metered looks at the heap while a sheet is read, so that a line held and let
// go again is seen.
type metered struct {
	r    io.Reader
	read int
	most uint64
}

func (m *metered) Read(p []byte) (int, error) {
	n, err := m.r.Read(p)
	if m.read += n; m.read%(1<<20) < n {
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		m.most = max(m.most, now.HeapAlloc)
	}
	return n, err
}
