package forecast

import (
	"fmt"
	"time"
)

// Rules are what a swimmer can swim. The zero value is the documented default.
type Rules struct {
	// Least is by how much each stage must be shorter in time than the last. Zero
	// means one second per 100 m: 4 s on a 400. Nobody paces closer when tired.
	Least time.Duration `json:"least_ns,omitzero"`
	// Round is what the targets are rounded to. Zero means 1 s.
	Round time.Duration `json:"round_ns,omitzero"`
	// Enough is how much wider an interval may be for want of the stages that
	// are left, see [Advice]. Zero means 0.10: a tenth.
	Enough float64 `json:"enough,omitzero"`
	// Keep leaves out the search of [Next] for a spacing that tells more, which takes
	// most of its time: targets stay as they are, or are spread evenly anew, and no
	// widths are expected. [Space] has no use for it.
	Keep bool `json:"keep,omitzero"`
}

// withDefaults fills in what was left zero, for stages over a distance [m], and
// refuses what cannot be right.
func (r Rules) withDefaults(distance float64) (Rules, error) {
	if r.Least == 0 {
		r.Least = time.Duration(float64(time.Second) * distance / 100)
	}
	if r.Round == 0 {
		r.Round = time.Second
	}
	if r.Enough == 0 {
		r.Enough = 0.10
	}
	if !(r.Enough >= 0) {
		return r, fmt.Errorf("%w: found %g as the width that is enough, want a share above zero", ErrNoAnswer, r.Enough)
	}
	if r.Least < 0 || r.Round < time.Millisecond || r.Round > time.Minute {
		return r, fmt.Errorf("%w: found rules %+v, want a least step above zero and rounding to 1 ms to 1 min", ErrNoAnswer, r)
	}
	r.Least = max(r.Least, r.Round)
	return r, nil
}
