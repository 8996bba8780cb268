package between

import "math"

// linearise makes observations of the readings: linear in how far the place of the day is
// from the smoothed one of an average day. Value and slope are means over the day-to-day
// term, and what it bends is noise. To linearise about the smoothed day itself would
// bias place and offsets: there are as many days as readings (Neyman & Scott (1948),
// Econometrica 16:1–32, from memory).
func (r *run) linearise(scores []float64) {
	sh := r.shape
	tau := math.Sqrt(r.Model.days)
	at, weight := [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}, [3]float64{1. / 6, 2. / 3, 1. / 6}
	for i := range r.days {
		d := &r.days[i]
		for _, k := range d.readings {
			o := &r.samples[k]
			for j := range sh.component {
				o.terms[2+j].times = 0
			}
			var value, slope, square float64
			for n, z := range at {
				spot := sh.spot(r.readings[k].Intensity - d.smooth - z*tau)
				v, s := spot.on(sh.mean)
				for j, c := range sh.component {
					cv, cs := spot.on(c)
					v += scores[j] * cv
					s += scores[j] * cs
					o.terms[2+j].times += weight[n] * cv
				}
				value += weight[n] * v
				slope += weight[n] * s
				square += weight[n] * v * v
			}
			slope = math.Max(slope, 0) // no curve falls because its mean does
			o.terms[0].times, o.terms[1].times = -slope, -slope
			o.value = r.readings[k].Lactate - value - slope*d.smooth
			for j, z := range scores {
				o.value += o.terms[2+j].times * z
			}
			o.noise = r.noise(value) + math.Max(square-value*value-slope*slope*r.Model.days, 0)
			if r.of[k] < 0 {
				o.noise += (1 - shared) * r.off
			}
			if len(r.last.mean) == r.common()+1+r.offsets {
				r.doubt(o, d.smooth)
			}
		}
	}
}

// doubt gives a reading that lies far from the curve so much more noise that the farther it
// lies the less it moves the curve (a redescending weight, as of Hampel and others (1986),
// Robust Statistics, from memory).
func (r *run) doubt(o *observed, place float64) {
	off := o.value
	for _, t := range o.terms[2:] {
		off -= t.times * r.last.mean[t.at]
	}
	slope := o.terms[0].times
	off -= slope * place
	all := o.noise + slope*slope*r.Model.days
	if ratio := off * off / (r.far * r.far * all); ratio > 1 {
		o.noise += all * (ratio - 1)
	}
}
