package main

import (
	"strings"
	"testing"
)

const falling = `swimmer,date,pool,distance,repeat,time,lactate,heart rate
Jo,3/4/2025,scm,400,1,5:51,1.5,178
Jo,3/4/2025,scm,400,2,5:42,1.7,164
Jo,3/4/2025,scm,400,3,5:32,2.0,151
Jo,3/4/2025,scm,400,4,5:22,2.9,141
Jo,3/4/2025,scm,400,5,5:12,4.7,130
Jo,3/4/2025,scm,400,6,4:58,9.1,118
`

// Zones never have heart rates that run backwards, and -dates settles a date with
// two readings. Evidence: D.
func TestFallingHeartRates(t *testing.T) {
	out, errs, status := execute(t, falling, "-dates", "month-first", "-")
	if status != 0 || errs != "" || !strings.Contains(out, "Step test of Jo, 4 March 2025") {
		t.Fatalf("status %d, %s\n%s", status, errs, out)
	}
	_, zones, _ := strings.Cut(out, "  zone  where")
	zones, _, _ = strings.Cut(zones, "\n\n")
	if zones == "" || strings.Contains(zones, "/min") || strings.Contains(zones, "heart rate") || !strings.Contains(out, "the zones have no heart rates: that at LT1") {
		t.Errorf("zones%s", zones)
	}
	if _, errs, status := execute(t, falling, "-"); status != 1 || !strings.Contains(errs, "-dates month-first") {
		t.Errorf("without -dates: status %d, %s", status, errs)
	}
	if _, errs, status := execute(t, falling, "-dates", "mixed", "-"); status != 1 || !strings.Contains(errs, "want day-first or month-first") {
		t.Errorf("-dates mixed: status %d, %s", status, errs)
	}
}
