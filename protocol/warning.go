package protocol

import (
	"slices"

	"example.com/steptest/lactate"
)

// What the reviews of a record find; heart rates and samples that look like a slip of the
// pen are [lactate.WarnOddHeartRate] and [lactate.WarnOddSample].
const (
	WarnRowMissing     lactate.WarningKind = "row missing"      // a number between two others has no row
	WarnNotSwum        lactate.WarningKind = "not swum"         // a repeat without a time
	WarnNoSample       lactate.WarningKind = "no sample"        // a repeat without lactate
	WarnSampleStandsIn lactate.WarningKind = "sample stands in" // the highest sample after the last repeat is taken for its own
	WarnLaterIsHigher  lactate.WarningKind = "later is higher"  // a sample after the last repeat exceeds its own
	WarnSameSpeed      lactate.WarningKind = "same speed"       // as the repeat before
	WarnSlower         lactate.WarningKind = "slower"           // than the repeat before
	WarnUnknownColumns lactate.WarningKind = "unknown columns"  // of the sheet, kept and not used
	WarnOddTime        lactate.WarningKind = "odd time"         // a time that looks like a slip of the pen
	WarnBeyondRange    lactate.WarningKind = "beyond range"     // a sample above or below what the analyser prints
	WarnReadingNote    lactate.WarningKind = "reading note"     // how a sheet was read
)

// What the reviews of a plan find; some are of records too.
const (
	WarnNoRepeats         lactate.WarningKind = "no repeats"
	WarnFewRepeats        lactate.WarningKind = "few repeats"
	WarnDistanceDiffers   lactate.WarningKind = "distance differs"    // from that of another repeat
	WarnShortRepeat       lactate.WarningKind = "short repeat"        // too short for lactate to follow the speed
	WarnNotFaster         lactate.WarningKind = "not faster"          // than the repeat before
	WarnFineStep          lactate.WarningKind = "fine step"           // the watch blurs two repeats
	WarnCoarseStep        lactate.WarningKind = "coarse step"         // a threshold between two repeats is bracketed coarsely
	WarnThresholdOffRange lactate.WarningKind = "threshold off range" // outside the tested range, or near its ends
	WarnLittleBelow       lactate.WarningKind = "little below"        // LT1: too few repeats
	WarnNotAllOut         lactate.WarningKind = "not all out"         // the last repeat
	WarnSlowerThanBest    lactate.WarningKind = "slower than best"    // the last repeat
	WarnSlowerThanSwum    lactate.WarningKind = "slower than swum"    // in the last test: the last repeat
	WarnShortRest         lactate.WarningKind = "short rest"          // hardly time to sample
	WarnLongRest          lactate.WarningKind = "long rest"           // lactate goes before the next repeat
	WarnTooLong           lactate.WarningKind = "too long"            // the whole test
	WarnInTotal           lactate.WarningKind = "in total"            // what the test takes
)

// What [Differences] finds between two tests.
const (
	WarnOtherPool     lactate.WarningKind = "other pool"
	WarnOtherDistance lactate.WarningKind = "other distance" // of the longest repeat
	WarnOtherRest     lactate.WarningKind = "other rest"     // by 20 s or more between repeats
)

// review gathers warnings.
type review []lactate.Warning

// add adds one about repeats, by their numbers: the first heads the words, {2} is
// the second. None means the whole test.
func (r *review) add(kind lactate.WarningKind, repeats []int, source, words string, values ...any) {
	if len(repeats) > 0 {
		words = "repeat {1}: " + words
	}
	*r = append(*r, lactate.Warning{Kind: kind, Stages: repeats, Words: words, Values: values, Source: source})
}

// Numbers returns the numbers that the stages of r.Test have as repeats: one
// without a time is no stage.
func (r Record) Numbers() (numbers []int) {
	for _, rep := range r.Repeats {
		if _, err := rep.Speed(); err == nil {
			numbers = append(numbers, rep.Number)
		}
	}
	return numbers
}

// Numbered returns warnings of a comparison or a season of the tests of some records, in their
// order, with the numbers that the repeats have in the sheet, see [lactate.Warning].Test.
func Numbered(records []Record, ws []lactate.Warning) []lactate.Warning {
	out := slices.Clone(ws)
	for i, w := range ws {
		if w.Test >= 1 && w.Test <= len(records) {
			out[i] = w.Renumbered(records[w.Test-1].Numbers())
		}
	}
	return out
}

// Numbered returns warnings about the stages of r.Test with the numbers of
// [Record.Numbers].
func (r Record) Numbered(ws []lactate.Warning) []lactate.Warning {
	numbers := r.Numbers()
	out := make([]lactate.Warning, len(ws))
	for i, w := range ws {
		out[i] = w.Renumbered(numbers)
	}
	return out
}
