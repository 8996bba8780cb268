package squad

import (
	"bytes"
	"compress/flate"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"sort"
	"time"

	"example.com/steptest/internal/clean"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// latest holds the tests for reports on the two latest tests of each swimmer: these two,
// as compressed JSON, and of tests that are pending what is told of them. Earlier tests
// are counted, so that a sheet of a million rows takes little.
type latest struct {
	swimmers []*career // in order of their first tests
	of       map[string]*career
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
	ready  bool
	packed []byte
}

func (l *latest) career(name string) *career {
	c := l.of[name]
	if c == nil {
		c = &career{name: name}
		if l.of == nil {
			l.of = map[string]*career{}
		}
		l.of[name] = c
		l.swimmers = append(l.swimmers, c)
	}
	return c
}

// add takes a test.
func (l *latest) add(rec protocol.Record) error {
	c, why := l.career(rec.Swimmer), rec.Pending()
	if why == "" && c.isEarlier(rec.Date) {
		c.earlier++
		return nil
	}
	switch why {
	case protocol.PendingSwim:
		rec = protocol.Record{Swimmer: rec.Swimmer, Date: rec.Date}
	case protocol.PendingSample:
		rec = protocol.Record{Swimmer: rec.Swimmer, Date: rec.Date, Repeats: []protocol.Repeat{{Time: 1}}}
	}
	packed, err := l.pack(rec)
	if err == nil {
		c.add(heldTest{rec.Date, why == "", packed})
	}
	return err
}

// merge takes the tests of a later sheet.
func (l *latest) merge(later *latest) {
	for _, s := range later.swimmers {
		c := l.career(s.name)
		for _, t := range s.tests {
			c.add(t)
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

// add puts a test into its place, after those of the same day, and lets go of the third
// latest.
func (c *career) add(t heldTest) {
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

func (l *latest) pack(rec protocol.Record) ([]byte, error) {
	text, err := json.Marshal(rec)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", whose(rec), err)
	}
	l.text.Reset()
	if l.packer == nil {
		l.packer, _ = flate.NewWriter(&l.text, flate.BestSpeed) // a level that there is
	}
	l.packer.Reset(&l.text)
	l.packer.Write(text) // into memory: no error
	l.packer.Close()
	return bytes.Clone(l.text.Bytes()), nil
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
			return nil, fmt.Errorf("%s: %w", clean.Short(c.name, 200), err)
		}
		records = append(records, rec)
	}
	return records, nil
}

// latest reads a sheet: test by test, unless it has to be read as a whole.
func (j *joined) latest(name string, in io.Reader, o sheet.Options, whole bool) (l *latest, beside []error, err error) {
	start := func() (*joining, func(protocol.Record) error) {
		l = new(latest)
		s := j.begin(name)
		return s, func(rec protocol.Record) error {
			if !s.take(rec) {
				return nil
			}
			return l.add(rec)
		}
	}
	file, seeks := in.(io.Seeker)
	from, seekErr := int64(0), error(nil)
	if seeks {
		from, seekErr = file.Seek(0, io.SeekCurrent)
	}
	if seeks && seekErr == nil && !whole {
		s, take := start()
		ok, err := scan(in, o, take)
		if ok {
			return l, s.end(), err
		}
		if _, err := file.Seek(from, io.SeekStart); err != nil {
			return new(latest), nil, err
		}
	}
	s, take := start()
	records, err := o.Read(in)
	for _, rec := range records {
		err = errors.Join(err, take(rec))
	}
	return l, s.end(), err
}
