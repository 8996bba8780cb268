package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// candidate is one curve that the swimmer may have: A + (P − A)·exp(C·(x − ref)).
type candidate struct {
	a, p, c, ref float64 // a and p [mmol/L], c [1/(m/s)], ref [m/s]
	weight       float64 // all weights sum to one
}

func (c candidate) lactate(x float64) float64 { return c.a + (c.p-c.a)*math.Exp(c.c*(x-c.ref)) }

func (c candidate) curve() *curve.Exponential {
	return &curve.Exponential{A: c.a, B: (c.p - c.a) * math.Exp(-c.c*c.ref), C: c.c}
}

// test returns what the candidate would show in the stages, without noise.
func (c candidate) test(stages []lactate.Stage) lactate.Test {
	t := lactate.Test{Stages: make([]lactate.Stage, len(stages))}
	for i, s := range stages {
		t.Stages[i] = lactate.Stage{Intensity: s.Intensity, Lactate: c.lactate(s.Intensity), Duration: s.Duration}
	}
	return t
}
