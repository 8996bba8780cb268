package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/testdata/sheets"
)

var update = flag.Bool("update", false, "write what the programs of the README print into it")

const root = "../.."

// readme holds the README, of which the tests read the blocks.
type readme struct {
	t    *testing.T
	text string
}

func readReadme(t *testing.T) *readme {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	return &readme{t, string(b)}
}

// block returns the code block, or the text up to "<!-- end -->", that follows
// the comment of that name, and where it lies.
func (r *readme) block(name string) (code string, from, to int) {
	r.t.Helper()
	at := regexp.MustCompile("(?s)<!-- " + regexp.QuoteMeta(name) + " -->\n(?:```[a-z]*\n)?(.*?)(?:```|<!-- end -->)\n").FindStringSubmatchIndex(r.text)
	if at == nil {
		r.t.Fatalf("README.md has no block %q", name)
	}
	return r.text[at[2]:at[3]], at[2], at[3]
}

// check compares a block with what it should say, or with -update makes it so.
func (r *readme) check(name, want string) {
	r.t.Helper()
	got, from, to := r.block(name)
	if got == want {
		return
	}
	if !*update {
		r.t.Errorf("README.md, %s: stale; go test ./examples/steptest -update writes what is printed now:\n%s", name, want)
		return
	}
	r.text = r.text[:from] + want + r.text[to:]
	if err := os.WriteFile(filepath.Join(root, "README.md"), []byte(r.text), 0o644); err != nil {
		r.t.Fatal(err)
	}
}

// Evidence E, of the layout: the README shows what the command prints. The
// numbers are checked in main_test.go.
func TestRegressReadmeOutput(t *testing.T) {
	stdout, _, _ := execute(t, "")
	readReadme(t).check("output", stdout)
}

// The README shows the first answer of the example that compares two tests. Its
// numbers are checked there.
func TestRegressReadmeRetest(t *testing.T) {
	if testing.Short() {
		t.Skip("builds another command")
	}
	cmd := exec.Command("go", "run", "./examples/retest")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(out), "\nWhat became")
	readReadme(t).check("retest", first)
}

// The README lists every method of the catalogue.
func TestReadmeMethods(t *testing.T) {
	var b strings.Builder
	b.WriteString("| definition | taken for | source | known here from |\n|---|---|---|---|\n")
	for _, e := range lactate.Catalogue("m/s") {
		for _, field := range []string{e.Method.String(), e.Source, string(e.Attested)} {
			if field == "" || strings.ContainsAny(field, "|\n") {
				t.Errorf("%v: %q does not fit a table", e.Method, field)
			}
		}
		fmt.Fprintf(&b, "| %s | %v | %s (%d) | %s |\n", table.Method(e.Method), e.Target, e.Source, e.Year, e.Attested)
	}
	readReadme(t).check("methods", b.String())
}

// The program of the README compiles and runs in a module of its own, which
// imports the library by the README's two lines.
func TestReadmeProgram(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a second module")
	}
	r := readReadme(t)
	program, _, _ := r.block("program")
	edit := regexp.MustCompile(`(?m)^go (mod edit .*)$`).FindStringSubmatch(r.text)
	if edit == nil {
		t.Fatal("README.md has no line with go mod edit")
	}
	library, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	write("go.sum", sum)
	write("main.go", []byte(program))
	gocmd := func(stdin []byte, args ...string) string {
		t.Helper()
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		// Whatever the library needs has been fetched to run this test.
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
		cmd.Stdin = bytes.NewReader(stdin)
		var stderr strings.Builder
		cmd.Stderr = &stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go %s: %v\n%s", strings.Join(args, " "), err, stderr.String())
		}
		return string(out)
	}
	gocmd(nil, "mod", "init", "example.com/another")
	gocmd(nil, strings.Fields(strings.Replace(edit[1], "../steptest", filepath.ToSlash(library), 1))...)
	r.check("program output", gocmd(sheets.Single(), "run", "."))

	// A sheet with a time that cannot be read and one swimmer without an LT2:
	// both are said, nobody else is lost, and no number is made up. Falling
	// lactates have no rise to read.
	gocmd(nil, "build", "-o", "program", ".")
	cmd := exec.Command(filepath.Join(dir, "program"))
	falling := strings.NewReplacer(",1.2,", ",9.8,", ",9.8,", ",1.2,", ",5.6,", ",1.4,", ",1.4,", ",5.6,").Replace(good)
	late := strings.NewReplacer("Ann", "Eve", ",1.2,", ",23,", ",1.4,", ",1.5,").Replace(good) // 23 for 2.3
	cmd.Stdin = strings.NewReader(head + "Bob,2025-01-18,50 m,400,1,4:75,1.2,\n" +
		strings.ReplaceAll(falling, "Ann", "Dee") + late + good)
	var out, errs strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err == nil {
		t.Error("the program takes a sheet with faults and says nothing by its exit status")
	}
	if lines := strings.Split(strings.TrimSpace(out.String()), "\n"); len(lines) != 1 || !strings.HasPrefix(lines[0], "Ann 1:") {
		t.Errorf("the program prints\n%swant Ann's LT2 alone", out.String())
	}
	for _, part := range []string{`"4:75"`, "Bob: no LT2", "Dee: no LT2", "Eve: no LT2"} {
		if !strings.Contains(errs.String(), part) {
			t.Errorf("standard error of the program lacks %q:\n%s", part, errs.String())
		}
	}

	lines := 0
	body := program[strings.Index(program, "func main() {\n")+len("func main() {\n"):]
	for _, l := range strings.Split(body[:strings.LastIndex(body, "}")], "\n") {
		if l = strings.TrimSpace(l); l != "" && l != "}" {
			lines++
		}
	}
	if lines > 15 {
		t.Errorf("the program has %d lines of use, want ten to fifteen", lines)
	}
}

// The links of the documents lead somewhere.
func TestLinks(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#\s]+)\)`)
	found := 0
	for _, doc := range []string{"README.md", "CHANGELOG.md", "DEVELOPERS.md", "testdata/README.md"} {
		b, err := os.ReadFile(filepath.Join(root, doc))
		if err != nil {
			t.Error(err)
			continue
		}
		for _, m := range link.FindAllStringSubmatch(string(b), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			found++
			if _, err := os.Stat(filepath.Join(root, filepath.Dir(doc), m[1])); err != nil {
				t.Errorf("%s: %v", doc, err)
			}
		}
	}
	if found == 0 {
		t.Error("no link found")
	}
}
