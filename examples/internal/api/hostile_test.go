package api_test

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

var long = flag.Bool("long", false, "call every function far more often")

// patience is how long one call may take [s] on a machine that others use too.
const patience = 30 * time.Second

// Every exported function and method is called with zero, undefined, infinite,
// negative, huge and ordinary values in all places at random, and with values made
// by hand that no function returned. No call panics, and none goes on for long.
func TestHostileCalls(t *testing.T) {
	calls := 80
	if *long {
		calls = 5000
	}
	total := 0
	try := func(name string, f reflect.Value) {
		t.Run(name, func(t *testing.T) {
			seed := fnv.New64()
			seed.Write([]byte(name))
			h := hostile{rand.New(rand.NewPCG(18, seed.Sum64()))}
			for range calls {
				total++
				if !h.call(t, f) {
					return
				}
			}
		})
	}
	for _, name := range sorted(hostileFunctions) {
		if f := hostileFunctions[name]; f != nil {
			try(name, reflect.ValueOf(f))
		}
	}
	for _, name := range sorted(hostileTypes) {
		typ := reflect.PointerTo(hostileTypes[name])
		for i := range typ.NumMethod() {
			m := typ.Method(i)
			try(name+"."+m.Name, m.Func)
		}
	}
	if total == 0 {
		t.Error("nothing was called")
	}
}

func sorted[V any](m map[string]V) []string {
	var names []string
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// call calls f once; it reports whether that went well.
func (h hostile) call(t *testing.T, f reflect.Value) bool {
	t.Helper()
	typ := f.Type()
	args := make([]reflect.Value, typ.NumIn())
	for i := range args {
		args[i] = h.value(typ.In(i), 0)
		if i == 0 && args[i].Kind() == reflect.Pointer && args[i].IsNil() {
			args[i] = reflect.New(typ.In(0).Elem()) // a receiver, or an analysis
		}
	}
	type outcome struct {
		panicked any
		said     []string // words of errors
		stack    []byte
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			if o.panicked = recover(); o.panicked != nil {
				o.stack = debug.Stack()
			}
			done <- o
		}()
		call := f.Call
		if typ.IsVariadic() {
			call = f.CallSlice
		}
		for _, out := range call(args) {
			o.said = append(o.said, h.use(out)...)
		}
	}()
	said := func() string {
		var b strings.Builder
		for _, a := range args {
			s := func() (s string) {
				defer func() {
					if recover() != nil {
						s = "(unprintable)"
					}
				}()
				return fmt.Sprintf("%+v", a.Interface())
			}()
			if len(s) > 1000 {
				s = s[:1000] + "…"
			}
			b.WriteString("\n\t" + s)
		}
		return b.String()
	}
	select {
	case o := <-done:
		if o.panicked != nil {
			t.Errorf("panic: %v\nfor%s\n%s", o.panicked, said(), o.stack)
			return false
		}
		for _, s := range o.said {
			if why := unfit(s); why != "" {
				t.Errorf("an error %s: %.2000q\nfor%s", why, s, said())
				return false
			}
		}
	case <-time.After(patience):
		t.Errorf("no end after %v\nfor%s", patience, said())
		return false
	}
	return true
}

// unfit says what keeps the words of an error from being shown as they are.
func unfit(s string) string {
	switch {
	case slices.ContainsFunc(strings.Split(s, "\n"), func(line string) bool { return len(line) > 5000 }): // one for each fault
		return "is too long"
	case !utf8.ValidString(s):
		return "is not UTF-8"
	case strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' || unicode.Is(unicode.Bidi_Control, r) }):
		return "has control characters"
	}
	return ""
}

// use does with a result what a caller would: errors are read, iterators are ranged
// over. It returns the words of the errors.
func (h hostile) use(v reflect.Value) (said []string) {
	if !v.IsValid() || !v.CanInterface() {
		return nil
	}
	if err, ok := v.Interface().(error); ok && err != nil {
		said = append(said, err.Error())
	}
	if v.Kind() == reflect.Func && v.Type().CanSeq2() && !v.IsNil() {
		n := 0
		for _, value := range v.Seq2() {
			said = append(said, h.use(value)...)
			if n++; n > 100 {
				break
			}
		}
	}
	return said
}

// The tables name every exported function, and every exported type with exported
// methods.
func TestHostileTablesAreComplete(t *testing.T) {
	functions, types := map[string]bool{}, map[string]bool{}
	for _, path := range packages(t) {
		p := load(t, path)
		for _, f := range p.Funcs {
			functions[path+"."+f.Name] = true
		}
		for _, typ := range p.Types {
			for _, f := range typ.Funcs {
				functions[path+"."+f.Name] = true
			}
			if len(typ.Methods) > 0 {
				types[path+"."+typ.Name] = true
			}
		}
	}
	if len(functions) < 50 || len(types) < 50 {
		t.Fatalf("found %d functions and %d types: the search is wrong", len(functions), len(types))
	}
	for _, name := range sorted(functions) {
		if _, ok := hostileFunctions[name]; !ok {
			t.Errorf("hostileFunctions lacks %s", name)
		}
	}
	for _, name := range sorted(types) {
		if _, ok := hostileTypes[name]; !ok {
			t.Errorf("hostileTypes lacks %s", name)
		}
	}
	for _, name := range sorted(hostileFunctions) {
		if !functions[name] {
			t.Errorf("hostileFunctions has %s, which does not exist", name)
		}
	}
	for _, name := range sorted(hostileTypes) {
		if reflect.PointerTo(hostileTypes[name]).NumMethod() == 0 {
			t.Errorf("hostileTypes has %s, which has no methods", name)
		}
	}
}
