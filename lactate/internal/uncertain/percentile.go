package uncertain

import (
	"math"
	"slices"
)

// Central returns the central interval of the values that are not NaN, and
// NaN if there are none. It changes the order of the values.
func Central(values []float64, confidence float64) (low, high float64) {
	values = slices.DeleteFunc(values, math.IsNaN)
	if len(values) == 0 {
		return math.NaN(), math.NaN()
	}
	tail := (1 - confidence) / 2
	return Quantile(values, tail), Quantile(values, 1-tail)
}

// Quantile interpolates between order statistics: the k-th of n values stands at
// (k − ½)/n (definition 5 of Hyndman & Fan 1996, Am Stat 50:361–365,
// from memory). It keeps clear of arithmetic with infinities, and changes the
// order of the values.
func Quantile(values []float64, p float64) float64 {
	h := p*float64(len(values)) - 0.5
	i := int(math.Floor(h))
	if i < 0 {
		return slices.Min(values)
	}
	if i >= len(values)-1 {
		return slices.Max(values)
	}
	var here, next float64
	if i < len(values)/2 { // the neighbour is looked for in the smaller part
		place(values, 0, len(values)-1, i+1)
		here, next = slices.Max(values[:i+1]), values[i+1]
	} else {
		place(values, 0, len(values)-1, i)
		here, next = values[i], slices.Min(values[i+1:])
	}
	f := h - float64(i)
	if f == 0 || here == next || math.IsInf(here, -1) {
		return here
	}
	return here + f*(next-here)
}

// place moves the value that belongs at index k of a[left:right+1], were it
// sorted, to that place, no larger ones to its left and no smaller ones to its
// right: algorithm SELECT of Floyd & Rivest (1975), Commun ACM 18:173 (from
// memory). It picks its pivots from a sample, and looks at each value little more
// than once.
func place(a []float64, left, right, k int) {
	for right > left {
		if right-left > 600 {
			n, i := float64(right-left+1), float64(k-left+1)
			z := math.Log(n)
			size := math.Exp(2*z/3) / 2
			margin := math.Copysign(math.Sqrt(z*size*(n-size)/n)/2, i-n/2)
			from := max(left, int(float64(k)-i*size/n+margin))
			to := min(right, int(float64(k)+(n-i)*size/n+margin))
			place(a, min(from, k), max(to, k), k)
		}
		pivot := a[k]
		i, j := left, right
		a[left], a[k] = a[k], a[left]
		if a[right] > pivot {
			a[right], a[left] = a[left], a[right]
		}
		for i < j {
			a[i], a[j] = a[j], a[i]
			i++
			j--
			for a[i] < pivot {
				i++
			}
			for a[j] > pivot {
				j--
			}
		}
		if a[left] == pivot {
			a[left], a[j] = a[j], a[left]
		} else {
			j++
			a[j], a[right] = a[right], a[j]
		}
		if j <= k {
			left = j + 1
		}
		if k <= j {
			right = j - 1
		}
	}
}
