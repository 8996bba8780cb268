package api_test

import (
	"context"
	"errors"
	"io"
	"iter"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// hostile makes values that no caller should pass, and some that one should.
type hostile struct{ *rand.Rand }

func pick[T any](h hostile, vs ...T) T { return vs[h.IntN(len(vs))] }

// value returns a value of the type; depth is how deep it lies in another.
func (h hostile) value(t reflect.Type, depth int) reflect.Value {
	if made, ok := h.known(t); ok {
		return made
	}
	v := reflect.New(t).Elem()
	switch t.Kind() {
	case reflect.Bool:
		v.SetBool(h.IntN(2) == 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n := pick(h, 0, 0, 1, 2, 3, 6, 100, 120, 400, -1, math.MaxInt64, math.MinInt64, int64(h.Uint64()), int64(time.Second), int64(5*time.Minute), int64(h.IntN(400))*int64(time.Second))
		v.SetInt(n)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(pick(h, 0, 1, 2, h.Uint64(), math.MaxUint64))
	case reflect.Float32, reflect.Float64:
		v.SetFloat(h.float())
	case reflect.String:
		v.SetString(h.text())
	case reflect.Slice:
		n := pick(h, 0, 0, 1, 2, 3, 6, 8)
		if n == 0 && h.IntN(2) == 0 || depth > 5 {
			return v
		}
		v.Set(reflect.MakeSlice(t, n, n))
		for i := range n {
			v.Index(i).Set(h.value(t.Elem(), depth+1))
		}
	case reflect.Array:
		for i := range t.Len() {
			v.Index(i).Set(h.value(t.Elem(), depth+1))
		}
	case reflect.Map:
		if h.IntN(3) > 0 && depth < 5 {
			v.Set(reflect.MakeMap(t))
			v.SetMapIndex(h.value(t.Key(), depth+1), h.value(t.Elem(), depth+1))
		}
	case reflect.Pointer:
		if depth < 5 && h.IntN(5) > 0 {
			v.Set(reflect.New(t.Elem()))
			v.Elem().Set(h.value(t.Elem(), depth+1))
		}
	case reflect.Struct:
		if h.IntN(6) == 0 {
			return v
		}
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				v.Field(i).Set(h.value(t.Field(i).Type, depth+1))
			}
		}
	case reflect.Func:
		if h.IntN(3) == 0 {
			return v
		}
		v.Set(reflect.MakeFunc(t, func([]reflect.Value) []reflect.Value {
			out := make([]reflect.Value, t.NumOut())
			for i := range out {
				out[i] = h.value(t.Out(i), depth+1)
			}
			return out
		}))
	}
	return v
}

func (h hostile) float() float64 {
	switch h.IntN(3) {
	case 0: // about what a step test has
		return pick(h, 1.1, 1.2, 1.3, 1.4, 2, 4, 8, 0.9, 0.5, 150, 100, 12, h.Float64(), 1+h.Float64(), 10*h.Float64())
	case 1:
		return pick(h, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 1e300, -1e-300, 1e18, math.Copysign(0, -1), -1, 1e-9)
	}
	return 0
}

func (h hostile) text() string {
	return pick(h, "", "", "x", "m/s", "W", "km/h", "Ann", "2", "4+5", "\x00\x1b[31m", "\u202eabc", "a\nb\r\n", "=1+1", "%d%s{stage}{1}", "\xff\xfe", strings.Repeat("long ", 6000),
		"4 mmol/L", "0.95 LT2", "87 %HRmax", "1e999 LT2", "5:32.4", "99999999999999999999:00", "1:21.6/100 yd", "25 yd", "50 m", "1e9 m", "1.4 m/s",
		"swimmer,date,pool,distance,repeat,time,lactate\nAnn,2025-01-18,25 yd,400,1,5:51.7,1.5\nAnn,2025-01-18,25 yd,400,99999999999,5:51.7,NaN\n\"",
		"day,repeats,distance,zone,rest,swum\nMonday,4,200,2,0:20,2:42 2:41\nMonday,1000000000,200,2,0:20,\n",
		`{"repeats":[{"repeat":9000000000000000000,"time_ns":-9223372036854775808}]}`, `{"faults":[null]}`, `{"set":{"repeats":-1}}`, `{"value":1e308,"low_open":true}`, `{"zones":[{}]}`, `"25 yd"`, "null", "[]", "{}")
}

