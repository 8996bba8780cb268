package notebook_test

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "store what the cells show")

const root = "../.."

func read(t *testing.T) *notebook {
	t.Helper()
	b, err := os.ReadFile("step-test.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	n, err := parse(b)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// The code cells are built and run, and show what is stored.
func TestNotebook(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	n := read(t)
	dir, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	s, err := n.execute(dir)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		n.store(s)
		b, err := n.bytes()
		if err == nil {
			err = os.WriteFile("step-test.ipynb", b, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := n.compare(s); err != nil {
		t.Error(err)
	}
	// It works through what it promises.
	kinds := map[string]int{}
	all := ""
	for _, data := range s {
		for media, text := range data {
			kinds[media]++
			all += text
		}
	}
	if kinds["image/svg+xml"] < 3 || kinds["text/html"] < 6 || kinds["text/markdown"] != kinds["text/html"] || kinds["text/plain"] != len(n.code()) {
		t.Errorf("the cells show %v", kinds)
	}
	for _, want := range []string{"1:19.3", "each threshold with one stage left out", "has the curve moved?", "definitions side by side"} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing shows %q", want)
		}
	}
	for _, c := range n.Cells {
		for _, path := range []string{dir, os.TempDir()} {
			if strings.Contains(string(c.Source), path) {
				t.Errorf("a cell names %s, a path of this machine", path)
			}
		}
	}
	// A check that can fail: one digit of one output.
	for i := range s {
		s[i]["text/plain"] = strings.Replace(s[i]["text/plain"], "1:19.3", "1:19.8", 1)
	}
	if err := n.compare(s); err == nil || !strings.Contains(err.Error(), "stored is 19.3") {
		t.Errorf("a changed output is not seen: %v", err)
	}
}

// What is read is written back as it was.
func TestRoundTrip(t *testing.T) {
	want, err := os.ReadFile("step-test.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	got, err := read(t).bytes()
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("the notebook changes when it is read and written")
	}
	var v map[string]any
	if err := json.Unmarshal(got, &v); err != nil || v["nbformat"] != 4.0 {
		t.Errorf("format %v, %v", v["nbformat"], err)
	}
}

// Faults are told with their cell.
func TestFaults(t *testing.T) {
	if _, err := parse([]byte(`{"nbformat": 3}`)); err == nil || !strings.Contains(err.Error(), "found format 3") {
		t.Errorf("error %v", err)
	}
	n := &notebook{Format: 4, Cells: []*cell{
		{Type: "markdown", Source: "# not code"},
		{Type: "code", Source: "x := 1"},
		{Type: "code", Source: "import \"strings\"\n\nif {"},
	}}
	if _, err := n.program(); err == nil || !strings.Contains(err.Error(), "code cell 2") {
		t.Errorf("error %v, want one of code cell 2", err)
	}
	n.Cells[2].Source = "import (\n\tstr \"strings\"\n)\nstr.Repeat(\"a\", x) // shown"
	src, err := n.program()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`str "strings"`, `show(2, str.Repeat("a", x)) // shown`} {
		if !strings.Contains(string(src), want) {
			t.Errorf("the program lacks %q:\n%s", want, src)
		}
	}
}
