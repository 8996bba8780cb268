package protocol

import "strconv"

// pointSlips finds samples whose decimal point is likely lost or shifted: more than
// twice the samples beside it, or less than half of them, and among them once divided or
// multiplied by ten. After the last sample nothing says how far lactate rose.
func (r Record) pointSlips() (out []slip) {
	var of []Repeat
	for _, rep := range r.Repeats {
		if rep.Lactate > 0 && rep.Time > 0 {
			of = append(of, rep)
		}
	}
	for i := 0; i+1 < len(of); i++ {
		before, after := of[max(i-1, 0)].Lactate, of[i+1].Lactate
		if i == 0 {
			before = of[min(2, len(of)-1)].Lactate // the one beside it may be the slip
		}
		low, high := min(before, after), max(before, after)
		for _, meant := range []float64{of[i].Lactate / 10, of[i].Lactate * 10} {
			if found := of[i].Lactate; (found > 2*high || found < low/2) && meant >= 0.7*low && meant <= 1.3*high {
				s := slip{of[i].Number, "%s mmol/L is out of line: the samples beside it lead to about %s", []any{decimal(found), strconv.FormatFloat((low+high)/2, 'f', 1, 64)}}
				out = append(out, s.asking(decimal(meant), true, ""))
			}
		}
	}
	return out
}

// decimal prints a lactate as an analyser does, and finer where it was.
func decimal(v float64) string {
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if w := strconv.FormatFloat(v, 'g', 3, 64); len(w) > len(s) {
		return w
	}
	return s
}
