package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
)

// A constant nearer to zero than tiny is taken for a tolerance, one farther
// than huge for a limit.
const (
	tiny = 1e-4
	huge = 1e5
)

const (
	kindConstant = "constants"
	kindEdge     = "edges of comparisons"
	kindReverse  = "comparisons reversed"
)

var kinds = []string{kindConstant, kindReverse, kindEdge}

// A change is one thing to alter in a file.
type change struct {
	id         int
	kind       string
	file       *source
	from, to   int    // the expression, as offsets into the file
	left       int    // end of the left operand of a comparison
	right      int    // start of the right one
	op         string // of a comparison
	typ        string // of a constant
	line, col  int
	what, into string
	alone      bool   // in a const declaration: compiled on its own
	within     string // the function, or the constant outside one
}

func (c change) String() string {
	return fmt.Sprintf("%d %s:%d:%d %s → %s", c.id, filepath.Base(c.file.name), c.line, c.col, c.what, c.into)
}

type source struct {
	name string
	text []byte
}

// load finds the changes of a package.
func load(path string) (*pkg, *typeNames, []change, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-json=Dir,ImportPath,Name,GoFiles,TestGoFiles,XTestGoFiles,Export,TestImports,XTestImports,Module", path).Output()
	if err != nil {
		return nil, nil, nil, fmt.Errorf("go list %s: %w", path, err)
	}
	exports := map[string]string{}
	var p pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var q pkg
		if err := dec.Decode(&q); err == io.EOF {
			break
		} else if err != nil {
			return nil, nil, nil, err
		}
		exports[q.ImportPath] = q.Export
		p = q // the package itself comes last
	}
	fset := token.NewFileSet()
	var files []*ast.File
	var sources []*source
	for _, name := range p.GoFiles {
		s := &source{name: filepath.Join(p.Dir, name)}
		if s.text, err = os.ReadFile(s.name); err != nil {
			return nil, nil, nil, err
		}
		f, err := parser.ParseFile(fset, s.name, s.text, parser.SkipObjectResolution)
		if err != nil {
			return nil, nil, nil, err
		}
		files, sources = append(files, f), append(sources, s)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	checked, err := conf.Check(p.ImportPath, fset, files, info)
	if err != nil {
		return nil, nil, nil, err
	}
	var all []change
	names := &typeNames{pkg: checked}
	for i, f := range files {
		v := visitor{fset: fset, info: info, types: names, file: sources[i], out: &all}
		ast.Walk(v, f)
	}
	for i := range all {
		all[i].id = i + 1
	}
	return &p, names, all, nil
}

// A visitor collects the changes below a node.
type visitor struct {
	fset    *token.FileSet
	info    *types.Info
	file    *source
	types   *typeNames
	inConst bool
	within  string
	out     *[]change
}

func (v visitor) Visit(n ast.Node) ast.Visitor {
	switch n := n.(type) {
	case *ast.ArrayType:
		return nil
	case *ast.ImportSpec:
		return nil
	case *ast.FuncDecl:
		v.within = n.Name.Name
	case *ast.GenDecl:
		v.inConst = n.Tok == token.CONST
	case *ast.ValueSpec:
		if v.within == "" {
			v.within = n.Names[0].Name
		}
	case *ast.CallExpr:
		if !counts(n) {
			return nil
		}
	case *ast.ReturnStmt:
		if v.failed(n) {
			return nil
		}
	case *ast.KeyValueExpr:
		ast.Walk(v, n.Value) // a key of an array must be a constant
		return nil
	case *ast.BinaryExpr:
		if v.constant(n) {
			return nil
		}
		v.comparison(n)
	case ast.Expr:
		if v.constant(n) {
			return nil
		}
	}
	return v
}

