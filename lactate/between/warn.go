package between

import (
	"fmt"
	"math"
	"slices"

	"example.com/steptest/lactate"
)

// The doubts that [Model.Follow] raises. Stages are the numbers of the readings, by date.
const (
	WarnFlatThere     lactate.WarningKind = "flat there"     // readings at which the curve is too flat to tell its place, which are not used
	WarnOutsideRange  lactate.WarningKind = "outside range"  // readings outside the tested range, which are not used
	WarnOtherAnalyser lactate.WarningKind = "other analyser" // readings by another analyser than the tests
	WarnNoKind        lactate.WarningKind = "no kind"        // readings that do not say what repeat they came from
	WarnOneOfKind     lactate.WarningKind = "one of kind"    // kinds with one reading
	WarnBeforeTests   lactate.WarningKind = "before tests"   // readings before the first test
	WarnMuchNews      lactate.WarningKind = "much news"      // more readings are news than chance makes
	WarnOneShift      lactate.WarningKind = "one test"       // one test only
)

// listed is how many readings a warning names.
const listed = 6

func (c *Course) warn() {
	add := func(k lactate.WarningKind, stages []int, words string, values ...any) {
		if len(stages) > listed {
			stages = nil // too many to name
		}
		c.Warnings = append(c.Warnings, lactate.Warning{Kind: k, Stages: stages, Words: words, Values: values})
	}
	// which warns of readings; the words start with how many they are, and the verb.
	which := func(k lactate.WarningKind, f func(t Told) bool, one, many, words string, values ...any) {
		var stages []int
		for i, t := range c.Readings {
			if f(t) {
				stages = append(stages, i+1)
			}
		}
		if n := len(stages); n > 0 {
			add(k, stages, "%s "+words, append([]any{some(n, one, many)}, values...)...)
		}
	}
	if len(c.model.tests) == 1 {
		add(WarnOneShift, nil, "one test only: it gives the shape of the curve, and no second one has checked it")
	}
	which(WarnOutsideRange, func(t Told) bool { return t.Unused == Above }, "lies", "lie", "above the tested range, where nothing is known of the curve: not used")
	which(WarnOutsideRange, func(t Told) bool { return t.Unused == Below }, "lies", "lie", "below the tested range, where nothing is known of the curve: not used")
	which(WarnFlatThere, func(t Told) bool { return t.Unused == Flat }, "lies", "lie", "where the curve is flat: not used, since a sample's noise hides a move of %.3g %%, and the lactate tells little of the curve's place", 100*c.model.opts.Matters)
	which(WarnNoKind, func(t Told) bool { return t.Unused == "" && t.Kind == "" }, "does", "do", "not say what kind of repeat it came from: each may be off by %.2g mmol/L of its own, and tells little", c.model.opts.Offset)
	switch single := c.single(); len(single) {
	case 0:
	case 1:
		add(WarnOneOfKind, nil, "one kind of repeat has one reading, which tells little: its offset is not known: %s", quoted(single))
	default:
		add(WarnOneOfKind, nil, "kinds of repeats with one reading each tell little, since their offsets are not known: %s", quoted(single))
	}
	if others := c.analysers(); len(others) > 0 {
		add(WarnOtherAnalyser, nil, "readings by another analyser than the tests (%s): each kind has an offset of its own there, and analysers differ by more at high lactates", quoted(others))
	}
	first := dayOf(c.model.tests[0].Date)
	which(WarnBeforeTests, func(t Told) bool { return t.Unused == "" && dayOf(t.Date) < first }, "stands", "stand", "before the first test: nothing could be expected of it then")
	news, judged := 0, 0
	for _, t := range c.Readings {
		if !math.IsNaN(t.Percentile) {
			judged++
		}
		if t.News {
			news++
		}
	}
	if limit := 2 * newsTail * float64(judged); float64(news) > limit+2.33*math.Sqrt(limit)+1 {
		add(WarnMuchNews, nil, "%d of %d readings are news, where chance makes %.2g: the noise, the days or the drift are larger than stated, or the curve has changed its shape", news, judged, limit)
	}
}

// single names the kinds with one reading.
func (c *Course) single() (names []string) {
	for _, k := range c.Kinds {
		if k.Readings == 1 {
			names = append(names, k.Kind)
		}
	}
	return names
}

// analysers names those of readings, other than the one of the tests.
func (c *Course) analysers() (names []string) {
	for _, t := range c.Readings {
		if t.Analyser != "" && t.Unused == "" && !slices.Contains(names, t.Analyser) {
			names = append(names, t.Analyser)
		}
	}
	return names
}

func some(n int, one, many string) string {
	if n == 1 {
		return "one reading " + one
	}
	return fmt.Sprintf("%d readings %s", n, many)
}

// quoted names a few.
func quoted(names []string) string {
	out := ""
	for i, n := range names {
		if i == listed {
			return out + fmt.Sprintf(" and %d more", len(names)-listed)
		}
		if i > 0 {
			out += ", "
		}
		out += fmt.Sprintf("“%s”", n)
	}
	return out
}
