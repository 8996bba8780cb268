package protocol_test

import (
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol"
	"github.com/google/go-cmp/cmp"
)

// Evidence: D, a calendar.
func TestSchedule(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse("2006-01-02", s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	// 2025-04-19 is in the week of Monday 14 April; so is the 15th. The week
	// after is avoided too, so that the test moves by two.
	got, err := protocol.Schedule(day("2025-03-08"), 6, 3, day("2025-04-15"), day("2025-04-27"), day("2025-12-25"))
	want := []time.Time{day("2025-05-03"), day("2025-06-14"), day("2025-07-26")}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v (-want +got):\n%s", err, d)
	}
	if got, err := protocol.Schedule(day("2025-03-08"), 1, 1); err != nil || len(got) != 1 || !got[0].Equal(day("2025-03-15")) {
		t.Errorf("%v, %v", got, err)
	}
	if got, err := protocol.Schedule(day("2025-03-08"), 6, 0); err != nil || len(got) != 0 {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range []func() ([]time.Time, error){
		func() ([]time.Time, error) { return protocol.Schedule(time.Time{}, 6, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 0, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 6, -1) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 105, 3) },
		func() ([]time.Time, error) { return protocol.Schedule(day("2025-03-08"), 6, 1001) },
	} {
		if d, err := bad(); err == nil || !strings.Contains(err.Error(), "found") {
			t.Errorf("%v, error %v", d, err)
		}
	}
}
