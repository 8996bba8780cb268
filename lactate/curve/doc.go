// Package curve fits curves through points (x, y).
package curve
