package command_test

import (
	"testing"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
)

// Where heart rate flattens the line is drawn without the last stage.
func TestFlattening(t *testing.T) {
	var test lactate.Test
	for i, h := range []float64{112, 123, 133, 145, 155, 166, 168} {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: 1.03 + 0.05*float64(i), HeartRate: h})
	}
	line, err := command.HeartRateLine(test)
	if err != nil || line.Stages != 6 {
		t.Errorf("%v, %v, want six stages", line, err)
	}
}
