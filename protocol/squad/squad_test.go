package squad_test

import (
	"bytes"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/squad"
	"example.com/steptest/testdata/sheets"
)

const head = "swimmer,date,pool,distance,repeat,time,lactate\n"

// all gathers swimmers.
func all(t *testing.T, s *squad.Sheets) (out []squad.Swimmer) {
	t.Helper()
	for swimmer, err := range s.Swimmers() {
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, swimmer)
	}
	return out
}

// D: a test that stands in two sheets counts once, and another spelling is told; both as in
// one sheet.
func TestTogether(t *testing.T) {
	for _, latest := range []bool{false, true} {
		s := &squad.Sheets{Latest: latest}
		var said []string
		for i, rows := range []string{
			"Ann,2025-02-01,25 m,200,1,2:40.0,1.1\nBo,2025-02-01,25 m,200,1,2:40.0,1.1\n",
			"Ann,2025-02-01,25 m,200,1,2:40.0,1.1\nBo,2025-02-01,25 m,200,1,2:41.0,1.1\nann,2025-03-01,25 m,200,1,2:40.0,1.1\n",
		} {
			beside, err := s.Add(fmt.Sprint(i+1), strings.NewReader(head+rows))
			for _, err := range append(beside, err) {
				if err != nil && !strings.HasPrefix(err.Error(), "protocol: ") {
					said = append(said, err.Error())
				}
			}
		}
		if want := []string{"2: the test of Ann, 2025-02-01, is in 1 already, and counts once",
			"2: the test of Bo, 2025-02-01, is in 1 already, and counts once, as it stands there: the two differ",
			`2: found the swimmer "ann", want one spelling of a name; 1 has "Ann"`}; !slices.Equal(said, want) {
			t.Errorf("latest %v: %q, want %q", latest, said, want)
		}
		if got := s.Names(); !slices.Equal(got, []string{"Ann", "Bo", "ann"}) || (len(s.Records()) == 3) == latest {
			t.Errorf("latest %v: %q, %d records", latest, got, len(s.Records()))
		}
		s.Only("Bo")
		if got := all(t, s); len(got) != 1 || got[0].Name != "Bo" || got[0].Tests[0].Repeats[0].Time.Seconds() != 160 {
			t.Errorf("latest %v: %+v", latest, got)
		}
	}
}

// unseekable cannot be read again.
type unseekable struct{ io.Reader }

// D: the latest tests are the last two of all, whether the sheet can be read test by test or
// not; earlier ones are counted, and a test that waits is told beside them.
func TestLatest(t *testing.T) {
	text := append(sheets.Season(), "Mika Torne,2031-01-01,25 m,400,1,,\n"...)
	whole := &squad.Sheets{}
	if _, err := whole.Add("whole", bytes.NewReader(text)); err != nil && len(whole.Records()) == 0 {
		t.Fatal(err)
	}
	for _, sheet := range []io.Reader{bytes.NewReader(text), unseekable{bytes.NewReader(text)}} {
		s := &squad.Sheets{Latest: true}
		s.Add("latest", sheet)
		got, want := all(t, s), all(t, whole)
		if len(got) != len(want) {
			t.Fatalf("%d swimmers, want %d", len(got), len(want))
		}
		for i := range got {
			tests := slices.DeleteFunc(slices.Clone(want[i].Tests), func(r protocol.Record) bool { return r.Pending() != "" })
			held := slices.DeleteFunc(slices.Clone(got[i].Tests), func(r protocol.Record) bool { return r.Pending() != "" })
			last := tests[max(0, len(tests)-2):]
			for k := range last {
				last[k].Notes, held[k].Notes = nil, nil
			}
			if !reflect.DeepEqual(held, last) || got[i].Earlier != len(tests)-len(last) || len(got[i].Tests)-len(held) != len(want[i].Tests)-len(tests) {
				t.Errorf("%s: %d held, %d earlier; want the last of %d", got[i].Name, len(got[i].Tests), got[i].Earlier, len(want[i].Tests))
			}
		}
	}
}
