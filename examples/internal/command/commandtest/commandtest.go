// Package commandtest is what the tests of the examples share.
package commandtest

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/steptest/examples/internal/command"
)

// Execute runs a program and returns what it printed and its exit status.
func Execute(t *testing.T, p command.Program, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = p.Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// Decoded runs a program with -json and decodes the report that it printed,
// strictly: no field is unknown, nothing follows, and only the bundled sheet,
// which is read without arguments, is said to be invented.
func Decoded[Report any](t *testing.T, p command.Program, stdin string, args ...string) Report {
	t.Helper()
	stdout, stderr, status := Execute(t, p, stdin, append([]string{"-json"}, args...)...)
	if status != 0 {
		t.Fatalf("exit status %d: %s", status, stderr)
	}
	var o struct {
		Invented bool   `json:"invented_data"`
		Report   Report `json:"report"`
	}
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	if err := d.Decode(&o); err != nil {
		t.Fatal(err)
	}
	if d.More() {
		t.Error("something follows the JSON")
	}
	if o.Invented != (len(args) == 0) {
		t.Errorf("invented_data is %v", o.Invented)
	}
	return o.Report
}

// Near checks a number against what it should be, give or take tol.
func Near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}
