// Package reference reads the files of this folder for the tests of every package.
// Where their answers come from stands in testdata/README.md.
package reference

import (
	"embed"
	"encoding/csv"
	"strconv"
	"testing"
)

//go:embed *.csv
var files embed.FS

// Rows reads a file into rows by column name. Lines that begin with # are comments.
func Rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %v, %d rows", name, err, len(all))
	}
	var rows []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = rec[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// Number parses a number of a file.
func Number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Column reads a column of numbers.
func Column(t testing.TB, name, column string) []float64 {
	t.Helper()
	var vs []float64
	for _, row := range Rows(t, name) {
		vs = append(vs, Number(t, row[column]))
	}
	return vs
}
