package sheet_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

const odd = "../../testdata/sheets/odd/"

// promise is what is read, said and refused of an odd sheet.
type promise struct{ reads, says, refuses []string }

func promises(t testing.TB) map[string]*promise {
	t.Helper()
	b, err := os.ReadFile(odd + "promises.txt")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*promise{}
	var p *promise
	for lines := bufio.NewScanner(bytes.NewReader(b)); lines.Scan(); {
		kind, text, _ := strings.Cut(lines.Text(), " ")
		switch {
		case kind == "#":
			p = &promise{}
			all[text] = p
		case p == nil || text == "":
		case kind == "reads":
			p.reads = append(p.reads, text)
		case kind == "says":
			p.says = append(p.says, text)
		case kind == "refuses":
			p.refuses = append(p.refuses, text)
		default:
			t.Fatalf("promises: %q", lines.Text())
		}
	}
	return all
}

// summary is a record in one line.
func summary(r protocol.Record) string {
	span := func(name string, value func(protocol.Repeat) string) string {
		first, last, n := "", "", 0
		for i, rep := range r.Repeats {
			v := value(rep)
			if i == 0 {
				first = v
			}
			if last = v; v != "" && v != "HI" && v != "Lo" {
				n++
			}
		}
		if n == 0 {
			return ""
		}
		if last == "" {
			last = "nothing"
		}
		return fmt.Sprintf(", %s %s to %s (%d)", name, first, last, n)
	}
	number := func(v float64) string {
		if v == 0 {
			return ""
		}
		return fmt.Sprint(v)
	}
	n := len(r.Repeats)
	s := fmt.Sprintf("%s, %s, %v: %d repeats", r.Swimmer, r.Date.Format(time.DateOnly), r.Pool, n)
	if n > 0 {
		s += fmt.Sprintf(" in %s to %s", pace.FormatTime(r.Repeats[0].Time, -1), pace.FormatTime(r.Repeats[n-1].Time, -1))
	}
	s += span("lactate", func(r protocol.Repeat) string {
		if r.Range != protocol.InRange {
			return r.Range.String()
		}
		return number(r.Lactate)
	})
	s += span("heart rate", func(r protocol.Repeat) string { return number(r.HeartRate) })
	s += span("segment times", func(r protocol.Repeat) string {
		if r.SegmentTime == 0 {
			return ""
		}
		return pace.FormatTime(r.SegmentTime, -1)
	})
	s += span("strokes per length", func(r protocol.Repeat) string { return number(r.StrokesPerLength) })
	s += span("stroke rate", func(r protocol.Repeat) string { return number(r.StrokeRate) })
	if len(r.Recovery) > 0 {
		after := r.RecoveryAfter
		if after == 0 {
			after = r.Repeats[n-1].Number
		}
		s += fmt.Sprintf(", %d samples after repeat %d", len(r.Recovery), after)
	}
	return s
}

// unmatched returns the texts that no promise is part of, and the promises that
// are part of no text. Each promise stands for one text.
func unmatched(texts, promised []string) (extra, broken []string) {
	used := make([]bool, len(texts))
next:
	for _, p := range promised {
		for i, s := range texts {
			if !used[i] && strings.Contains(s, p) {
				used[i] = true
				continue next
			}
		}
		broken = append(broken, p)
	}
	for i, s := range texts {
		if !used[i] {
			extra = append(extra, s)
		}
	}
	return extra, broken
}

// Sheets as people and spreadsheets write them: what is read, said and refused
// is what we promise, and nothing else. Evidence: D, each is a known test with one
// habit or slip.
func TestOddSheets(t *testing.T) {
	all := promises(t)
	files, _ := filepath.Glob(odd + "*.csv")
	if len(files) != len(all) || len(files) < 40 {
		t.Errorf("%d sheets, %d promises", len(files), len(all))
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".csv")
		t.Run(name, func(t *testing.T) {
			p := all[name]
			if p == nil {
				t.Fatal("no promise")
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			recs, err := sheet.Read(bytes.NewReader(text))
			var reads, says, refuses []string
			for _, r := range recs {
				if len(r.Repeats) > 0 {
					reads = append(reads, summary(r))
				}
				for _, f := range r.Review() {
					if len(r.Repeats) > 0 && !strings.Contains(f.String(), "with a sample") {
						says = append(says, f.String())
					}
				}
			}
			if err != nil {
				refuses = strings.Split(err.Error(), "\n")
			}
			if d := cmp.Diff(p.reads, reads); d != "" {
				t.Errorf("read (-promised +got):\n%s", d)
			}
			if extra, broken := unmatched(says, p.says); extra != nil || broken != nil {
				t.Errorf("says besides: %q\ndoes not say: %q", extra, broken)
			}
			if extra, broken := unmatched(refuses, p.refuses); extra != nil || broken != nil {
				t.Errorf("refuses besides: %q\ndoes not refuse: %q", extra, broken)
			}
		})
	}
}
