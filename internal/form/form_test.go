package form_test

import (
	"math"
	"testing"

	"example.com/steptest/internal/form"
	"example.com/steptest/pace"
)

// Evidence D: from 1.25 to 1.6 m/s, 100 m take 80 and 62.5 s.
func TestSaved(t *testing.T) {
	if got := form.Saved(100*pace.Metre, 1.25, 1.6); !(math.Abs(got-17.5) < 1e-9) {
		t.Errorf("got %v", got)
	}
}
