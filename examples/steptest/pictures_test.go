package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The README's pictures are what the examples draw: the command that makes each
// stands in the README. Files are compared number by number, since another
// processor may round the last digit another way. Evidence E.
func TestRegressPictures(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the other commands")
	}
	for _, p := range []struct {
		command string
		files   []string
	}{
		{"go run ./examples/steptest", []string{"steptest.svg"}},
		{"go run ./examples/retest", []string{"retest.svg"}},
		{"go run ./examples/season -readings testdata/sheets/readings.csv", []string{"between.svg", "between-2.svg"}},
		{"go run ./examples/plan", []string{"plan.svg"}},
	} {
		dir := t.TempDir()
		words := strings.Fields(p.command)
		cmd := exec.Command(words[0], append(words[1:], "-chart", filepath.Join(dir, p.files[0]))...)
		cmd.Dir = root
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", cmd, err, out)
		}
		shown, _, _ := readReadme(t).block("pictures")
		command := p.command + " -chart testdata/pictures/" + p.files[0]
		if !strings.Contains(shown, command) {
			t.Errorf("README.md lacks %q", command)
		}
		for _, name := range p.files {
			got, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(root, "testdata", "pictures", name)
			want, err := os.ReadFile(file)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				t.Fatal(err)
			}
			if err := sameDrawing(string(got), string(want)); err != nil {
				if *update {
					if err := os.WriteFile(file, got, 0o644); err != nil {
						t.Fatal(err)
					}
					continue
				}
				t.Errorf("testdata/pictures/%s is stale (%v): %s, and look at it", name, err, command)
			}
			if !strings.Contains(shown, "](testdata/pictures/"+name+")") {
				t.Errorf("README.md: the picture %s is missing", name)
			}
		}
	}
}

var numeral = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?`)

// sameDrawing compares two files whose numbers may differ by a hundredth of a
// point.
func sameDrawing(a, b string) error {
	if p, q := numeral.ReplaceAllString(a, "0"), numeral.ReplaceAllString(b, "0"); p != q {
		return errors.New("another drawing")
	}
	p, q := numeral.FindAllString(a, -1), numeral.FindAllString(b, -1)
	for i := range p {
		x, errX := strconv.ParseFloat(p[i], 64)
		y, errY := strconv.ParseFloat(q[i], 64)
		if errX != nil || errY != nil || !(math.Abs(x-y) <= 0.01) {
			return fmt.Errorf("%s instead of %s", q[i], p[i])
		}
	}
	return nil
}

// With -chart a test is drawn in each format, further tests get a number, and a
// name with another ending is refused before anything is written.
func TestChart(t *testing.T) {
	dir := t.TempDir()
	for _, ext := range []string{".svg", ".png"} {
		file := filepath.Join(dir, "one"+ext)
		if _, stderr, status := execute(t, "", "-chart", file); status != 0 {
			t.Fatalf("exit status %d: %s", status, stderr)
		}
		b, err := os.ReadFile(file)
		if err != nil || len(b) < 1000 {
			t.Errorf("%s: %d bytes, %v", ext, len(b), err)
		}
		if lt2 := clock(91.44 / bundled(t).Analysis.LT2.Intensity.Value); ext == ".svg" && !bytes.Contains(b, []byte(lt2)) {
			t.Errorf("the picture does not show LT2 at %s", lt2)
		}
		if b, err := os.ReadFile(filepath.Join(dir, "one-2"+ext)); err != nil || ext == ".svg" && !bytes.Contains(b, []byte("stroke rate")) {
			t.Errorf("the stroke is not drawn: %v", err)
		}
	}
	// 8.5 cm are 240.94 points; a height is taken too, and what is no size is refused.
	for arg, want := range map[string]string{"8.5": `width="240.94`, "8,5x15": `height="425.2`} {
		file := filepath.Join(dir, "phone.svg")
		if _, stderr, status := execute(t, "", "-chart", file, "-size", arg); status != 0 {
			t.Errorf("-size %s: %s", arg, stderr)
		}
		if b, _ := os.ReadFile(file); !bytes.Contains(b, []byte(want)) {
			t.Errorf("-size %s: no %s in %.200s", arg, want, b)
		}
	}
	for _, arg := range []string{"", "x", "8..5", "8.5x", "-8", "3"} {
		if _, stderr, status := execute(t, "", "-chart", filepath.Join(dir, "phone.svg"), "-size", arg); status != 1 || !strings.Contains(stderr, "want") {
			t.Errorf("-size %q: exit status %d: %s", arg, status, stderr)
		}
	}
	squad := filepath.Join(root, "testdata", "sheets", "squad.csv")
	file := filepath.Join(dir, "squad.svg")
	execute(t, "", "-chart", file, squad)
	found, err := filepath.Glob(filepath.Join(dir, "squad*.svg"))
	if err != nil || len(found) < 2 {
		t.Errorf("%d pictures of a squad, %v", len(found), err)
	}
	wrong := filepath.Join(dir, "one.bmp")
	_, stderr, status := execute(t, "", "-chart", wrong)
	if status == 0 || !strings.Contains(stderr, ".svg or .png") {
		t.Errorf("exit status %d: %s", status, stderr)
	}
	if _, err := os.Stat(wrong); err == nil {
		t.Error("a file was written")
	}
}
