package table

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
	"example.com/steptest/pace"
)

// A Member is one swimmer of a squad: the latest test, and what there is to know
// about it. The zero value is nobody.
type Member struct {
	Name     string
	Date     time.Time         // of the test
	Analysis *lactate.Analysis // nil: see Problem
	Change   *lactate.Change   // since the test before; nil: there is none
	Warnings []lactate.Warning // about the test, with the numbers that its stages have in the sheet
	Problem  string            // why there is no analysis
	Further  []string          // what else is odd, in a few words each
}

// Squad returns a row for each swimmer: LT1 and LT2 with half the width of their
// brackets, heart rates, how much faster than in the test before at the same lactate,
// and what is odd, in a few words. The pool of the options is that of all paces.
func Squad(members []Member, o Options) Table {
	o = o.withDefaults("squad")
	out := Table{Caption: o.Caption, Head: []Column{{"swimmer", false}, {"test", false}, {"LT1 " + o.perWhat(), true}, {"/min", true}, {"LT2 " + o.perWhat(), true}, {"/min", true},
		{"since the last", true}, {"what is odd", false}}}
	changed, open := false, false
	var confidence float64
	for _, m := range members {
		row := []string{m.Name, day(m.Date), "", "", "", "", ""}
		if a := m.Analysis; a != nil {
			confidence = a.Confidence
			for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
				row[2+2*i], row[3+2*i] = o.compact(th, a.Highest-a.Lowest), optional(th.HeartRate.Value, 0)
				open = open || strings.HasSuffix(row[2+2*i], "open")
			}
		}
		if c := m.Change; c != nil {
			changed = true
			row[6] = o.compactChange(c)
		}
		out.Rows = append(out.Rows, append(row, strings.Join(o.odd(m), "; ")))
	}
	if !changed {
		out.Head = slices.Delete(out.Head, 6, 7)
		for i, r := range out.Rows {
			out.Rows[i] = slices.Delete(r, 6, 7)
		}
	}
	if len(out.Rows) > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("LT1, LT2: ± half the %s; /min: heart rate there.", bracket(confidence)))
	}
	if open {
		out.Notes = append(out.Notes, aboutOpen)
	}
	if changed {
		out.Notes = append(out.Notes, "Since the last: how much faster than in the test before at the same lactate, "+o.perWhat()+"; a change smaller than its ± may be that of two days.")
	}
	return out
}

// odd says what is odd about a member, in a few words each: why there is no threshold
// first.
func (o Options) odd(m Member) (odd []string) {
	if m.Problem != "" {
		odd = append(odd, "no thresholds: "+m.Problem)
	}
	if a := m.Analysis; a != nil {
		for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
			if th.Err != nil && th.Method != nil {
				odd = append(odd, strings.TrimSuffix(because(fmt.Sprintf("LT%d none", i+1), th.Method, th.Err), "."))
			}
		}
	}
	for _, w := range m.Warnings {
		if s := o.few(w); !slices.Contains(odd, s) {
			odd = append(odd, s)
		}
	}
	return append(odd, m.Further...)
}

// day prints a date, and nothing where there is none.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// compact prints a threshold with half the width of its bracket.
func (o Options) compact(th lactate.Threshold, width float64) string {
	if th.Err != nil || th.Method == nil {
		return "none"
	}
	e := th.Intensity
	s := o.axis(width).At(e.Value)
	if !e.HasInterval() {
		return s
	}
	half, decimals := (e.High-e.Low)/2, say.Decimals(width)
	if !o.Pool.IsZero() {
		half, decimals = pace.Saved(o.Pool.Per100(), pace.Speed(e.Low), pace.Speed(e.High))/2, 1
	}
	if !say.Finite(half, e.Low, e.High) {
		return s + ", open"
	}
	return s + " ± " + say.Number(half, decimals)
}

// compactChange prints the change between two tests, with the days that differ.
func (o Options) compactChange(c *lactate.Change) string {
	e, unit := c.BetweenDays.Shift, " "+o.Unit
	if !o.Pool.IsZero() {
		unit = " s"
	}
	size, decimals := o.gain(c)
	word := " faster"
	if e.Value < 0 {
		word = " slower"
	}
	s := say.Number(math.Abs(size(e.Value)), decimals)
	if e.HasInterval() && say.Finite(e.Low, e.High) {
		s += " ± " + say.Number((size(e.High)-size(e.Low))/2, decimals)
	}
	return s + unit + word
}

// gain returns how to turn a shift into the time that it saves, in a pool, and how many
// decimals that has.
func (o Options) gain(c *lactate.Change) (size func(float64) float64, decimals int) {
	if o.Pool.IsZero() {
		return func(v float64) float64 { return v }, 3
	}
	return func(v float64) float64 {
		return pace.Saved(o.Pool.Per100(), pace.Speed(c.Reference), pace.Speed(c.Reference+v))
	}, 1
}

// perWhat says what a change is of.
func (o Options) perWhat() string {
	if o.Pool.IsZero() {
		return "in " + o.Unit
	}
	return "per 100 " + o.Pool.UnitSymbol()
}

// brief says what a warning of an analysis is about in a few words; empty for others.
func brief(k lactate.WarningKind) string {
	switch k {
	case lactate.WarnFewStages:
		return "few samples"
	case lactate.WarnLostSamples:
		return "sample lost"
	case lactate.WarnNotMaximal:
		return "perhaps not all out"
	case lactate.WarnLactateFell:
		return "lactate falls"
	case lactate.WarnFirstHigh:
		return "first sample high"
	case lactate.WarnCurveDips:
		return "falls before it rises"
	case lactate.WarnCurveUnbent:
		return "curve does not bend"
	case lactate.WarnCurveMisses:
		return "samples off the curve"
	case lactate.WarnInLastGap:
		return "rests on the last two"
	case lactate.WarnOpenInterval:
		return "bracket open"
	case lactate.WarnOutOfOrder:
		return "LT1 and LT2 not told apart"
	case lactate.WarnPairUnseen:
		return "bracket of LT2 reaches LT1"
	case lactate.WarnEndsEarly:
		return "ends early"
	case lactate.WarnNoScale:
		return "no bracket"
	case lactate.WarnNoBaseline:
		return "rises from the first on"
	case lactate.WarnSampleAbove:
		return "sample above LT1 or LT2"
	case lactate.WarnDmaxLow:
		return "Dmax near LT1"
	}
	if what, ok := strings.CutPrefix(string(k), "odd "); ok {
		return what + " looks wrong"
	}
	return ""
}

// few says a warning in a few words, with the numbers of its stages.
func (o Options) few(w lactate.Warning) string {
	s := brief(w.Kind)
	if s == "" {
		s = strings.ReplaceAll(string(w.Kind), "stage", o.noun())
	}
	var numbers []string
	for _, n := range w.Stages {
		numbers = append(numbers, strconv.Itoa(n))
	}
	switch noun := o.noun(); len(numbers) {
	case 0:
		return s
	case 1:
		return s + " (" + noun + " " + numbers[0] + ")"
	default:
		return s + " (" + noun + "s " + strings.Join(numbers, ", ") + ")"
	}
}
