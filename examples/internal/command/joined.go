package command

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"

	"example.com/steptest/protocol"
)

// joined knows the tests of sheets that are read together, each of which counts once.
type joined struct {
	alone bool             // one sheet only: reading it has said all
	first map[string]place // of a test, by swimmer and date; of a name, as written and folded
}

// place is where a test, or a name, stands first.
type place struct {
	sheet, swimmer string
	sum            [sha256.Size]byte // of the test
}

// joining is a sheet that is being added.
type joining struct {
	*joined
	sheet string
	fresh map[string]place
	errs  []error
}

func (j *joined) begin(sheet string) *joining {
	if sheet == "-" {
		sheet = "standard input"
	}
	return &joining{j, sheet, map[string]place{}, nil}
}

// take reports whether a test counts. One that stands in an earlier sheet already does
// not, and a name that differs from one there by no more than case and blanks is an error.
// Within a sheet, reading it has said all this.
func (j *joining) take(rec protocol.Record) bool {
	if j.alone {
		return true
	}
	test, written, name := "test\n"+Whose(rec), "written\n"+rec.Swimmer, "name\n"+protocol.FoldName(rec.Swimmer)
	sum := sumOf(rec)
	if first, ok := j.first[test]; ok {
		as := ""
		if first.sum != sum {
			as = ", as it stands there: the two differ"
		}
		j.errs = append(j.errs, fmt.Errorf("%s: the test of %s, is in %s already, and counts once%s", j.sheet, Whose(rec), first.sheet, as))
		return false
	}
	_, known := j.first[written]
	_, told := j.fresh[written]
	if first, ok := j.first[name]; ok && !known && !told {
		j.errs = append(j.errs, fmt.Errorf("%s: found the swimmer %q, want one spelling of a name; %s has %q", j.sheet, rec.Swimmer, first.sheet, first.swimmer))
	}
	for _, key := range []string{test, written, name} {
		if _, ok := j.fresh[key]; !ok {
			j.fresh[key] = place{j.sheet, rec.Swimmer, sum}
		}
	}
	return true
}

// end makes the sheet an earlier one. It returns what was wrong beside those before it.
func (j *joining) end() []error {
	maps.Copy(j.fresh, j.first) // the earlier sheet stays the first
	j.first = j.fresh
	return j.errs
}

// sumOf is the same for records that are equal, whatever lines they stand in.
func sumOf(rec protocol.Record) [sha256.Size]byte {
	rec.Faults = nil
	text, _ := json.Marshal(rec) // of a record that a sheet holds: no error
	return sha256.Sum256(text)
}
