package protocol_test

import (
	"strings"
	"testing"
	"time"

	"example.com/steptest/protocol"
)

// Everybody's leave times in order, the starts apart, and who comes back too close for
// one sampler. Evidence: D, by hand.
func TestLeaveList(t *testing.T) {
	a, b := evenPlan(t, 5, 340e9, 300e9), evenPlan(t, 5, 360e9, 300e9)
	a.Swimmer, b.Swimmer = "Ada", "Ben"
	b.Repeats[4].Time = 0
	got, err := protocol.LeaveList([]protocol.Plan{a, b}, 90*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	// Ada: 340, 330, 320, 310, 300 s and 70 s of rest; Ben: 360, 345, 330, 315 s.
	want := [][]string{
		{"0:00", "Ada", "1", "5:40", "5:40"}, {"1:30", "Ben", "1", "6:00", "7:30"}, {"6:50", "Ada", "2", "5:30", "12:20"}, {"8:40", "Ben", "2", "5:45", "14:25"},
		{"13:30", "Ada", "3", "5:20", "18:50"}, {"15:35", "Ben", "3", "5:30", "21:05"}, {"20:00", "Ada", "4", "5:10", "25:10"}, {"22:15", "Ben", "4", "5:15", "27:30"},
		{"26:20", "Ada", "5", "~5:00", "31:20"}, {"28:40", "Ben", "5", "all out", ""},
	}
	for i, row := range want {
		if strings.Join(got.Rows[i], "|") != strings.Join(row, "|") {
			t.Errorf("row %d: %v, want %v", i+1, got.Rows[i], row)
		}
	}
	if len(got.Rows) != len(want) || got.Notes != nil {
		t.Errorf("%d rows, %v", len(got.Rows), got.Notes)
	}
	if got, err = protocol.LeaveList([]protocol.Plan{a, b}, 0); err != nil || len(got.Notes) != 1 || !strings.Contains(got.Notes[0], "Ada and Ben at 6:00") {
		t.Errorf("%v, %v", got.Notes, err)
	}
	b.Swimmer = ""
	if _, err := protocol.LeaveList([]protocol.Plan{a, b}, -1); err == nil || !strings.Contains(err.Error(), "plan 2: found no swimmer") || !strings.Contains(err.Error(), "want zero or more") {
		t.Error(err)
	}
}
