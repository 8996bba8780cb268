// Command mutate asks whether the tests of a package would notice a mistake. It
// changes each numeric constant and each comparison of numbers in turn, runs the
// package's tests on it, and lists the changes that no test noticed.
//
//	go run ./testdata/mutate ./lactate/curve
//	go run ./testdata/mutate -only 120,121 -v ./lactate
//	go run ./testdata/mutate -tests ./lactate/chart ./lactate/chart/internal/draw
//
// It takes any package of the module. One that others test, and not its own
// tests, names the package of those tests.
//
// The changes: a whole constant n becomes n+1; a tolerance, below 1e-4, becomes
// 0.01, and a limit, above 1e5, becomes 1; any other, and a time, is multiplied by
// 1.5, and no time, or a nanosecond, becomes a minute;
// a < b becomes a <= b (the edge) and a >= b (the reverse), likewise for >, <=
// and >=; == becomes != and the other way round. A test that fails, panics or
// takes ten times as long as it should has noticed. Not changed are numbers
// returned beside an error, which mean nothing there, the sign of math.Inf,
// the sizes of make, and the bits of strconv.ParseFloat. Changes that go unnoticed
// though the tests are sound are counted apart: testdata/mutate/explained says in
// which functions, and why.
//
// All changes but those of const declarations are compiled at once and chosen
// by an environment variable, so that a change costs one run of the tests. The
// tree is not touched: the changed files are handed to the go command as an
// overlay.
package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// options are the flags.
type options struct {
	only    string
	every   int
	least   float64
	edges   bool
	verbose bool
	skip    string
	tests   string
}

func main() {
	var o options
	flag.StringVar(&o.only, "only", "", "numbers of the changes to try, with commas; all if empty")
	flag.IntVar(&o.every, "every", 1, "try every `n`-th change")
	flag.Float64Var(&o.least, "least", 0, "fail where less than this `per cent` of the changes are noticed")
	flag.BoolVar(&o.edges, "edges", true, "try the edges of comparisons")
	flag.BoolVar(&o.verbose, "v", false, "show what the tests print")
	flag.StringVar(&o.skip, "skip", "", "tests to leave out, as go test -skip")
	flag.StringVar(&o.tests, "tests", "", "run the tests of this `package`; those of the changed one if empty")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "usage: mutate [flags] package")
		os.Exit(2)
	}
	if err := mutate(flag.Arg(0), o); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// A pkg is what go list says of a package.
type pkg struct {
	Dir, ImportPath, Name, Export string
	GoFiles                       []string
	TestGoFiles, XTestGoFiles     []string
	TestImports, XTestImports     []string
	Module                        struct{ Dir string }
}

// list asks go list for a package.
func list(path string) (*pkg, error) {
	out, err := exec.Command("go", "list", "-json", path).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", path, err)
	}
	var p pkg
	return &p, json.Unmarshal(out, &p)
}

func mutate(path string, o options) error {
	p, names, muts, err := load(path)
	if err != nil {
		return err
	}
	chosen := strings.Split(o.only, ",")
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	tests := p
	if o.tests != "" {
		if tests, err = list(o.tests); err != nil {
			return err
		}
	}
	if len(tests.TestGoFiles)+len(tests.XTestGoFiles) == 0 {
		return fmt.Errorf("found no tests in %s, want -tests with the package that tests it", tests.ImportPath)
	}
	r := &runner{pkg: tests, work: work, skip: o.skip, verbose: o.verbose}
	all, err := r.build(together(p, names, muts))
	if err != nil {
		return fmt.Errorf("all changes at once: %w", err)
	}
	r.limit = 10 * time.Minute
	start := time.Now()
	if noticed, out := r.test(all, 0); noticed {
		return fmt.Errorf("the tests fail without a change:\n%s", out)
	}
	r.limit = 10*time.Since(start) + 10*time.Second
	fmt.Printf("%s: %d changes, the tests take %.1f s\n", p.ImportPath, len(muts), time.Since(start).Seconds())
	reasons, err := explained(p)
	if err != nil {
		return err
	}
	tried, noticed, why := map[string]int{}, map[string]int{}, map[string]int{}
	for _, m := range muts {
		if o.only != "" && !slices.Contains(chosen, strconv.Itoa(m.id)) || m.kind == kindEdge && !o.edges || m.id%o.every != 0 {
			continue
		}
		bin := all
		if m.alone {
			if bin, err = r.build(alone(m)); err != nil {
				continue // a constant that must be what it is for the rest to compile
			}
		}
		tried[m.kind]++
		seen, _ := r.test(bin, m.id)
		if seen {
			noticed[m.kind]++
			continue
		}
		place := filepath.Base(m.file.name) + " " + m.within
		if reason := cmp.Or(reasons[place+" "+m.what], reasons[place]); reason != "" && (m.kind == kindEdge || !strings.HasPrefix(reason, "ties: ")) {
			why[m.kind]++
			if o.verbose {
				fmt.Printf("not noticed: %v: %s\n", m, reason)
			}
			continue
		}
		fmt.Println("not noticed:", m)
	}
	sum, of := 0, 0
	for _, kind := range kinds {
		fmt.Printf("%s: %d of %d noticed, %d explained\n", kind, noticed[kind], tried[kind], why[kind])
		sum, of = sum+noticed[kind], of+tried[kind]-why[kind]
	}
	share := 100 * float64(sum) / float64(max(of, 1))
	fmt.Printf("all: %d of %d that are not explained noticed, %.1f %%\n", sum, of, share)
	if !(share >= o.least) {
		return fmt.Errorf("want at least %v %%", o.least)
	}
	return nil
}

