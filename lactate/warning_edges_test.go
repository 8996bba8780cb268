package lactate_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
)

// Stages are called by the numbers that they were given, not by their place in
// order of intensity.
func TestWarningsNumberAsGiven(t *testing.T) {
	xs := []float64{1.1, 1.15, 1.2, 1.25, 1.36, 1.34} // the last, all out, was slower than the one before
	test := stages(xs, []float64{1.2, 1.3, 1.7, 2.5, 7.6, 10.4})
	test.Stages = append(test.Stages[:2:2], append([]lactate.Stage{{Intensity: 1.18}}, test.Stages[2:]...)...) // a lost sample counts
	a := analysed(t, test, lactate.Options{})
	var said []string
	for _, w := range a.Warnings {
		said = append(said, w.String())
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"lactate falls from 10.4 to 7.6 mmol/L between stages 7 and 6",
		"stage 6, the hardest, has less lactate (7.6 mmol/L) than stage 7 (10.4)",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in\n%s", want, all)
		}
	}
}
