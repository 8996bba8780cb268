package say

// Quantity returns the name of the intensity whose unit is given: "speed" for
// m/s and km/h, "power" for W, and "intensity" for any other.
func Quantity(unit string) string {
	switch unit {
	case "m/s", "km/h":
		return "speed"
	case "W":
		return "power"
	}
	return "intensity"
}
