package sheet

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// askAboutPools asks about tests of one swimmer in pools of one number in yards
// and in metres, that were swum in the same times: a yard is 9 % shorter.
func askAboutPools(records []protocol.Record) {
	before := map[string]int{}
	for i := range records {
		name := protocol.FoldName(records[i].Swimmer)
		j, ok := before[name]
		before[name] = i
		a, b := &records[j], &records[i]
		if !ok || a.Pool.Unit() == b.Pool.Unit() || math.Abs(float64(a.Pool.Length()/a.Pool.Unit()-b.Pool.Length()/b.Pool.Unit())) > 1e-9 {
			continue
		}
		if ratio, ok := timesRatio(*a, *b); ok && math.Abs(ratio-1) < 0.03 {
			b.Notes = append(b.Notes, protocol.Note{Line: 0, Column: colPool.String(), Text: fmt.Sprintf("the times are those of %s in a %s pool, though the lengths of a %s pool are %s: is one of the two pools wrong?",
				a.Date.Format("2006-01-02"), a.Pool, b.Pool, map[bool]string{true: "shorter", false: "longer"}[b.Pool.Unit() == pace.Yard])})
		}
	}
}

// timesRatio returns the median ratio of the times of the repeats that two tests
// have in common, over as many lengths.
func timesRatio(a, b protocol.Record) (float64, bool) {
	var ratios []float64
	for _, p := range a.Repeats {
		for _, q := range b.Repeats {
			if p.Number == q.Number && p.Time > 0 && q.Time > 0 && math.Abs(float64(p.Distance/a.Pool.Length()-q.Distance/b.Pool.Length())) < 1e-6 {
				ratios = append(ratios, float64(q.Time)/float64(p.Time))
			}
		}
	}
	if len(ratios) < 3 {
		return 0, false
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2], true
}
