package lactate_test

import (
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// D: lactate, intensity, heart rate and time in other units, so small that all
// numbers are below 1, give the same thresholds in those units: nothing but the
// sign of a number says whether a sample was taken.
func TestSmallUnits(t *testing.T) {
	const (
		y = 1. / 32 // powers of two, which round nothing
		x = 1. / 4
		h = 1. / 256
	)
	test := fullTest()
	small := lactate.Test{Rest: test.Rest * y}
	for _, s := range test.Stages {
		small.Stages = append(small.Stages, lactate.Stage{Intensity: s.Intensity * x, Lactate: s.Lactate * y, HeartRate: s.HeartRate * h, Duration: s.Duration / 512})
	}
	for _, r := range test.Recovery {
		small.Recovery = append(small.Recovery, lactate.RecoverySample{After: r.After / 512, Lactate: r.Lactate * y})
	}
	pairs := [][2]lactate.Method{
		{lactate.Fixed{Lactate: 4}, lactate.Fixed{Lactate: 4 * y}},
		{lactate.MaxDistance{}, lactate.MaxDistance{}},
		{lactate.MaxDistance{Ends: lactate.MeasuredEnds}, lactate.MaxDistance{Ends: lactate.MeasuredEnds}},
		{lactate.LogLog{}, lactate.LogLog{}},
		{lactate.LogLogMaxDistance{}, lactate.LogLogMaxDistance{}},
		{lactate.LogLogMaxDistance{Ends: lactate.MeasuredEnds}, lactate.LogLogMaxDistance{Ends: lactate.MeasuredEnds}},
		{lactate.FirstTurnPoint{}, lactate.FirstTurnPoint{}},
		{lactate.SecondTurnPoint{}, lactate.SecondTurnPoint{}},
		{lactate.LowestLactateEquivalent{}, lactate.LowestLactateEquivalent{}},
		{lactate.AboveLowestEquivalent{Rise: 1.5}, lactate.AboveLowestEquivalent{Rise: 1.5 * y}},
		{lactate.FixedSlope{Slope: 20}, lactate.FixedSlope{Slope: 20 * y / x}},
		{lactate.RecoveryTangent{}, lactate.RecoveryTangent{}},
		{lactate.RecoveryTangent{Ends: lactate.MeasuredEnds}, lactate.RecoveryTangent{Ends: lactate.MeasuredEnds}},
	}
	for _, b := range []lactate.Baseline{lactate.BaselineFittedLowest, lactate.BaselineLowestStage, lactate.BaselineFirstStage, lactate.BaselineFirstTwoStages, lactate.BaselineRestingSample} {
		pairs = append(pairs,
			[2]lactate.Method{lactate.AboveBaseline{Rise: 1, From: b}, lactate.AboveBaseline{Rise: y, From: b}},
			[2]lactate.Method{lactate.ObservedRise{Rise: 1, From: b}, lactate.ObservedRise{Rise: y, From: b}})
	}
	for _, s := range []lactate.ChordStart{lactate.ChordBeforeFirstRise, lactate.ChordBeforeRiseAboveLowest, lactate.ChordAtFirstRise} {
		pairs = append(pairs, [2]lactate.Method{lactate.ModifiedMaxDistance{Start: s, Rise: 0.4}, lactate.ModifiedMaxDistance{Start: s, Rise: 0.4 * y}})
	}
	for name, kind := range map[string]func() lactate.Curve{"exponential": exponential, "cubic": func() lactate.Curve { return new(curve.Polynomial) }} {
		var o, p lactate.Options
		o.Curve, p.Curve = kind, kind
		for _, m := range pairs {
			o.Methods, p.Methods = append(o.Methods, m[0]), append(p.Methods, m[1])
		}
		a := analysed(t, test, o)
		b := analysed(t, small, p)
		answers := 0
		for i, want := range a.Thresholds {
			got := b.Thresholds[i]
			if (got.Err == nil) != (want.Err == nil) {
				t.Errorf("%s, %v: %v and %v", name, want.Method, want.Err, got.Err)
				continue
			}
			if want.Err != nil {
				continue
			}
			answers++
			for _, v := range []struct {
				what      string
				got, want float64
			}{
				{"intensity", got.Intensity.Value, want.Intensity.Value * x},
				{"lactate", got.Lactate.Value, want.Lactate.Value * y},
				{"heart rate", got.HeartRate.Value, want.HeartRate.Value * h},
			} {
				if !(math.Abs(v.got-v.want) <= 1e-9*v.want) {
					t.Errorf("%s, %v: %s %v, want %v", name, want.Method, v.what, v.got, v.want)
				}
			}
		}
		if answers < 20 {
			t.Errorf("%s: %d answers", name, answers)
		}
	}
	peak, err := lactate.PeakLactate(test)
	if err != nil {
		t.Fatal(err)
	}
	if p, err := lactate.PeakLactate(small); err != nil || p.Lactate != peak.Lactate*y || p.After != peak.After/512 || p.Passed != peak.Passed {
		t.Errorf("peak %v (%v), in small units %v", peak, err, p)
	}
}

// What cannot be right, just on the other side of what can.
func TestCheckEdges(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*lactate.Test)
		ok     bool
	}{
		{"as it is", func(*lactate.Test) {}, true},
		{"no rest", func(t *lactate.Test) { t.Rest = 0 }, true},
		{"negative rest", func(t *lactate.Test) { t.Rest = -1e-9 }, false},
		{"no lactate", func(t *lactate.Test) { t.Stages[2].Lactate = 0 }, true},
		{"least lactate", func(t *lactate.Test) { t.Stages[2].Lactate = 5e-324 }, true},
		{"negative lactate", func(t *lactate.Test) { t.Stages[2].Lactate = -1e-9 }, false},
		{"largest lactate", func(t *lactate.Test) { t.Stages[6].Lactate = math.MaxFloat64 }, true},
		{"infinite lactate", func(t *lactate.Test) { t.Stages[2].Lactate = math.Inf(1) }, false},
		{"no intensity", func(t *lactate.Test) { t.Stages[2].Intensity = 0 }, false},
		{"least intensity", func(t *lactate.Test) { t.Stages[2].Intensity = 5e-324 }, true},
		{"no heart rate", func(t *lactate.Test) { t.Stages[2].HeartRate = 0 }, true},
		{"negative heart rate", func(t *lactate.Test) { t.Stages[2].HeartRate = -1e-9 }, false},
		{"no duration", func(t *lactate.Test) { t.Stages[2].Duration = 0 }, true},
		{"least duration", func(t *lactate.Test) { t.Stages[2].Duration = 1 }, true},
		{"negative duration", func(t *lactate.Test) { t.Stages[2].Duration = -1 }, false},
		{"at once", func(t *lactate.Test) { t.Recovery[0].After = 0 }, true},
		{"before the end", func(t *lactate.Test) { t.Recovery[0].After = -1 }, false},
		{"no recovery lactate", func(t *lactate.Test) { t.Recovery[0].Lactate = 0 }, false},
		{"little recovery lactate", func(t *lactate.Test) { t.Recovery[0].Lactate = 1e-9 }, true},
	} {
		test := fullTest()
		c.change(&test)
		if err := test.Check(); (err == nil) != c.ok || err != nil && strings.Count(err.Error(), "found") != 1 {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	// Where all are wrong, all are told.
	all := fullTest()
	for i := range all.Stages {
		all.Stages[i].Duration *= -1
	}
	for i := range all.Recovery {
		all.Recovery[i].After *= -1
	}
	if err := all.Check(); err == nil || strings.Count(err.Error(), "found") != len(all.Stages)+len(all.Recovery) {
		t.Errorf("negative times: %v", err)
	}
	all = fullTest()
	all.Rest = -1
	if err := all.Check(); err == nil || err.Error() != "lactate: rest: found -1, want a lactate in mmol/L, or zero if not taken" {
		t.Errorf("negative rest: %v", err)
	}
}
