package technique

import (
	"fmt"
	"math"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// seldom is the p-value below which stroke length is said to fall.
const seldom = 0.05

// Seen reports whether the counts show that stroke length starts to fall: such a join
// would come by chance in fewer than 5 tests of 100.
func (s Shortening) Seen() bool { return s.Err == nil && s.PValue < seldom }

// CountedBy says what the strokes were counted over.
func (t *Profile) CountedBy() string {
	if t.Basis != Segment {
		return t.Basis.String()
	}
	return fmt.Sprintf("cycles over %v in mid-pool", t.Segment)
}

// Table returns a row for each repeat, and one at LT1 and LT2 of the analysis if they
// lie between the slowest and the fastest repeat; the notes say how the stroke changed.
// The analysis may be nil.
func (t *Profile) Table(a *lactate.Analysis) table.Table {
	per := t.Pool.Per100()
	out := table.Table{Caption: "the stroke, " + t.CountedBy(),
		Head: []table.Column{{}, {Name: "per " + per.String()}, {Name: "rate, /min"}, {Name: "length, m"}, {Name: "index, m²/s"}}}
	within := func(e lactate.Estimate, decimals int) string {
		return table.Within(e, func(v float64) string { return table.Number(v, decimals) })
	}
	row := func(name string, s Stroke) {
		out.Rows = append(out.Rows, []string{name, table.Clock(per.Metres() / s.Speed.MetresPerSecond()), within(s.Rate, 1), within(s.Length, 2), within(s.Index, 2)})
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range t.Repeats {
		row(fmt.Sprintf("repeat %d", s.Number), s.Stroke)
		low, high = min(low, s.Share.Value), max(high, s.Share.Value)
	}
	if a != nil {
		for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
			if s, err := t.At(pace.Speed(th.Intensity.Value)); th.Err == nil && err == nil {
				row(fmt.Sprintf("at LT%d", i+1), s)
			}
		}
	}
	out.Notes = []string{
		fmt.Sprintf("From the slowest repeat to the fastest, rate %s and length %s.", grown(t.Rate.Percent), grown(t.Length.Percent)),
		t.Shortening.text(per),
	}
	if t.Basis == Segment {
		out.Notes = append(out.Notes, fmt.Sprintf("In mid-pool the speed is %.2f to %.2f of the mean of the repeat; the rest is push-off and turns.", low, high))
	}
	return out
}

// grown says in words by how many per cent a quantity grew.
func grown(e lactate.Estimate) string {
	number := func(v float64) string { return table.Number(math.Abs(v), 0) }
	switch {
	case e.Low > 0:
		return fmt.Sprintf("rises by %s %% (%s to %s)", number(e.Value), number(e.Low), number(e.High))
	case e.High < 0:
		return fmt.Sprintf("falls by %s %% (%s to %s)", number(e.Value), number(e.High), number(e.Low))
	case !e.HasInterval():
		return fmt.Sprintf("changes by %s %%", table.Signed(e.Value, 0))
	}
	return fmt.Sprintf("does not surely change (%s to %s %%)", table.Signed(e.Low, 0), table.Signed(e.High, 0))
}

// text says where stroke length starts to fall, and whether to believe it.
func (s Shortening) text(per pace.Length) string {
	switch {
	case s.Err != nil:
		return "Where length starts to fall is not known: " + strings.TrimPrefix(table.Bare(s.Err), "shortening: ") + "."
	case s.Seen():
		return fmt.Sprintf("Length starts to fall at %s per %v.", table.Pace(s.Speed, per), per)
	}
	return "The counts do not show where length starts to fall: count over several lengths to know."
}
