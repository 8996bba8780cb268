package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
)

// Invented tests: as many pairs of six stages, a test and its retest.
const (
	sets   = 64
	stages = 6
	top    = 1.34 // [m/s]
)

// A set is two tests: the first half of the points is the first.
type set struct {
	after   []int // 0 or 1
	xs, ys  []float64
	a, b, c float64 // where other software starts: a + b·exp(c·(x − top))
}

// first returns the points of the first test.
func (s *set) first() (xs, ys []float64) { return s.xs[:stages], s.ys[:stages] }

// invent returns the sets, the same ones every time: y = 1 + 6·exp(16·(x −
// top − shift)) with an error of 0.2 mmol/L and 3 %, printed to 0.1 mmol/L.
func invent() []set {
	rng := rand.New(rand.NewPCG(8, 8))
	all := make([]set, sets)
	for k := range all {
		s := &all[k]
		for after, shift := range []float64{0, 0.02} {
			for i := range stages {
				x := top - 0.19 + 0.19*float64(i)/(stages-1) + shift/2*float64(after)
				y := 1 + 6*math.Exp(16*(x-top-shift*float64(after)))
				y += (0.2 + 0.03*y) * rng.NormFloat64()
				s.after = append(s.after, after)
				s.xs = append(s.xs, math.Round(1e4*x)/1e4)
				s.ys = append(s.ys, max(0.3, math.Round(10*y)/10))
			}
		}
		s.begin()
	}
	return all
}

// begin finds start values as is usual: an asymptote just below the lowest
// value, and a straight line through the logarithms of what lies above it.
func (s *set) begin() {
	xs, ys := s.first()
	s.a = slices.Min(ys) - 0.2
	var mx, my, sxx, sxy float64
	for i, x := range xs {
		mx += (x - top) / stages
		my += math.Log(ys[i]-s.a) / stages
	}
	for i, x := range xs {
		d := x - top - mx
		sxx += d * d
		sxy += d * math.Log(ys[i]-s.a)
	}
	s.c = sxy / sxx
	s.b = math.Exp(my - s.c*mx)
}

// writeSets writes points.csv (set, after, x, y) and start.csv (set, top, a, b,
// c) into a folder.
func writeSets(folder string, all []set) error {
	points := [][]string{{"set", "after", "x", "y"}}
	start := [][]string{{"set", "top", "a", "b", "c"}}
	row := func(values ...any) (out []string) {
		for _, v := range values {
			out = append(out, fmt.Sprint(v))
		}
		return out
	}
	for k, s := range all {
		for i, x := range s.xs {
			points = append(points, row(k, s.after[i], x, s.ys[i]))
		}
		start = append(start, row(k, top, s.a, s.b, s.c))
	}
	return errors.Join(
		writeCSV(filepath.Join(folder, "points.csv"), points),
		writeCSV(filepath.Join(folder, "start.csv"), start))
}

func writeCSV(name string, rows [][]string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	return errors.Join(csv.NewWriter(f).WriteAll(rows), f.Close())
}
