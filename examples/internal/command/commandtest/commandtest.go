// Package commandtest is what the tests of the examples share.
package commandtest

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate/table"
	"example.com/steptest/protocol/sheet"
)

// Execute runs a program and returns what it printed and its exit status.
func Execute(t *testing.T, p command.Program, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = p.Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// Reports reads a sheet and returns the reports of a program on it, and what was
// wrong with the tests.
func Reports[R command.Report](t *testing.T, p command.Program, text string) (out []R, err error) {
	t.Helper()
	records, _ := sheet.Read(strings.NewReader(text))
	all, err := p.WorkOutAll(records)
	for _, r := range all {
		out = append(out, r.(R))
	}
	return out, err
}

// JSON decodes what a program printed with -json: whether its data is invented, and
// the report.
func JSON(t *testing.T, printed string) (invented bool, report any) {
	t.Helper()
	var o struct {
		Invented bool   `json:"invented_data"`
		Unit     string `json:"intensity_unit"`
		Report   any    `json:"report"`
	}
	d := json.NewDecoder(strings.NewReader(printed))
	d.DisallowUnknownFields()
	if err := d.Decode(&o); err != nil || d.More() || o.Unit != "m/s" {
		t.Fatalf("%v in\n%s", err, printed)
	}
	return o.Invented, o.Report
}

// At returns the number at a path of keys and indices.
func At(t *testing.T, v any, path ...any) float64 {
	t.Helper()
	for _, p := range path {
		switch p := p.(type) {
		case string:
			m, _ := v.(map[string]any)
			v = m[p]
		case int:
			list, _ := v.([]any)
			if p >= len(list) {
				t.Fatalf("no %v", path)
			}
			v = list[p]
		}
	}
	x, ok := v.(float64)
	if !ok {
		t.Fatalf("found %v at %v, want a number", v, path)
	}
	return x
}

// Words is a text on one line.
func Words(text string) string { return strings.Join(strings.Fields(text), " ") }

// Screen checks that the parts stand in a text in this order, that it has at most
// so many lines, and that no line is wider than a table.
func Screen(t *testing.T, text string, most int, parts ...string) {
	t.Helper()
	at := 0
	for _, part := range parts {
		i := strings.Index(text[at:], part)
		if i < 0 {
			t.Fatalf("text lacks %q, or not in this order:\n%s", part, text)
		}
		at += i
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > most {
		t.Errorf("%d lines, want at most %d", len(lines), most)
	}
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); n > table.Width {
			t.Errorf("%d columns: %q", n, l)
		}
		if strings.Contains(l, "NaN") || strings.Contains(l, "%!") {
			t.Errorf("line %q", l)
		}
	}
}

// Near checks a number against what it should be, give or take tol.
func Near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}
