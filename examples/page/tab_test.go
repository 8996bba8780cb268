package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// tab is one page of the browser.
type tab struct {
	t             *testing.T
	b             *browser
	id, session   string
	width, height int
	mu            sync.Mutex
	requests      []string // addresses that were asked for
	faults        []string // what the console and the script complain about
	answer        bool     // to questions that the page asks
}

func (b *browser) open(t *testing.T, width, height int) *tab {
	t.Helper()
	p := &tab{t: t, b: b, width: width, height: height, answer: true}
	var made struct{ TargetID, SessionID string }
	p.decode(p.must("", "Target.createTarget", map[string]any{"url": "about:blank"}), &made)
	p.id = made.TargetID
	p.decode(p.must("", "Target.attachToTarget", map[string]any{"targetId": p.id, "flatten": true}), &made)
	p.session = made.SessionID
	b.listen(p.hear)
	for _, m := range []string{"Page.enable", "Runtime.enable", "Network.enable", "Log.enable"} {
		p.do(m, nil)
	}
	p.do("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 700})
	return p
}

func (p *tab) hear(method, session string, params json.RawMessage) {
	if session != p.session {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	switch method {
	case "Network.requestWillBeSent":
		var e struct{ Request struct{ URL string } }
		if json.Unmarshal(params, &e) == nil {
			p.requests = append(p.requests, e.Request.URL)
		}
	case "Runtime.exceptionThrown":
		p.faults = append(p.faults, string(params))
	case "Log.entryAdded":
		var e struct {
			Definition struct{ Level, Text, URL string }
		}
		if json.Unmarshal(params, &e) == nil && e.Definition.Level == "error" {
			p.faults = append(p.faults, e.Definition.Text+" "+e.Definition.URL)
		}
	case "Page.javascriptDialogOpening":
		go p.b.try(p.session, "Page.handleJavaScriptDialog", map[string]any{"accept": p.answer})
	}
}

func (p *tab) must(session, method string, params map[string]any) json.RawMessage {
	p.t.Helper()
	r, err := p.b.try(session, method, params)
	if err != nil {
		p.t.Fatal(err)
	}
	return r
}

func (p *tab) do(method string, params map[string]any) json.RawMessage {
	p.t.Helper()
	return p.must(p.session, method, params)
}

func (p *tab) decode(data json.RawMessage, into any) {
	p.t.Helper()
	if err := json.Unmarshal(data, into); err != nil {
		p.t.Fatal(err)
	}
}

// eval returns what a script says, as text.
func (p *tab) eval(script string) string {
	p.t.Helper()
	var r struct {
		Result           struct{ Value any }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	p.decode(p.do("Runtime.evaluate", map[string]any{"expression": script, "awaitPromise": true, "returnByValue": true}), &r)
	if e := r.ExceptionDetails; e != nil {
		p.t.Fatalf("%s: %s %s", script, e.Text, e.Exception.Description)
	}
	if r.Result.Value == nil {
		return ""
	}
	return fmt.Sprint(r.Result.Value)
}

// until waits for a script to be true.
func (p *tab) until(script string) {
	p.t.Helper()
	end := time.Now().Add(60 * time.Second)
	for p.eval("(async () => Boolean(await ("+script+")))()") != "true" {
		if time.Now().After(end) {
			p.t.Fatalf("still not true after a minute: %s\n%s\n%s", script, p.eval("document.body.innerText"), strings.Join(p.faults, "\n"))
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// to opens an address and waits for the page to be shown.
func (p *tab) to(url string) {
	p.t.Helper()
	p.do("Page.navigate", map[string]any{"url": url})
	p.settled()
}

func (p *tab) reload() {
	p.t.Helper()
	p.eval("document.body.dataset.old = 1")
	p.do("Page.reload", nil)
	p.until("!document.body?.dataset.old")
	p.settled()
}

// settled waits until the page shows what its address says.
func (p *tab) settled() {
	p.t.Helper()
	p.until(`document.readyState === "complete" && document.getElementById("main")?.dataset.shown && !document.getElementById("main").hasAttribute("aria-busy")`)
}

// see waits for a text on the page.
func (p *tab) see(text string) {
	p.t.Helper()
	p.until(fmt.Sprintf("document.body.innerText.replace(/\\s+/g, ' ').includes(%q)", text))
}

// press clicks the middle of what a script finds, as a finger does.
func (p *tab) press(find string) {
	p.t.Helper()
	p.until(find)
	var at struct{ X, Y float64 }
	p.decode(json.RawMessage(p.eval(fmt.Sprintf(`(() => {
		const e = %s;
		e.scrollIntoView({block: "center", inline: "nearest"});
		const r = e.getBoundingClientRect();
		const x = r.x + r.width / 2, y = r.y + r.height / 2;
		const top = document.elementFromPoint(x, y);
		if (!(e === top || e.contains(top) || top?.contains(e))) throw new Error("covered by " + top?.outerHTML?.slice(0, 200));
		return JSON.stringify({X: x, Y: y});
	})()`, find))), &at)
	for _, kind := range []string{"mousePressed", "mouseReleased"} {
		p.do("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": at.X, "y": at.Y, "button": "left", "clickCount": 1})
	}
}

// named finds a control by its words.
func named(tag, words string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%q)].find(e => (e.getAttribute("aria-label") || e.textContent).trim() === %q)`, tag, words)
}

func (p *tab) click(words string) {
	p.t.Helper()
	p.press(named("button, a, label.button", words))
}

// keys types on a keyboard; \n is Enter.
func (p *tab) keys(text string) {
	p.t.Helper()
	for _, c := range text {
		key := map[string]any{"type": "keyDown", "key": string(c), "text": string(c)}
		if c == '\n' {
			key["key"], key["text"], key["windowsVirtualKeyCode"] = "Enter", "\r", 13
		}
		p.do("Input.dispatchKeyEvent", key)
		key["type"] = "keyUp"
		delete(key, "text")
		p.do("Input.dispatchKeyEvent", key)
	}
}

// scheme asks for light or dark.
func (p *tab) scheme(name string) {
	p.t.Helper()
	p.do("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]any{{"name": "prefers-color-scheme", "value": name}}})
}

// shot writes what the window shows.
func (p *tab) shot(file string, whole bool) {
	p.t.Helper()
	var r struct{ Data string }
	p.decode(p.do("Page.captureScreenshot", map[string]any{"captureBeyondViewport": whole}), &r)
	data, err := base64.StdEncoding.DecodeString(r.Data)
	if err == nil {
		err = os.WriteFile(file, data, 0o644)
	}
	if err != nil {
		p.t.Fatal(err)
	}
}
