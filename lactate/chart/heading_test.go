package chart_test

import (
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/chart"
	"gonum.org/v1/plot/vg"
)

// Evidence D: no heading is wider than its picture, none is cut, and none covers the axes,
// from the narrowest picture on. A phone of 360 pixels shows one of 9 cm.
func TestHeadingsAreWhole(t *testing.T) {
	c := course(t, between.Options{})
	for _, width := range []vg.Length{8.5, 9, 12, 16} {
		for unit, pool := range pools() {
			o := chart.Options{Pool: pool, Width: width * vg.Centimeter, Title: "Robin Vale", Before: "18 January 2025", After: "8 March 2025"}
			all := pictures(t, 6, o)
			var err error
			if all["between"], err = chart.Between(c, time.Date(2025, 5, 6, 0, 0, 0, 0, time.UTC), o); err != nil {
				t.Fatal(err)
			}
			for _, kind := range []string{"two", "season", "between"} {
				if a, b, bad := crowded(all[kind]); bad {
					t.Errorf("%s, pool %s, %g cm wide: %q and %q overlap", kind, unit, width, a.text, b.text)
				}
				for _, l := range labels(all[kind]) {
					if strings.HasSuffix(l.text, "…") {
						t.Errorf("%s, pool %s, %g cm wide: %q is cut", kind, unit, width, l.text)
					}
				}
			}
		}
	}
}
