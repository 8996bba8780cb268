package lactate

import (
	"fmt"
	"slices"
	"strings"

	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/words"
)

// ParseMethod returns the definition of a name, as [Method.String] prints it: each of
// [Catalogue] and its relatives with other numbers ("2.2 mmol/L", "rest + 1 mmol/L",
// "slope of 1.5 mmol/L per km/h", "modified Dmax, rise > 0.6 mmol/L"). Case, blanks, a
// hyphen for a dash, a decimal comma and a left-out "mmol/L" make no difference; "repeat"
// is a stage. OBLA is 4 mmol/L. Methods that need more than their name, such as
// [TwoSpeed], are not among them.
func ParseMethod(name string) (Method, error) {
	for _, unit := range []string{"m/s", "km/h"} {
		for _, e := range Catalogue(unit) {
			if words.Fold(e.Method.String()) == words.Fold(name) {
				return e.Method, nil
			}
		}
	}
	if m := parseMethod(words.Fold(name)); m != nil {
		return m, nil
	}
	var names []string
	for _, e := range Catalogue("m/s") {
		names = append(names, e.Method.String())
	}
	return nil, fmt.Errorf("lactate: method: found %q, want the name of a definition: %s", clean.Short(name, 60), strings.Join(names, "; "))
}

// parseMethod reads a folded name whose numbers are not those of the catalogue; nil if
// it cannot.
func parseMethod(name string) Method {
	name = strings.TrimSuffix(name, " mmol/l")
	ends := FittedEnds
	if rest, ok := strings.CutSuffix(name, ", "+MeasuredEnds.String()); ok {
		name, ends = rest, MeasuredEnds
	}
	if v, ok := words.Number(name); ok {
		return Fixed{Lactate: v}
	}
	if rest, ok := strings.CutPrefix(name, "slope of "); ok {
		number, unit, _ := strings.Cut(rest, " mmol/l per ")
		if v, ok := words.Number(number); ok && unit != "" {
			return FixedSlope{Slope: v, Per: strings.TrimPrefix(unit, "unit of intensity")}
		}
		return nil
	}
	if rest, ok := strings.CutPrefix(name, "modified dmax"); ok {
		return parseModified(rest, ends)
	}
	switch name {
	case "obla":
		return Fixed{Lactate: OBLA}
	case "dmax":
		return MaxDistance{Ends: ends}
	case words.Fold(LogLogMaxDistance{}.String()):
		return LogLogMaxDistance{Ends: ends}
	case words.Fold(RecoveryTangent{}.String()):
		return RecoveryTangent{Ends: ends}
	}
	from, number, _ := strings.Cut(name, " + ")
	rise, ok := words.Number(number)
	if !ok {
		return nil
	}
	if from == words.Fold(LowestLactateEquivalent{}.String()) {
		return AboveLowestEquivalent{Rise: rise}
	}
	base, observed := strings.CutPrefix(from, "first stage of ")
	i := slices.Index(baselineNames[:], base)
	switch {
	case i < 0:
		return nil
	case observed:
		return ObservedRise{Rise: rise, From: Baseline(i)}
	}
	return AboveBaseline{Rise: rise, From: Baseline(i)}
}

// parseModified reads what follows "modified dmax".
func parseModified(rest string, ends Ends) Method {
	m := ModifiedMaxDistance{Ends: ends}
	for _, part := range strings.Split(rest, ", ")[1:] {
		number, isRise := strings.CutPrefix(strings.TrimSuffix(part, " mmol/l"), "rise > ")
		start := slices.IndexFunc([]ChordStart{ChordBeforeFirstRise, ChordBeforeRiseAboveLowest, ChordAtFirstRise}, func(s ChordStart) bool { return part == "chord from "+s.String() })
		v, ok := words.Number(number)
		switch {
		case isRise && ok:
			m.Rise = v
		case start >= 0:
			m.Start = ChordStart(start)
		default:
			return nil
		}
	}
	return m
}
