package clean_test

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"example.com/steptest/lactate/internal/clean"
)

// D: what is shown has no way to move the cursor, to colour what follows, to start a
// line of its own, or to turn the order of what follows.
func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Robin Vale":                "Robin Vale",
		"Zoë  Ó’Neill":              "Zoë Ó’Neill",
		"a\x1b[2Jb\x07":             "a [2Jb",
		"a\r\nb\tc":                 "a b c",
		"a\u2028b\u2029c\u0085d":    "a b c d",
		"abc\u202etset\u202c":       "abctset",
		"\u2066a\u2069\u200f\ufeff": "a",
		"\xff\xfea":                 "\ufffda",
	} {
		if got := clean.Line(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if got := clean.Text("a\n\r b"); got != "a\n  b" {
		t.Errorf("%q", got)
	}
	for _, c := range []struct {
		in   string
		most int
		want string
	}{{"abc", 3, "abc"}, {"abcd", 3, "abc…"}, {"äöüß", 3, "äöü…"}, {"", 3, ""}} {
		if got := clean.Short(c.in, c.most); got != c.want {
			t.Errorf("%q to %d: %q, want %q", c.in, c.most, got, c.want)
		}
	}
}

// D: every public package of the module is known, before an error and each of its lines;
// what follows is left alone.
func TestBare(t *testing.T) {
	seen := 0
	err := fs.WalkDir(os.DirFS("../../.."), ".", func(p string, d fs.DirEntry, err error) error {
		switch name := path.Base(p); {
		case err != nil || !d.IsDir() || p == ".":
			return err
		case strings.HasPrefix(name, "."), name == "internal", name == "testdata", name == "examples":
			return fs.SkipDir
		default:
			seen++
			if got := clean.Bare(errors.New(name + ": lactate: a: pace: b\n" + name + ": c")); got != "a: pace: b\nc" {
				t.Errorf("%s: %q", p, got)
			}
		}
		return nil
	})
	if err != nil || seen < 10 {
		t.Errorf("%d packages, %v", seen, err)
	}
}

func TestCapital(t *testing.T) {
	for in, want := range map[string]string{"": "", "the pools": "The pools", "östlich": "Östlich", "4 mmol/L": "4 mmol/L"} {
		if got := clean.Capital(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
