package zones

// ThreeZone returns the three-zone model: below LT1, between the thresholds,
// above LT2. Skinner & McLellan (1980; from memory) put the two bounds at the aerobic and
// anaerobic thresholds; Seiler & Kjerland (2006) at the first and second
// ventilatory thresholds, with ≤ 2 and > 4 mmol/L as analogues in blood. Here they
// are the swimmer's own LT1 and LT2.
func ThreeZone() Scheme {
	return Scheme{
		Name:   "three zones",
		Source: "Skinner & McLellan 1980; Seiler & Kjerland 2006",
		Zones: []Part{
			{Name: "1", Meaning: "below LT1", To: Bound{Of: LT1}},
			{Name: "2", Meaning: "LT1 to LT2", From: Bound{Of: LT1}, To: Bound{Of: LT2}},
			{Name: "3", Meaning: "above LT2", From: Bound{Of: LT2}},
		},
	}
}
