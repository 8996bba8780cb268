package zones

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/steptest/pace"
)

// An Anchor is what a bound of a zone hangs on. The zero value is [Open].
type Anchor uint8

// What a bound can hang on, and what the bound's Amount means there.
const (
	Open             Anchor = iota // no bound
	LT1                            // Amount times the first threshold speed
	LT2                            // Amount times the second threshold speed
	Top                            // Amount times the speed of the test's fastest repeat
	Between                        // Amount of the way from LT1 to LT2, 0 to 1
	LactateLevel                   // Amount of blood lactate [mmol/L]
	HeartRatePercent               // Amount in percent of the maximal heart rate [%]
)

var anchorNames = [...]string{"open", "LT1", "LT2", "top", "LT1-LT2", "mmol/L", "%HRmax"}

// String returns what the anchor is called in the text of a [Bound].
func (a Anchor) String() string {
	if int(a) >= len(anchorNames) {
		return fmt.Sprintf("Anchor(%d)", uint8(a))
	}
	return anchorNames[a]
}

// A Bound is where one zone ends and the next begins. The zero value is open.
//
// Its text, as printed beside every zone and read from JSON, is one of
//
//	open
//	LT1   LT2   top          the speed itself
//	0.95 LT2   1.03 top      so many times that speed
//	0.5 LT1-LT2              so much of the way from LT1 to LT2
//	4 mmol/L                 a level of blood lactate
//	87 %HRmax                a percentage of the maximal heart rate
type Bound struct {
	Of Anchor
	// Amount is described at each Anchor. Zero means 1 for LT1, LT2 and Top.
	Amount float64
}

// normal replaces the amount that zero stands for.
func (b Bound) normal() Bound {
	switch b.Of {
	case Open:
		b.Amount = 0
	case LT1, LT2, Top:
		if b.Amount == 0 {
			b.Amount = 1
		}
	}
	return b
}

// Check returns an error that wraps [ErrValue] if b has no meaning.
func (b Bound) Check() error {
	b = b.normal()
	ok, want := positive(b.Amount), "a finite number above zero"
	switch b.Of {
	case Open:
		ok = true
	case LT1, LT2, Top:
	case Between:
		ok, want = b.Amount > 0 && b.Amount < 1, "a fraction between 0 and 1"
	case LactateLevel:
		ok, want = ok && b.Amount <= 30, "above 0 and up to 30 mmol/L"
	case HeartRatePercent:
		ok, want = ok && b.Amount <= 100, "above 0 and up to 100 %HRmax"
	default:
		return faultf(ErrValue, "bound: found anchor %d, want %d to %d", b.Of, Open, HeartRatePercent)
	}
	if !ok {
		return faultf(ErrValue, "bound: found %q, want %s", b.String(), want)
	}
	return nil
}

var _ fmt.Stringer = Bound{}

// String returns the text of b.
func (b Bound) String() string {
	b = b.normal()
	switch {
	case b.Of == Open || int(b.Of) >= len(anchorNames):
		return b.Of.String()
	case b.Amount == 1 && b.Of <= Top:
		return b.Of.String()
	}
	return strconv.FormatFloat(b.Amount, 'g', -1, 64) + " " + b.Of.String()
}

// ParseBound reads the text of a bound. Case does not matter. The error wraps
// [ErrValue].
func ParseBound(s string) (Bound, error) {
	fields := strings.Fields(strings.ToLower(s))
	b := Bound{}
	bad := func() (Bound, error) {
		return Bound{}, faultf(ErrValue, `bound: found %q, want "open", "LT1", "LT2", "top", "0.95 LT2", "0.5 LT1-LT2", "4 mmol/L" or "87 %%HRmax"`, s)
	}
	if len(fields) == 0 || len(fields) > 2 {
		return bad()
	}
	if len(fields) == 2 {
		x, err := strconv.ParseFloat(fields[0], 64)
		if err != nil || !positive(x) {
			return bad()
		}
		b.Amount = x
	}
	switch fields[len(fields)-1] {
	case "open":
		b.Of = Open
	case "lt1":
		b.Of = LT1
	case "lt2":
		b.Of = LT2
	case "top":
		b.Of = Top
	case "lt1-lt2":
		b.Of = Between
	case "mmol/l":
		b.Of = LactateLevel
	case "%hrmax":
		b.Of = HeartRatePercent
	default:
		return bad()
	}
	if b.Of == Open && len(fields) == 2 {
		return bad()
	}
	b = b.normal()
	if b.Check() != nil {
		return bad()
	}
	return b, nil
}

// MarshalText returns the text of b.
func (b Bound) MarshalText() ([]byte, error) {
	if err := b.Check(); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}

// UnmarshalText is ParseBound.
func (b *Bound) UnmarshalText(text []byte) error {
	v, err := ParseBound(string(text))
	if err == nil {
		*b = v
	}
	return err
}

// locate returns the speed at b, with an interval if the anchor has one.
func (b Bound) locate(p Profile) (Threshold, error) {
	b = b.normal()
	scaled := func(t Threshold) (Threshold, error) {
		k := pace.Speed(b.Amount)
		return Threshold{Speed: k * t.Speed, Low: k * t.Low, High: k * t.High}, nil
	}
	asked := func(v pace.Speed, err error) (Threshold, error) {
		if err != nil {
			return Threshold{}, &unreached{err}
		}
		if !positive(float64(v)) {
			return Threshold{}, faultf(ErrValue, "speed at %v: found %v m/s, want a positive one", b, float64(v))
		}
		return Threshold{Speed: v}, nil
	}
	switch b.Of {
	case LT1:
		return scaled(p.LT1)
	case LT2:
		return scaled(p.LT2)
	case Top:
		if p.Top == 0 {
			return Threshold{}, faultf(ErrMissing, "bound %v needs the speed of the fastest repeat", b)
		}
		return scaled(Threshold{Speed: p.Top})
	case Between:
		return Threshold{Speed: p.LT1.Speed + pace.Speed(b.Amount)*(p.LT2.Speed-p.LT1.Speed)}, nil
	case LactateLevel:
		if p.SpeedAtLactate == nil {
			return Threshold{}, faultf(ErrMissing, "bound %v needs the speed at a lactate level", b)
		}
		return asked(p.SpeedAtLactate(b.Amount))
	case HeartRatePercent:
		if p.SpeedAtHeartRate == nil || p.MaxHeartRate == 0 {
			return Threshold{}, faultf(ErrMissing, "bound %v needs the maximal heart rate and the speed at a heart rate", b)
		}
		return asked(p.SpeedAtHeartRate(math.Round(b.Amount*p.MaxHeartRate*1e4) / 1e6))
	}
	return Threshold{}, nil
}

// unreached is the error of a function of the profile that could not place a
// bound.
type unreached struct{ err error }

func (u *unreached) Error() string { return u.err.Error() }
