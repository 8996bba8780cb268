package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// planned writes the sheet of a plan and returns its name.
func planned(t *testing.T) string {
	t.Helper()
	p, err := protocol.NewPlan(protocol.Request{
		Swimmer: "Kim Wade", Date: time.Date(2025, 5, 3, 0, 0, 0, 0, time.UTC),
		Pool: pace.SCM(), Repeats: 6, Start: pace.Pace{Time: 90 * time.Second, Per: 100}, Best: 300 * time.Second,
	})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.WritePlan(&b, p); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(name, b.Bytes(), 0o640); err != nil {
		t.Fatal(err)
	}
	return name
}

// typed runs the program with lines at its prompt.
func typed(t *testing.T, name string, lines ...string) (out, errs string, status int) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	in := strings.NewReader(strings.Join(lines, "\n"))
	status = run([]string{name}, in, &stdout, &stderr)
	return strings.Join(strings.Fields(stdout.String()), " "), stderr.String(), status
}

// wants fails for every text that is not there.
func wants(t *testing.T, text string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(text, w) {
			t.Errorf("found\n%s\nwant %q in it", text, w)
		}
	}
}

// read returns the test that stands in a sheet.
func read(t *testing.T, name string) protocol.Record {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := sheet.Read(f)
	if err != nil || len(all) != 1 {
		t.Fatalf("found %d tests, %v; want one", len(all), err)
	}
	return all[0]
}

// Six repeats with one sample lost end with the report, and the sheet holds each answer.
func TestWholeTest(t *testing.T) {
	name := planned(t)
	out, errs, status := typed(t, name, "1.2",
		"5:59.5", "1.2 118", "5:48.6 1.4 128", "5:36.2", "lost", "5:24.0", "2,4 151", "5:12.5 4.3 168", "5:01.2", "8.0", "9.2", "8.9")
	if errs != "" || status != 0 {
		t.Fatalf("found status %d, %s", status, errs)
	}
	wants(t, out, "Before anyone swims", "local rules", "So far 1.2 mmol/L: a curve takes three samples.", "Next: repeat 1 in 6:00",
		"LT2 is not reached yet", "all out, as fast as can be", "The test is done: stop here", "LT1 1:", "baseline + 1.5 mmol/L",
		"Target and swum", "LT2 lies between repeats 4 and 5", "go run ./examples/steptest -full")
	r := read(t, name)
	if r.Rest != 1.2 || r.Repeats[3].Lactate != 2.4 || r.Repeats[3].HeartRate != 151 || r.Repeats[2].Remark != lost || r.Recovery[1].Lactate != 9.2 || r.Recovery[3].Lactate != 0 {
		t.Errorf("found %+v in the sheet", r)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("found %v, %v; want the mode as it was", info.Mode(), err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(name), ".poolside-*")); left != nil {
		t.Errorf("found %v left behind", left)
	}
	out, _, _ = typed(t, name)
	wants(t, out, "The test is done: stop here")
}

// What is odd about the sample just entered.
func TestOddSample(t *testing.T) {
	name := planned(t)
	out, _, _ := typed(t, name, "", "6:00 1.1", "5:48 1.6", "5:36 0.2", "fix 3 1.8", "5:30 9.9", "fix 4 2.2")
	wants(t, out, "Odd: 0.2 after 1.6, where", "take it again", "as planned, while the sample of repeat 3 is odd", "Odd: 9.9 after 1.8, where")
	if r := read(t, name); r.Repeats[2].Lactate != 1.8 || r.Repeats[3].Lactate != 2.2 {
		t.Errorf("found %+v", r.Repeats)
	}
	if n := strings.Count(out, "Odd:"); n != 2 {
		t.Errorf("found %d odd samples in\n%s\nwant two", n, out)
	}
}

