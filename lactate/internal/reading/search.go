package reading

// A curve of unknown shape is looked at in this many places from end to end
// before the search narrows down. A feature narrower than that can be missed.
const looks = 512

// LastRise returns the highest x in [lo, hi] at which f rises through a level.
func LastRise(f func(float64) float64, level, lo, hi float64) (x float64, ok bool) {
	above, b := f(hi) >= level, hi
	for k := looks - 1; k >= 0; k-- {
		a := lo + (hi-lo)*(float64(k)/looks)
		below := f(a) < level
		if above && below {
			return signChange(func(x float64) float64 { return f(x) - level }, a, b), true
		}
		above, b = !below, a
	}
	// A curve that starts at the level and rises crosses it at its start.
	return lo, above && f(lo) == level && f(lo+(hi-lo)/looks) > level
}

// signChange returns, to the last bit, the x in (a, b] at which f, below zero at a
// and not at b, ceases to be below zero.
func signChange(f func(float64) float64, a, b float64) float64 {
	for range 200 {
		mid := a/2 + b/2
		if mid <= a || mid >= b {
			break
		}
		if f(mid) < 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return b
}

// Lowest returns where f is lowest in [lo, hi], and whether that is inside. The
// values of f alone place it to about half of the digits: [LowestOn] does better.
func Lowest(f func(float64) float64, lo, hi float64) (x float64, inside bool) {
	at := func(k int) float64 { return lo + (hi-lo)*(float64(k)/looks) }
	best, least := 0, f(lo)
	for k := 1; k <= looks; k++ {
		if v := f(at(k)); v < least {
			best, least = k, v
		}
	}
	if best == 0 || best == looks {
		return at(best), false
	}
	// Golden section between the neighbours.
	const golden = 0.6180339887498949
	a, b := at(best-1), at(best+1)
	p, q := b-golden*(b-a), a+golden*(b-a)
	fp, fq := f(p), f(q)
	for range 46 { // to 1e-12 of the range, if numbers lie that close
		if fp < fq {
			b, q, fq = q, p, fp
			p = b - golden*(b-a)
			fp = f(p)
		} else {
			a, p, fp = p, q, fq
			q = a + golden*(b-a)
			fq = f(q)
		}
	}
	x = a/2 + b/2
	return x, x > lo && x < hi
}
