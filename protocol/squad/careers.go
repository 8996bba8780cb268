package squad

import (
	"bytes"
	"compress/flate"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"sort"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// careers hold the two latest tests of each swimmer, as compressed JSON, and of tests that
// are pending what is told of them. Earlier tests are counted, so that a sheet of a million
// rows takes little.
type careers struct {
	swimmers []*career // in order of their first tests
	byName   map[string]*career
	text     bytes.Buffer
	packer   *flate.Writer
}

// career has the tests of a swimmer, by date.
type career struct {
	name    string
	tests   []heldTest
	earlier int
}

type heldTest struct {
	date   time.Time
	ready  bool // not pending
	packed []byte
}

// add takes a test.
func (all *careers) add(rec protocol.Record) error {
	c, why := all.of(rec.Swimmer), rec.Pending()
	if why == "" && c.isEarlier(rec.Date) {
		c.earlier++
		return nil
	}
	switch why { // of a pending test just enough that Pending says the same
	case protocol.PendingSwim:
		rec = protocol.Record{Swimmer: rec.Swimmer, Date: rec.Date}
	case protocol.PendingSample:
		rec = protocol.Record{Swimmer: rec.Swimmer, Date: rec.Date, Repeats: []protocol.Repeat{{Time: 1}}}
	}
	packed, err := all.pack(rec)
	if err == nil {
		c.insert(heldTest{rec.Date, why == "", packed})
	}
	return err
}

// of returns the career of a swimmer, and starts it if need be.
func (all *careers) of(name string) *career {
	c := all.byName[name]
	if c == nil {
		c = &career{name: name}
		if all.byName == nil {
			all.byName = map[string]*career{}
		}
		all.byName[name] = c
		all.swimmers = append(all.swimmers, c)
	}
	return c
}

// merge takes the tests of a later sheet.
func (all *careers) merge(later *careers) {
	for _, s := range later.swimmers {
		c := all.of(s.name)
		for _, t := range s.tests {
			c.insert(t)
		}
		c.earlier += s.earlier
	}
}

// isEarlier reports whether two tests that can be read are of later days.
func (c *career) isEarlier(date time.Time) bool {
	n := 0
	for _, t := range slices.Backward(c.tests) {
		if !t.date.After(date) {
			break
		}
		if t.ready {
			n++
		}
	}
	return n >= 2
}

// insert puts a test into its place, after those of the same day, and lets go of the third
// latest.
func (c *career) insert(t heldTest) {
	at := sort.Search(len(c.tests), func(i int) bool { return c.tests[i].date.After(t.date) })
	c.tests = slices.Insert(c.tests, at, t)
	ready := 0
	for i := len(c.tests) - 1; i >= 0; i-- {
		if !c.tests[i].ready {
			continue
		}
		if ready++; ready > 2 {
			c.tests = slices.Delete(c.tests, i, i+1)
			c.earlier++
			return
		}
	}
}

func (all *careers) pack(rec protocol.Record) ([]byte, error) {
	text, err := json.Marshal(rec)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", rec.Whose(), err)
	}
	all.text.Reset()
	if all.packer == nil {
		all.packer, _ = flate.NewWriter(&all.text, flate.BestSpeed) // a level that there is
	}
	all.packer.Reset(&all.text)
	all.packer.Write(text) // into memory: no error
	all.packer.Close()
	return bytes.Clone(all.text.Bytes()), nil
}

func unpack(packed []byte) (rec protocol.Record, err error) {
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(packed)))
	if err == nil {
		err = json.Unmarshal(text, &rec)
	}
	return rec, err
}

// records unpacks the tests of a swimmer.
func (c *career) records() (records []protocol.Record, err error) {
	for _, t := range c.tests {
		rec, err := unpack(t.packed)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", table.Short(c.name, 200), err)
		}
		records = append(records, rec)
	}
	return records, nil
}