// counts reports whether the numbers handed to a function matter: of those to
// math.Inf and math.IsInf only the sign does, of make only the time, and
// strconv.ParseFloat takes every size but 32 for 64.
func counts(n *ast.CallExpr) bool {
	switch f := n.Fun.(type) {
	case *ast.Ident:
		return f.Name != "make"
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return !slices.Contains([]string{"math.Inf", "math.IsInf", "strconv.ParseFloat"}, x.Name+"."+f.Sel.Name)
		}
	}
	return true
}

// failed reports whether a return hands over an error, or false, beside numbers
// that then mean nothing.
func (v visitor) failed(n *ast.ReturnStmt) bool {
	if len(n.Results) < 2 {
		return false
	}
	for _, r := range n.Results[:len(n.Results)-1] {
		switch r := r.(type) {
		case *ast.BasicLit:
			if r.Kind == token.STRING {
				return false
			}
		case *ast.Ident:
			if r.Name != "nil" {
				return false
			}
		default:
			return false
		}
	}
	last := n.Results[len(n.Results)-1]
	if id, ok := last.(*ast.Ident); ok && (id.Name == "nil" || id.Name == "true") {
		return false
	}
	t := v.info.Types[last].Type
	return t != nil && (types.Identical(t, types.Universe.Lookup("error").Type()) || types.AssignableTo(t, types.Universe.Lookup("error").Type())) || isFalse(last)
}

func isFalse(e ast.Expr) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == "false"
}

func (v visitor) change(e ast.Expr) change {
	at := v.fset.Position(e.Pos())
	c := change{file: v.file, from: at.Offset, to: v.fset.Position(e.End()).Offset, line: at.Line, col: at.Column, alone: v.inConst, within: v.within}
	c.what = string(v.file.text[c.from:c.to])
	return c
}

// constant takes in an expression whose value is a number known beforehand,
// with a literal in it; it reports whether there is nothing to look at below.
func (v visitor) constant(e ast.Expr) bool {
	tv := v.info.Types[e]
	if tv.Value == nil {
		return false
	}
	b, ok := tv.Type.Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsNumeric == 0 || !hasLiteral(e) {
		return true
	}
	c := v.change(e)
	c.kind = kindConstant
	whole := b.Info()&types.IsInteger != 0
	if f, _ := constant.Float64Val(tv.Value); !whole {
		whole = f == float64(int(f)) && math.Abs(f) < 1000
	}
	c.into = "(" + c.what + ") * 1.5"
	switch f, _ := constant.Float64Val(tv.Value); {
	case types.TypeString(tv.Type, nil) == "time.Duration":
		if f == 0 || f == 1 {
			c.into = "60_000_000_000"
		}
	case whole:
		c.into = "(" + c.what + ") + 1"
	case math.Abs(f) < tiny:
		c.into = "0.01"
	case math.Abs(f) > huge:
		c.into = "1"
	}
	if !c.alone {
		if b.Info()&types.IsUntyped != 0 {
			return true
		}
		if c.typ, c.alone = v.types.name(tv.Type); c.alone {
			c.typ = ""
		}
	}
	*v.out = append(*v.out, c)
	return true
}

func hasLiteral(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind != token.STRING {
			found = true
		}
		return true
	})
	return found
}

// reverse and edge are what becomes of a comparison.
var (
	reverse = map[token.Token]token.Token{token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL}
	edge    = map[token.Token]token.Token{token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR}
)

func (v visitor) comparison(e *ast.BinaryExpr) {
	if _, ok := reverse[e.Op]; !ok {
		return
	}
	for _, x := range []ast.Expr{e.X, e.Y} {
		b, ok := v.info.Types[x].Type.Underlying().(*types.Basic)
		if !ok || b.Info()&types.IsNumeric == 0 {
			return
		}
	}
	for _, into := range []struct {
		kind string
		op   map[token.Token]token.Token
	}{{kindReverse, reverse}, {kindEdge, edge}} {
		op, ok := into.op[e.Op]
		if !ok {
			continue
		}
		c := v.change(e)
		c.kind, c.op = into.kind, e.Op.String()
		c.left, c.right = v.fset.Position(e.X.End()).Offset, v.fset.Position(e.Y.Pos()).Offset
		c.into = string(v.file.text[c.from:c.left]) + " " + op.String() + " " + string(v.file.text[c.right:c.to])
		*v.out = append(*v.out, c)
	}
}

