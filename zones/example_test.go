package zones_test

import (
	"errors"
	"fmt"
	"os"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// swimmer is invented.
func swimmer() zones.Profile {
	return zones.Profile{
		LT1: zones.Threshold{Speed: 1.10, Low: 1.08, High: 1.12},
		LT2: zones.Threshold{Speed: 1.20, Low: 1.185, High: 1.215},
		HeartRate: func(v pace.Speed) (float64, error) {
			if v < 1 || v > 1.35 {
				return 0, errors.New("outside the tested range")
			}
			return 140 + 200*float64(v-1.10), nil
		},
	}
}

// The three zones of an invented swimmer, in a 25 yd pool.
func ExampleThreeZone() {
	t, err := zones.ThreeZone().Of(swimmer())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, z := range t.Zones {
		fmt.Println(z.Name, z.AnchorRange(), z.PaceRange(pace.SCY()), z.HeartRateRange())
	}
	t.Write(os.Stdout, pace.LCM())
	// Output:
	// 1 below LT1 slower than 1:23.1/100 yd below 140 /min
	// 2 LT1–LT2 1:23.1–1:16.2/100 yd 140–160 /min
	// 3 above LT2 faster than 1:16.2/100 yd above 160 /min
	// zone  anchor     pace                      speed            heart rate
	// 1     below LT1  slower than 1:30.9/100 m  below 1.100 m/s  below 140 /min
	// 2     LT1–LT2    1:30.9–1:23.3/100 m       1.100–1.200 m/s  140–160 /min
	// 3     above LT2  faster than 1:23.3/100 m  above 1.200 m/s  above 160 /min
	// LT1 at 1:30.9/100 m (1:32.6–1:29.3)
	// LT2 at 1:23.3/100 m (1:24.4–1:22.3)
}
