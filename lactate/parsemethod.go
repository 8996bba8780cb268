package lactate

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/steptest/lactate/internal/clean"
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
			if foldMethod(e.Method.String()) == foldMethod(name) {
				return e.Method, nil
			}
		}
	}
	if m := parseMethod(foldMethod(name)); m != nil {
		return m, nil
	}
	var names []string
	for _, e := range Catalogue("m/s") {
		names = append(names, e.Method.String())
	}
	return nil, fmt.Errorf("lactate: method: found %q, want the name of a definition: %s", clean.Short(name, 60), strings.Join(names, "; "))
}

// foldMethod returns a name without what makes no difference.
func foldMethod(name string) string {
	name = strings.NewReplacer("–", "-", "−", "-", "\u00a0", " ", "+", " + ", "repeat", "stage").Replace(strings.ToLower(name))
	words := strings.Fields(name)
	for i, w := range words {
		if _, ok := numberOf(w); ok {
			words[i] = strings.Replace(w, ",", ".", 1)
		}
	}
	return strings.Join(words, " ")
}

// numberOf reads a number from 0.001 to 1000 with a decimal point or comma; a comma at
// its end is one of the sentence.
func numberOf(word string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	return v, err == nil && v >= 0.001 && v <= 1000 && !strings.HasSuffix(word, ",")
}

// parseMethod reads a folded name whose numbers are not those of the catalogue; nil if
// it cannot.
func parseMethod(name string) Method {
	name = strings.TrimSuffix(name, " mmol/l")
	ends := FittedEnds
	if rest, ok := strings.CutSuffix(name, ", "+MeasuredEnds.String()); ok {
		name, ends = rest, MeasuredEnds
	}
	if v, ok := numberOf(name); ok {
		return Fixed{Lactate: v}
	}
	if rest, ok := strings.CutPrefix(name, "slope of "); ok {
		number, unit, _ := strings.Cut(rest, " mmol/l per ")
		if v, ok := numberOf(number); ok && unit != "" {
			return FixedSlope{Slope: v, Per: strings.TrimPrefix(unit, "unit of intensity")}
		}
		return nil
	}
	if rest, ok := strings.CutPrefix(name, "modified dmax"); ok {
		return parseModified(rest, ends)
	}
	switch name {
	case "obla": // Sjödin & Jacobs, Int J Sports Med 2:23–26 (1981), from memory
		return Fixed{Lactate: 4}
	case "dmax":
		return MaxDistance{Ends: ends}
	case foldMethod(LogLogMaxDistance{}.String()):
		return LogLogMaxDistance{Ends: ends}
	case foldMethod(RecoveryTangent{}.String()):
		return RecoveryTangent{Ends: ends}
	}
	from, number, _ := strings.Cut(name, " + ")
	rise, ok := numberOf(number)
	if !ok {
		return nil
	}
	if from == foldMethod(LowestLactateEquivalent{}.String()) {
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
		v, ok := numberOf(number)
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
