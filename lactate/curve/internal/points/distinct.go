package points

// Distinct counts the different xs, as far as enough, which is at most 32.
func Distinct(xs []float64, enough int) int {
	var seen [32]float64
	n := 0
next:
	for _, x := range xs {
		for _, s := range seen[:n] {
			if s == x {
				continue next
			}
		}
		seen[n] = x
		if n++; n == enough {
			break
		}
	}
	return n
}
