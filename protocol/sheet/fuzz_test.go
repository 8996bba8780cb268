package sheet_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

// Any bytes: no panic; whole tests can be written and read back; reading test
// by test finds the same rows.
func FuzzRead(f *testing.F) {
	f.Add([]byte(good()))
	f.Add([]byte(small))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(good(), ",", ";")))
	f.Add([]byte(strings.Replace(good(), "Ada", `"A`+"\n"+`da"`, 1)))
	f.Add([]byte(strings.Replace(good(), "heart rate", "stroke cycles", 1)))
	f.Add([]byte("swimmer,date,pool,distance,repeat,time,lactate,RPE,next test,warm up,leave,target\nA,2025-01-01,scy,100,1,,,5,2025-02-02,200,0:00,1:30 all out\n"))
	f.Add([]byte("Club test\n#;Name;Date (d.m.y);Pool (m);Dist;Time;Lac;BPM\n1;Rene\u0301e;3.4.2025;25;400;05:46:00;HI;120\n"))
	f.Add([]byte(strings.NewReplacer("2025-03-04", "3/4/2025", "5:32", "0.240277778", "1.2,120", "120,1.2").Replace(good())))
	sheets, _ := filepath.Glob("../../testdata/sheets/*.csv")
	for _, name := range sheets {
		if b, err := os.ReadFile(name); err == nil {
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		recs, err := sheet.Read(bytes.NewReader(text))
		if len(recs) == 0 && err == nil {
			t.Fatal("no test and no error")
		}
		var whole []protocol.Record
		for _, rec := range recs {
			if rec.Faults == nil {
				rec.Notes = nil // of this sheet, not of the test
				whole = append(whole, rec)
			}
			rec.Review()
			if test, err := rec.Test(); err == nil && test.Check() != nil {
				t.Fatalf("test %v: %v", test, test.Check())
			}
		}
		var out bytes.Buffer
		if err := sheet.Write(&out, whole); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if len(whole) > 0 {
			back, err := sheet.Read(&out)
			for i := range back {
				back[i].Notes = nil
			}
			if d := cmp.Diff(whole, back, comparePools()); d != "" || err != nil {
				t.Fatalf("read back: %v (-want +got):\n%s", err, d)
			}
		}
		rows := func(recs []protocol.Record) (n int) {
			for _, r := range recs {
				n += len(r.Repeats)
			}
			return n
		}
		var scanned []protocol.Record
		for rec := range sheet.Scan(bytes.NewReader(text)) {
			scanned = append(scanned, rec)
		}
		// A test that is read in parts contradicts itself no more than as a whole,
		// but where two spellings of a name are in two pools, which only the whole
		// sheet puts together: every row that it has more is a fault in parts.
		lost := 0
		for _, rec := range scanned {
			n, _ := rec.Lost()
			lost += n
			if len(rec.Faults) > 100 {
				return // counted no further
			}
		}
		if a, b := rows(recs), rows(scanned); a > b && (lost < a-b || !respelt(recs)) {
			t.Fatalf("%d repeats in all, %d test by test, %d rows lost there", a, b, lost)
		}
	})
}

// respelt reports whether a name has two spellings, with rows of one in the test of
// the other.
func respelt(recs []protocol.Record) bool {
	for _, rec := range recs {
		for _, f := range rec.Faults {
			if f.Column == "swimmer" && strings.Contains(f.Want, "one spelling of a name") {
				return true
			}
		}
	}
	return false
}
