package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// printer prints reports, and draws them, one after the other: it holds none.
type printer struct {
	name     string
	to       io.Writer
	invented bool
	asJSON   bool
	detail   Detail
	picture  string // its file; empty means none

	shortened, proposed bool
	printed, drawn      int
}

// shorten asks for the answers alone if there are more than two reports.
func (w *printer) shorten(reports iter.Seq2[Report, error]) iter.Seq2[Report, error] {
	type result struct {
		Report
		error
	}
	var all []result
	n := 0
	for r, err := range reports {
		all = append(all, result{r, err})
		if r != nil {
			n++
		}
	}
	if n > 2 {
		w.detail, w.shortened = Brief, true
	}
	return func(yield func(Report, error) bool) {
		for _, r := range all {
			if !yield(r.Report, r.error) {
				return
			}
		}
	}
}

func (w *printer) begin() error {
	if w.asJSON {
		_, err := fmt.Fprintf(w.to, "{\n  \"invented_data\": %t,\n  \"intensity_unit\": \"m/s\",\n  \"report\": [", w.invented)
		return Unheard(err)
	}
	if !w.invented {
		return nil
	}
	return Print(w.to, fmt.Sprintf("Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", w.name))
}

// report prints a report behind a rule, and draws it.
func (w *printer) report(r Report) error {
	var err error
	if w.asJSON {
		err = w.json(r)
	} else {
		text := r.Text(w.detail)
		if w.printed > 0 {
			text = "\n" + strings.Repeat("-", table.Width) + "\n\n" + text
		}
		err = Print(w.to, text)
	}
	w.printed++
	w.proposed = w.proposed || r.Proposes()
	if w.picture == "" {
		return err
	}
	return errors.Join(err, w.draw(r.Picture), w.second(r))
}

func (w *printer) json(r Report) error {
	text, err := json.MarshalIndent(r, "    ", "  ")
	if err != nil {
		return err
	}
	comma := ","
	if w.printed == 0 {
		comma = ""
	}
	_, err = fmt.Fprintf(w.to, "%s\n    %s", comma, text)
	return Unheard(err)
}

func (w *printer) second(r Report) error {
	if r, ok := r.(Second); ok {
		return w.draw(r.SecondPicture)
	}
	return nil
}

// draw writes a picture, if there is one.
func (w *printer) draw(draw func(bool) (Picture, error)) error {
	p, err := draw(w.invented)
	if err == nil && p != nil {
		w.drawn++
		err = writePicture(w.picture, w.drawn, p)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	return nil
}

// end prints what stands below the reports: the cautions, if a test is proposed.
func (w *printer) end() error {
	var below []string
	switch {
	case w.asJSON && w.printed == 0:
		below = []string{"]\n}\n"}
	case w.asJSON:
		below = []string{"\n  ]\n}\n"}
	case w.proposed && w.detail == Full:
		below = append(below, "\n", List("Before swimming it", protocol.Cautions()))
	case w.proposed:
		below = append(below, "\n", Line("%s", caution))
	}
	if w.shortened && !w.asJSON {
		below = append(below, "\n", Line("The answers alone, since there are %d tests: -swimmer prints all of one, -full of each, -squad makes one table.", w.printed))
	}
	err := Print(w.to, strings.Join(below, ""))
	if w.picture != "" && w.drawn == 0 {
		err = errors.Join(err, fmt.Errorf("%s: -chart: there is nothing to draw", w.name))
	}
	return err
}
