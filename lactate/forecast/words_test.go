package forecast_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/steptest/lactate/forecast"
)

// An aim is written in words and read back; what is none is refused. D.
func TestAimText(t *testing.T) {
	type asked struct {
		Aim forecast.Aim `json:"aim"`
	}
	for aim, want := range map[forecast.Aim]string{forecast.NarrowLT2: "LT2", forecast.NarrowLT1: "LT1", forecast.NarrowShift: "shift of the curve"} {
		text, err := json.Marshal(asked{aim})
		var got asked
		if err != nil || json.Unmarshal(text, &got) != nil || got.Aim != aim || string(text) != `{"aim":"`+want+`"}` {
			t.Errorf("%v from %s", got, text)
		}
	}
	if b, err := json.Marshal(asked{7}); err == nil {
		t.Errorf("an aim of 7: %s", b)
	}
	var got asked
	if err := json.Unmarshal([]byte(`{"aim":"LT3"}`), &got); err == nil || !strings.Contains(err.Error(), `found "LT3", want "LT2"`) {
		t.Errorf("an aim of LT3: %v", err)
	}
}

// An error says itself in a caller's words.
func TestStageErrorSays(t *testing.T) {
	for _, c := range []struct {
		e    forecast.StageError
		want string
	}{
		{forecast.StageError{Index: 0, Problem: "has no target"}, "swim 12 has no target"},
		{forecast.StageError{Index: -1, Found: 1, Problem: "4 or more"}, "found 1 swim, want 4 or more"},
		{forecast.StageError{Index: -1, Found: 3, Problem: "4 or more"}, "found 3 swims, want 4 or more"},
	} {
		if got := c.e.Say("swim", 12); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
		if !errors.Is(&c.e, forecast.ErrNoAnswer) {
			t.Errorf("%v is not ErrNoAnswer", &c.e)
		}
	}
	if got, want := (&forecast.StageError{Index: 2, Problem: "has no duration"}).Error(), "forecast: stage 3 has no duration"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
