package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"regexp"
	"slices"
	"testing"
)

// readable checks that every text stands out from its ground by 4.5, or by 3 if it is
// large, as level AA of the Web Content Accessibility Guidelines 2.2 asks (1.4.3, its
// formula from memory), and that nothing is wider than the window.
func (p *tab) readable(name string) {
	p.t.Helper()
	if found := p.eval(`(() => {
		const rgb = s => s.match(/[\d.]+/g).map(Number);
		const light = ([r, g, b]) => [r, g, b].map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
			.reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
		const ground = e => {
			for (; e; e = e.parentElement) {
				const c = rgb(getComputedStyle(e).backgroundColor);
				if (c.length === 3 || c[3] === 1) return c;
				if (c[3] > 0) throw new Error("half transparent: " + e.outerHTML.slice(0, 100));
			}
			return matchMedia("(prefers-color-scheme: dark)").matches ? [18, 18, 18] : [255, 255, 255];
		};
		const bad = [];
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		let seen = 0;
		while (walk.nextNode()) {
			const e = walk.currentNode.parentElement;
			if (!walk.currentNode.data.trim() || e.closest("svg, script, noscript, .unseen, option") || !e.getClientRects().length) continue;
			seen++;
			const style = getComputedStyle(e), size = parseFloat(style.fontSize);
			const a = light(rgb(style.color)), b = light(ground(e));
			const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
			const large = size >= 24 || size >= 18.66 && style.fontWeight >= 700;
			if (!(ratio >= (large ? 3 : 4.5))) bad.push(ratio.toFixed(2) + ": " + walk.currentNode.data.trim().slice(0, 60));
		}
		if (seen < 5) bad.push("only " + seen + " texts");
		const wide = document.documentElement.scrollWidth - innerWidth;
		if (wide > 0) bad.push("wider than the window by " + wide);
		return bad.join("\n");
	})()`); found != "" {
		p.t.Errorf("%s, %d px: %s", name, p.width, found)
	}
}

// named checks that everything one can use has a name, for those who hear the page.
func (p *tab) named(name string) {
	p.t.Helper()
	var tree struct {
		Nodes []struct {
			Ignored bool
			Role    struct{ Value string }
			Name    struct{ Value string }
		}
	}
	p.decode(p.do("Accessibility.getFullAXTree", nil), &tree)
	used := 0
	for _, n := range tree.Nodes {
		if n.Ignored || !slices.Contains([]string{"button", "link", "textbox", "combobox", "spinbutton", "image", "img", "heading", "navigation", "group"}, n.Role.Value) {
			continue
		}
		used++
		if n.Name.Value == "" && n.Role.Value != "group" {
			p.t.Errorf("%s: %s without a name", name, n.Role.Value)
		}
	}
	if used < 5 {
		p.t.Errorf("%s: %d things to use, want more", name, used)
	}
}

var pages = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// A plan, a result and a comparison print on one page each, dark window or not.
func TestPrint(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 1280, 800)
	p.scheme("dark")
	p.to(s.URL)
	p.click("Look at an example")
	p.see("where it begins to run away")
	for _, view := range []string{"result/Robin%20Vale/2025-03-08", "retest/Robin%20Vale", "season/Robin%20Vale", "plan/Robin%20Vale", "swim/Kim%20Arden/2025-02-01", "squad"} {
		p.to(s.URL + "/#example/" + view)
		p.reload()
		p.until(`!document.querySelector("form.plan") || document.querySelector(".cautions")`)
		var r struct{ Data string }
		p.decode(p.do("Page.printToPDF", map[string]any{"paperWidth": 8.27, "paperHeight": 11.69, "printBackground": true}), &r)
		pdf, err := base64.StdEncoding.DecodeString(r.Data)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(pages.FindAll(pdf, -1)); n != 1 || !bytes.HasPrefix(pdf, []byte("%PDF")) {
			t.Errorf("%s: %d pages, want 1", view, n)
		}
		if *shots != "" {
			p.do("Emulation.setEmulatedMedia", map[string]any{"media": "print", "features": []map[string]any{{"name": "prefers-color-scheme", "value": "light"}}})
			p.shot(*shots+"/print-"+regexp.MustCompile(`\W+`).ReplaceAllString(view, "-")+".png", true)
			p.do("Emulation.setEmulatedMedia", map[string]any{"media": "", "features": []map[string]any{{"name": "prefers-color-scheme", "value": "dark"}}})
		}
	}
	p.quiet(s.URL)
}

// The keyboard alone reaches everything that a finger does, in the order of the page.
func TestKeyboard(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 360, 740)
	p.to(s.URL)
	p.click("Look at an example")
	p.see("where it begins to run away")
	p.to(s.URL + "/#example/swim/Jo%20Linden/2025-02-01/3.lactate")
	p.reload()
	p.look("a-squad-swim")
	p.to(s.URL + "/#example/squad")
	p.see("The latest result of each")
	p.look("b-squad")
	p.to(s.URL + "/#example/swim/Jo%20Linden/2025-02-01/3.lactate")
	p.until(`document.activeElement.id === "field"`)
	// A keyboard on glass that writes without asking: 0.2 after 2.0.
	p.eval(`(() => { const f = document.getElementById("field"); f.value = "2"; f.dispatchEvent(new InputEvent("input")); })()`)
	p.until(`document.getElementById("field").value === "0.2"`)
	p.keys("\n")
	p.see("0.2 mmol/L is out of line")
	p.look("c-odd")
	p.to(s.URL + "/#example/swim/Jo%20Linden/2025-02-01/3.lactate")
	p.until(`document.activeElement.id === "field"`)
	p.press(named("button.key", "Delete"))
	p.click("Enter")
	p.until(`last.then(() => location.hash.endsWith("/4.time"))`)
	p.to(s.URL + "/#example/swim/Jo%20Linden/2025-02-01/3.lactate")
	p.until(`document.getElementById("field")?.value === ""`)
	p.eval(`document.activeElement.blur()`)
	var order []string
	for range 130 {
		p.do("Input.dispatchKeyEvent", map[string]any{"type": "keyDown", "key": "Tab", "windowsVirtualKeyCode": 9})
		p.do("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": "Tab", "windowsVirtualKeyCode": 9})
		var at struct {
			Name    string
			Outline string
		}
		p.decode(json.RawMessage(p.eval(`(() => { const e = document.activeElement; return JSON.stringify({Name: e.getAttribute("aria-label") || e.textContent, Outline: getComputedStyle(e).outlineStyle}); })()`)), &at)
		if at.Outline == "none" && len(at.Name) < 40 {
			t.Errorf("%q has the focus, and does not show it", at.Name)
		}
		order = append(order, at.Name)
	}
	last := slices.Index(order, "Season") // the end of the page; then it begins again
	for _, name := range []string{"To the content", "Sheet", "Squad", "Jo Linden", "Lactate after repeat 3, mmol/L", "1", "Delete", "Skip", "Time of repeat 1: minutes, seconds, tenth: 5:54.4"} {
		i := slices.Index(order[last+1:], name)
		if i < 0 {
			t.Fatalf("%q is not reached by the tab key after %d steps: %q", name, last+1, order)
		}
		last += 1 + i
	}
}
