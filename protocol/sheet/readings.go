package sheet

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"example.com/steptest/lactate/between"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// Reading is one row of a file of readings. The zero value is no reading.
type Reading struct {
	between.Reading
	// Swimmer is empty if the file has no such column: then all are of one swimmer.
	Swimmer string `json:"swimmer,omitzero"`
	// Pool is zero if the file has none: then distance or pace carry their unit.
	Pool pace.Pool `json:"pool,omitzero"`
	// Line is that of the row in the file.
	Line int `json:"line"`
}

// The columns of a file of readings that a sheet does not have.
const (
	colKind = columnCount + iota // the name of the repeat: "4 x 400 on 6:30"
	colPace                      // per 100 of the pool
	colAnalyser
)

// readingNames are other names of those columns.
var readingNames = map[string]column{
	"kind": colKind, "set": colKind, "repeats": colKind, "kindofrepeat": colKind,
	"pace":     colPace,
	"analyser": colAnalyser, "analyzer": colAnalyser, "meter": colAnalyser,
}

// ReadReadings reads a file of lactates taken in training: a CSV file with a header line
// and one row for each, as in
//
//	date,pool,distance,time,lactate,heart rate,kind
//	2025-01-21,25 m,400,5:14.2,3.1,158,4 x 400 on 6:30
//
// date and lactate are required, and distance and time, or pace per 100 of the pool. kind
// names the repeats that the reading is from, analyser the instrument if it is not that of
// the tests; swimmer parts a squad. Headings, separators, dates and times are read as in a
// sheet, see the package documentation; other columns are left out.
//
// The error joins all faults, each a [*protocol.Fault]; the good rows come even then. A
// fault in the heart rate costs the cell, any other the row.
func (o Options) ReadReadings(r io.Reader) ([]Reading, error) {
	rows := newRowReader(r)
	own, err := rows.readingsHeader()
	if err != nil {
		return nil, err
	}
	header, _ := orderOf(rows.units[colDate])
	dates := newDates(o, header)
	f := readingsFile{own: own, header: rows.header, semicolons: rows.comma != ',', told: map[*protocol.Fault]bool{}}
	for empty := true; ; empty = false {
		row, err := rows.next()
		var fault *protocol.Fault
		switch {
		case err == io.EOF:
			if empty {
				f.fault(&protocol.Fault{Found: "a header line only", Want: "a row for each reading below the header", Err: ErrEmpty})
			}
			f.take(dates.flush())
			return f.readings, errors.Join(f.errs...)
		case err != nil && !errors.As(err, &fault):
			f.take(dates.flush())
			return f.readings, errors.Join(append(f.errs, err)...)
		}
		f.take(dates.add(waitingRow{row, fault}))
	}
}

// ReadReadings reads a file of readings as [Options.ReadReadings] does, with the default
// options.
func ReadReadings(r io.Reader) ([]Reading, error) { return Options{}.ReadReadings(r) }

// readingsHeader reads the header line of a file of readings. own has the columns that a
// sheet does not have, by their place in the header.
func (r *rowReader) readingsHeader() (own map[int]column, err error) {
	if err := r.skipTitle(); err != nil {
		return nil, err
	}
	number, fields, err := r.gather()
	if err == io.EOF {
		return nil, &protocol.Fault{Want: "a header line, and a row for each reading", Err: ErrEmpty}
	}
	if err != nil {
		return nil, err
	}
	for len(fields) > 0 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	r.header, r.meaning = fields, make([]column, len(fields))
	own = map[int]column{}
	at := map[column]int{}
	var faults []error
	fault := func(c, found, want string) {
		faults = append(faults, &protocol.Fault{Line: number, Column: c, Found: form.Shorten(found), Want: want, Err: ErrColumns})
	}
	for i, f := range fields {
		r.meaning[i] = colIgnore
		if f == "" {
			continue
		}
		name, _ := fold(f)
		c, known := readingNames[joined(name)]
		var unit string
		if known {
			own[i], r.meaning[i] = c, colExtra
		} else if c, unit, known = heading(f); known {
			if !c.unitFits(unit) {
				fault(c.String(), f, "values in the unit of a sheet, see the documentation")
				continue
			}
			r.meaning[i], r.units[c] = c, unit
		} else {
			continue // another column, which is left out
		}
		if first, again := at[c]; again {
			fault("", f, fmt.Sprintf("this column only once; field %d, %q, is the same", first+1, fields[first]))
		}
		at[c] = i
	}
	has := func(c column) bool { _, ok := at[c]; return ok }
	for _, c := range []column{colDate, colLactate} {
		if !has(c) {
			fault(c.String(), "", "this column")
		}
	}
	if !has(colPace) && !(has(colDistance) && has(colTime)) {
		fault("", strings.Join(fields, string(rune(r.comma))), "distance and time, or pace")
	}
	return own, errors.Join(faults...)
}

// readingsFile gathers the readings of a file.
type readingsFile struct {
	own        map[int]column
	header     []string
	semicolons bool
	readings   []Reading
	errs       []error
	told       map[*protocol.Fault]bool // those of many rows
}

