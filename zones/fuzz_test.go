package zones_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"example.com/steptest/zones"
)

func FuzzParseBound(f *testing.F) {
	for _, s := range []string{"open", "LT1", "0.95 LT2", "0.5 LT1-LT2", "4 mmol/L", "87 %HRmax", "1.03 top", "NaN LT1", "1e400 LT1", "2 open"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := zones.ParseBound(s)
		if err != nil {
			if len(err.Error()) > 2400 {
				t.Fatalf("error of %d bytes", len(err.Error()))
			}
			return
		}
		if again, err := zones.ParseBound(b.String()); err != nil || again != b {
			t.Fatalf("%q → %v → %v, %v", s, b, again, err)
		}
	})
}

// A scheme that is read has no gap for a swimmer: it gives zones or an error.
func FuzzReadScheme(f *testing.F) {
	for _, s := range []zones.Scheme{zones.ThreeZone(), zones.FiveZoneHeartRate()} {
		b, err := json.Marshal(s)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Add([]byte(`{"zones": [{"name": "a", "to": "1.2 LT1"}, {"name": "b", "from": "1.2 LT1", "to": "LT2"}, {"name": "c", "from": "LT2"}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := zones.ReadScheme(bytes.NewReader(b))
		if err != nil {
			return
		}
		table, err := s.Apply(curve())
		if err != nil {
			return
		}
		if z, err := table.At(1.3); err != nil {
			t.Fatalf("1.3 m/s is in no zone of %s: %v, %v", b, z, err)
		}
	})
}
