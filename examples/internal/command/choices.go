package command

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// Choices are what a reader of a test may choose: the definitions of LT1 and LT2, the
// noise of a sample, the zones. The zero value is what the library does by itself.
type Choices struct {
	lt1, lt2 lactate.Method
	noise    lactate.Noise
	scheme   zones.Scheme
}

// Define puts the choices among the flags of a program.
func (c *Choices) Define(flags *flag.FlagSet) {
	method := func(name, usual string, m *lactate.Method) {
		flags.Func(name, "definition of "+strings.ToUpper(name)+", such as \""+usual+"\"; a wrong `name` lists them all", func(s string) (err error) {
			if *m, err = lactate.ParseMethod(s); err != nil {
				return unknownMethod(s)
			}
			return nil
		})
	}
	method("lt1", "baseline + 0.5 mmol/L", &c.lt1)
	method("lt2", "baseline + 1.5 mmol/L\" or \"Dmax", &c.lt2)
	flags.Func("noise", "`error` of a lactate sample, one standard deviation, in mmol/L, % or both (default \"0.2 mmol/L, 3 %\")", func(s string) (err error) {
		if _, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64); err == nil {
			s += " mmol/L"
		}
		c.noise, err = lactate.ParseNoise(s)
		return protocol.InWords(err)
	})
	flags.Func("zones", "three (default), domains, lactate, heart-rate, or a `file` of your own, see below", func(s string) (err error) {
		c.scheme, err = scheme(s)
		return err
	})
}

// unknownMethod lists the names of the definitions, one a line.
func unknownMethod(found string) error {
	text := fmt.Sprintf("found %q, want the name of a definition, such as", found)
	for _, e := range lactate.Catalogue("m/s") {
		text += "\n  " + e.Method.String()
	}
	return errors.New(text + "\n  or another number in one of them, such as 2.5 mmol/L")
}

// ZonesHelp shows what a file of zones looks like.
const ZonesHelp = `a file of zones is JSON, slowest zone first, each from where the one before ends:
  {"name": "our club", "zones": [
    {"name": "easy", "from": "open", "to": "0.95 LT1"},
    {"name": "steady", "from": "0.95 LT1", "to": "LT2"},
    {"name": "hard", "from": "LT2", "to": "open"}]}
an end is one of
  open                 no end
  LT1, LT2, top        that speed; top is that of the fastest repeat
  0.95 LT2, 1.02 top   so many times that speed
  0.5 LT1-LT2          so much of the way from LT1 to LT2
  3 mmol/L             the speed at that lactate
  85 %HRmax            the speed at that part of the highest heart rate
`

// Options are those of every analysis: their brackets rest on 2000 simulated tests,
// and the rest is what was chosen or the library's default.
func (c Choices) Options() lactate.Options {
	o := Options()
	o.LT1, o.LT2, o.Noise = c.lt1, c.lt2, c.noise
	return o
}

// Zoned reports whether zones were chosen.
func (c Choices) Zoned() bool { return len(c.scheme.Zones) > 0 }

// Scheme is that of the zones.
func (c Choices) Scheme() zones.Scheme {
	if len(c.scheme.Zones) == 0 {
		return zones.ThreeZone()
	}
	return c.scheme
}

// scheme returns a published scheme by name, or one from a file.
func scheme(name string) (zones.Scheme, error) {
	if s, err := zones.Named(name); err == nil {
		return s, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return zones.Scheme{}, fmt.Errorf("found %q, want three, domains, lactate, heart-rate or a file that can be read", name)
	}
	defer f.Close()
	s, err := zones.ReadScheme(f)
	if err != nil {
		return s, fmt.Errorf("%s: %w", name, protocol.InWords(err))
	}
	return s, nil
}