func (f *readingsFile) fault(fault *protocol.Fault) {
	switch {
	case f.told[fault] || len(f.errs) > maxSheetFaults:
	case len(f.errs) == maxSheetFaults:
		f.errs = append(f.errs, ErrManyFaults)
	default:
		f.told[fault] = fault.Rows > 0
		f.errs = append(f.errs, fault)
	}
}

func (f *readingsFile) take(ready []waitingRow) {
	for _, w := range ready {
		if w.fault != nil {
			f.fault(w.fault)
			continue
		}
		reading, faults := f.parse(w.row)
		if !costsRow(faults) {
			f.readings = append(f.readings, reading)
		}
		for _, fault := range faults {
			f.fault(fault)
		}
	}
}

// ownCell returns a cell of a column that a sheet does not have.
func (f *readingsFile) ownCell(r *row, col column) (text, name string) {
	for i, c := range f.own {
		if c == col {
			return r.extra[f.header[i]], f.header[i]
		}
	}
	return "", ""
}

// parse reads one row.
func (f *readingsFile) parse(r row) (Reading, []*protocol.Fault) {
	c := &cells{row: r, comma: f.semicolons, faults: r.stray}
	c.blankDashes()
	out := Reading{Line: r.line}
	out.Swimmer = protocol.CleanName(c.text(colSwimmer))
	out.Date = c.date(colDate)
	bad := func(column, found, want string) {
		c.faults = append(c.faults, &protocol.Fault{Line: r.line, Column: column, Found: form.Shorten(found), Want: want, Err: protocol.ErrValue})
	}
	if s := r.cell[colPool]; s != "" {
		pool, err := pace.ParsePool(c.decimal(colPool))
		if err != nil {
			bad("pool", s, because(`a pool such as "25 yd" or "50 m"`, err))
		}
		out.Pool = pool
	}
	f.intensity(c, &out, bad)
	if s := c.row.cell[colLactate]; s == "" {
		bad("lactate", "", "a lactate in mmol/L: a reading without one says nothing")
	} else if v, beyond := c.lactate(); beyond != protocol.InRange {
		bad("lactate", s, "a number: beyond the range of the analyser the lactate is not known")
	} else {
		out.Lactate = v
	}
	out.HeartRate = c.number(colHeartRate, form.MinHeartRate, form.MaxHeartRate, "a heart rate of 30 to 250 per min, or nothing if it was not taken")
	for _, own := range []struct {
		col column
		to  *string
	}{{colKind, &out.Kind}, {colAnalyser, &out.Analyser}} {
		text, name := f.ownCell(&r, own.col)
		if text = protocol.CleanName(text); !form.Printable(text) || len(text) > 200 {
			bad(name, text, "a name of at most 200 bytes without control characters")
		} else {
			*own.to = text
		}
	}
	for _, fault := range c.faults { // what a sheet can spare a reading needs
		if fault.Column != colHeartRate.String() && fault.Err == protocol.ErrValue {
			fault.Kept = false
		}
	}
	return out, c.faults
}

// intensity reads the speed: from distance and time, or from the pace.
func (f *readingsFile) intensity(c *cells, out *Reading, bad func(column, found, want string)) {
	before := len(c.faults)
	text, name := f.ownCell(&c.row, colPace)
	swum, distance := c.row.cell[colTime], c.row.cell[colDistance]
	var v float64
	switch {
	case text == "" && (swum == "" || distance == ""):
		bad("time", swum, "distance and time, or pace: without a speed the lactate has no place on the curve")
		return
	case swum != "" && distance != "":
		if out.Pool.IsZero() && plain(c.decimal(colDistance)) && c.unit(colDistance) == "" {
			bad("pool", c.row.cell[colPool], `a pool such as "25 m", or a distance with its unit`)
			return
		}
		d := c.length(colDistance, out.Pool)
		c.swum = d
		t := c.clock(colTime, c.decimal(colTime), d, false)
		if d > 0 && t > 0 {
			v = d.Metres() / t.Seconds()
		}
		if v > 0 && !swims(d, t) {
			bad("time", swum, fmt.Sprintf("a time in which %s can be swum; this is %.2f m/s", d, v))
		}
	default:
		v = c.readPace(text, name, out.Pool, bad)
	}
	if len(c.faults) == before && v > 0 && !math.IsInf(v, 0) {
		out.Intensity = v
	}
}

// readPace reads a pace: with its length, or per 100 of the pool.
func (c *cells) readPace(text, name string, pool pace.Pool, bad func(column, found, want string)) float64 {
	p, err := pace.ParsePace(text)
	if err != nil {
		var t time.Duration
		if t, err = pace.ParseTime(text); err == nil && pool.IsZero() {
			bad(name, text, `a pace with its length, such as "1:21.6/100 m", or a pool`)
			return 0
		}
		p = pace.Pace{Time: t, Per: pool.Per100()}
	}
	if err != nil || !(p.Time > 0 && p.Per > 0) || !swims(p.Per, p.Time) {
		bad(name, text, `a pace such as "1:21.6" per 100 of the pool, or "1:21.6/100 m", that can be swum`)
		return 0
	}
	return p.Per.Metres() / p.Time.Seconds()
}
