package squad

import (
	"encoding/json"
	"fmt"
	"hash/maphash"
	"maps"
	"time"

	"example.com/steptest/protocol"
)

// known are the tests and the names of the sheets so far. The zero value is none.
type known struct {
	sheets []string
	seed   maphash.Seed
	tests  map[uint64]test     // by the hash of swimmer and date
	names  map[string]spelling // by the folded name
	other  map[string]int      // by a later spelling: the first sheet that has it
}

// test is where a test stands first. It keeps hashes, since the tests of a long sheet are
// many.
type test struct {
	sheet, sum uint32
}

// spelling is how a name is written first.
type spelling struct {
	sheet   int
	swimmer string
}

// begin starts another sheet.
func (k *known) begin(sheet string) {
	if k.sheets == nil {
		*k = known{seed: maphash.MakeSeed(), tests: map[uint64]test{}, names: map[string]spelling{}, other: map[string]int{}}
	}
	k.sheets = append(k.sheets, sheet)
}

// forget forgets the last sheet.
func (k *known) forget() {
	last := len(k.sheets) - 1
	maps.DeleteFunc(k.tests, func(_ uint64, t test) bool { return int(t.sheet) == last })
	maps.DeleteFunc(k.names, func(_ string, s spelling) bool { return s.sheet == last })
	maps.DeleteFunc(k.other, func(_ string, sheet int) bool { return sheet == last })
	k.sheets = k.sheets[:last]
}

// admit takes a test of the last sheet. It reports whether the test counts: one that stands
// in an earlier sheet does not. beside says so, or that its name differs from one there by
// no more than case and blanks. Within a sheet, reading it has said all this.
func (k *known) admit(rec protocol.Record) (counts bool, beside error) {
	this := len(k.sheets) - 1
	at := maphash.String(k.seed, rec.Swimmer+"\n"+rec.Date.Format(time.DateOnly))
	rec.Faults = nil             // whatever lines they stand in
	text, _ := json.Marshal(rec) // of a record that a sheet holds: no error
	sum := uint32(maphash.Bytes(k.seed, text))
	switch first, ok := k.tests[at]; {
	case !ok:
		k.tests[at] = test{uint32(this), sum}
	case int(first.sheet) < this:
		as := ""
		if first.sum != sum {
			as = ", as it stands there: the two differ"
		}
		return false, fmt.Errorf("%s: the test of %s, is in %s already, and counts once%s", k.sheets[this], rec.Whose(), k.sheets[first.sheet], as)
	}
	return true, k.addName(rec.Swimmer)
}

// addName adds a name of the last sheet, and says once if an earlier sheet spells it
// otherwise.
func (k *known) addName(swimmer string) error {
	this, name := len(k.sheets)-1, protocol.FoldName(swimmer)
	first, ok := k.names[name]
	if !ok {
		k.names[name] = spelling{this, swimmer}
	}
	if _, told := k.other[swimmer]; !ok || told || first.swimmer == swimmer {
		return nil
	}
	k.other[swimmer] = this
	if first.sheet == this {
		return nil
	}
	return fmt.Errorf("%s: found the swimmer %q, want one spelling of a name; %s has %q", k.sheets[this], swimmer, k.sheets[first.sheet], first.swimmer)
}
