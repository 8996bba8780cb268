package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol"
)

// printer prints reports, and draws them, one after the other: it holds none but for JSON.
type printer struct {
	name    string
	to      io.Writer
	request request

	hint           string // for the number of reports, below them; empty: none
	proposed       bool
	printed, drawn int
	held           []Report // for JSON
}

// begin says whose data it is.
func (w *printer) begin() error {
	if w.request.asJSON || !w.request.invented() {
		return nil
	}
	return Print(w.to, fmt.Sprintf("Invented data. A sheet of your own: go run ./examples/%s your-sheet.csv\n\n", w.name))
}

// print prints a report behind a rule, and draws it.
func (w *printer) print(r Report) error {
	var err error
	if w.request.asJSON {
		w.held = append(w.held, r)
	} else {
		text := r.Text(w.request.detail)
		if w.printed > 0 {
			text = "\n" + strings.Repeat("-", table.Width) + "\n\n" + text
		}
		err = Print(w.to, text)
	}
	w.printed++
	w.proposed = w.proposed || r.Proposes()
	if w.request.picture != "" {
		for _, draw := range r.Pictures(w.request.invented()) {
			p, drawErr := draw()
			if drawErr == nil {
				w.drawn++
				drawErr = writePicture(w.request.picture, w.drawn, p)
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
	case w.request.detail == Full:
		below = "\n" + List("Before swimming it", protocol.Cautions())
	default:
		below = "\n" + Line("%s", caution)
	}
	if w.hint != "" {
		below += "\n" + Line(w.hint, w.printed)
	}
	var err error
	if w.request.asJSON {
		err = WriteJSON(w.to, w.request.invented(), append([]Report{}, w.held...))
	} else {
		err = Print(w.to, below)
	}
	if w.request.picture != "" && w.drawn == 0 {
		err = errors.Join(err, fmt.Errorf("%s: -chart: there is nothing to draw", w.name))
	}
	return err
}

// WriteJSON writes a report, and whether its data is invented.
func WriteJSON(w io.Writer, invented bool, report any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return Unheard(enc.Encode(struct {
		Invented bool   `json:"invented_data"`
		Unit     string `json:"intensity_unit"`
		Report   any    `json:"report"`
	}{invented, "m/s", report}))
}
