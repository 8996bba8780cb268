package main

import (
	"fmt"
	"go/types"
	"slices"
	"strings"
)

// typeNames gives each type of a constant a name that holds in every file and
// function of the package: an alias in the file that chooses the changes. A file
// need not import the package of a type that it uses, and may give its name to
// something else.
type typeNames struct {
	pkg   *types.Package
	paths []string // of imported packages
	types []string // that have an alias, as written in the file of aliases
}

// name returns the name of a type; hidden reports that it has none outside its own
// package.
func (n *typeNames) name(t types.Type) (name string, hidden bool) {
	named, ok := t.(interface{ Obj() *types.TypeName })
	if !ok {
		return t.String(), false // a predeclared type
	}
	o := named.Obj()
	switch {
	case o.Pkg() == nil || o.Parent() != o.Pkg().Scope(): // predeclared, or of one function
		return o.Name(), false
	case o.Pkg() != n.pkg && !o.Exported():
		return "", true
	}
	written := o.Name()
	if o.Pkg() != n.pkg {
		written = fmt.Sprintf("mutantPackage%d.%s", position(&n.paths, o.Pkg().Path()), o.Name())
	}
	return fmt.Sprintf("mutantType%d", position(&n.types, written)), false
}

// position returns where s is in the list, and puts it there.
func position(list *[]string, s string) int {
	i := slices.Index(*list, s)
	if i < 0 {
		i = len(*list)
		*list = append(*list, s)
	}
	return i
}

func (n *typeNames) imports() string {
	var b strings.Builder
	for i, path := range n.paths {
		fmt.Fprintf(&b, "import mutantPackage%d %q\n", i, path)
	}
	return b.String()
}

func (n *typeNames) aliases() string {
	var b strings.Builder
	for i, t := range n.types {
		fmt.Fprintf(&b, "type mutantType%d = %s\n", i, t)
	}
	return b.String()
}
