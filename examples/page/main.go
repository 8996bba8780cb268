// Command page serves the poolside page, or writes it to a folder: the whole loop from
// the plan to the season in a browser, computed there, with no server behind it.
//
//	page [-addr localhost:8437] [-o folder]
//
// Without -o it builds the page and serves it on this machine. With -o it writes files
// for any static host. Of these, index.html alone holds everything: it also works from a
// USB stick. It needs the go command, and runs inside this module.
package main

import (
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	f := flag.NewFlagSet("page", flag.ContinueOnError)
	f.SetOutput(stderr)
	// Browsers keep what is entered by address and port: both stay the same.
	addr := f.String("addr", "localhost:8437", "address to serve the page on")
	folder := f.String("o", "", "write the page into this folder, and serve nothing")
	if err := f.Parse(args); err != nil {
		return 1
	}
	if f.NArg() > 0 {
		fmt.Fprintf(stderr, "page: found the argument %q, want none\n", f.Arg(0))
		return 1
	}
	fmt.Fprintln(stderr, "building the page …")
	files, err := build()
	if err != nil {
		fmt.Fprintln(stderr, "page:", err)
		return 1
	}
	if *folder != "" {
		if err := write(*folder, files); err != nil {
			fmt.Fprintln(stderr, "page:", err)
			return 1
		}
		fmt.Fprintln(stdout, filepath.Join(*folder, "index.html"))
		return 0
	}
	l, err := net.Listen("tcp", *addr)
	if err != nil {
		fmt.Fprintln(stderr, "page:", err)
		return 1
	}
	fmt.Fprintf(stdout, "http://%s/\n", l.Addr())
	s := http.Server{Handler: handler(files), ReadHeaderTimeout: 10 * time.Second}
	fmt.Fprintln(stderr, "page:", s.Serve(l))
	return 1
}

func write(folder string, files map[string][]byte) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// handler serves the files as any static host does.
func handler(files map[string][]byte) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		data, ok := files[name]
		if !ok {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", map[string]string{
			".html": "text/html; charset=utf-8", ".js": "text/javascript", ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml",
		}[filepath.Ext(name)])
		w.Header().Set("Cache-Control", "no-cache")
		_, _ = w.Write(data)
	})
}
