package points

import "math"

// Finite reports whether v is a number and not infinite.
func Finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// PowerOfTwo returns the least power of two above v > 0, between 2^-1000 and
// 2^1000; 1 for 0.
func PowerOfTwo(v float64) float64 {
	_, k := math.Frexp(v)
	k = min(max(k, -1000), 1000)
	return math.Float64frombits(uint64(1023+k) << 52)
}
