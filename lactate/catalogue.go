package lactate

import (
	"encoding/json"
	"fmt"
	"sync"
)

// Target says which threshold a method sets out to estimate. The zero value is OtherPoint.
type Target int

// The targets.
const (
	// OtherPoint: a mark on the curve that is not published as either threshold.
	OtherPoint Target = iota
	// FirstThreshold, LT1: the onset of the rise of lactate above its baseline; the aerobic
	// threshold.
	FirstThreshold
	// SecondThreshold, LT2: the highest intensity at which lactate can be steady, near
	// enough; the anaerobic threshold.
	SecondThreshold
)

func (a Target) String() string {
	switch a {
	case OtherPoint:
		return "other"
	case FirstThreshold:
		return "LT1"
	case SecondThreshold:
		return "LT2"
	}
	return fmt.Sprintf("Target(%d)", int(a))
}

// Attestation says how a definition is known here, without an article's full text at hand.
type Attestation string

// The attestations.
const (
	AttestedAbstract Attestation = "abstract seen" // the definition stands in the abstract
	AttestedMemory   Attestation = "from memory"   // recalled, the text not read again
	AttestedBoth     Attestation = "abstract seen, details from memory"
)

// Definition is a method with what to know before believing it. The zero value is no entry.
type Definition struct {
	Method Method
	Target Target
	// OnCurve reports whether the answer is read on the curve, and differs from curve to curve.
	OnCurve  bool
	Needs    string // beyond three stages with a lactate sample, or with the curve those that it needs
	Source   string // authors and journal
	Year     int
	Attested Attestation
	Doubt    string // what weakens it; empty if nothing does
}

