package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
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
	var readings []Reading
	var errs []error
	rows := newRowReader(r)
	for r, fault := range rows.rows(o, rows.ofReadings) {
		if fault != nil {
			errs = append(errs, fault)
			continue
		}
		if !r.broken {
			if reading := r.readReading(); !costsRow(r.faults) {
				readings = append(readings, reading)
			}
		}
		for _, f := range r.faults {
			if f.Rows == 0 || !slices.Contains(errs, error(f)) { // told once for many rows
				errs = append(errs, f)
			}
		}
	}
	return readings, joinMany(errs, rows.err)
}

// ReadReadings reads a file of readings as [Options.ReadReadings] does, with the default
// options.
func ReadReadings(r io.Reader) ([]Reading, error) { return Options{}.ReadReadings(r) }

// ofReadings finds out which column each field of the header line means.
func (r *rowReader) ofReadings(line int, fields []string) headings {
	h := headings{line: line, fields: fields}
	h.findKnown(allColumns)
	for _, c := range []column{colDate, colLactate} {
		if h.at[c] == 0 {
			h.fault(c.String(), "", "this column")
		}
	}
	if h.at[colPace] == 0 && (h.at[colDistance] == 0 || h.at[colTime] == 0) {
		h.fault("", strings.Join(fields, string(rune(r.separator))), "distance and time, or pace")
	}
	h.fatal = h.faults != nil
	return h
}

// readReading reads all cells of a row. Any fault but one of the heart rate costs the row.
func (r *row) readReading() Reading {
	r.blankDashes()
	out := Reading{Line: r.line}
	out.Swimmer = protocol.CleanName(r.readText(colSwimmer))
	out.Date = r.readDate(colDate)
	if r.cell[colPool] != "" {
		r.pool = r.readPool()
	}
	out.Pool, out.Intensity = r.pool, r.readIntensity()
	switch v, beyond := r.readLactate(); {
	case r.cell[colLactate] == "":
		r.need(colLactate, "a lactate in mmol/L: a reading without one says nothing")
	case beyond != protocol.InRange:
		r.need(colLactate, "a number: beyond the range of the analyser the lactate is not known")
	default:
		out.Lactate = v
	}
	out.HeartRate = r.readHeartRate()
	out.Kind, out.Analyser = r.readName(colKind), r.readName(colAnalyser)
	for _, f := range r.faults {
		if f.Column != colHeartRate.String() && f.Err == protocol.ErrValue {
			f.Kept = false
		}
	}
	return out
}

// readName reads the name of a kind of repeat, or of an analyser.
func (r *row) readName(col column) string {
	r.cell[col] = protocol.CleanName(r.cell[col])
	if s := r.cell[col]; form.Printable(s) && len(s) <= 200 {
		return s
	}
	r.need(col, "a name of at most 200 bytes without control characters")
	return ""
}

// readIntensity reads the speed [m/s]: from distance and time, or from the pace.
func (r *row) readIntensity() float64 {
	before := len(r.faults)
	swum, distance := r.cell[colTime], r.cell[colDistance]
	var v float64
	switch {
	case swum != "" && distance != "":
		if r.pool.IsZero() && plain(r.decimal(colDistance)) && r.units[colDistance] == "" {
			r.need(colPool, `a pool such as "25 m", or a distance with its unit`)
			return 0
		}
		d := r.readLength(colDistance)
		t := r.readClock(colTime, r.decimal(colTime), d, false)
		if d > 0 && t > 0 {
			v = d.Metres() / t.Seconds()
		}
		if v > 0 && !pace.Swims(d, t) {
			r.need(colTime, fmt.Sprintf("a time in which %s can be swum; this is %.2f m/s", d, v))
		}
	case r.cell[colPace] == "":
		r.need(colTime, "distance and time, or pace: without a speed the lactate has no place on the curve")
	default:
		v = r.readPace()
	}
	if len(r.faults) == before && v > 0 && !math.IsInf(v, 0) {
		return v
	}
	return 0
}

// readPace reads a pace: with its length, or per 100 of the pool.
func (r *row) readPace() float64 {
	p, err := pace.ParsePace(r.cell[colPace])
	if err != nil {
		var t time.Duration
		if t, err = pace.ParseTime(r.cell[colPace]); err == nil && r.pool.IsZero() {
			r.need(colPace, `a pace with its length, such as "1:21.6/100 m", or a pool`)
			return 0
		}
		p = pace.Pace{Time: t, Per: r.pool.Per100()}
	}
	if err != nil || !(p.Time > 0 && p.Per > 0) || !pace.Swims(p.Per, p.Time) {
		r.need(colPace, `a pace such as "1:21.6" per 100 of the pool, or "1:21.6/100 m", that can be swum`)
		return 0
	}
	return p.Per.Metres() / p.Time.Seconds()
}