// A lost sample leaves the heart rate; an odd one stops advice until it is mended; a time
// without its colon is refused.
func TestLostAndMended(t *testing.T) {
	name := planned(t)
	out, _, _ := typed(t, name, "", "6:02.1 1.2 121", "5:48.3 14 131", "5:36", "lost 143", "512.4", "5:24 lost 150", "fix 2 1.4")
	wants(t, out, "as planned, while the sample of repeat 2 is odd", `found "512.4", want a time such as 5:24, near the target`, "Repeat 2 is mended.", "Expect about 4")
	for i, rate := range []float64{2: 143, 3: 150} {
		if r := read(t, name).Repeats[i]; rate > 0 && (r.HeartRate != rate || r.Remark != lost || r.Lactate != 0) {
			t.Errorf("found %+v, want lost and %v", r, rate)
		}
	}
}

// A repeat far too fast leaves room for fewer; the last may be swum at once.
func TestAllOut(t *testing.T) {
	name := planned(t)
	out, _, _ := typed(t, name, "", "6:00 1.1", "5:48 1.3", "5:08 3.9", "all out", "5:00.5 8.8")
	wants(t, out, "28.0 s faster than the target of 5:36", "leaves no room", "Type: all out", "Next: repeat 4, all out")
	r := read(t, name)
	if len(r.Repeats) != 4 || !r.Repeats[3].AllOut || r.Repeats[3].Number != 4 || r.Repeats[3].Lactate != 8.8 {
		t.Errorf("found %+v", r.Repeats)
	}
	if _, err := r.Test(); err != nil {
		t.Error(err)
	}
}

// What cannot be is refused, and nothing is written.
func TestRefusals(t *testing.T) {
	name := planned(t)
	before, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	out, _, _ := typed(t, name, "", "5", "1:2:3:4", "12:50", "5:40 1.4 900", "5:40 77", "fix 9 5:00", "fix 3 5:00", "swim", "?")
	wants(t, out, "want a time such as 6:00, near the target", "900", "77", `found no repeat "9"`, `found no repeat "3"`, "Nothing was written", "(or: lost)")
	if after, _ := os.ReadFile(name); !bytes.Equal(before, after) {
		t.Errorf("found another sheet:\n%s", after)
	}
	for _, args := range [][]string{{}, {"a", "b"}, {"-nothing", name}, {filepath.Join(t.TempDir(), "none.csv")}, {"-swimmer", "Nobody", name}} {
		var stdout, stderr bytes.Buffer
		if status := run(args, strings.NewReader(""), &stdout, &stderr); status != 1 || stderr.Len() == 0 {
			t.Errorf("%q: found status %d, %q; want 1 and why", args, status, stderr.String())
		}
	}
}

// Nothing is written into a sheet with faults, and nothing of it is lost.
func TestFaultySheet(t *testing.T) {
	name := planned(t)
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	faulty := bytes.Replace(b, []byte("5:48"), []byte("5:x8"), 1)
	if err := os.WriteFile(name, faulty, 0o600); err != nil {
		t.Fatal(err)
	}
	out, errs, status := typed(t, name, "6:00 1.1")
	wants(t, out, "nothing is written into it until they are mended")
	if status != 1 || !strings.Contains(errs, "5:x8") {
		t.Errorf("found status %d, %q; want 1 and the fault", status, errs)
	}
	if after, _ := os.ReadFile(name); !bytes.Equal(faulty, after) {
		t.Errorf("found another sheet:\n%s", after)
	}
}

// Earlier tests of the swimmer, in a sheet of their own, say what to expect.
func TestLast(t *testing.T) {
	old := planned(t)
	typed(t, old, "", "6:00 2.4", "5:48 2.6", "5:36 2.9", "5:24 3.7", "5:12 5.6", "5:00", "9.8", "9.1")
	name := planned(t)
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, bytes.ReplaceAll(b, []byte("2025-05-03"), []byte("2025-06-14")), 0o600); err != nil {
		t.Fatal(err)
	}
	var first, later bytes.Buffer
	run([]string{name}, strings.NewReader(""), &first, os.Stderr)
	run([]string{"-last", old, name}, strings.NewReader(""), &later, os.Stderr)
	wants(t, first.String(), "Expect")
	wants(t, later.String(), "2.")
	if first.String() == later.String() {
		t.Errorf("found the same with and without an earlier test:\n%s", later.String())
	}
}