// hostileReal are values that the library returned, by their type, and the test they are of.
var hostileReal = sync.OnceValues(func() (test lactate.Test, real map[reflect.Type]reflect.Value) {
	test = lactate.Test{Rest: 1, Stages: []lactate.Stage{
		{Intensity: 1.10, Lactate: 1.2, HeartRate: 120}, {Intensity: 1.15, Lactate: 1.3, HeartRate: 130}, {Intensity: 1.20, Lactate: 1.7, HeartRate: 140},
		{Intensity: 1.25, Lactate: 2.6, HeartRate: 150}, {Intensity: 1.30, Lactate: 4.4, HeartRate: 160}, {Intensity: 1.35, Lactate: 8.1, HeartRate: 170}}}
	real = map[reflect.Type]reflect.Value{}
	add := func(v any, err error) {
		if err != nil {
			panic(err)
		}
		real[reflect.TypeOf(v)] = reflect.ValueOf(v)
	}
	o := lactate.Options{Resamples: 100}
	day := time.Date(2025, 1, 18, 0, 0, 0, 0, time.UTC)
	dated := []lactate.DatedTest{{Date: day, Test: test}, {Date: day.AddDate(0, 0, 42), Test: test}}
	add(lactate.Analyze(test, o))
	add(lactate.Compare(test, test, lactate.CompareOptions{Options: o}))
	add(lactate.FollowSeason(dated, lactate.CompareOptions{Options: o}))
	add(heartrate.Fit(test, heartrate.Options{}))
	add(zones.ThreeZone().Apply(zones.Profile{LT1: zones.Threshold{Speed: 1.2}, LT2: zones.Threshold{Speed: 1.28}}))
	add(protocol.NewPlan(protocol.Request{Pool: pace.SCY(), Repeats: 6, Start: pace.Pace{Time: 90 * time.Second, Per: 100 * pace.Yard}}))
	m, err := between.New(dated, between.Options{})
	add(m, err)
	f, err := m.Follow([]between.Reading{{Date: day.AddDate(0, 0, 14), Intensity: 1.27, Lactate: 3, Kind: "a"}, {Date: day.AddDate(0, 0, 20), Intensity: 1.28, Lactate: 3.4, Kind: "a"}})
	add(f, err)
	return test, real
})

func returning[T any](v T) reflect.Value { return reflect.ValueOf(&v).Elem() }

