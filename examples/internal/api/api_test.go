package api_test

import (
	"bytes"
	"errors"
	"flag"
	"go/ast"
	"go/build"
	"go/doc"
	"go/doc/comment"
	"go/format"
	"go/parser"
	"go/token"
	"io/fs"
	"iter"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write testdata/api anew")

const (
	module = "example.com/steptest"
	root   = "../../.."
)

// What every package exports is what testdata/api says. Where a change is
// meant:
//
//	go test ./examples/internal/api -update
//
// and CHANGELOG.md says what a caller has to change. The files hold
// declarations as go doc -all prints them, without the prose, which is printed
// differently from one version of Go to the next.
func TestExported(t *testing.T) {
	dir := filepath.Join(root, "testdata", "api")
	got := map[string]string{}
	for _, path := range packages(t) {
		got[strings.ReplaceAll(path, "/", "-")+".txt"] = exported(t, path)
	}
	if *update {
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range got {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	want := map[string]string{}
	files, err := filepath.Glob(filepath.Join(dir, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		want[filepath.Base(f)] = strings.ReplaceAll(string(text), "\r\n", "\n")
	}
	if len(got) < 5 {
		t.Fatalf("found %d packages", len(got))
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("what the library exports has changed (-written down, +now); if that is meant: go test ./examples/internal/api -update\n%s", d)
	}
}

// comments yields the name and the doc comment of everything that a package exports, with the
// comments inside groups of values or without.
func comments(p *doc.Package, inside bool) iter.Seq2[string, string] {
	return func(yield func(name, text string) bool) {
		all := map[string]string{}
		funcs := func(of string, fs []*doc.Func) {
			for _, f := range fs {
				all[of+f.Name] = f.Doc
			}
		}
		values := func(vs []*doc.Value) {
			for _, v := range vs {
				all[v.Names[0]] = v.Doc
				if inside {
					all[v.Names[0]] += documented(v.Decl)
				}
			}
		}
		funcs("", p.Funcs)
		values(slices.Concat(p.Consts, p.Vars))
		for _, typ := range p.Types {
			all[typ.Name] = typ.Doc
			funcs(typ.Name+".", slices.Concat(typ.Funcs, typ.Methods))
			values(slices.Concat(typ.Consts, typ.Vars))
		}
		for _, name := range sorted(all) {
			if !yield(name, all[name]) {
				return
			}
		}
	}
}

// Every type, function, method and group of constants has a doc comment, or is
// a method that an interface of the standard library or of Method asks for.
func TestDocumented(t *testing.T) {
	known := []string{"String", "Error", "Unwrap"}
	for _, path := range packages(t) {
		p := load(t, path)
		if p.Doc == "" {
			t.Errorf("package %s has no doc comment", path)
		}
		for name, text := range comments(p, true) {
			if strings.TrimSpace(text) == "" && !slices.Contains(known, name[strings.LastIndexByte(name, '.')+1:]) {
				t.Errorf("%s: %s has no doc comment", path, name)
			}
		}
	}
}

// A doc comment links to packages and names that exist: [m/s] in prose would be a
// link to a package m/s.
func TestLinks(t *testing.T) {
	for _, path := range packages(t) {
		p := load(t, path)
		check := func(name, text string) {
			for _, l := range links(p.Parser().Parse(text).Content) {
				if l.ImportPath == "" || strings.HasPrefix(l.ImportPath, module+"/") {
					continue
				}
				if first, _, _ := strings.Cut(l.ImportPath, "/"); strings.Contains(first, ".") {
					continue // imported by the package, or not a link
				}
				if _, err := build.Import(l.ImportPath, "", build.FindOnly); err != nil {
					t.Errorf("%s: %s links to a package %s", path, name, l.ImportPath)
				}
			}
		}
		check("the package", p.Doc)
		for name, text := range comments(p, false) { // those inside stand as code, without links
			check(name, text)
		}
	}
}

func links(blocks []comment.Block) (out []*comment.DocLink) {
	for _, b := range blocks {
		switch b := b.(type) {
		case *comment.Paragraph:
			for _, x := range b.Text {
				if l, ok := x.(*comment.DocLink); ok {
					out = append(out, l)
				}
			}
		case *comment.List:
			for _, it := range b.Items {
				out = append(out, links(it.Content)...)
			}
		}
	}
	return out
}

// documented returns the comments of a group whose every member has one.
func documented(d *ast.GenDecl) (all string) {
	for _, s := range d.Specs {
		v, ok := s.(*ast.ValueSpec)
		if !ok || v.Doc == nil && v.Comment == nil {
			return ""
		}
		all += v.Doc.Text() + v.Comment.Text()
	}
	return all
}

// packages returns the import paths of the library, relative to the module.
func packages(t *testing.T) []string {
	t.Helper()
	found := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := d.Name(); d.IsDir() && path != root && (name[0] == '.' || name == "testdata" || name == "internal" || name == "examples") {
			return fs.SkipDir
		}
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			rel, err := filepath.Rel(root, filepath.Dir(path))
			found[filepath.ToSlash(rel)] = true
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return slices.Sorted(maps.Keys(found))
}

var fset = token.NewFileSet()

// load reads a package anew: exported takes its comments off.
func load(t *testing.T, path string) *doc.Package {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(path), "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	var errs []error
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
		files, errs = append(files, f), append(errs, err)
	}
	if err := errors.Join(errs...); err != nil {
		t.Fatal(err)
	}
	p, err := doc.NewFromFiles(fset, files, module+"/"+path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// exported prints the declarations of a package.
func exported(t *testing.T, path string) string {
	p := load(t, path)
	var b bytes.Buffer
	b.WriteString("package " + p.Name + " // import \"" + p.ImportPath + "\"\n")
	print := func(n ast.Node) {
		b.WriteString("\n")
		if err := format.Node(&b, fset, bare(n)); err != nil {
			t.Fatal(err)
		}
		b.WriteString("\n")
	}
	values := func(vs []*doc.Value) {
		for _, v := range vs {
			print(v.Decl)
		}
	}
	funcs := func(fs []*doc.Func) {
		for _, f := range fs {
			print(f.Decl)
		}
	}
	values(p.Consts)
	values(p.Vars)
	funcs(p.Funcs)
	for _, typ := range p.Types {
		print(typ.Decl)
		values(typ.Consts)
		values(typ.Vars)
		funcs(typ.Funcs)
		funcs(typ.Methods)
	}
	// Blank lines inside a declaration are where comments were.
	return squeeze(b.String())
}

// bare takes comments and function bodies off a declaration.
func bare(n ast.Node) ast.Node {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			n.Doc = nil
		case *ast.FuncDecl:
			n.Doc, n.Body = nil, nil
		case *ast.Field:
			n.Doc, n.Comment = nil, nil
		case *ast.ValueSpec:
			n.Doc, n.Comment = nil, nil
		case *ast.TypeSpec:
			n.Doc, n.Comment = nil, nil
		}
		return true
	})
	return n
}

// squeeze leaves out blank lines that are followed by an indented one.
func squeeze(s string) string {
	lines := strings.Split(s, "\n")
	out := lines[:0]
	for i, l := range lines {
		if l == "" && i+1 < len(lines) && (strings.HasPrefix(lines[i+1], "\t") || strings.HasPrefix(lines[i+1], "}") || strings.HasPrefix(lines[i+1], ")")) {
			continue
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n")
}
