package points

import "fmt"

// ByGroup counts the points of each of n groups, into count if it is large enough. The error
// is not nil for a group without a point.
func ByGroup[T int | float64](count []T, groups []int, n int) ([]T, error) {
	count = Resize(count, n)
	clear(count)
	for _, g := range groups {
		count[g]++
	}
	for g, c := range count {
		if c == 0 {
			return count, fmt.Errorf("curve: found no point of group %d, want groups numbered without gaps: %w", g, ErrInput)
		}
	}
	return count, nil
}
