package lactate_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"pgregory.net/rapid"
)

// Evidence D: the name of each entry of the catalogue gives that entry back.
func TestParseMethodCatalogue(t *testing.T) {
	for _, unit := range []string{"m/s", "km/h", ""} {
		for _, e := range lactate.Catalogue(unit) {
			for _, name := range []string{e.Method.String(), strings.ToUpper(e.Method.String()), strings.ReplaceAll(e.Method.String(), "baseline", "Baseline")} {
				if m, err := lactate.ParseMethod(name); err != nil || m != e.Method {
					t.Errorf("%q: %#v, %v, want %#v", name, m, err, e.Method)
				}
			}
		}
	}
}

// Evidence D: parse ∘ print is the identity for other numbers and readings too.
func TestParseMethodRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := float64(rapid.IntRange(1, 999).Draw(t, "hundredths")) / 100
		from := lactate.Baseline(rapid.IntRange(0, 4).Draw(t, "from"))
		ends := lactate.Ends(rapid.IntRange(0, 1).Draw(t, "ends"))
		m := rapid.SampledFrom([]lactate.Method{
			lactate.Fixed{Lactate: x}, lactate.AboveBaseline{Rise: x, From: from}, lactate.ObservedRise{Rise: x, From: from},
			lactate.AboveLowestEquivalent{Rise: x}, lactate.MaxDistance{Ends: ends}, lactate.LogLogMaxDistance{Ends: ends},
			lactate.RecoveryTangent{Ends: ends}, lactate.FixedSlope{Slope: x}, lactate.FixedSlope{Slope: x, Per: "m/s"},
			lactate.ModifiedMaxDistance{Ends: ends, Rise: x, Start: lactate.ChordStart(rapid.IntRange(0, 2).Draw(t, "start"))},
		}).Draw(t, "method")
		if got, err := lactate.ParseMethod(m.String()); err != nil || got.String() != m.String() {
			t.Fatalf("%v: got %v, %v", m, got, err)
		}
	})
}

func TestParseMethodWords(t *testing.T) {
	for name, want := range map[string]lactate.Method{
		"dmax":                              lactate.MaxDistance{},
		"OBLA":                              lactate.Fixed{Lactate: 4},
		" 4  mmol/l":                        lactate.Fixed{Lactate: 4},
		"2,2 mmol/L":                        lactate.Fixed{Lactate: 2.2},
		"3":                                 lactate.Fixed{Lactate: 3},
		"baseline+1,5":                      lactate.AboveBaseline{Rise: 1.5},
		"rest + 1":                          lactate.AboveBaseline{Rise: 1, From: lactate.BaselineRestingSample},
		"first repeat of lowest repeat + 1": lactate.ObservedRise{Rise: 1, From: lactate.BaselineLowestStage},
		"log-log":                           lactate.LogLog{},
		"Dmax, measured ends":               lactate.MaxDistance{Ends: lactate.MeasuredEnds},
		"slope of 2 mmol/L per km/h":        lactate.FixedSlope{Slope: 2, Per: "km/h"},
	} {
		if got, err := lactate.ParseMethod(name); err != nil || got != want {
			t.Errorf("%q: %#v, %v, want %#v", name, got, err, want)
		}
	}
	for _, name := range []string{"", "LT2", "baseline", "baseline + x", "−4 mmol/L", "0 mmol/L", "NaN mmol/L", "inf", "modified Dmax, twice", "slope of 3", "Dmax, Dmax", "first stage of 1 + 1"} {
		if m, err := lactate.ParseMethod(name); err == nil || !strings.Contains(err.Error(), "modified Dmax") {
			t.Errorf("%q: %#v, %v, want an error that lists the names", name, m, err)
		}
	}
}

func FuzzParseMethod(f *testing.F) {
	for _, e := range lactate.Catalogue("m/s") {
		f.Add(e.Method.String())
	}
	f.Fuzz(func(t *testing.T, name string) {
		m, err := lactate.ParseMethod(name)
		if err != nil {
			return
		}
		if again, err := lactate.ParseMethod(m.String()); err != nil || again.String() != m.String() {
			t.Errorf("%q: %v and then %v, %v", name, m, again, err)
		}
	})
}
