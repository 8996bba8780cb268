package protocol_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"gonum.org/v1/gonum/stat/distuv"
)

func evenPlan(t fataler, repeats int, first, last time.Duration) protocol.Plan {
	t.Helper()
	return planned(t, protocol.Request{Pool: pace.SCM(), Repeats: repeats, Start: pace.Pace{Time: first / 4, Per: 100}, Best: last})
}

func sixOf400(t fataler) protocol.Plan {
	t.Helper()
	return evenPlan(t, 6, 350*time.Second, 300*time.Second)
}

// The plan is what package forecast makes of its repeats: the same widths, the same
// targets, and everything else of the plan kept. Evidence: D.
func TestPlanIsItsStages(t *testing.T) {
	p := sixOf400(t)
	var stages []lactate.Stage
	for _, r := range p.Repeats {
		v, err := r.Speed()
		if err != nil {
			t.Fatal(err)
		}
		stages = append(stages, lactate.Stage{Intensity: v.MetresPerSecond(), Duration: r.Time})
	}
	out, err := p.Outlook(forecast.Expected{}, lactate.Options{})
	want, err2 := forecast.Of(stages, forecast.Expected{}, lactate.Options{})
	if err != nil || err2 != nil || !reflect.DeepEqual(out, want) {
		t.Errorf("%+v (%v), want %+v (%v)", out, err, want, err2)
	}
	b, err := p.Space(forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	d, err2 := forecast.Space(stages, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	for i, r := range b.Plan.Repeats {
		if r.Time != d.Stages[i].Duration || b.Even.Repeats[i].Time != d.Even[i].Duration || r.AllOut != (i == 5) || r.Distance != 400 {
			t.Errorf("repeat %+v, want a time of %v", r, d.Stages[i].Duration)
		}
	}
	if b.LT1 != d.LT1 || b.LT2 != d.LT2 || b.AsGood != d.AsGood || !slices.Equal(b.Plan.Rest(), p.Rest()) {
		t.Errorf("%+v, want %+v", b, d)
	}
	// The least step is that of the pool: 4 s on 400 yd, and on 400 m.
	for _, pool := range []pace.Pool{pace.SCY(), pace.SCM()} {
		p := planned(t, protocol.Request{Pool: pool, Repeats: 6, Start: pace.Pace{Time: 87500 * time.Millisecond, Per: pool.Per100()}, Best: 300 * time.Second})
		b, err := p.Space(forecast.Expected{}, lactate.Options{}, forecast.Rules{Round: 100 * time.Millisecond})
		if err != nil {
			t.Fatal(err)
		}
		least := time.Hour
		for i := 1; i < 6; i++ {
			least = min(least, b.Plan.Repeats[i-1].Time-b.Plan.Repeats[i].Time)
		}
		if least < 4*time.Second || least > 5*time.Second {
			t.Errorf("%v: a least step of %v, want about 4 s", pool, least)
		}
	}
}

// No answer says why, of repeats; what else is refused is package forecast's.
func TestForecastRefuses(t *testing.T) {
	six, level, blank, mixed := sixOf400(t), sixOf400(t), sixOf400(t), sixOf400(t)
	level.Repeats[3].Time = level.Repeats[2].Time
	blank.Repeats[5].Time = 0
	mixed.Repeats[5].Distance, mixed.Repeats[5].Time = 200, 140*time.Second
	for _, tt := range []struct {
		name string
		plan protocol.Plan
		o    lactate.Options
		says string
		tell bool // Outlook refuses too
	}{
		{"three repeats", evenPlan(t, 3, 350e9, 300e9), lactate.Options{}, "found 3 repeats", true},
		{"nothing", protocol.Plan{}, lactate.Options{}, "found 0 repeats", true},
		{"no target", blank, lactate.Options{}, "repeat 6 has no target", true},
		{"not faster", level, lactate.Options{}, "repeat 4 is not faster", true},
		{"confidence of 2", six, lactate.Options{Confidence: 2}, "onfidence", true},
		{"thirteen repeats", evenPlan(t, 13, 350e9, 300e9), lactate.Options{}, "found 13 repeats", false},
		{"two distances", mixed, lactate.Options{}, "another distance", false},
	} {
		_, err := tt.plan.Outlook(forecast.Expected{}, tt.o)
		if (err != nil) != tt.tell || tt.tell && (!errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), tt.says)) {
			t.Errorf("%s: forecast with error %v", tt.name, err)
		}
		if _, err := tt.plan.Space(forecast.Expected{}, tt.o, forecast.Rules{}); !errors.Is(err, forecast.ErrNoAnswer) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: spacing with error %v, want %q", tt.name, err, tt.says)
		}
		begun := tt.plan.Record()
		if len(begun.Repeats) > 0 {
			begun.Repeats[0].Time = begun.Repeats[0].Target
		}
		if _, err := tt.plan.NextRepeat(begun, forecast.Expected{}, tt.o, forecast.Rules{}); err == nil {
			t.Errorf("%s: a next repeat", tt.name)
		}
	}
}

