package lactate

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// WarningKind says what a [Warning] is about. Each package has constants of its own.
type WarningKind string

// Warning is something to know before believing a result, or before swimming a plan. It stops
// nothing in the package that raises it; package zones refuses a pair of thresholds by its
// [WarnOutOfOrder] or [WarnPairUnseen]. The zero value is none.
type Warning struct {
	Kind WarningKind
	// Stages are the numbers, from 1, of the stages that it is about, in the order of its
	// words: of the stages of the test as it was given, or, in what package protocol finds
	// in a record, those of the sheet. None means the whole.
	Stages []int
	// Test is the number, from 1, of the test of a comparison or a season that Stages are of.
	// Zero means the only one, or none.
	Test int
	// Words is one sentence, lower case, no full stop, with the verbs of package fmt for
	// Values; {stage} and {stages} for the caller's noun; {1} for the first of Stages, {2}
	// for the second. It names the units of Values.
	Words  string
	Values []any
	// Source: a publication, "common practice", or "from memory: …". Empty means us.
	Source string
}

// Text returns the warning in words, with the caller's noun for a stage, such as "repeat", and
// its source in brackets. Empty means "stage".
func (w Warning) Text(noun string) string {
	noun = strings.ReplaceAll(cmp.Or(noun, "stage"), "%", "%%")
	pairs := []string{"{stage}", noun, "{stages}", noun + "s"}
	for i, n := range w.Stages {
		pairs = append(pairs, "{"+strconv.Itoa(i+1)+"}", strconv.Itoa(n))
	}
	s := fmt.Sprintf(strings.NewReplacer(pairs...).Replace(w.Words), w.Values...)
	if w.Source != "" {
		s += " (" + w.Source + ")"
	}
	return s
}

func (w Warning) String() string { return w.Text("") }

// Renumbered returns the warning with other numbers for its stages: numbers[0] is that of stage
// 1. A stage without one keeps its own.
func (w Warning) Renumbered(numbers []int) Warning {
	stages := make([]int, len(w.Stages))
	for i, n := range w.Stages {
		stages[i] = n
		if n >= 1 && n <= len(numbers) {
			stages[i] = numbers[n-1]
		}
	}
	w.Stages = stages
	return w
}

// MarshalJSON writes kind, stages, test and text. It is not read back.
func (w Warning) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Kind   WarningKind `json:"kind"`
		Stages []int       `json:"stages,omitempty"`
		Test   int         `json:"test,omitzero"`
		Text   string      `json:"text"`
	}{w.Kind, w.Stages, w.Test, w.String()})
}
