package command

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// printer prints reports, and draws them, one after the other: it holds none but for JSON.
type printer struct {
	name     string
	to       io.Writer
	invented bool
	asJSON   bool
	detail   Detail
	picture  string // its file; empty means none

	shortened, proposed bool
	printed, drawn      int
	held                []Report // for JSON
}

// report prints a report behind a rule, and draws it.
func (w *printer) report(r Report) error {
	var err error
	if w.asJSON {
		w.held = append(w.held, r)
	} else {
		text := r.Text(w.detail)
		if w.printed > 0 {
			text = "\n" + strings.Repeat("-", table.Width) + "\n\n" + text
		}
		err = Print(w.to, text)
	}
	w.printed++
	w.proposed = w.proposed || r.Proposes()
	if w.picture != "" {
		for _, draw := range r.Pictures(w.invented) {
			p, drawErr := draw()
			if drawErr == nil {
				w.drawn++
				drawErr = writePicture(w.picture, w.drawn, p)
			}
			if drawErr != nil {
				err = errors.Join(err, fmt.Errorf("%s: %w", w.name, drawErr))
			}
		}
	}
	return err
}

// end prints what stands below the reports: the cautions, if a test is proposed.
func (w *printer) end() error {
	var below string
	switch {
	case !w.proposed:
	case w.detail == Full:
		below = "\n" + List("Before swimming it", protocol.Cautions())
	default:
		below = "\n" + Line("%s", caution)
	}
	if w.shortened {
		below += "\n" + Line("The answers alone, since there are %d tests: -swimmer prints all of one, -full of each, -squad makes one table.", w.printed)
	}
	var err error
	if w.asJSON {
		err = WriteJSON(w.to, w.invented, append([]Report{}, w.held...))
	} else {
		err = Print(w.to, below)
	}
	if w.picture != "" && w.drawn == 0 {
		err = errors.Join(err, fmt.Errorf("%s: -chart: there is nothing to draw", w.name))
	}
	return err
}
