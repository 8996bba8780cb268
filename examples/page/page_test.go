package main

import (
	"flag"
	"fmt"
	"math"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

var shots = flag.String("shots", "", "write pictures of the page into this folder")

var drive = flag.Bool("browser", false, "drive a browser, as where CI is set")

// driven skips a test that drives a browser, unless that is asked for.
func driven(t *testing.T) {
	t.Helper()
	if testing.Short() || !*drive && *shots == "" && os.Getenv("CI") == "" {
		t.Skip("drives a browser: -browser")
	}
}

var built = sync.OnceValues(build)

// served builds the page once, and serves it.
func served(t *testing.T) *httptest.Server {
	t.Helper()
	files, err := built()
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(handler(files))
	t.Cleanup(s.Close)
	return s
}

// look checks how the page looks, light and dark, and writes pictures of it.
func (p *tab) look(name string) {
	p.t.Helper()
	p.named(name)
	for _, scheme := range []string{"light", "dark"} {
		p.scheme(scheme)
		p.readable(name + ", " + scheme)
		if *shots == "" {
			continue
		}
		p.shot(filepath.Join(*shots, fmt.Sprintf("%s-%d-%s.png", name, p.width, scheme)), true)
	}
	p.scheme("light")
}

// phone is what the window shows now, as an address of data.
func (p *tab) phone() string {
	p.t.Helper()
	p.eval(`scrollTo(0, 0)`)
	var r struct{ Data string }
	p.decode(p.do("Page.captureScreenshot", nil), &r)
	return "data:image/png;base64," + r.Data
}

// picture writes the README's picture: windows side by side.
func (p *tab) picture(file string, windows ...string) {
	p.t.Helper()
	p.do("Emulation.setDeviceMetricsOverride", map[string]any{"width": 16 + len(windows)*376, "height": 772, "deviceScaleFactor": 1, "mobile": false})
	p.do("Page.navigate", map[string]any{"url": "about:blank"})
	p.until(`document.readyState === "complete" && !document.querySelector("main")`)
	p.eval(`document.body.style = "margin: 16px; display: flex; gap: 16px; background: #c9d0d6"; document.body.innerHTML = ` + "`<img src=" + strings.Join(windows, "><img src=") + ">`")
	p.until(`[...document.images].every(i => i.complete && i.naturalWidth)`)
	p.shot(file, false)
}

type swum struct{ time, beats, lactate string }

// An invented test, the digits as they are typed.
var first = []swum{{"5517", "118", "15"}, {"5424", "130", "17"}, {"5323", "143", "23"}, {"5234", "154", "30"}, {"5124", "164", "47"}, {"4588", "178", ""}}

// Seven weeks later.
var second = []swum{{"5450", "118", "14"}, {"5351", "131", "16"}, {"5257", "142", "20"}, {"5162", "154", "28"}, {"5064", "165", "46"}, {"4548", "179", ""}}

// sameNumbers compares what the page shows of a test with what examples/steptest prints
// of the same sheet.
func (p *tab) sameNumbers() {
	p.t.Helper()
	cmd := exec.Command("go", "run", "example.com/steptest/examples/steptest", "-json", "-")
	cmd.Stdin = strings.NewReader(p.eval(`load(here.book).then(s => s.text)`))
	printed, err := cmd.Output()
	if err != nil {
		p.t.Fatal(err)
	}
	type estimate struct{ Value, Low, High float64 }
	type threshold struct {
		Intensity estimate
		Lactate   estimate `json:"lactate_mmol_per_l"`
		HeartRate estimate `json:"heart_rate_per_min"`
	}
	var out struct {
		Report []struct {
			Analysis struct{ LT1, LT2 threshold }
		}
	}
	p.decode(printed, &out)
	page := p.eval(`document.getElementById("main").innerText.replace(/\s+/g, " ")`)
	clock := func(v float64) string {
		tenths := math.Round(914.4 / v)
		return fmt.Sprintf("%.0f:%04.1f", math.Floor(tenths/600), math.Mod(tenths, 600)/10)
	}
	for name, th := range map[string]threshold{"LT1": out.Report[0].Analysis.LT1, "LT2": out.Report[0].Analysis.LT2} {
		v, y, b := th.Intensity, th.Lactate, th.HeartRate
		for _, want := range []string{
			fmt.Sprintf("%s per 100 yd %s to %s (90 %% sure)", clock(v.Value), clock(v.Low), clock(v.High)),
			fmt.Sprintf("%.0f (%.0f to %.0f) a minute", b.Value, b.Low, b.High),
			fmt.Sprintf("%.1f (%.1f to %.1f) mmol/L", y.Value, y.Low, y.High),
			fmt.Sprintf("%.3f (%.3f to %.3f) m/s", v.Value, v.Low, v.High),
		} {
			if !strings.Contains(page, want) {
				p.t.Errorf("%s: examples/steptest says %q; the page shows\n%s", name, want, page)
			}
		}
	}
}

// quiet checks that nothing went wrong, and nothing was asked of another host.
func (p *tab) quiet(host string) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range p.faults {
		p.t.Error(f)
	}
	for _, r := range p.requests {
		if !strings.HasPrefix(r, host) && !strings.HasPrefix(r, "data:") && !strings.HasPrefix(r, "blob:") {
			p.t.Errorf("the page asked for %s", r)
		}
	}
}

