package notebook_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// notebook is a file of format 4. What this program does not look at is kept
// as it is.
type notebook struct {
	Cells       []*cell         `json:"cells"`
	Metadata    json.RawMessage `json:"metadata"`
	Format      int             `json:"nbformat"`
	FormatMinor int             `json:"nbformat_minor"`
}

type cell struct {
	Type     string          `json:"cell_type"`
	Count    *int            `json:"execution_count,omitempty"`
	ID       string          `json:"id,omitempty"`
	Metadata json.RawMessage `json:"metadata"`
	Outputs  *[]output       `json:"outputs,omitempty"` // of code cells, where it may be empty
	Source   lines           `json:"source"`
}

type output struct {
	Data     map[string]lines `json:"data"`
	Count    int              `json:"execution_count"`
	Metadata struct{}         `json:"metadata"`
	Type     string           `json:"output_type"`
}

// lines is a text: one string, or a list of lines that are joined.
type lines string

func (l *lines) UnmarshalJSON(b []byte) error {
	var list []string
	if err := json.Unmarshal(b, &list); err == nil {
		*l = lines(strings.Join(list, ""))
		return nil
	}
	return json.Unmarshal(b, (*string)(l))
}

func (l lines) MarshalJSON() ([]byte, error) {
	list := []string{}
	if l != "" {
		list = strings.SplitAfter(string(l), "\n")
	}
	if n := len(list); n > 0 && list[n-1] == "" {
		list = list[:n-1]
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(list)
	return b.Bytes(), err
}

func parse(b []byte) (*notebook, error) {
	n := new(notebook)
	if err := json.Unmarshal(b, n); err != nil {
		return nil, err
	}
	if n.Format != 4 {
		return nil, fmt.Errorf("found format %d, want 4", n.Format)
	}
	return n, nil
}

func (n *notebook) bytes() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	err := enc.Encode(n)
	return b.Bytes(), err
}

// code returns the indexes of the code cells.
func (n *notebook) code() []int {
	var is []int
	for i, c := range n.Cells {
		if c.Type == "code" {
			is = append(is, i)
		}
	}
	return is
}

// shown is what cells show, by media type: the keys are indexes of cells.
type shown map[int]map[string]string

// store puts what was shown into the cells.
func (n *notebook) store(s shown) {
	for k, i := range n.code() {
		count := k + 1
		c := n.Cells[i]
		c.Count = &count
		c.Outputs = &[]output{}
		if data, ok := s[i]; ok {
			o := output{Type: "execute_result", Count: count, Data: map[string]lines{}}
			for media, text := range data {
				o.Data[media] = lines(text)
			}
			*c.Outputs = append(*c.Outputs, o)
		}
	}
}

// compare says which cells show something else than what is stored.
func (n *notebook) compare(s shown) error {
	var errs []error
	for k, i := range n.code() {
		stored := map[string]string{}
		if c := n.Cells[i]; c.Outputs != nil {
			for _, o := range *c.Outputs {
				for media, text := range o.Data {
					stored[media] += string(text)
				}
			}
		}
		kinds := map[string]bool{}
		for media := range stored {
			kinds[media] = true
		}
		for media := range s[i] {
			kinds[media] = true
		}
		for _, media := range slices.Sorted(maps.Keys(kinds)) {
			if err := same(s[i][media], stored[media]); err != nil {
				errs = append(errs, fmt.Errorf("code cell %d, %s: %w", k+1, media, err))
			}
		}
	}
	if len(errs) > 0 {
		errs = append(errs, errors.New("go test ./examples/notebook -update stores what is shown now; look at it"))
	}
	return errors.Join(errs...)
}

var numeral = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?`)

// same compares two texts whose numbers may differ by a hundredth, since
// another processor may round the last digit another way.
func same(got, stored string) error {
	if numeral.ReplaceAllString(got, "0") != numeral.ReplaceAllString(stored, "0") {
		return errors.New("it shows something else than what is stored")
	}
	p, q := numeral.FindAllString(got, -1), numeral.FindAllString(stored, -1)
	for i := range p {
		x, errX := strconv.ParseFloat(p[i], 64)
		y, errY := strconv.ParseFloat(q[i], 64)
		if errX != nil || errY != nil || !(math.Abs(x-y) <= 0.0101) {
			return fmt.Errorf("it shows %s, stored is %s", p[i], q[i])
		}
	}
	return nil
}
