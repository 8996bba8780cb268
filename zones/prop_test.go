package zones_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
	"pgregory.net/rapid"
)

// drawProfile draws LT1 from 0.6 m/s on, so that the slowest edge of drawScheme
// takes 8 h over 3000 m: Plan refuses repeats of more than 12 h.
func drawProfile(t *rapid.T) zones.Profile {
	lt1 := rapid.Float64Range(0.6, 2).Draw(t, "LT1")
	lt2 := lt1 * (1 + rapid.Float64Range(1e-6, 0.5).Draw(t, "above"))
	top := lt2 * (1 + rapid.Float64Range(0, 0.3).Draw(t, "top"))
	return zones.Profile{LT1: zones.Threshold{Speed: pace.Speed(lt1)}, LT2: zones.Threshold{Speed: pace.Speed(lt2)}, Top: pace.Speed(top)}
}

// drawScheme cuts the axis at rising fractions between LT1 and LT2 or at rising
// multiples of one of them.
func drawScheme(t *rapid.T) zones.Scheme {
	if rapid.Bool().Draw(t, "published") {
		return rapid.SampledFrom([]zones.Scheme{zones.ThreeZone(), zones.Domains()}).Draw(t, "scheme")
	}
	of := rapid.SampledFrom([]zones.Anchor{zones.LT1, zones.LT2, zones.Top, zones.Between}).Draw(t, "anchor")
	n := rapid.IntRange(1, 8).Draw(t, "edges")
	s := zones.Scheme{Name: "drawn", Zones: make([]zones.Part, n+1)}
	at := 0.2
	for i := range s.Zones {
		s.Zones[i].Name = string(rune('a' + i))
		if i > 0 {
			at += rapid.Float64Range(0.01, 0.09).Draw(t, "step")
			b := zones.Bound{Of: of, Amount: at}
			s.Zones[i-1].To, s.Zones[i].From = b, b
		}
	}
	return s
}

// Zones tile the speed axis: each speed is in exactly one of them, at the edges
// and one float beside them too, and they follow one another.
func TestPropTile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := applied(t, drawScheme(t), drawProfile(t))
		speeds := []float64{math.SmallestNonzeroFloat64, math.MaxFloat64, rapid.Float64Range(1e-3, 4).Draw(t, "v")}
		for i, z := range table.Zones {
			if first, last := i == 0, i == len(table.Zones)-1; z.From.Open() != first || z.To.Open() != last {
				t.Fatalf("zone %d of %d: %+v", i+1, len(table.Zones), z)
			}
			if i > 0 && z.From != table.Zones[i-1].To {
				t.Fatalf("zone %d starts at %+v, the one before ends at %+v", i+1, z.From, table.Zones[i-1].To)
			}
			if e := float64(z.From.Speed); i > 0 {
				speeds = append(speeds, e, math.Nextafter(e, 0), math.Nextafter(e, 9))
			}
		}
		for _, v := range speeds {
			in := 0
			for _, z := range table.Zones {
				if z.Contains(pace.Speed(v)) {
					in++
				}
			}
			if z, err := table.At(pace.Speed(v)); in != 1 || err != nil || !z.Contains(pace.Speed(v)) {
				t.Fatalf("%v m/s is in %d zones, At gives %q, %v", v, in, z.Name, err)
			}
		}
	})
}

// A bound's text is read back.
func TestPropBoundText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := zones.Bound{Of: zones.Anchor(rapid.IntRange(0, 6).Draw(t, "of"))}
		if b.Of != zones.Open {
			b.Amount = rapid.Float64Range(1e-9, 0.999).Draw(t, "amount")
			if b.Of != zones.Between && rapid.Bool().Draw(t, "large") {
				b.Amount = rapid.Float64Range(1, 30).Draw(t, "large amount")
			}
		}
		text, err := b.MarshalText()
		if err != nil {
			t.Fatalf("%v: %v", b, err)
		}
		var got zones.Bound
		if err := got.UnmarshalText(text); err != nil || got != b {
			t.Fatalf("%#v → %q → %#v, %v", b, text, got, err)
		}
	})
}

// A set's send-offs add up, leave at least the rest, and the repeats it plans
// are, when judged, in its zone; time and distance over the zones are those of
// the set.
func TestPropSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := applied(t, drawScheme(t), drawProfile(t))
		pool := rapid.SampledFrom([]pace.Pool{pace.SCY(), pace.SCM(), pace.LCM(), pace.Must(pace.ParsePool("20 yd")), pace.Must(pace.ParsePool("33 1/3 m"))}).Draw(t, "pool")
		z := rapid.SampledFrom(table.Zones).Draw(t, "zone")
		lengths := rapid.IntRange(1, 60).Draw(t, "lengths")
		s := zones.Set{
			Zone:     z.Name,
			Repeats:  rapid.IntRange(1, 40).Draw(t, "repeats"),
			Distance: pool.Distance(lengths),
			Rest:     time.Duration(rapid.Int64Range(0, int64(5*time.Minute)).Draw(t, "rest")),
		}
		p, err := table.Workout(s, pool)
		if err != nil {
			t.Fatal(err)
		}
		rest := s.Rest
		if rest == 0 {
			rest = 10 * time.Second
		}
		if p.SendOff%(5*time.Second) != 0 || p.Rest < rest || p.Rest >= rest+5*time.Second || p.Slowest+p.Rest != p.SendOff {
			t.Fatalf("send-off %v after %v with a rest of %v, %v asked", p.SendOff, p.Slowest, p.Rest, rest)
		}
		if sum := time.Duration(s.Repeats) * p.SendOff; sum != p.Time || p.Distance != pool.Distance(lengths*s.Repeats) {
			t.Fatalf("send-offs add up to %v, the set to %v; %v", sum, p.Time, p.Distance)
		}
		if p.Slow != 0 && p.Fast != 0 && !(p.Slow > p.Fast && p.RestFast > p.Rest) {
			t.Fatalf("targets %v to %v, rest %v to %v", p.Slow, p.Fast, p.Rest, p.RestFast)
		}
		r, err := table.Review(p.Swims(), pool)
		if err != nil || len(r.Repeats) != s.Repeats {
			t.Fatalf("%v, %v", r, err)
		}
		if r.Repeats[0].Zone != z.Name && float64(z.To.Speed-z.From.Speed) > 1e-8 {
			t.Fatalf("planned in zone %s, judged in %s", z.Name, r.Repeats[0].Zone)
		}
		if !within(r.Pace.OverSet, 0, 1e-6) {
			t.Fatalf("even repeats drift by %v", r.Pace.OverSet)
		}
		for _, shares := range [][]zones.Share{r.Distribution.Zones, r.Distribution.Three[:]} {
			var time time.Duration
			var distance, share float64
			for _, x := range shares {
				time += x.Time
				distance += float64(x.Distance)
				share += x.TimeShare
			}
			if time != r.Distribution.Time || !within(distance, float64(p.Distance), 1e-9*float64(p.Distance)) || !within(share, 1, 1e-12) {
				t.Fatalf("zones add up to %v, %v m, %v; want %v, %v", time, distance, share, r.Distribution.Time, p.Distance)
			}
		}
	})
}