// The whole loop, by keys on the screen and by a keyboard, as a new user goes it.
func TestLoop(t *testing.T) {
	driven(t)
	s := served(t)
	for _, size := range [][2]int{{360, 740}, {1280, 800}} {
		t.Run(fmt.Sprint(size[0]), func(t *testing.T) {
			b := launch(t)
			p := b.open(t, size[0], size[1])
			p.to(s.URL)
			p.see("A step test, from the plan to the next one")
			p.look("1-start")
			p.click("Plan a test")
			p.settled()
			p.press(`document.querySelector("[name=swimmer]")`)
			p.do("Input.insertText", map[string]any{"text": "Robin Vale"})
			p.eval(`(() => { const d = document.querySelector("[name=date]"); d.value = "2025-01-18"; d.dispatchEvent(new Event("input")); })()`)
			p.eval(`(() => { const d = document.querySelector("form.plan select"); d.value = "25 yd"; d.dispatchEvent(new Event("change")); })()`)
			p.press(`document.querySelector("#best")`)
			p.keys("4590")
			p.see("Before swimming it")
			p.see("~4:59")
			p.look("2-plan")
			p.click("Keep this plan and swim")
			p.see("Lactate at rest")
			p.look("3-before")
			p.fill(first[:3])
			p.settled()
			windows := []string{p.phone()}
			p.press(`document.querySelector(".after a")`) // back to the sample at rest
			p.fill(first)
			p.look("5-swum")
			p.click("See the result")
			p.see("LT1")
			p.settled()
			p.look("6-result")
			windows = append(windows, p.phone())
			p.sameNumbers()

			// Seven weeks later.
			p.click("Plan it")
			p.see("From the test of 18 January 2025")
			p.eval(`(() => { const d = document.querySelector("[name=date]"); d.value = "2025-03-08"; d.dispatchEvent(new Event("input")); })()`)
			p.see("8 March 2025, 25 yd pool")
			p.click("Keep this plan and swim")
			p.fill(second)
			p.click("Retest")
			p.see("49 days apart")
			p.see("faster")
			p.settled()
			p.look("7-retest")
			windows = append(windows, p.phone())
			p.click("Season")
			p.see("2 tests from 18 January 2025 to 8 March 2025")
			p.look("8-season")
			p.click("Sheet")
			p.see("Save the sheet")
			p.look("9-sheet")
			p.quiet(s.URL)
			if *shots != "" && size[0] == 360 {
				p.picture(filepath.Join(*shots, "page.png"), windows...)
			}
		})
	}
}

// fill enters a whole test: the sample at rest, the repeats, the samples after the last.
func (p *tab) fill(test []swum) {
	p.t.Helper()
	enter := func(cell, digits string) {
		p.t.Helper()
		p.until(fmt.Sprintf(`document.getElementById("main").dataset.shown.endsWith("/%s") && document.activeElement?.id === "field"`, cell))
		for i, c := range digits {
			if i%2 == 0 {
				p.keys(string(c))
			} else {
				p.press(named("button.key", string(c)))
			}
		}
		p.keys("\n")
	}
	enter("rest", "10")
	for i, r := range test {
		n := fmt.Sprint(i + 1)
		enter(n+".time", r.time)
		enter(n+".beats", r.beats)
		if r.lactate != "" {
			enter(n+".lactate", r.lactate)
		}
		if i == 2 {
			p.settled()
			p.until(`location.hash.endsWith("4.time")`)
			p.see("Repeat 4 of 6")
			p.look("4-between")
		}
	}
	if len(test) < len(first) {
		return
	}
	for i, y := range []string{"92", "99", "94", "92"} {
		enter(fmt.Sprintf("after.%d", 60+120*i), y)
	}
	p.until(`document.body.innerText.includes("7 min 9.2")`)
}
