package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

//go:embed static
var static embed.FS

// build compiles the computing and puts the page together.
//
// Everything is inside index.html: a browser that opens a file from a disk lets it
// neither fetch another nor start a worker from one. The policy in its head allows the
// one script by its hash, the worker that it makes, and no connection at all.
func build() (map[string][]byte, error) {
	code, err := compile()
	if err != nil {
		return nil, err
	}
	glue, err := wasmExec()
	if err != nil {
		return nil, err
	}
	text := func(name string) string {
		b, e := static.ReadFile("static/" + name)
		if e != nil && err == nil {
			err = e
		}
		return string(b)
	}
	script := text("store.js") + text("page.js") + text("screens.js")
	sum := sha256.Sum256([]byte(script))
	page := strings.NewReplacer(
		"{{style}}", text("style.css"),
		"{{script}}", script,
		"{{hash}}", "sha256-"+base64.StdEncoding.EncodeToString(sum[:]),
		"{{icon}}", base64.StdEncoding.EncodeToString([]byte(text("icon.svg"))),
		"{{worker}}", strings.ReplaceAll(glue+text("worker.js"), "</", "<\\/"),
		"{{code}}", code,
	).Replace(text("index.html"))
	hash := sha256.Sum256([]byte(page))
	version := strings.NewReplacer("{{version}}", fmt.Sprintf("%x", hash[:8]))
	files := map[string][]byte{
		"index.html":       []byte(version.Replace(page)),
		"offline.js":       []byte(version.Replace(text("offline.js"))),
		"page.webmanifest": []byte(text("page.webmanifest")),
		"icon.svg":         []byte(text("icon.svg")),
	}
	return files, err
}

// compile returns the computing as WebAssembly, compressed, in base64.
func compile() (string, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "page.wasm")
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", file, "example.com/steptest/examples/page/wasm")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("%v: %w\n%s", cmd, err, out)
	}
	code, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return "", err
	}
	if _, err := z.Write(code); err != nil {
		return "", err
	}
	if err := z.Close(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(b.Bytes()), nil
}

// wasmExec returns the script that comes with Go and runs what it compiles.
func wasmExec() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	b, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js"))
	return string(b), err
}
