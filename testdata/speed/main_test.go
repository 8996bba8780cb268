package main

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// D: the programs of this process find the same minimum on every set.
func TestSameMinimum(t *testing.T) {
	all := invent()
	var tab table
	for _, f := range fits(all) {
		for k := range all {
			rss, err := f.of(k)
			if err != nil {
				t.Fatalf("%s, %s, set %d: %v", f.program, f.work, k, err)
			}
			tab.found(f.program, f.work, k, rss)
		}
	}
	var out bytes.Buffer
	if err := tab.write(&out); err != nil {
		t.Error(err)
	}
	if got := strings.Count(out.String(), "64 of 64"); got != 7 {
		t.Errorf("%d rows of 64 of 64, want 7:\n%s", got, out.String())
	}
}

// D: a larger sum is another minimum, and a fit that gave up is neither.
func TestAnotherMinimum(t *testing.T) {
	rows := "fit,one,cubic,0,2\ntime,one,cubic,1000\nfit,two,cubic,0,2.001\ntime,two,cubic,3000\ntime,two,cubic,2500\nfit,three,cubic,0,NaN\ntime,three,cubic,9000\n"
	var out, errs bytes.Buffer
	if got := run([]string{"-table"}, strings.NewReader(rows), &out, &errs); got != 1 {
		t.Errorf("exit status %d, want 1", got)
	}
	if !strings.Contains(errs.String(), "two, cubic, set 0: a sum of squares of 2.001, where another found 2") || strings.Contains(errs.String(), "one,") {
		t.Errorf("errors: %s", errs.String())
	}
	for _, want := range []string{"one    1", "two    2.5       2.5", "0 of 1, 1 gave up"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("found no %q in\n%s", want, out.String())
		}
	}
	if got := run([]string{"-table"}, strings.NewReader("fit,one,cubic,zero,2\n"), &out, &errs); got != 1 {
		t.Errorf("a row without a number: exit status %d, want 1", got)
	}
}

// D: what is written for the other programs is what is fitted here.
func TestWriteSets(t *testing.T) {
	dir := t.TempDir()
	if got := run([]string{"-write", dir}, nil, os.Stdout, os.Stderr); got != 0 {
		t.Fatalf("exit status %d", got)
	}
	read := func(name string) [][]float64 {
		f, err := os.Open(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var out [][]float64
		for _, row := range rows[1:] {
			var vs []float64
			for _, cell := range row {
				v, err := strconv.ParseFloat(cell, 64)
				if err != nil {
					t.Fatal(err)
				}
				vs = append(vs, v)
			}
			out = append(out, vs)
		}
		return out
	}
	all := invent()
	points, start := read("points.csv"), read("start.csv")
	if len(points) != sets*2*stages || len(start) != sets {
		t.Fatalf("%d points, %d starts", len(points), len(start))
	}
	for i, p := range points {
		s := all[i/(2*stages)]
		if k := i % (2 * stages); p[0] != float64(i/(2*stages)) || p[1] != float64(s.after[k]) || p[2] != s.xs[k] || p[3] != s.ys[k] {
			t.Errorf("row %d: %v", i, p)
		}
	}
	// The start is a curve that rises, near the points.
	for k, p := range start {
		xs, ys := all[k].first()
		if !(p[3] > 0 && p[4] > 0) || !(math.Abs(p[2]+p[3]*math.Exp(p[4]*(xs[5]-p[1]))-ys[5]) < 4) {
			t.Errorf("set %d starts at %v", k, p)
		}
	}
}