// known makes the types that are not made field by field.
func (h hostile) known(t reflect.Type) (v reflect.Value, ok bool) {
	test, reals := hostileReal()
	real := h.IntN(2) == 0
	if v, ok := reals[t]; ok && real {
		return v, true
	}
	switch t {
	case reflect.TypeFor[lactate.Test]():
		if real {
			c := test
			c.Stages = append([]lactate.Stage(nil), c.Stages...)
			if h.IntN(2) == 0 {
				c.Stages[h.IntN(6)] = h.value(reflect.TypeFor[lactate.Stage](), 1).Interface().(lactate.Stage)
			}
			return returning(c), true
		}
	case reflect.TypeFor[pace.Pool]():
		return returning(pick(h, pace.Pool{}, pace.SCY(), pace.SCM(), pace.LCM())), true
	case reflect.TypeFor[time.Time]():
		return returning(pick(h, time.Time{}, time.Date(2025, 1, 18, 0, 0, 0, 0, time.UTC), time.Date(2025, 3, 1, 0, 0, 0, 0, time.UTC), time.Unix(math.MaxInt64, 0), time.Unix(math.MinInt64, 0), time.Date(99999, 1, 1, 0, 0, 0, 0, time.UTC))), true
	case reflect.TypeFor[vg.Length]():
		return returning(pick(h, 0, 0, 0, 12*vg.Centimeter, vg.Length(h.float()))), true
	case reflect.TypeFor[draw.Canvas]():
		return returning(draw.New(vgimg.New(10*vg.Centimeter, 10*vg.Centimeter))), true
	case reflect.TypeFor[error]():
		return returning(pick(h, nil, errors.New("hostile"), io.EOF)), true
	case reflect.TypeFor[context.Context]():
		ctx, cancel := context.WithCancel(context.Background())
		if real {
			cancel()
		} else {
			time.AfterFunc(time.Minute, cancel)
		}
		return returning(ctx), true
	case reflect.TypeFor[io.Reader]():
		return returning[io.Reader](strings.NewReader(h.text())), true
	case reflect.TypeFor[io.Writer]():
		return returning(pick(h, io.Discard, io.Writer(failing{}))), true
	case reflect.TypeFor[any]():
		return returning(pick[any](h, nil, 1, math.NaN(), "x", []int{1})), true
	case reflect.TypeFor[lactate.Curve](), reflect.TypeFor[interp.FittablePredictor]():
		v := reflect.New(t).Elem()
		if c := h.curve(); c != nil {
			v.Set(reflect.ValueOf(c))
		}
		return v, true
	case reflect.TypeFor[lactate.Method]():
		return returning(h.method()), true
	case reflect.TypeFor[func() lactate.Curve]():
		kind := h.IntN(8)
		return returning(pick(h, nil, nil, func() lactate.Curve {
			c := hostile{rand.New(rand.NewPCG(1, uint64(kind)))}
			return c.curve()
		})), true
	case reflect.TypeFor[iter.Seq2[string, lactate.Test]]():
		tests := make([]lactate.Test, h.IntN(80))
		for i := range tests {
			tests[i] = h.value(reflect.TypeFor[lactate.Test](), 1).Interface().(lactate.Test)
		}
		return returning(iter.Seq2[string, lactate.Test](func(yield func(string, lactate.Test) bool) {
			for _, test := range tests {
				if !yield("", test) {
					return
				}
			}
		})), true
	case reflect.TypeFor[*rand.Rand]():
		return returning(rand.New(rand.NewPCG(h.Uint64(), 0))), true
	case reflect.TypeFor[*curve.Convex](): // what Draw fills in
		return returning(new(curve.Convex)), true
	case reflect.TypeFor[[]byte]():
		return returning([]byte(h.text())), true
	}
	return reflect.Value{}, false
}

func (h hostile) curve() lactate.Curve {
	c := pick[lactate.Curve](h, nil, new(curve.Convex), new(curve.Exponential), &curve.Polynomial{Degree: pick(h, 0, 1, 2, 5, -1, math.MaxInt)}, new(curve.BrokenLine), new(curve.ThreeLine), undefined{})
	if c != nil && h.IntN(2) == 0 {
		_ = c.Fit([]float64{1, 1.1, 1.2, 1.3, 1.4, 1.5}, []float64{1, 1.1, 1.3, 2, 4, 8})
	}
	return c
}

func (h hostile) method() lactate.Method {
	types := []reflect.Type{
		reflect.TypeFor[lactate.AboveBaseline](), reflect.TypeFor[lactate.AboveLowestEquivalent](), reflect.TypeFor[lactate.FirstTurnPoint](),
		reflect.TypeFor[lactate.Fixed](), reflect.TypeFor[lactate.FixedSlope](), reflect.TypeFor[lactate.LogLog](), reflect.TypeFor[lactate.LogLogMaxDistance](),
		reflect.TypeFor[lactate.LowestLactateEquivalent](), reflect.TypeFor[lactate.MaxDistance](), reflect.TypeFor[lactate.ModifiedMaxDistance](),
		reflect.TypeFor[lactate.ObservedRise](), reflect.TypeFor[lactate.RecoveryTangent](), reflect.TypeFor[lactate.SecondTurnPoint](), reflect.TypeFor[lactate.TwoSpeed](),
		reflect.TypeFor[incomparable](),
	}
	i := h.IntN(len(types) + 3)
	if i >= len(types) {
		return nil
	}
	return h.value(types[i], 1).Interface().(lactate.Method)
}

// failing is a full disk.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// undefined is a curve without a number anywhere.
type undefined struct{}

func (undefined) Fit(_, _ []float64) error { return nil }
func (undefined) Predict(float64) float64  { return math.NaN() }

// incomparable is a method that cannot be compared by ==.
type incomparable struct{ Levels []float64 }

func (m incomparable) Locate(lactate.Test, lactate.Curve) (float64, error) {
	if len(m.Levels) == 0 {
		return 0, errors.New("nothing to look for")
	}
	return m.Levels[0], nil
}

func (m incomparable) String() string { return "incomparable" }
