package command

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"example.com/steptest/protocol/sheet"
)

// Dates adds the flag that says what a date such as 3/4/2025 means.
func Dates(set *flag.FlagSet, o *sheet.Options) {
	set.TextVar(&o.Dates, "dates", sheet.OrderUnknown, "`order` of 3/4/2025 in the sheet: day-first or month-first; left out: as its other dates show")
}

// DatesHint adds the flag that would help to an error about dates.
func DatesHint(err error) error {
	if errors.Is(err, sheet.ErrDates) {
		err = errors.Join(err, errors.New("-dates day-first, or -dates month-first, says which of the two is meant"))
	}
	return err
}

// Parse reads the arguments of a program. The usage is printed for -h alone,
// which returns flag.ErrHelp; any other error is one line. A flag that stands
// behind the other arguments is an error, since package flag takes it for one of
// them; what names those arguments.
func Parse(set *flag.FlagSet, args []string, stderr io.Writer, what string) error {
	usage := set.Usage
	set.Usage = func() {}
	set.SetOutput(io.Discard)
	err := set.Parse(args)
	set.Usage = usage
	set.SetOutput(stderr)
	switch {
	case errors.Is(err, flag.ErrHelp):
		if usage == nil {
			fmt.Fprintf(stderr, "usage: %s [flags]\n", set.Name())
			usage = set.PrintDefaults
		}
		usage()
		return err
	case err != nil:
		return fmt.Errorf("%s: %s; -h lists the flags", set.Name(), plainFlag(err.Error()))
	case slices.Contains(args, "--"):
		return nil
	}
	for i, a := range set.Args() {
		if i > 0 && len(a) > 1 && a[0] == '-' {
			return fmt.Errorf("%s: found %s after %q: flags come before %s", set.Name(), a, set.Arg(0), what)
		}
	}
	return nil
}

var badValue = regexp.MustCompile(`(?s)^invalid (?:boolean )?value ("(?:[^"\\]|\\.)*") for (?:flag )?-([^:]+): (.*)$`)

// plainFlag says an error of package flag in plain words.
func plainFlag(text string) string {
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: "); ok {
		return "found " + name + ", which is no flag"
	}
	if name, ok := strings.CutPrefix(text, "flag needs an argument: "); ok {
		return name + ": found nothing behind it, want a value"
	}
	m := badValue.FindStringSubmatch(text)
	if m == nil {
		return text
	}
	switch found, name, why := m[1], m[2], m[3]; {
	case strings.Contains(why, "found "):
		return "-" + name + ": " + why
	case why == "parse error" || why == "value out of range" || strings.HasPrefix(why, "strconv."):
		return fmt.Sprintf("-%s: found %s, want a number", name, found)
	case strings.HasPrefix(why, "want "):
		return fmt.Sprintf("-%s: found %s, %s", name, found, why)
	default:
		return fmt.Sprintf("-%s: found %s: %s", name, found, why)
	}
}
