package command_test

import (
	"testing"

	"example.com/steptest/examples/internal/command"
)

func TestSections(t *testing.T) {
	if got := command.Sections("a\n", "", command.List("b", nil), command.List("c", []string{"d"})); got != "a\n\nc\n  - d\n" {
		t.Errorf("got %q", got)
	}
}
