package draw

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"strings"

	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// WriteSVG writes the drawing with its title and description. It names fonts
// and holds none, which keeps it small.
func (d Drawing) WriteSVG(w io.Writer) error {
	c := vgsvg.New(d.Width, d.Height)
	d.Onto(draw.New(c))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	// The canvas names one font and knows no description. Text is escaped, so a
	// quotation mark stands in tags alone and neither change can touch a label.
	s := strings.ReplaceAll(b.String(),
		`style="font-family:Liberation Sans;font-variant:normal;`,
		`style="font-family:'Liberation Sans',Arial,Helvetica,sans-serif;`)
	const root = `xmlns:xlink="http://www.w3.org/1999/xlink">`
	s = strings.Replace(s, root, fmt.Sprintf("%s role=\"img\" aria-label=\"%s\">\n<desc>%s</desc>",
		strings.TrimSuffix(root, ">"), html.EscapeString(d.Title), html.EscapeString(d.Description)), 1)
	_, err := io.WriteString(w, s)
	return err
}
