package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// begin plans a test of a swimmer and goes to its first cell.
func (p *tab) begin(name string) {
	p.t.Helper()
	p.eval(fmt.Sprintf(`change({do: "keep", swimmer: %q, date: "2025-01-18", plan: {pool: "25 yd", best: "4:59"}}).then(() => go({view: "swim", swimmer: %q, date: "2025-01-18", cell: ""}))`, name, name))
	p.settled()
	p.see("Before the first repeat")
}

func (p *tab) sheet() string {
	p.t.Helper()
	return p.eval(`last.then(() => load(here.book)).then(s => s.text)`)
}

// After the first visit the page needs no server: it is gone in this test.
func TestOffline(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 360, 740)
	p.to(s.URL)
	p.until(`navigator.serviceWorker.controller`)
	p.begin("Robin Vale")
	p.fill(first)
	s.Close()
	p.reload()
	p.see("Robin Vale")
	p.click("Result")
	p.see("where it begins to run away")
	q := p.b.open(t, 1280, 800) // another tab, by the address alone
	q.to(s.URL)
	q.until(`testsOf("Robin Vale").length === 1`)
	p.quiet(s.URL)
	q.quiet(s.URL)
}

// Closing the page in the middle loses nothing, the digits of a number included.
func TestReload(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 360, 740)
	p.to(s.URL)
	p.begin("Robin Vale")
	p.keys("10\n")
	p.until(`location.hash.endsWith("/1.time")`)
	p.keys("5517\n118\n")
	p.until(`location.hash.endsWith("/1.lactate")`)
	p.keys("1")
	before := p.sheet()
	if !strings.Contains(before, "5:51.7") || !strings.Contains(before, "118") {
		t.Fatalf("the sheet lacks what was entered:\n%s", before)
	}
	p.must("", "Target.closeTarget", map[string]any{"targetId": p.id})
	p = p.b.open(t, 360, 740)
	p.to(s.URL) // no more than the address
	p.until(`document.getElementById("field")?.value === "0.1" && document.activeElement.id === "field"`)
	p.keys("5\n")
	p.until(`location.hash.endsWith("/2.time")`)
	if got := p.sheet(); !strings.Contains(got, "5:51.7,,1.5,118") {
		t.Errorf("the sheet is not as it was entered:\n%s", got)
	}
	p.reload()
	p.until(`document.getElementById("field").value === ""`)
	// A number that cannot be is refused, and what stood there stays.
	p.keys("517\n")
	p.see("nobody swims")
	p.until(`location.hash.endsWith("/2.time")`)
	if got := p.sheet(); strings.Contains(got, "51.7,,,") {
		t.Errorf("the sheet holds what was refused:\n%s", got)
	}
	// The page goes before the computing has what was entered.
	p.eval(`worker.postMessage = () => {}`)
	p.keys("5424\n130\n")
	p.until(`location.hash.endsWith("/2.lactate")`)
	if got := p.eval(`load(here.book).then(s => s.text)`); strings.Contains(got, "5:42.4") {
		t.Fatalf("the computing answers still:\n%s", got)
	}
	p.reload()
	p.until(`load(here.book).then(s => s.text.includes("5:42.4,,,130"))`)
	p.until(`kept.names("pending.").length === 0`)
	p.quiet(s.URL)
}

// Nothing can leave the page, whatever its script does: the browser refuses.
func TestNothingLeaves(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 360, 740)
	p.to(s.URL + "/#%E0%A4%A/%/%2") // no address of the page
	p.see("A step test, from the plan")
	for what, try := range map[string]string{
		"connect-src":     `fetch("/other").catch(() => {})`,
		"img-src":         `new Image().src = "http://example.invalid/"`,
		"script-src-elem": `document.head.append(Object.assign(document.createElement("script"), {textContent: "1"}))`,
		"form-action":     `(() => { const f = document.createElement("form"); f.action = "/other"; document.body.append(f); f.submit(); })()`,
	} {
		if got := p.eval(`new Promise(done => { addEventListener("securitypolicyviolation", e => done(e.effectiveDirective), {once: true}); setTimeout(() => done("nothing"), 5000); ` + try + ` })`); got != what {
			t.Errorf("%s: the browser refused %s", what, got)
		}
	}
}

