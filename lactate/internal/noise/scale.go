// Package noise knows the scale of the noise when the stated size counts for some
// observations and the residuals for the rest (Box & Tiao 1973, Bayesian Inference in
// Statistical Analysis; from memory), and Student's t, which follows from it.
package noise

import "math"

// The noise of a blood lactate that is assumed if none is stated; see lactate.DefaultNoise for
// its sources.
const (
	Absolute = 0.2  // standard deviation at any level [mmol/L]
	Relative = 0.03 // as a share of the value
)

// Prior returns for how many observations a stated noise counts: zero means 4, and a negative
// number none.
func Prior(weight float64) float64 {
	switch {
	case weight == 0:
		return 4
	case weight < 0:
		return 0
	}
	return weight
}

// A Scale is the posterior of how many times larger than stated the noise is.
type Scale struct {
	Prior float64 // ν₀: for how many observations the stated size counts; +Inf: it is certain
	Nu    float64 // ν: and the points beside them
}

// Certain reports whether the stated size is.
func (s Scale) Certain() bool { return math.IsInf(s.Prior, 1) }

// Times returns how many times larger than stated the noise is about residuals of a
// weighted sum of squares.
func (s Scale) Times(rss float64) float64 {
	if s.Certain() {
		return 1
	}
	return math.Sqrt((s.Prior + rss) / s.Nu)
}

// Likelihood returns ((ν₀ + least)/(ν₀ + rss))^(ν/2).
func (s Scale) Likelihood(least, rss float64) float64 {
	if s.Certain() {
		return math.Exp((least - rss) / 2)
	}
	r := (s.Prior + least) / (s.Prior + rss)
	if s.Nu > fewDegrees || s.Nu != math.Trunc(s.Nu) {
		return math.Pow(r, s.Nu/2)
	}
	return halfPower(r, int(s.Nu))
}

// A Rival tells quickly how much less likely others are than what fits best.
type Rival struct {
	prior, inverse float64
	fours          int
}

// Rival returns what compares with a least weighted sum of squares.
func (s Scale) Rival(least float64) Rival {
	if s.Certain() {
		return Rival{}
	}
	return Rival{s.Prior, 1 / (s.Prior + least), int(min(s.Nu, fewDegrees)) / 4}
}

// InverseSquare returns 1/Likelihood², or less.
func (r Rival) InverseSquare(rss float64) float64 {
	v := (r.prior + rss) * r.inverse
	v *= v
	v *= v
	p := 1.0
	for range r.fours {
		p *= v
	}
	return p
}
