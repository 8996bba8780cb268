package points

// Resize returns a slice of length n, s itself if it is large enough.
func Resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// Share makes slices of length n, parts of one allocation if they have to
// grow.
func Share(n int, parts ...*[]float64) {
	for _, p := range parts {
		if cap(*p) < n {
			all := make([]float64, n*len(parts))
			for k, p := range parts {
				*p = all[k*n : (k+1)*n : (k+1)*n]
			}
			return
		}
		*p = (*p)[:n]
	}
}