// Catalogue returns every definition of this package that reads an ordinary step test, marks of
// LT1 first. The unit is that of the test's intensities: fixed slopes are known for "m/s" and
// "km/h" alone, and left out for any other. Critical speed, which needs no blood, is in package
// pace; [LactateMinimum] needs a test of its own.
func Catalogue(unit string) []Definition {
	const (
		reach = "a curve that reaches the level"
		bend  = "a curve that bends below the chord; a last stage all out"
		after = bend + "; a rise of more than 0.4 mmol/L before the last gap"
		low   = "on the flat part of the curve, where noise moves it far"
		chord = "depends on where the chord starts more than on anything else"
		slope = "intensity in m/s or km/h; a curve whose slope reaches the value"
		found = "LT2 of the runners it was found on; on a swimmer no source says which point it is"
	)
	entries := []Definition{
		{Fixed{Lactate: 2}, FirstThreshold, true, reach, "Kindermann, Simon & Keul, Eur J Appl Physiol 42:25–34", 1979, AttestedMemory, low},
		{AboveBaseline{Rise: 0.5}, FirstThreshold, true, reach, "our baseline; rise of Zoladz and others, Eur J Appl Physiol 67:71–76", 1993, AttestedMemory, low},
		{AboveBaseline{Rise: 1}, FirstThreshold, true, reach, "our baseline; rise of Coyle and others, J Appl Physiol 54:18–23", 1983, AttestedMemory, "moves with the first stage, as every baseline but rest does"},
		{ObservedRise{Rise: 1, From: BaselineLowestStage}, FirstThreshold, false, "a stage that meets the rise", "Bishop, Jenkins & Mackinnon, Med Sci Sports Exerc 30:1270–1275", 1998, AttestedBoth, "moves by a whole step of the test or not at all"},
		{LogLog{}, FirstThreshold, false, "four different intensities", "Beaver, Wasserman & Whipp, J Appl Physiol 59:1936–1940", 1985, AttestedMemory, "two joins often fit about equally well"},
		{LowestLactateEquivalent{}, FirstThreshold, true, "a first stage easy enough for lactate/intensity to fall", "Dickhuth and others, Int J Sports Med 20:122–127", 1999, AttestedMemory, "a flat minimum"},
		{FirstTurnPoint{}, FirstThreshold, false, "six different intensities", "Hofmann & Tschakert, Cardiol Res Pract 2011:209302", 2011, AttestedMemory, "six numbers from as few as six stages"},

		{Fixed{Lactate: 3}, OtherPoint, true, reach, "Zinner and others, JEPonline 14(1):43–48", 2011, AttestedAbstract, ""},
		{FixedSlope{KeulSlope, "m/s"}, OtherPoint, true, slope, "Keul and others, Dtsch Z Sportmed 30:212–218", 1979, AttestedMemory, found},
		{FixedSlope{SimonSlope, "m/s"}, OtherPoint, true, slope, "Simon and others", 1981, AttestedMemory, found},

		{Fixed{Lactate: 3.5}, SecondThreshold, true, reach, "Heck and others, Int J Sports Med 6:117–130", 1985, AttestedBoth, "one level for everybody; used on swimmers by Deminice and others"},
		{Fixed{Lactate: 4}, SecondThreshold, true, reach, "Mader and others, Sportarzt Sportmed 27:80–88, 109–112", 1976, AttestedMemory, "one level for everybody"},
		{AboveBaseline{Rise: 1.5}, SecondThreshold, true, reach, "our baseline; rise of Berg and others", 1990, AttestedMemory, "also given from the lowest lactate equivalent"},
		{AboveLowestEquivalent{Rise: 1.5}, SecondThreshold, true, "a first stage easy enough for lactate/intensity to fall", "Dickhuth and others, Int J Sports Med 20:122–127", 1999, AttestedMemory, ""},
		{MaxDistance{}, SecondThreshold, true, bend, "Cheng and others, Int J Sports Med 13:518–522", 1992, AttestedMemory, "depends on the first and the last stage; on an exponential on them and the rate alone"},
		{MaxDistance{Ends: MeasuredEnds}, SecondThreshold, true, bend, "a later reading of Cheng and others", 1992, AttestedMemory, "depends on the samples of the first and the last stage"},
		{ModifiedMaxDistance{}, SecondThreshold, true, after, "Bishop, Jenkins & Mackinnon, Med Sci Sports Exerc 30:1270–1275", 1998, AttestedBoth, chord},
		{ModifiedMaxDistance{Ends: MeasuredEnds}, SecondThreshold, true, after, "a reading of Bishop, Jenkins & Mackinnon", 1998, AttestedBoth, chord},
		{ModifiedMaxDistance{Start: ChordBeforeRiseAboveLowest}, SecondThreshold, true, after, "a reading of Bishop, Jenkins & Mackinnon", 1998, AttestedBoth, chord},
		{ModifiedMaxDistance{Start: ChordAtFirstRise}, SecondThreshold, true, after, "a reading of Bishop, Jenkins & Mackinnon", 1998, AttestedBoth, chord},
		{LogLogMaxDistance{}, SecondThreshold, true, bend + "; what log–log needs", "Jamnick and others, PLoS ONE 13(7):e0199794", 2018, AttestedBoth, "rests on the log–log point, which little noise can move far"},
		{SecondTurnPoint{}, SecondThreshold, false, "six different intensities", "Hofmann & Tschakert, Cardiol Res Pract 2011:209302", 2011, AttestedMemory, "six numbers from as few as six stages"},
		{RecoveryTangent{}, SecondThreshold, true, "durations of all stages; recovery samples until lactate is back at its value at the end", "Stegmann, Kindermann & Schnabel, Int J Sports Med 2:160–165", 1981, AttestedBoth, "its details are not standardised"},
	}
	var out []Definition
	for _, e := range entries {
		if m, ok := e.Method.(FixedSlope); ok {
			switch unit {
			case "m/s":
			case "km/h":
				e.Method = FixedSlope{m.Slope / 3.6, unit}
			default:
				continue
			}
		}
		out = append(out, e)
	}
	return out
}

// catalogued is the catalogue without a unit, made once.
var catalogued = sync.OnceValue(func() []Definition { return Catalogue("") })

// MarshalJSON writes the method by its name.
func (e Definition) MarshalJSON() ([]byte, error) {
	out := struct {
		Method   string      `json:"method"`
		Target   Target      `json:"target"`
		OnCurve  bool        `json:"on_curve"`
		Needs    string      `json:"needs,omitempty"`
		Source   string      `json:"source,omitempty"`
		Year     int         `json:"year,omitempty"`
		Attested Attestation `json:"attested,omitempty"`
		Doubt    string      `json:"doubt,omitempty"`
	}{"", e.Target, e.OnCurve, e.Needs, e.Source, e.Year, e.Attested, e.Doubt}
	if e.Method != nil {
		out.Method = e.Method.String()
	}
	return json.Marshal(out)
}
