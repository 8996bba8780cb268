package sheet_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"github.com/google/go-cmp/cmp"
)

// D: no field of a written sheet starts a formula, whichever text it came from, and each
// text is read back as it was.
func TestWriteHasNoFormulas(t *testing.T) {
	sheets, err := sheet.Read(strings.NewReader(good()))
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{`=HYPERLINK("x")`, "+1", "-2 felt", "@SUM(A1)", "'=1", "''-x", "'tis", "a=b", "'", "''", "="} {
		for _, rec := range sheets {
			rec.Swimmer = text
			rec.Repeats = append([]protocol.Repeat(nil), rec.Repeats...)
			rec.Repeats[0].Remark = text
			rec.Repeats[0].Extra = map[string]string{"felt": text, text: "x"}
			if text == "''" || text == "'" || strings.Contains(text, "'tis") {
				rec.Repeats[0].Extra = map[string]string{"felt": text}
			}
			var b bytes.Buffer
			if err := sheet.Write(&b, []protocol.Record{rec}); err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			fields, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range fields {
				for _, f := range row {
					if f != "" && strings.Contains("=+-@", f[:1]) {
						t.Errorf("%q: the file holds %q", text, f)
					}
				}
			}
			back, err := sheet.Read(&b)
			if d := cmp.Diff([]protocol.Record{rec}, back, comparePools()); d != "" || err != nil {
				t.Errorf("%q: %v (-want +got):\n%s", text, err, d)
			}
		}
	}
}
