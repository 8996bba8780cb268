package lactate

import (
	"fmt"

	"example.com/steptest/lactate/internal/clean"
	"example.com/steptest/lactate/internal/reading"
	"gonum.org/v1/gonum/interp"
)

// Slopes of [FixedSlope] in use, for speeds in m/s [mmol/L per m/s]; for km/h they are 1.26 and
// 1.00 (from memory). Both were found on runners.
const (
	// KeulSlope: Keul and others (1979), Dtsch Z Sportmed 30:212–218.
	KeulSlope = 1.26 * 3.6
	// SimonSlope: Simon and others (1981).
	SimonSlope = 1.00 * 3.6
)

// FixedSlope is the intensity at which the slope of the curve rises through a fixed value; if
// it does so more than once, the highest such intensity.
//
// Keul and others (1979) and Simon and others (1981), [KeulSlope] and [SimonSlope], give the
// angle of a tangent, 51°34′ and 45°, on a plot with 1 mmol/L and 1 km/h drawn equally long (from memory; tan
// 51°34′ = 1.26). An angle means nothing without that plot, and a slope nothing without the
// unit of intensity: there is no default. 1 mmol/L per W is another slope altogether (cyclists
// in S Afr J Res Sport Phys Educ Recreat 2006, 28(2):27–37; abstract seen). Water is slower
// than a track: a swimmer reaches the slopes found on runners at another point of the curve,
// most often near LT1, and no source says which. [Catalogue] lists them as no threshold for
// that reason.
//
// It needs a curve with PredictDerivative of gonum's interp.DerivativePredictor (else
// [ErrShape]) that reaches the slope inside the tested range, else the error is a
// [*NotReachedError] whose numbers are slopes.
type FixedSlope struct {
	// Slope [mmol/L per unit of intensity of the test]. Locate refuses zero.
	Slope float64
	// Per is the unit of intensity, such as "m/s", as String prints it. Empty means not said.
	Per string
}

func (m FixedSlope) unit() string {
	if m.Per == "" {
		return "mmol/L per unit of intensity"
	}
	return "mmol/L per " + clean.Short(m.Per, 20)
}

// Locate implements [Method].
func (m FixedSlope) Locate(t Test, c Curve) (float64, error) {
	if !positive(m.Slope) {
		return 0, fmt.Errorf("lactate: fixed slope: found %v, want a slope above zero in %s; slopes are known for m/s and km/h only", m.Slope, m.unit())
	}
	lo, hi, err := rangeOn(t.Stages, c)
	if err != nil {
		return 0, err
	}
	d, ok := c.(interp.DerivativePredictor)
	if !ok {
		return 0, fmt.Errorf("lactate: fixed slope: %w: %T has no slope; a curve with PredictDerivative is needed", ErrShape, c)
	}
	if x, ok := reading.LastRise(d.PredictDerivative, m.Slope, lo, hi); ok {
		return x, nil
	}
	x, _ := reading.Lowest(d.PredictDerivative, lo, hi)
	least, most := d.PredictDerivative(x), d.PredictDerivative(hi)
	return 0, &NotReachedError{Level: m.Slope, Lowest: least, Highest: most, Of: "the slope of the curve", Unit: m.unit()}
}

func (m FixedSlope) String() string {
	if m.Slope == 0 {
		return "fixed slope, not given"
	}
	return fmt.Sprintf("slope of %.4g %s", m.Slope, m.unit())
}