// A send-off stays a send-off.
func TestSpacingKeepsSendOff(t *testing.T) {
	p := planned(t, protocol.Request{Pool: pace.SCM(), Repeats: 6, Start: pace.Must(pace.ParsePace("1:27.5/100 m")), Best: 300 * time.Second, SendOff: 7 * time.Minute})
	b, err := p.Space(forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range b.Plan.Repeats {
		if r.Leave != time.Duration(i)*7*time.Minute {
			t.Errorf("repeat %d leaves at %v", r.Number, r.Leave)
		}
	}
}

// A record is of the plan from its start on: the error names the repeats. What is
// too fast for those left leads to the last one.
func TestNextRepeatOrder(t *testing.T) {
	p := evenPlan(t, 7, 350e9, 300e9)
	rec := p.Record()
	rec.Repeats[1].Time = 340e9
	if _, err := p.NextRepeat(rec, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "repeat 2 was swum before repeat 1") {
		t.Errorf("out of order: %v", err)
	}
	rec.Repeats[0].Time = 330e9
	if _, err := p.NextRepeat(rec, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "repeat 2 was not faster") {
		t.Errorf("slower: %v", err)
	}
	rec.Repeats[0].Time, rec.Repeats[1].Time = 302e9, 0
	a, err := p.NextRepeat(rec, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || !a.Next.AllOut || !a.Enough {
		t.Errorf("nearly at the end: %+v, error %v", a, err)
	}
	if a.Next.Leave != p.Repeats[1].Leave-(p.Repeats[0].Time-302*time.Second) {
		t.Errorf("the last leaves at %v, the second was to leave at %v", a.Next.Leave, p.Repeats[1].Leave)
	}
	other := p.Record()
	other.Pool = pace.SCY()
	if _, err := p.NextRepeat(other, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); !errors.Is(err, forecast.ErrNoAnswer) {
		t.Errorf("a record from another pool: %v", err)
	}
}

// The first repeat of a plan from a best alone lies below LT1 for most swimmers that
// package forecast believes in: at a rate of 15.6 per m/s give or take a factor of
// 1.41, an exponential from 1.1 to 9 mmol/L is half a mmol/L above its asymptote there.
// LT2 lies seven tenths of the way up. Evidence: D.
func TestFirstRepeatLiesBelowLT1(t *testing.T) {
	for _, c := range []struct {
		pool pace.Pool
		best time.Duration
	}{{pace.SCM(), 296e9}, {pace.SCY(), 250e9}, {pace.LCM(), 340e9}} {
		p := planned(t, protocol.Request{Pool: c.pool, Repeats: 6, Best: c.best})
		first, _ := p.Repeats[0].Speed()
		last, _ := p.Repeats[5].Speed()
		least := math.Log((9-1.1)/0.5) / float64(last-first) // the rate of the swimmer whose LT1 is the first repeat
		share := distuv.UnitNormal.Survival(math.Log(least/math.Sqrt(11*22)) / (math.Log(2) / 2))
		out, err := p.Outlook(forecast.Expected{}, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		up := float64((1/first - 1/pace.Speed(out.LT2.Speed.Value)) / (1/first - 1/last))
		t.Logf("%v from %v: below LT1 for %.0f %%, LT2 %.2f of the way up", c.best, p.Repeats[0].Time, 100*share, up)
		if !(share >= 2./3) || !(math.Abs(up-0.7) <= 0.05) {
			t.Errorf("%v from %v: below LT1 for %.2f, LT2 %.2f of the way up", c.best, p.Repeats[0].Time, share, up)
		}
	}
}

// A sample is expected where forecast.Sample expects it. Evidence: D.
func TestExpectedSample(t *testing.T) {
	p := sixOf400(t)
	rec := p.Record()
	for i, y := range []float64{1.2, 1.4, 9.9} {
		rec.Repeats[i].Time, rec.Repeats[i].Lactate = p.Repeats[i].Time, y
	}
	e, err := p.ExpectedSample(rec, 3, forecast.Expected{}, lactate.Options{Confidence: 0.99})
	if err != nil || !(e.Low > 0.5 && e.Low < e.Value && e.Value < e.High && e.High < 9) {
		t.Errorf("%+v, %v", e, err)
	}
	for _, number := range []int{0, 4, 9} {
		if _, err := p.ExpectedSample(rec, number, forecast.Expected{}, lactate.Options{}); !errors.Is(err, forecast.ErrNoAnswer) {
			t.Errorf("repeat %d: %v", number, err)
		}
	}
	if len(rec.Repeats) != 6 {
		t.Errorf("the record has %d repeats left", len(rec.Repeats))
	}
}
