package chart

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"strings"

	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// WriteSVG writes the picture as SVG, with a description for those who do not
// see it. It names fonts and holds none, so that it is small.
func (p *Picture) WriteSVG(w io.Writer) error {
	if err := p.check(); err != nil {
		return err
	}
	c := vgsvg.New(p.width, p.height)
	p.Draw(draw.New(c))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return fmt.Errorf("chart: svg: %w", err)
	}
	// The canvas names one font and knows no description. A quotation mark
	// stands in tags alone, since text is escaped, so that neither of these
	// can touch a label.
	s := strings.ReplaceAll(b.String(),
		`style="font-family:Liberation Sans;font-variant:normal;`,
		`style="font-family:'Liberation Sans',Arial,Helvetica,sans-serif;`)
	const root = `xmlns:xlink="http://www.w3.org/1999/xlink">`
	s = strings.Replace(s, root, fmt.Sprintf("%s role=\"img\" aria-label=\"%s\">\n<desc>%s</desc>",
		strings.TrimSuffix(root, ">"), html.EscapeString(p.title), html.EscapeString(p.describing)), 1)
	if _, err := io.WriteString(w, s); err != nil {
		return fmt.Errorf("chart: svg: %w", err)
	}
	return nil
}
