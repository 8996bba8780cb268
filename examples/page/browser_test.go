package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"
)

// browser is a Chromium without a window, driven over its own protocol through a pair
// of pipes.
type browser struct {
	t    *testing.T
	to   io.Writer
	mu   sync.Mutex
	next int
	wait map[int]chan reply
	hear []func(method, session string, params json.RawMessage)
}

type reply struct {
	ID     int             `json:"id"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
	Session string          `json:"sessionId"`
}

// launch starts the browser with an empty profile. Without one the test is skipped, but
// never where CI says that it must run.
func launch(t *testing.T) *browser {
	t.Helper()
	name := ""
	for _, n := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if p, err := exec.LookPath(n); err == nil {
			name = p
			break
		}
	}
	if name == "" {
		if os.Getenv("CI") != "" {
			t.Fatal("no browser found: install chromium")
		}
		t.Skip("no browser found: install chromium")
	}
	commands, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, answers, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(name, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--hide-scrollbars", "--remote-debugging-pipe", "--user-data-dir="+t.TempDir(), "about:blank")
	cmd.ExtraFiles = []*os.File{commands, answers} // 3 and 4 in the browser
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	commands.Close()
	answers.Close()
	b := &browser{t: t, to: to, wait: map[int]chan reply{}}
	done := make(chan struct{})
	go func() {
		b.read(from)
		close(done)
	}()
	t.Cleanup(func() {
		_, _ = b.try("", "Browser.close", nil)
		to.Close()
		select {
		case <-done:
		case <-time.After(5 * time.Second):
			_ = cmd.Process.Kill()
		}
		_ = cmd.Wait()
	})
	return b
}

func (b *browser) read(from io.Reader) {
	in := bufio.NewReader(from)
	for {
		line, err := in.ReadBytes(0)
		if err != nil {
			return
		}
		var r reply
		if json.Unmarshal(line[:len(line)-1], &r) != nil {
			continue
		}
		b.mu.Lock()
		answered, hear := b.wait[r.ID], b.hear
		delete(b.wait, r.ID)
		b.mu.Unlock()
		if r.Method == "" {
			if answered != nil {
				answered <- r
			}
			continue
		}
		for _, f := range hear {
			f(r.Method, r.Session, r.Params)
		}
	}
}

// try sends a command and waits for its answer.
func (b *browser) try(session, method string, params map[string]any) (json.RawMessage, error) {
	answered := make(chan reply, 1)
	b.mu.Lock()
	b.next++
	m := map[string]any{"id": b.next, "method": method}
	b.wait[b.next] = answered
	if params != nil {
		m["params"] = params
	}
	if session != "" {
		m["sessionId"] = session
	}
	line, err := json.Marshal(m)
	if err == nil {
		_, err = b.to.Write(append(line, 0))
	}
	b.mu.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case r := <-answered:
		if r.Error != nil {
			return nil, fmt.Errorf("%s: %s", method, r.Error.Message)
		}
		return r.Result, nil
	case <-time.After(120 * time.Second):
		return nil, errors.New(method + ": no answer in two minutes")
	}
}

func (b *browser) listen(f func(method, session string, params json.RawMessage)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.hear = append(b.hear, f)
}