// alone returns the file with one change.
func alone(c change) map[string][]byte {
	t := c.file.text
	return map[string][]byte{c.file.name: slices.Concat(t[:c.from], []byte(c.into), t[c.to:])}
}

// helper is the code that chooses a change while the tests run.
const helper = `
import (
	"cmp"
	"math"
	"os"
	"strconv"
	"time"
)

var mutant = func() int { n, _ := strconv.Atoi(os.Getenv("MUTANT")); return n }()

type mutantNumber interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~float32 | ~float64
}

func mutantConstant[T mutantNumber](id int, v T) T {
	if mutant != id {
		return v
	}
	half := 0.5
	_, isTime := any(v).(time.Duration)
	switch f := float64(v); {
	case isTime && (v == 0 || v == 1):
		minute := float64(time.Minute)
		return T(minute)
	case isTime:
		return T(f * 1.5)
	case T(half) == 0 || f == float64(int(f)) && math.Abs(f) < 1000:
		return v + 1
	case math.Abs(f) < 1e-4:
		hundredth := 0.01
		return T(hundredth)
	case math.Abs(f) > 1e5:
		return 1
	default:
		return T(f * 1.5)
	}
}

func mutantCompare[T cmp.Ordered](id int, op string, a, b T) bool {
	var less, same, more bool
	switch op {
	case "<":
		less = true
	case "<=":
		less, same = true, true
	case ">":
		more = true
	case ">=":
		more, same = true, true
	case "==":
		same = true
	case "!=":
		less, more = true, true
	}
	not := op == "!="
	switch mutant {
	case id:
		less, same, more, not = !less, !same, !more, op == "=="
	case id + 1:
		if op != "==" && op != "!=" {
			same = !same
		}
	}
	return less && a < b || same && a == b || more && a > b || not && a != b
}
`

// together returns the files with every change that can be chosen while the
// tests run.
func together(p *pkg, names *typeNames, all []change) map[string][]byte {
	type edit struct {
		at     int
		closes bool
		size   int // of the expression
		cut    int // bytes to leave out
		text   string
	}
	edits := map[*source][]edit{}
	for _, c := range all {
		if c.alone || c.kind == kindEdge { // the edge comes with its reverse
			continue
		}
		open := fmt.Sprintf("mutantConstant[%s](%d, ", c.typ, c.id)
		if c.op != "" {
			open = fmt.Sprintf("mutantCompare(%d, %s, ", c.id, strconv.Quote(c.op))
			edits[c.file] = append(edits[c.file], edit{at: c.left, cut: c.right - c.left, text: ", ", size: 1 << 30, closes: true})
		}
		edits[c.file] = append(edits[c.file],
			edit{at: c.from, text: open, size: c.to - c.from},
			edit{at: c.to, text: ")", size: c.to - c.from, closes: true})
	}
	files := map[string][]byte{filepath.Join(p.Dir, "mutant.go"): []byte("package " + p.Name + "\n" + names.imports() + helper + names.aliases())}
	for s, es := range edits {
		slices.SortStableFunc(es, func(a, b edit) int {
			if a.at != b.at {
				return cmp.Compare(a.at, b.at)
			}
			if a.closes != b.closes { // what ends here closes first
				if a.closes {
					return -1
				}
				return 1
			}
			if a.closes {
				return cmp.Compare(a.size, b.size)
			}
			return cmp.Compare(b.size, a.size)
		})
		var out bytes.Buffer
		last := 0
		for _, e := range es {
			out.Write(s.text[last:e.at])
			out.WriteString(e.text)
			last = e.at + e.cut
		}
		out.Write(s.text[last:])
		files[s.name] = out.Bytes()
	}
	return files
}