// explained reads the functions, or constants outside them, in which a change can
// go unnoticed though the tests are sound, and why: lines of file, name and reason. A reason
// that begins with "ties: " is one for the edges of comparisons alone, one that begins
// with `x > 0`: for the changes of that expression alone.
func explained(p *pkg) (map[string]string, error) {
	rel, err := filepath.Rel(p.Module.Dir, p.Dir)
	if err != nil {
		return nil, err
	}
	name := strings.ReplaceAll(filepath.ToSlash(rel), "/", "-") + ".txt"
	text, err := os.ReadFile(filepath.Join(p.Module.Dir, "testdata", "mutate", "explained", name))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	out := map[string]string{}
	for _, line := range strings.Split(string(text), "\n") {
		if f := strings.SplitN(line, " ", 3); len(f) == 3 && !strings.HasPrefix(line, "#") {
			place := f[0] + " " + f[1]
			if what, why, ok := strings.Cut(f[2], "`: "); ok && what[0] == '`' {
				out[place+" "+what[1:]] = why
				continue
			}
			out[place] = f[2]
		}
	}
	return out, err
}

// A runner compiles and runs the tests of one package.
type runner struct {
	pkg     *pkg
	work    string
	skip    string
	verbose bool
	limit   time.Duration
}

// build compiles the tests with some files replaced and returns the program.
func (r *runner) build(files map[string][]byte) (string, error) {
	overlay := struct{ Replace map[string]string }{map[string]string{}}
	dir, err := os.MkdirTemp(r.work, "")
	if err != nil {
		return "", err
	}
	for name, text := range files {
		to := filepath.Join(dir, filepath.Base(name))
		if err := os.WriteFile(to, text, 0o644); err != nil {
			return "", err
		}
		overlay.Replace[name] = to
	}
	text, err := json.Marshal(overlay)
	if err != nil {
		return "", err
	}
	over := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(over, text, 0o644); err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "tests")
	cmd := exec.Command("go", "test", "-c", "-overlay", over, "-o", bin, r.pkg.ImportPath)
	cmd.Dir = r.pkg.Dir
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return bin, nil
}

// test runs the program with a change, and reports whether a test noticed.
func (r *runner) test(bin string, id int) (noticed bool, out string) {
	ctx, cancel := context.WithTimeout(context.Background(), r.limit)
	defer cancel()
	args := []string{"-test.short", "-test.failfast", "-test.timeout", r.limit.String()}
	if r.skip != "" {
		args = append(args, "-test.skip", r.skip)
	}
	if slices.Contains(slices.Concat(r.pkg.TestImports, r.pkg.XTestImports), "pgregory.net/rapid") {
		// The same draws for every change, and no failures kept for the next.
		args = append(args, "-rapid.seed", "1", "-rapid.nofailfile", "-rapid.shrinktime", "0s")
	}
	cmd := exec.CommandContext(ctx, bin, args...)
	cmd.Dir = r.pkg.Dir
	cmd.Env = append(slices.Clone(os.Environ()), "MUTANT="+strconv.Itoa(id))
	var b bytes.Buffer
	cmd.Stdout, cmd.Stderr = &b, &b
	err := cmd.Run()
	if r.verbose {
		fmt.Printf("%d: %v\n%s", id, err, b.String())
	}
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		return false, err.Error()
	}
	return err != nil, b.String()
}
