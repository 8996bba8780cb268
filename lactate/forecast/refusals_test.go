package forecast_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// No answer says why.
func TestForecastRefuses(t *testing.T) {
	six := sixOf400()
	level := sixOf400()
	level[3] = level[2]
	blank := sixOf400()
	blank[5] = lactate.Stage{}
	mixed := sixOf400()
	mixed[5] = lactate.Stage{Intensity: 200. / 140, Duration: 140 * time.Second}
	untimed := sixOf400()
	untimed[2].Duration = 0
	watts := sixOf400()
	for i := range watts {
		watts[i].Intensity *= 200
	}
	tests := []struct {
		name string
		plan []lactate.Stage
		e    forecast.Expected
		o    lactate.Options
		r    forecast.Rules
		says string
		tell bool // Outlook refuses too
	}{
		{"three stages", even(3, 350e9, 300e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "found 3 stages", true},
		{"watts", watts, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "stage 1 has a speed of", true},
		{"no duration", untimed, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "stage 3 has no duration", false},
		{"nothing", nil, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "found 0 stages", true},
		{"no target", blank, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "stage 6 has no target", true},
		{"not faster", level, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "stage 4 is not faster", true},
		{"confidence of 2", six, forecast.Expected{}, lactate.Options{Confidence: 2}, forecast.Rules{}, "onfidence", true},
		{"noise NaN", six, forecast.Expected{}, lactate.Options{Noise: lactate.Noise{Absolute: math.NaN()}}, forecast.Rules{}, "NaN", true},
		{"level never reached", six, forecast.Expected{}, lactate.Options{LT2: lactate.Fixed{Lactate: 90}}, forecast.Rules{}, "90", true},
		{"earlier test of nonsense", six, forecast.Expected{Tests: []lactate.Test{{Stages: []lactate.Stage{{Intensity: math.NaN(), Lactate: 2}}}}}, lactate.Options{}, forecast.Rules{}, "earlier test", true},
		{"thirteen stages", even(13, 350e9, 300e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "found 13 stages", false},
		{"two distances", mixed, forecast.Expected{}, lactate.Options{}, forecast.Rules{}, "another distance", false},
		{"no room", six, forecast.Expected{}, lactate.Options{}, forecast.Rules{Least: 20 * time.Second}, "do not fit between 5m50s and 5m0s", false},
		{"rules", six, forecast.Expected{}, lactate.Options{}, forecast.Rules{Least: -1}, "least step", false},
		{"enough", six, forecast.Expected{}, lactate.Options{}, forecast.Rules{Enough: math.NaN()}, "enough", false},
	}
	for _, tt := range tests {
		_, err := forecast.Of(tt.plan, tt.e, tt.o)
		if (err != nil) != tt.tell || tt.tell && (!errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), tt.says)) {
			t.Errorf("%s: forecast with error %v", tt.name, err)
		}
		if _, err := forecast.Space(tt.plan, tt.e, tt.o, tt.r); !errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: spacing with error %v, want %q", tt.name, err, tt.says)
		}
		if _, err := forecast.Next(tt.plan, tt.plan[:min(1, len(tt.plan))], tt.e, tt.o, tt.r); err == nil && tt.name != "no room" {
			t.Errorf("%s: a next repeat", tt.name)
		}
	}
	if _, err := forecast.Sample(six, nil, 250, forecast.Expected{}, lactate.Options{}); !errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), "250") {
		t.Errorf("a sample at 250: %v", err)
	}
}
