package zones

// ThreeZone returns the three-zone model: below LT1, between the thresholds,
// above LT2. Skinner & McLellan (1980; from memory) set the two bounds at the
// aerobic and anaerobic thresholds; Seiler & Kjerland (2006) at the first and
// second ventilatory thresholds, with 2 and 4 mmol/L as their analogues in
// blood. Here they are the swimmer's own LT1 and LT2, whatever method gave them.
func ThreeZone() Scheme {
	return Scheme{
		Name:   "three zones",
		Source: "Skinner & McLellan 1980; Seiler & Kjerland 2006",
		Zones: []Part{
			{Name: "1", Meaning: "below LT1", To: Bound{LT1, 1}},
			{Name: "2", Meaning: "LT1 to LT2", From: Bound{LT1, 1}, To: Bound{LT2, 1}},
			{Name: "3", Meaning: "above LT2", From: Bound{LT2, 1}},
		},
	}
}

// Domains returns the physiological intensity domains, moderate, heavy and
// severe, as reviewed by Jamnick et al. (2020): moderate below the lactate
// threshold, heavy from there to critical speed or the maximal lactate steady
// state, severe above. LT2 stands for the second bound. A step test
// estimates that bound and does not measure it, and the methods differ by more
// than a training zone should; critical speed from best times is a check.
func Domains() Scheme {
	return Scheme{
		Name:   "intensity domains",
		Source: "Jamnick et al. 2020; LT2 in place of critical speed",
		Zones: []Part{
			{Name: "moderate", Meaning: "lactate stays near rest", To: Bound{LT1, 1}},
			{Name: "heavy", Meaning: "lactate rises and settles", From: Bound{LT1, 1}, To: Bound{LT2, 1}},
			{Name: "severe", Meaning: "lactate keeps rising", From: Bound{LT2, 1}},
		},
	}
}

// FiveZoneLactate returns the five zones of a Norwegian federation's endurance
// scale as Seiler prints them, by blood lactate: edges at 1.5, 2.5, 4.0 and 6.0
// mmol/L, the printed upper ends of zones 1 to 4 (zone 1 starts at 0.8; zone
// 5, 6 to 10 mmol/L, is from memory).
//
// The scale was made for land sports and for no swimmer in particular. Its
// levels are the same for everyone, whatever their LT1 and LT2, and they move
// with the analyser and the sampling site. Its zone 2 is not that of
// [ThreeZone]. The profile needs SpeedAtLactate.
func FiveZoneLactate() Scheme {
	return five("five zones by lactate", Bound{LactateLevel, 1.5}, Bound{LactateLevel, 2.5}, Bound{LactateLevel, 4}, Bound{LactateLevel, 6})
}

// FiveZoneHeartRate returns the five zones of [FiveZoneLactate] by heart rate:
// edges at 72, 82, 87 and 93 % of the maximal heart rate, the printed upper ends
// of zones 1 to 4 (zone 1 starts at 60 %; zone 5, 94 to 100 %, is from memory).
//
// Measure the maximal heart rate in the water: it is lower there than
// on land, by some ten beats (from memory). Heart rate lags behind a repeat and
// drifts over a set. Jamnick et al. (2020) criticise fixed percentages of a
// maximum, as they put different people into different domains. The profile
// needs MaxHeartRate and SpeedAtHeartRate.
func FiveZoneHeartRate() Scheme {
	return five("five zones by heart rate", Bound{HeartRatePercent, 72}, Bound{HeartRatePercent, 82}, Bound{HeartRatePercent, 87}, Bound{HeartRatePercent, 93})
}

func five(name string, a, b, c, d Bound) Scheme {
	return Scheme{
		Name:   name,
		Source: "Norwegian federation scale, as in Seiler & Tønnessen 2009 and Seiler, Training intensity distribution; start of zone 5 as the end of zone 4",
		Zones: []Part{
			{Name: "1", Meaning: "1 to 6 h a session", To: a},
			{Name: "2", Meaning: "1 to 3 h a session", From: a, To: b},
			{Name: "3", Meaning: "50 to 90 min a session", From: b, To: c},
			{Name: "4", Meaning: "30 to 60 min a session", From: c, To: d},
			{Name: "5", Meaning: "15 to 30 min a session (from memory)", From: d},
		},
	}
}
