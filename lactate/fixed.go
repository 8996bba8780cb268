package lactate

import (
	"cmp"
	"fmt"

	"example.com/steptest/lactate/internal/words"
)

// OBLA is the level that Sjödin & Jacobs (1981), Int J Sports Med 2:23–26,
// call the onset of blood lactate accumulation (mmol/L) (from memory).
const OBLA = 4.0

// Fixed is the intensity at which the curve rises through a fixed lactate. On a curve that dips
// it is the highest such crossing.
//
// Levels in use (from memory unless said): 2 and 4 mmol/L as aerobic and anaerobic threshold,
// Kindermann, Simon & Keul (1979), Eur J Appl Physiol 42:25–34; 2.2 in LaFontaine and others
// (1981) and 2.5 in papers of Hagberg, Hurley and others (1983–84); 3 and 4 for swimmers in
// Zinner and others (2011), JEPonline 14(1):43–48 (abstract seen); 4 in Mader and others
// (1976), Sportarzt Sportmed 27:80–88, 109–112; 3.5 for stages of three minutes in Heck and
// others (1985), Int J Sports Med 6:117–130, and for swimmers in Deminice and others (2007),
// Rev Bras Med Esporte 13(3) (abstract seen).
//
// One level for everybody suits few: swimmers held lactates of 2.9 ± 1.2 mmol/L in a maximal
// steady state (Fernandes and others 2011, Int J Sports Med, abstract seen). It depends on the
// analyser, and on plasma or whole blood. Another curve, or straight lines between stages,
// moves it little near 4 mmol/L and more near 2, where the curve is flat.
//
// It needs a curve that reaches the level inside the tested range; else the error is a
// [*NotReachedError].
type Fixed struct {
	Lactate float64 // level [mmol/L]. Zero means 4, see [OBLA].
}

func (m Fixed) level() float64 { return cmp.Or(m.Lactate, OBLA) }

// Locate implements [Method].
func (m Fixed) Locate(t Test, c Curve) (float64, error) {
	level := m.level()
	if !positive(level) {
		return 0, fmt.Errorf("lactate: fixed level: found %v, want a lactate above zero in mmol/L", level)
	}
	return locateLevel(t, c, level)
}

func (m Fixed) String() string { return words.Short(m.level()) + " mmol/L" }
