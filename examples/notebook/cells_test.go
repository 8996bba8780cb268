package notebook_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// show is the part of the program that is not in the cells: it writes what a
// value shows as a line of JSON.
const show = `
func show(cell int, v any) {
	data := map[string]string{"text/plain": fmt.Sprint(v)}
	if p, ok := v.(interface{ Alt() string }); ok { // a picture
		data["text/plain"] = p.Alt()
	}
	if v, ok := v.(interface{ HTML() string }); ok {
		data["text/html"] = v.HTML()
	}
	if v, ok := v.(interface{ SVG() string }); ok {
		data["image/svg+xml"] = v.SVG()
	}
	if v, ok := v.(interface{ Markdown() string }); ok {
		data["text/markdown"] = v.Markdown()
	}
	if err := json.NewEncoder(os.Stdout).Encode(map[string]any{"cell": cell, "data": data}); err != nil {
		panic(err)
	}
}
`

// program returns the code cells as one program.
func (n *notebook) program() ([]byte, error) {
	imports := map[string]bool{`"encoding/json"`: true, `"fmt"`: true, `"os"`: true}
	var body bytes.Buffer
	var errs []error
	for k, i := range n.code() {
		wrong := func(err error) { errs = append(errs, fmt.Errorf("code cell %d: %w", k+1, err)) }
		src := string(n.Cells[i].Source)
		// Imports stand first; what follows them is the body of a function.
		set := token.NewFileSet()
		head, err := parser.ParseFile(set, "", "package p\n"+src, parser.ImportsOnly)
		if err != nil {
			head, err = new(ast.File), nil
		}
		rest := src
		for _, d := range head.Decls {
			rest = ("package p\n" + src)[set.Position(d.End()).Offset:]
		}
		for _, s := range head.Imports {
			path := s.Path.Value
			if s.Name != nil {
				path = s.Name.Name + " " + path
			}
			imports[path] = true
		}
		const open = "package p\nfunc _() {\n"
		set = token.NewFileSet()
		file, err := parser.ParseFile(set, "", open+rest+"\n}\n", parser.SkipObjectResolution)
		if err != nil {
			wrong(err)
			continue
		}
		stmts := file.Decls[0].(*ast.FuncDecl).Body.List
		text := (open + rest)[len(open):]
		if m := len(stmts); m > 0 {
			if e, ok := stmts[m-1].(*ast.ExprStmt); ok {
				from, to := set.Position(e.Pos()).Offset-len(open), set.Position(e.End()).Offset-len(open)
				text = text[:from] + "show(" + strconv.Itoa(i) + ", " + text[from:to] + ")" + text[to:]
			}
		}
		body.WriteString(text + "\n")
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("package main\n\nimport (\n")
	var paths []string
	for p := range imports {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	b.WriteString(strings.Join(paths, "\n") + "\n)\n" + show + "\nfunc main() {\n" + body.String() + "}\n")
	return format.Source(b.Bytes())
}

// execute builds and runs the program inside the module, without a file of its
// own there, and returns what the cells show.
func (n *notebook) execute(root string) (shown, error) {
	src, err := n.program()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "notebook")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file, overlay := filepath.Join(dir, "main.go"), filepath.Join(dir, "overlay.json")
	virtual := filepath.Join(root, "examples", "notebook", "cells", "main.go")
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{virtual: file}})
	if err != nil {
		return nil, err
	}
	if err := errors.Join(os.WriteFile(file, src, 0o600), os.WriteFile(overlay, replace, 0o600)); err != nil {
		return nil, err
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command("go", "run", "-overlay", overlay, "./examples/notebook/cells")
	cmd.Dir, cmd.Stdout, cmd.Stderr = root, &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("running the cells: %w\n%s", err, stderr.String())
	}
	s := shown{}
	for d := json.NewDecoder(&stdout); ; {
		var line struct {
			Cell int
			Data map[string]string
		}
		err := d.Decode(&line)
		if errors.Is(err, io.EOF) {
			return s, nil
		}
		if err != nil {
			return nil, fmt.Errorf("what the cells print: %w", err)
		}
		s[line.Cell] = line.Data
	}
}
