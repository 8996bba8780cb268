package lactate

import (
	"math"
)

// Influences says what the thresholds of a test rest on. The zero value is empty.
type Influences struct {
	// LeftOut are the stages with a lactate sample, in order of intensity: indexes into
	// Test.Stages.
	LeftOut []int `json:"left_out"`
	// Unit as in Test.
	Unit string `json:"intensity_unit,omitzero"`
	// LT1 and LT2 as in Options.
	LT1 Influenced `json:"lt1"`
	LT2 Influenced `json:"lt2"`
	// Thresholds has one entry for each of Options.Methods.
	Thresholds []Influenced `json:"thresholds"`
}

// Influenced is what one threshold becomes when a stage is left out.
type Influenced struct {
	Whole   Threshold   `json:"whole"`   // of the whole test
	Without []Threshold `json:"without"` // of the test without Influences.LeftOut[i]
	// Most is the index into LeftOut and Without of the stage without which the threshold
	// moves most; −1 if the whole test or every test without a stage has none.
	Most int `json:"most"`
	// Shift is the intensity without that stage less that of the whole test. Zero if Most
	// is −1.
	Shift float64 `json:"shift"`
	// Lost holds the indexes of the stages without which there is no threshold.
	Lost []int `json:"lost,omitempty"`
}

// Influence reads the thresholds of [Analyze] again with the lactate of one stage after another
// left out, as if that sample had been lost.
//
// A threshold that one stage moves by more than its interval allows rests on that stage. The
// first and the last stage are the ends of the tested range: leaving one out can move a
// threshold that depends on the ends, such as Dmax, or put it out of reach, even if every
// sample is right.
//
// Options.Resamples is ignored. The error is that of Analyze on the whole test; that of the
// test without a stage is in its thresholds.
func Influence(t Test, o Options) (*Influences, error) {
	o.Resamples = 0
	whole, err := Analyze(t, o)
	if err != nil {
		return nil, err
	}
	r := &Influences{
		Unit:       whole.Unit,
		LT1:        Influenced{Whole: whole.LT1},
		LT2:        Influenced{Whole: whole.LT2},
		Thresholds: make([]Influenced, len(whole.Thresholds)),
	}
	for k, th := range whole.Thresholds {
		r.Thresholds[k].Whole = th
	}
	r.LeftOut = t.inOrder()
	rest := t
	for _, i := range r.LeftOut {
		rest.Stages = append(rest.Stages[:0:0], t.Stages...)
		rest.Stages[i].Lactate = 0
		a, err := Analyze(rest, o)
		without := func(f *Influenced) {
			if err != nil {
				f.Without = append(f.Without, unread(f.Whole.Method, err))
				return
			}
			f.Without = append(f.Without, a.read(rest, f.Whole.Method))
		}
		without(&r.LT1)
		without(&r.LT2)
		for k := range r.Thresholds {
			without(&r.Thresholds[k])
		}
	}
	r.LT1.weigh()
	r.LT2.weigh()
	for k := range r.Thresholds {
		r.Thresholds[k].weigh()
	}
	return r, nil
}

// weigh finds the stage that matters most.
func (f *Influenced) weigh() {
	f.Most = -1
	for i, th := range f.Without {
		if th.Err != nil {
			if f.Whole.Err == nil {
				f.Lost = append(f.Lost, i)
			}
			continue
		}
		if f.Whole.Err != nil {
			continue
		}
		if d := th.Intensity.Value - f.Whole.Intensity.Value; f.Most < 0 || math.Abs(d) > math.Abs(f.Shift) {
			f.Most, f.Shift = i, d
		}
	}
}
