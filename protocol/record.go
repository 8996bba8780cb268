package protocol

import (
	"errors"
	"fmt"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Record is one step test as it was swum: what a sheet holds of one swimmer on
// one day. The zero value is an empty record.
type Record struct {
	Swimmer string    `json:"swimmer,omitzero"`
	Date    time.Time `json:"date,omitzero"` // the day, at midnight UTC
	Pool    pace.Pool `json:"pool"`
	// Rest is the lactate at rest before the first repeat [mmol/L]. Zero means
	// not taken.
	Rest float64 `json:"rest_mmol_per_l,omitzero"`
	// WarmUp is the distance swum easily before the test. Zero means not noted.
	WarmUp pace.Length `json:"warm_up,omitzero"`
	// Next is the day for which the next test is planned, at midnight UTC.
	// Zero means not noted.
	Next time.Time `json:"next_test,omitzero"`
	// Repeats in order of their numbers.
	Repeats []Repeat `json:"repeats"`
	// Recovery holds the samples taken after the last repeat, in order of time.
	Recovery []Sample `json:"recovery,omitzero"`
	// RecoveryAfter is the number of the repeat that Recovery follows, if its row
	// is lost. Zero means the last of Repeats.
	RecoveryAfter int `json:"recovery_after,omitzero"`
	// Notes say how the sheet was read where another reading was possible.
	// [Record.Review] has them. Nil means none.
	Notes []Note `json:"notes,omitzero"`
	// Faults are those of this test's rows in the sheet it was read from. The
	// cells they name are left out. A fault that is not [Fault.Kept] leaves out
	// its row: the record is then part of the test. [Record.Lost] counts. Nil
	// means none.
	Faults []*Fault `json:"faults,omitzero"`
}

// Repeat is one swim of a step test, planned or swum. The zero value is no
// repeat: numbers count from 1.
type Repeat struct {
	Number   int         `json:"repeat"` // counted from 1 within the test
	Distance pace.Length `json:"distance"`
	// Target is the time that was planned. Zero means none.
	Target time.Duration `json:"target_ns,omitzero"`
	// AllOut says that the repeat was planned as fast as can be; a target
	// beside it is only what is expected.
	AllOut bool `json:"all_out,omitzero"`
	// Leave is when the repeat was to start, counted from the start of the
	// first. Zero means the first repeat, or that no time was planned.
	Leave time.Duration `json:"leave_ns,omitzero"`
	// Time is the time swum. Zero means not swum, or lost.
	Time time.Duration `json:"time_ns,omitzero"`
	// After is the time from the end of the repeat to its sample. Zero means
	// not noted.
	After time.Duration `json:"after_ns,omitzero"`
	// Lactate [mmol/L]. Zero means not taken, or lost.
	Lactate float64 `json:"lactate_mmol_per_l,omitzero"`
	// Range is where the lactate lies if the analyser showed HI or Lo. Lactate
	// is then zero.
	Range Range `json:"lactate_range,omitzero"`
	// HeartRate at the end of the repeat [1/min]. Zero means not taken, or lost.
	HeartRate float64 `json:"heart_rate_per_min,omitzero"`
	// Cycles is a number of stroke cycles, counted over Segment, which took
	// SegmentTime: a stretch in mid-pool, clear of turns. Zero means not taken.
	Cycles      float64       `json:"stroke_cycles,omitzero"`
	Segment     pace.Length   `json:"segment,omitzero"`
	SegmentTime time.Duration `json:"segment_time_ns,omitzero"`
	// StrokeRate is the rate as counted by a watch, in full cycles [1/min].
	// StrokesPerLength is a count of arm strokes, two to a cycle in crawl and
	// backstroke, over a whole length. Zero means not taken.
	StrokeRate       float64 `json:"stroke_rate_per_min,omitzero"`
	StrokesPerLength float64 `json:"strokes_per_length,omitzero"`
	Remark           string  `json:"remark,omitzero"`
	// Extra holds the cells of columns that this package does not know, by
	// the name of the column as it stands in the header. Blank cells are left
	// out. Nil means none.
	Extra map[string]string `json:"extra,omitzero"`
}

// Sample is a blood sample taken after the last repeat, while the swimmer
// rests. The zero value is no sample.
type Sample struct {
	After     time.Duration     `json:"after_ns"`                    // since the end of the last repeat
	Lactate   float64           `json:"lactate_mmol_per_l,omitzero"` // [mmol/L]; zero means not taken, or lost
	Range     Range             `json:"lactate_range,omitzero"`      // as in [Repeat]
	HeartRate float64           `json:"heart_rate_per_min,omitzero"` // [1/min]; zero means not taken
	Remark    string            `json:"remark,omitzero"`
	Extra     map[string]string `json:"extra,omitzero"` // as in [Repeat]
}

// Speed returns distance over time (m/s). It returns an error that wraps
// [pace.ErrValue] for a repeat that was not swum.
func (r Repeat) Speed() (pace.Speed, error) { return pace.MeanSpeed(r.Distance, r.Time) }

// Err joins the faults of the record; nil means that the record is whole.
func (r Record) Err() error {
	var errs []error
	for _, f := range r.Faults {
		if f != nil { // as JSON may have it
			errs = append(errs, f)
		}
	}
	return errors.Join(errs...)
}

// Lost counts what the faults have cost: rows that are left out, and cells of
// rows that are kept. A test without a lost row has all repeats that the sheet
// has of it; [Record.Review] reports numbers that the sheet lacks. Faults that are
// too many to list are counted no further.
func (r Record) Lost() (rows, cells int) {
	lost := linesLost(r.Faults)
	for _, f := range r.Faults {
		if f == nil {
			continue
		}
		more := max(f.Rows-1, 0)
		switch {
		case !f.Kept && f.Line > 0:
			rows += more
		case f.Kept && !lost[f.Line] && f.Column != "swimmer": // a name is read, however spelt
			cells += 1 + more
		}
	}
	return rows + len(lost), cells
}

// linesLost holds the lines of rows that are left out. A cell of one costs nothing more:
// package sheet marks it so, a record from elsewhere need not.
func linesLost(faults []*Fault) map[int]bool {
	lost := map[int]bool{}
	for _, f := range faults {
		if f != nil && !f.Kept && f.Line > 0 {
			lost[f.Line] = true
		}
	}
	return lost
}

// ErrNoRepeats is returned by [Record.Test] for a record in which no repeat
// was swum.
var ErrNoRepeats = errors.New("protocol: no repeat was swum")

// ErrPartial says that rows of a test were lost to faults.
var ErrPartial = errors.New("protocol: part of a test, without the rows that have faults")

// Analyze reads the thresholds of the test: [Record.Test] and [lactate.Analyze] in one.
func (r Record) Analyze(o lactate.Options) (*lactate.Analysis, error) {
	t, err := r.Test()
	if err != nil {
		return nil, err
	}
	return lactate.Analyze(t, o)
}

// Test returns what package lactate needs: a stage for each repeat that was
// swum, with the mean speed (m/s) as its intensity and the time as its
// duration, and the samples of rest and recovery.
//
// A repeat without a time has no place on the curve and is left out; a repeat
// whose sample was lost, or beyond the range of the analyser, keeps its stage.
// If the last repeat has no sample of its own but samples were taken after it, the highest of those stands for it: after
// an all-out swim lactate still rises for some minutes (common
// practice: samples at 1, 3, 5 and 7 min, until they fall). If one of them is
// above the range of the analyser, the highest is not known and none stands.
//
// If a repeat was planned all out and was not swum, the test is Submaximal.
//
// A record that lost rows to faults, or a time, distance or lactate, is part of a test, and
// its thresholds may be those of another: the error then wraps [ErrPartial] and joins the
// faults. [Record.Partial] gives that part. Another cell lost to a fault is a value not
// taken. If no repeat was swum, the error is [ErrNoRepeats].
func (r Record) Test() (lactate.Test, error) {
	for _, f := range r.Faults {
		if f != nil && f.costsCurve() {
			return lactate.Test{}, errors.Join(ErrPartial, r.Err())
		}
	}
	return r.Partial()
}

// Partial returns what stands of the test, though rows and cells of it may be lost, for those
// who know that it is a part. The error says which repeats have a speed that cannot be, and
// is [ErrNoRepeats] if no repeat stands.
func (r Record) Partial() (lactate.Test, error) {
	t := lactate.Test{Rest: r.Rest, Unit: lactate.MetresPerSecond}
	var err error
	last := -1
	for _, rep := range r.Repeats {
		if rep.Time == 0 {
			t.Submaximal = t.Submaximal || rep.AllOut
			continue
		}
		v, speedErr := rep.Speed()
		if speedErr != nil {
			err = errors.Join(err, fmt.Errorf("protocol: repeat %d: %w", rep.Number, speedErr))
			continue
		}
		last = len(t.Stages)
		t.Stages = append(t.Stages, lactate.Stage{
			Intensity: v.MetresPerSecond(),
			Lactate:   rep.Lactate,
			HeartRate: rep.HeartRate,
			Duration:  rep.Time,
		})
	}
	if last < 0 {
		return t, errors.Join(err, ErrNoRepeats)
	}
	for _, s := range r.Recovery {
		if s.Lactate > 0 {
			t.Recovery = append(t.Recovery, lactate.RecoverySample{After: s.After, Lactate: s.Lactate})
		}
	}
	if end := r.Repeats[len(r.Repeats)-1]; end.Time > 0 && t.Stages[last].Lactate == 0 && end.Range == InRange && r.RecoveryAfter == 0 {
		t.Stages[last].Lactate = peakOf(r.Recovery)
	}
	return t, err
}

// Whose names the test in an error: the swimmer, and the date as it stands in a sheet.
func (r Record) Whose() string {
	return table.Short(r.Swimmer, 200) + ", " + r.Date.Format(time.DateOnly)
}
