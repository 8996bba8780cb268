// Command notebook works through the notebook of this folder without a kernel:
// it builds the code cells as one program, runs it, and stores what they show.
//
//	notebook [-check] [notebook.ipynb]
//
// It runs in this module, whose go command builds the cells; without an argument it takes
// examples/notebook/step-test.ipynb. With -check it writes nothing, and says
// which cells show something else than what is stored.
//
// A cell may import packages and declare variables for the cells below it. Where
// its last statement is an expression, its value is shown: by its methods HTML,
// SVG and Markdown, where it has them, as notebooks of many kinds do, and by
// its text.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("notebook", flag.ContinueOnError)
	flags.SetOutput(stderr)
	check := flags.Bool("check", false, "write nothing: compare with what is stored")
	if err := flags.Parse(args); err != nil {
		return 1
	}
	err := work(flags.Arg(0), *check, stdout)
	if err != nil {
		fmt.Fprintf(stderr, "notebook: %v\n", err)
		return 1
	}
	return 0
}

func work(file string, check bool, stdout io.Writer) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if file == "" {
		file = filepath.Join(root, "examples", "notebook", "step-test.ipynb")
	}
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	n, err := parse(b)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	shown, err := n.execute(root)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	if check {
		return n.compare(shown)
	}
	n.store(shown)
	if b, err = n.bytes(); err != nil {
		return err
	}
	if err := os.WriteFile(file, b, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "%s: %d cells shown\n", filepath.Base(file), len(shown))
	return nil
}

// moduleRoot returns the folder of the module that the go command works in.
func moduleRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	mod := strings.TrimSpace(string(out))
	if err != nil || mod == "" || mod == os.DevNull {
		return "", fmt.Errorf("go env GOMOD: found no module, expected to run inside this one: %w", err)
	}
	return filepath.Dir(mod), nil
}
