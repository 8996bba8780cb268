package lactate_test

import (
	"encoding/json"
	"testing"

	"example.com/steptest/lactate"
)

// Evidence D: the words of a warning are made where it is shown.
func TestWarningText(t *testing.T) {
	w := lactate.Warning{
		Kind: "falls", Stages: []int{2, 3}, Words: "between {stages} {1} and {2}, a {stage} of %.1f %%, %s", Values: []any{1.25, "{1}"}, Source: "invented",
	}
	for noun, want := range map[string]string{
		"":       "between stages 2 and 3, a stage of 1.2 %, {1} (invented)",
		"repeat": "between repeats 2 and 3, a repeat of 1.2 %, {1} (invented)",
		"50 %s":  "between 50 %ss 2 and 3, a 50 %s of 1.2 %, {1} (invented)",
	} {
		if got := w.Text(noun); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	// The second repeat was not swum: stages 2 and 3 are repeats 3 and 4.
	r := w.Renumbered([]int{1, 3})
	if got := r.Text("repeat"); got != "between repeats 3 and 3, a repeat of 1.2 %, {1} (invented)" || w.Stages[0] != 2 {
		t.Errorf("%q; the original %v", got, w.Stages)
	}
	b, err := json.Marshal(lactate.Warning{Kind: "odd", Stages: []int{4}, Words: "{stage} {1} is odd"})
	if want := `{"kind":"odd","stages":[4],"text":"stage 4 is odd"}`; err != nil || string(b) != want {
		t.Errorf("%s, %v", b, err)
	}
	if got := (lactate.Warning{}).String(); got != "" {
		t.Errorf("the zero warning says %q", got)
	}
}
