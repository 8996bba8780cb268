package zones_test

import (
	"errors"
	"testing"

	"example.com/steptest/zones"
)

// Evidence D: each short name is that of one published scheme.
func TestNamed(t *testing.T) {
	for name, want := range map[string]zones.Scheme{"three": zones.ThreeZone(), "domains": zones.Domains(), "lactate": zones.FiveZoneLactate(), "heart-rate": zones.FiveZoneHeartRate()} {
		if s, err := zones.Named(name); err != nil || s.Name != want.Name || len(s.Zones) != len(want.Zones) {
			t.Errorf("%s: %v, %v", name, s.Name, err)
		}
	}
	if _, err := zones.Named("mine"); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("error %v", err)
	}
}
