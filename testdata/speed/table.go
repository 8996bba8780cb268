package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"text/tabwriter"
)

// A table is what programs found and how long they took. Rows come in as
//
//	fit,program,work,set,residual sum of squares
//	time,program,work,nanoseconds
//
// where the sum is NaN for a fit that failed, and a program may come more than
// once: its shortest time counts.
type table struct{ rows []*result }

type result struct {
	program, work string
	nanoseconds   float64
	rss           map[int]float64 // of each set
}

func (t *table) row(program, work string) *result {
	i := slices.IndexFunc(t.rows, func(r *result) bool { return r.program == program && r.work == work })
	if i < 0 {
		i = len(t.rows)
		t.rows = append(t.rows, &result{program, work, math.Inf(1), map[int]float64{}})
	}
	return t.rows[i]
}

func (t *table) found(program, work string, set int, rss float64) {
	t.row(program, work).rss[set] = rss
}

func (t *table) took(program, work string, nanoseconds float64) {
	r := t.row(program, work)
	r.nanoseconds = min(r.nanoseconds, nanoseconds)
}

func (t *table) read(from io.Reader) error {
	in := csv.NewReader(from)
	in.FieldsPerRecord = -1
	for {
		rec, err := in.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if err := t.add(rec); err != nil {
			line, _ := in.FieldPos(0)
			return fmt.Errorf("row %d: %w", line, err)
		}
	}
}

func (t *table) add(rec []string) error {
	switch {
	case len(rec) == 5 && rec[0] == "fit":
		set, err := strconv.Atoi(rec[3])
		if err != nil {
			return err
		}
		rss, err := strconv.ParseFloat(rec[4], 64)
		if err != nil {
			return err
		}
		t.found(rec[1], rec[2], set, rss)
		return nil
	case len(rec) == 4 && rec[0] == "time":
		ns, err := strconv.ParseFloat(rec[3], 64)
		if err != nil {
			return err
		}
		t.took(rec[1], rec[2], ns)
		return nil
	}
	return fmt.Errorf("found %q, want fit,program,work,set,sum or time,program,work,nanoseconds", rec)
}

// writeRows prints what read reads.
func (t *table) writeRows(to io.Writer) error {
	out := csv.NewWriter(to)
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	for _, r := range t.rows {
		for _, set := range slices.Sorted(maps.Keys(r.rss)) {
			out.Write([]string{"fit", r.program, r.work, strconv.Itoa(set), number(r.rss[set])})
		}
		out.Write([]string{"time", r.program, r.work, number(r.nanoseconds)})
	}
	out.Flush()
	return out.Error()
}

// The same minimum: two sums of squares that differ by no more than this share.
const same = 1e-6

// write prints the table. The error is not nil where two programs found
// different minima.
func (t *table) write(to io.Writer) error {
	w := tabwriter.NewWriter(to, 0, 0, 2, ' ', 0)
	var errs []error
	for _, work := range []string{"exponential", "cubic", "shift"} {
		var rows []*result
		for _, r := range t.rows {
			if r.work == work {
				rows = append(rows, r)
			}
		}
		slices.SortStableFunc(rows, func(a, b *result) int { return int(math.Copysign(1, a.nanoseconds-b.nanoseconds)) })
		if len(rows) == 0 {
			continue
		}
		fmt.Fprintf(w, "%s\tµs a fit\ttimes the first\tsame minimum\n", work)
		for _, r := range rows {
			agreed, failed := 0, 0
			for _, set := range slices.Sorted(maps.Keys(r.rss)) {
				rss := r.rss[set]
				least := rss
				for _, o := range rows {
					if v, ok := o.rss[set]; ok && v < least || math.IsNaN(least) {
						least = v
					}
				}
				switch {
				case math.IsNaN(rss):
					failed++
				case rss <= least*(1+same):
					agreed++
				default:
					errs = append(errs, fmt.Errorf("%s, %s, set %d: a sum of squares of %v, where another found %v", r.program, work, set, rss, least))
				}
			}
			note := ""
			if failed > 0 {
				note = fmt.Sprintf(", %d gave up", failed)
			}
			fmt.Fprintf(w, "  %s\t%.3g\t%.3g\t%d of %d%s\n", r.program, r.nanoseconds/1000, r.nanoseconds/rows[0].nanoseconds, agreed, len(r.rss), note)
		}
	}
	return errors.Join(w.Flush(), errors.Join(errs...))
}