// Two tabs enter numbers of one squad at once; none is lost, and each sees the other's.
func TestTwoTabs(t *testing.T) {
	driven(t)
	s := served(t)
	b := launch(t)
	p := b.open(t, 1280, 800)
	p.to(s.URL)
	p.begin("Robin Vale")
	p.begin("Kim Arden")
	q := b.open(t, 360, 740)
	q.to(s.URL + "/#sheet/swim/Robin%20Vale/2025-01-18/1.time")
	q.keys("55") // stays where it is while the other tab writes
	// enter enters six numbers of a swimmer, one for each repeat, and waits for none.
	enter := func(tab *tab, who, of, value string) {
		tab.do("Runtime.evaluate", map[string]any{"expression": fmt.Sprintf(`for (let n = 1; n <= 6; n++) change({do: "enter", swimmer: %q, date: "2025-01-18", cell: n + %q, value: %s})`, who, of, value)})
	}
	enter(p, "Kim Arden", ".time", "`5:${60 - 5 * n}.${n}`")
	enter(q, "Robin Vale", ".time", "`5:${60 - 6 * n}.${n}`")
	for _, tab := range []*tab{p, q} {
		tab.until(`state.tests.every(t => t.done === 6)`)
	}
	enter(p, "Kim Arden", ".beats", "String(120 + n)")
	enter(q, "Robin Vale", ".beats", "String(140 + n)")
	enter(p, "Robin Vale", ".lactate", "String(3 + n)")
	enter(q, "Kim Arden", ".lactate", "String(4 + n)")
	var want []string
	for n := 1; n <= 6; n++ {
		want = append(want, fmt.Sprintf("5:%02d.%d,,%d,%d", 60-5*n, n, 4+n, 120+n), fmt.Sprintf("5:%02d.%d,,%d,%d", 60-6*n, n, 3+n, 140+n))
	}
	for _, tab := range []*tab{p, q} {
		tab.until(`state.tests.every(t => t.repeats.every(r => r.beats && r.lactate))`)
		got := tab.sheet()
		for _, w := range want {
			if !strings.Contains(got, ","+w) {
				t.Errorf("the sheet lacks %s:\n%s", w, got)
			}
		}
	}
	q.until(`document.getElementById("field")?.value === "0:05.5"`)
	p.quiet(s.URL)
	q.quiet(s.URL)
}

// A sheet as a spreadsheet with decimal commas saves it, dropped onto the page: good
// rows are taken, faults are told, and a second copy that differs is asked about.
func TestDrop(t *testing.T) {
	driven(t)
	s := served(t)
	p := launch(t).open(t, 1280, 800)
	p.to(s.URL)
	dir := t.TempDir()
	drop := func(name, text string) {
		t.Helper()
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		data := map[string]any{"items": []any{}, "files": []string{file}, "dragOperationsMask": 1}
		for _, kind := range []string{"dragEnter", "dragOver", "drop"} {
			p.do("Input.dispatchDragEvent", map[string]any{"type": kind, "x": 300, "y": 400, "data": data})
		}
		p.see(name)
	}
	rows := "\ufeffswimmer;date;pool;distance;repeat;time;lactate;heart rate\r\n"
	for i, r := range []string{"6:00,0;1,2;118", "5:50,0;1,4;130", "5:40,0;1,9;143", "5:30,0;3,1;154", "5:20,0;5,6;164", "5:10,0;9,8;178"} {
		rows += fmt.Sprintf("Ann;2025-01-18;50 m;400;%d;%s\r\n", i+1, r)
	}
	drop("club.csv", rows+"Ann;2025-01-18;50 m;400;7;4:75;9,9;180\r\n")
	p.see("tests read: 1")
	p.see("4:75")
	p.see("Ann, 18 January 2025")
	p.click("Ann, 18 January 2025")
	p.see("where it begins to run away")
	p.answer = false // what was entered here stays
	drop("again.csv", strings.Replace(rows, "3,1", "3,3", 1))
	if got := p.sheet(); !strings.Contains(got, "3.1") || strings.Contains(got, "3.3") {
		t.Errorf("the file won, which was refused:\n%s", got)
	}
	p.answer = true
	drop("again.csv", strings.Replace(rows, "3,1", "3,3", 1))
	p.until(`last.then(() => load("sheet")).then(s => s.text.includes("3.3"))`)
	p.answer = false // the month comes first
	drop("dates.csv", strings.NewReplacer("2025-01-18", "3/4/2025", "Ann", "Bo").Replace(rows))
	p.see("Bo, 4 March 2025")
	drop("nothing.csv", "a,b\n1,2\n")
	p.see("found no test in the file")
	p.quiet(s.URL)
}

// One file on a disk is the whole page: no server at all.
func TestFromDisk(t *testing.T) {
	driven(t)
	files, err := built()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := write(dir, map[string][]byte{"index.html": files["index.html"]}); err != nil {
		t.Fatal(err)
	}
	p := launch(t).open(t, 360, 740)
	p.to("file://" + filepath.ToSlash(dir) + "/index.html")
	p.begin("Robin Vale")
	p.fill(first)
	p.reload()
	p.click("Result")
	p.see("where it begins to run away")
	p.quiet("file://")
}
