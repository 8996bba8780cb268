package protocol_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"github.com/google/go-cmp/cmp"
)

// Any bytes: no panic; whole tests can be written and read back; reading test
// by test finds the same rows.
func FuzzReadSheet(f *testing.F) {
	f.Add([]byte(good()))
	f.Add([]byte(small))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(good(), ",", ";")))
	f.Add([]byte(strings.Replace(good(), "Ada", `"A`+"\n"+`da"`, 1)))
	f.Add([]byte(strings.Replace(good(), "heart rate", "stroke cycles", 1)))
	f.Add([]byte("swimmer,date,pool,distance,repeat,time,lactate,RPE,next test,warm up,leave,target\nA,2025-01-01,scy,100,1,,,5,2025-02-02,200,0:00,1:30 all out\n"))
	sheets, _ := filepath.Glob("../testdata/sheets/*.csv")
	for _, name := range sheets {
		if b, err := os.ReadFile(name); err == nil {
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, sheet []byte) {
		recs, err := protocol.ReadSheet(bytes.NewReader(sheet))
		if len(recs) == 0 && err == nil {
			t.Fatal("no test and no error")
		}
		var whole []protocol.Record
		for _, rec := range recs {
			if rec.Faults == nil {
				whole = append(whole, rec)
			}
			rec.Review()
			if test, err := rec.Test(); err == nil && test.Validate() != nil {
				t.Fatalf("test %v: %v", test, test.Validate())
			}
		}
		var out bytes.Buffer
		if err := protocol.WriteSheet(&out, whole); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if len(whole) > 0 {
			back, err := protocol.ReadSheet(&out)
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
		for rec := range protocol.ScanSheet(bytes.NewReader(sheet)) {
			scanned = append(scanned, rec)
		}
		if a, b := rows(recs), rows(scanned); a > b {
			t.Fatalf("%d repeats in all, %d test by test", a, b)
		}
	})
}
