package api_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"hash/fnv"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/zones"
)

// readBack are the types whose JSON gives the value back.
var readBack = func() map[string]reflect.Type {
	m := map[string]reflect.Type{}
	add := func(pkg string, vs ...any) {
		for _, v := range vs {
			t := reflect.TypeOf(v).Elem()
			m[pkg+"."+t.Name()] = t
		}
	}
	add("pace", new(pace.Best), new(pace.Length), new(pace.Pace), new(pace.Pool), new(pace.Speed))
	add("lactate", new(lactate.Baseline), new(lactate.BandPoint), new(lactate.ChordStart), new(lactate.DatedTest), new(lactate.Ends), new(lactate.Estimate),
		new(lactate.Judgement), new(lactate.LactateMinimumTest), new(lactate.LactateScale), new(lactate.Noise), new(lactate.Peak), new(lactate.RecoverySample),
		new(lactate.Stage), new(lactate.Target), new(lactate.Test), new(lactate.Grade))
	add("lactate/between", new(between.Kind), new(between.Place), new(between.Reading))
	add("lactate/forecast", new(forecast.Expected), new(forecast.Shift), new(forecast.Rules))
	add("lactate/heartrate", new(heartrate.Change))
	add("protocol", new(protocol.Deviation), new(protocol.Fault), new(protocol.Grave), new(protocol.Note), new(protocol.Range), new(protocol.Plan), new(protocol.Record), new(protocol.Repeat), new(protocol.Request), new(protocol.Sample), new(protocol.Target))
	add("protocol/sheet", new(sheet.DateOrder), new(sheet.Reading))
	add("protocol/technique", new(technique.Change), new(technique.Repeat), new(technique.Stroke), new(technique.Trend))
	add("zones", new(zones.Zone), new(zones.Anchor), new(zones.Bound), new(zones.Distribution), new(zones.Drift), new(zones.Edge), new(zones.Judged), new(zones.Part), new(zones.Repeat), new(zones.Review),
		new(zones.Scheme), new(zones.Set), new(zones.Share), new(zones.Threshold), new(zones.Workout), new(zones.PlannedSet), new(zones.Week))
	return m
}()

// D: what a type of readBack writes, it reads, and writes again the same. A value
// that cannot be written is an error.
func TestJSONThereAndBack(t *testing.T) {
	n := 300
	if *long {
		n = 20_000
	}
	for _, name := range sorted(readBack) {
		t.Run(name, func(t *testing.T) {
			seed := fnv.New64()
			seed.Write([]byte(name))
			h := hostile{rand.New(rand.NewPCG(19, seed.Sum64()))}
			typ := readBack[name]
			written := 0
			for range n {
				v := reflect.New(typ)
				v.Elem().Set(h.value(typ, 0))
				first, err := json.Marshal(v.Interface())
				if err != nil {
					if why := unfit(err.Error()); why != "" {
						t.Fatalf("%+v: an error %s: %q", v.Elem(), why, err)
					}
					continue
				}
				written++
				back := reflect.New(typ)
				if err := json.Unmarshal(first, back.Interface()); err != nil {
					t.Fatalf("%.1000s: %v", first, err)
				}
				second, err := json.Marshal(back.Interface())
				if err != nil || !bytes.Equal(first, second) && !reflect.DeepEqual(decoded(t, first), decoded(t, second)) {
					t.Fatalf("%.1000s\nread back and written again is\n%.1000s\n%v", first, second, err)
				}
			}
			if written == 0 {
				t.Error("no value could be written")
			}
		})
	}
}

// decoded is what a text of JSON says: bytes that are no UTF-8 are written in one of two
// ways.
func decoded(t *testing.T, text []byte) (v any) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

// Every exported type with JSON of its own either reads it back, or its doc comment, that
// of MarshalJSON, or the paragraph of the package's that names it says that it does not.
func TestJSONIsSaid(t *testing.T) {
	found := 0
	for _, path := range packages(t) {
		for _, typ := range load(t, path).Types {
			words, has := strings.Join(strings.Fields(typ.Doc), " "), false
			for paragraph := range strings.SplitSeq(load(t, path).Doc, "\n\n") {
				if strings.Contains(paragraph, "["+typ.Name+"]") {
					words += " " + strings.Join(strings.Fields(paragraph), " ")
				}
			}
			for _, m := range typ.Methods {
				if m.Name == "MarshalJSON" || m.Name == "MarshalText" {
					has = true
					words += " " + strings.Join(strings.Fields(m.Doc), " ")
				}
			}
			for _, spec := range typ.Decl.Specs {
				if s, ok := spec.(*ast.TypeSpec).Type.(*ast.StructType); ok {
					for _, f := range s.Fields.List {
						has = has || f.Tag != nil && strings.Contains(f.Tag.Value, "json:")
					}
				}
			}
			name := path + "." + typ.Name
			if !has {
				if readBack[name] != nil && typ.Name != "Anchor" {
					t.Errorf("%s is in readBack, but has no JSON of its own", name)
				}
				continue
			}
			found++
			says := strings.Contains(words, "not read back")
			switch {
			case readBack[name] == nil && !says:
				t.Errorf("%s: nothing says that its JSON is not read back, and readBack lacks it", name)
			case readBack[name] != nil && says:
				t.Errorf("%s says that its JSON is not read back, but readBack has it", name)
			}
		}
	}
	if found < 40 {
		t.Errorf("found %d types with JSON", found)
	}
}
