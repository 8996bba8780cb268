package protocol_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// The cautions name every danger that they must.
func TestCautions(t *testing.T) {
	all := strings.ToLower(strings.Join(protocol.Cautions(), "\n"))
	for _, word := range []string{"screened", "stop", "never alone", "single-use", "gloves", "sharps", "first drop", "dry the skin", "local rules", "licensed practice"} {
		if !strings.Contains(all, word) {
			t.Errorf("no word of %q", word)
		}
	}
	c := protocol.Cautions()
	c[0] = ""
	if protocol.Cautions()[0] == "" {
		t.Error("a caller can change them")
	}
}

func TestZeroPlan(t *testing.T) {
	var zero protocol.Plan
	if zero.Duration() != 0 || zero.Samples() != 0 || zero.Distance() != 0 || zero.Rest() != nil || (protocol.Target{}).Split(100) != 0 {
		t.Error("the zero plan is not nothing")
	}
	if v, err := (protocol.Target{}).Speed(); v != 0 || !errors.Is(err, pace.ErrValue) {
		t.Errorf("speed of no repeat %v, error %v", v, err)
	}
}
