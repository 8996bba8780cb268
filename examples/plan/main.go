// Command plan makes the plan of a step test from what a swimmer knows, and
// says before anyone is wet what the test will be able to tell, and whether
// another spacing of the repeats would tell more.
//
//	plan [flags]
//
// Without flags it plans the next test after the bundled one, which is invented. What
// the swimmer knows is a sheet with earlier tests (-last), or one or two of -best, -start
// and -threshold. Faults of another swimmer's tests are none of this plan's; those of an
// earlier test, or of single cells, are told beside the plan.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/steptest/examples/internal/command"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	c, err := parse(args, stderr)
	if err == nil {
		err = c.print(stdout)
	}
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		err = fmt.Errorf("plan: %s", strings.TrimPrefix(err.Error(), "plan: "))
	} else if err == nil && c.aside != nil {
		err = fmt.Errorf("plan: not used, or only in part:\n%w", c.aside)
	}
	return command.Status(stderr, err)
}
