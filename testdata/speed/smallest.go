package main

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
)

var benchmarkLine = regexp.MustCompile(`^Benchmark(\S+)\s+\d+\s+([0-9.]+) ns/op(.*)`)
var allocsField = regexp.MustCompile(`([0-9]+) allocs/op`)

// smallest reads what go test -bench prints, with many short counts of each
// benchmark, and prints a table of the smallest time of each: what it takes when
// nothing else wants the processor.
func smallest(from io.Reader, to io.Writer) error {
	type row struct {
		name   string
		ns     float64
		allocs string
	}
	var rows []*row
	at := map[string]*row{}
	lines := bufio.NewScanner(from)
	for lines.Scan() {
		m := benchmarkLine.FindStringSubmatch(lines.Text())
		if m == nil {
			continue
		}
		ns, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			return err
		}
		r := at[m[1]]
		if r == nil {
			r = &row{name: m[1], ns: ns}
			at[m[1]] = r
			rows = append(rows, r)
		}
		r.ns = min(r.ns, ns)
		if a := allocsField.FindStringSubmatch(m[3]); a != nil {
			r.allocs = a[1]
		}
	}
	if err := lines.Err(); err != nil {
		return err
	}
	if len(rows) == 0 {
		return fmt.Errorf("found no benchmark, want the output of go test -bench")
	}
	fmt.Fprintln(to, "| benchmark | time | allocations |\n|---|---|---|")
	for _, r := range rows {
		fmt.Fprintf(to, "| %s | %s | %s |\n", strings.ReplaceAll(r.name, "_", " "), inWords(r.ns), r.allocs)
	}
	return nil
}

// inWords prints a time to three digits.
func inWords(ns float64) string {
	for _, unit := range []struct {
		size float64
		name string
	}{{1e9, "s"}, {1e6, "ms"}, {1e3, "µs"}} {
		if ns >= 0.9995*unit.size {
			return fmt.Sprintf("%.3g %s", ns/unit.size, unit.name)
		}
	}
	return fmt.Sprintf("%.3g ns", ns)
}
