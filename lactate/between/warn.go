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
	which := func(f func(t *Told) bool) (out []int) {
		for i := range c.Readings {
			if f(&c.Readings[i]) {
				out = append(out, i+1)
			}
		}
		return out
	}
	first := dayOf(c.model.tests[0].Date)
	if len(c.model.tests) == 1 {
		add(WarnOneShift, nil, "one test only: it gives the shape of the curve, and no second one has checked it")
	}
	if w := which(func(t *Told) bool { return t.Unused == Above }); len(w) > 0 {
		add(WarnOutsideRange, w, "%s above the tested range, where nothing is known of the curve: not used", some(len(w), "lies", "lie"))
	}
	if w := which(func(t *Told) bool { return t.Unused == Below }); len(w) > 0 {
		add(WarnOutsideRange, w, "%s below the tested range, where nothing is known of the curve: not used", some(len(w), "lies", "lie"))
	}
	if w := which(func(t *Told) bool { return t.Unused == Flat }); len(w) > 0 {
		add(WarnFlatThere, w, "%s where the curve is flat: not used, since a sample's noise hides a move of %.3g %%, and the lactate tells little of the curve's place", some(len(w), "lies", "lie"), 100*c.model.opts.Matters)
	}
	if w := which(func(t *Told) bool { return t.Unused == "" && t.Kind == "" }); len(w) > 0 {
		add(WarnNoKind, w, "%s not say what kind of repeat it came from: each may be off by %.2g mmol/L of its own, and tells little", some(len(w), "does", "do"), c.model.opts.Offset)
	}
	var single []string
	for _, k := range c.Kinds {
		if k.Readings == 1 {
			single = append(single, k.Kind)
		}
	}
	if n := len(single); n > 0 {
		words := "one kind of repeat has one reading, which tells little: its offset is not known: %s"
		if n > 1 {
			words = "kinds of repeats with one reading each tell little, since their offsets are not known: %s"
		}
		add(WarnOneOfKind, nil, words, quoted(single))
	}
	var analysers []string
	for _, t := range c.Readings {
		if t.Analyser != "" && t.Unused == "" && !slices.Contains(analysers, t.Analyser) {
			analysers = append(analysers, t.Analyser)
		}
	}
	if len(analysers) > 0 {
		add(WarnOtherAnalyser, nil, "readings by another analyser than the tests (%s): each kind has an offset of its own there, and analysers differ by more at high lactates", quoted(analysers))
	}
	if w := which(func(t *Told) bool { return t.Unused == "" && dayOf(t.Date) < first }); len(w) > 0 {
		add(WarnBeforeTests, w, "%s before the first test: nothing could be expected of it then", some(len(w), "stands", "stand"))
	}
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
