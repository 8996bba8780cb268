package pace

import (
	"fmt"
	"time"
)

// Mean speeds of a swim lie between these (m/s). Beyond, a slip is likelier than the speed:
// our judgement, and wider than what is met in healthy swimmers.
const (
	Slowest Speed = 0.2
	Fastest Speed = 3
)

// Swims reports whether a swimmer can swim a distance in a time: from [Slowest] to [Fastest].
func Swims(d Length, t time.Duration) bool {
	v := d.Metres() / t.Seconds()
	return v >= float64(Slowest) && v <= float64(Fastest)
}

// WantSwim says which times over a distance are a swim, of one that is none, for an error.
func WantSwim(d Length, t time.Duration) string {
	return fmt.Sprintf("a time of %s to %s for %v; this is %.2f m/s", FormatTime(Fastest.Time(d), 0), FormatTime(Slowest.Time(d), 0), d, d.Metres()/t.Seconds())
}

// WithColon reads seconds as minutes and seconds that lack their colon: 551.7 as 5:51.7. ok is
// false if they cannot be.
func WithColon(t time.Duration) (colon time.Duration, ok bool) {
	const hundred = 100 * time.Second
	return t/hundred*time.Minute + t%hundred, t >= hundred && t%hundred < time.Minute
}

// Saved returns how many seconds less a length takes at one speed than at another.
func Saved(per Length, from, to Speed) float64 {
	return per.Metres()/float64(from) - per.Metres()/float64(to)
}
