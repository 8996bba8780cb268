package polynomial

import "math"

// A dd is the unevaluated sum of two float64s, some 32 digits
// (Dekker 1971, Numer Math 18:224–242; from memory).
type dd struct{ hi, lo float64 }

// twoSum returns a+b and its rounding error.
func twoSum(a, b float64) dd {
	s := a + b
	t := s - a
	return dd{s, (a - (s - t)) + (b - t)}
}

// quickTwoSum is twoSum for |a| ≥ |b|.
func quickTwoSum(a, b float64) dd {
	s := a + b
	return dd{s, b - (s - a)}
}

// twoProd returns a·b and its rounding error. The conversion keeps the product
// rounded: without it, it may be fused with a sum that it goes into, as on
// arm64 and other machines that multiply and add at once.
func twoProd(a, b float64) dd {
	p := float64(a * b)
	return dd{p, math.FMA(a, b, -p)}
}

func (a dd) add(b dd) dd {
	s := twoSum(a.hi, b.hi)
	t := twoSum(a.lo, b.lo)
	s = quickTwoSum(s.hi, s.lo+t.hi)
	return quickTwoSum(s.hi, s.lo+t.lo)
}

func (a dd) neg() dd { return dd{-a.hi, -a.lo} }

func (a dd) sub(b dd) dd { return a.add(b.neg()) }

func (a dd) mul(b dd) dd {
	p := twoProd(a.hi, b.hi)
	return quickTwoSum(p.hi, p.lo+(a.hi*b.lo+a.lo*b.hi))
}

// times returns a·b for a plain b.
func (a dd) times(b float64) dd {
	p := twoProd(a.hi, b)
	return quickTwoSum(p.hi, p.lo+a.lo*b)
}

func (a dd) div(b dd) dd {
	q := a.hi / b.hi
	r := a.sub(b.times(q))
	s := r.hi / b.hi
	r = r.sub(b.times(s))
	return quickTwoSum(q, s).add(dd{r.hi / b.hi, 0})
}

func (a dd) value() float64 { return a.hi + a.lo }
