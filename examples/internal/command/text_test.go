package command_test

import (
	"math"
	"testing"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/pace"
)

// Evidence D: from 1.25 to 1.6 m/s, 100 m take 80 and 62.5 s.
func TestGain(t *testing.T) {
	if g := command.Gain(0.35, 1.25, 100*pace.Metre); !(math.Abs(g-17.5) < 1e-9) {
		t.Errorf("got %v", g)
	}
}

func TestSections(t *testing.T) {
	if got := command.Sections("a\n", "", command.List("b", nil), command.List("c", []string{"d"})); got != "a\n\nc\n  - d\n" {
		t.Errorf("got %q", got)
	}
}
