package forecast_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/steptest/lactate/forecast"
)

// A reason is written in words and read back; what is none is refused. D.
func TestReasonText(t *testing.T) {
	for reason, want := range map[forecast.Reason]string{forecast.AsPlanned: "as planned", forecast.SpreadAnew: "spread anew", forecast.Narrower: "narrower", forecast.NoRoom: "no room"} {
		text, err := json.Marshal(reason)
		var got forecast.Reason
		if err != nil || json.Unmarshal(text, &got) != nil || got != reason || string(text) != `"`+want+`"` {
			t.Errorf("%v from %s", got, text)
		}
	}
	if b, err := json.Marshal(forecast.Reason(7)); err == nil {
		t.Errorf("a reason of 7: %s", b)
	}
	var got forecast.Reason
	if err := json.Unmarshal([]byte(`"luck"`), &got); err == nil || !strings.Contains(err.Error(), `found the reason "luck"`) {
		t.Errorf("a reason of luck: %v", err)
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
