package zones

// Named returns a published scheme by a short name: "three" ([ThreeZone]), "domains"
// ([Domains]), "lactate" ([FiveZoneLactate]) or "heart-rate" ([FiveZoneHeartRate]). For
// any other name the error wraps [ErrMissing].
func Named(name string) (Scheme, error) {
	switch name {
	case "three":
		return ThreeZone(), nil
	case "domains":
		return Domains(), nil
	case "lactate":
		return FiveZoneLactate(), nil
	case "heart-rate":
		return FiveZoneHeartRate(), nil
	}
	return Scheme{}, faultf(ErrMissing, "found no scheme %q, want three, domains, lactate or heart-rate", name)
}
