// Package shopfloorcheck works with examples/shopfloor as people do: in a browser.
package shopfloorcheck

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// start runs the program with invented jobs and gives its address.
func start(t *testing.T) string {
	t.Helper()
	program := exec.Command(os.Getenv("SHOPFLOOR"), "-listen", "127.0.0.1:0")
	program.Env = append(os.Environ(), "TMPDIR="+t.TempDir())
	program.Stderr = os.Stderr
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { program.Process.Kill(); program.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	address, _, ok := strings.Cut(strings.TrimPrefix(line, "open "), " ")
	if err != nil || !ok {
		t.Fatalf("it said %q: %v", line, err)
	}
	return address
}

// A person has a browser of their own.
type person struct {
	t             *testing.T
	ctx           context.Context
	base, name    string
	width         int64
	axe           string
	pages, looked int
}

func newPerson(t *testing.T, base, name string, width int64) *person {
	t.Helper()
	axe, err := os.ReadFile(os.Getenv("AXE"))
	if err != nil {
		t.Fatal(err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath("chromium"), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-dev-shm-usage", true))
	allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop := chromedp.NewContext(allocated)
	t.Cleanup(stop)
	ctx, stop = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(stop)
	p := &person{t: t, ctx: ctx, base: base, name: name, width: width, axe: string(axe)}
	p.do(chromedp.EmulateViewport(width, 800))
	p.open("/who")
	p.do(chromedp.SendKeys("#by", name+kb.Enter), chromedp.WaitVisible(`//h1[text()="Open jobs"]`))
	return p
}

func (p *person) do(actions ...chromedp.Action) {
	p.t.Helper()
	if err := chromedp.Run(p.ctx, actions...); err != nil {
		var text string
		chromedp.Run(p.ctx, chromedp.Evaluate(`location.href + "\n" + document.body.innerText`, &text))
		p.t.Fatalf("%s: %v\n%s", p.name, err, text)
	}
}

func (p *person) open(path string) {
	p.t.Helper()
	p.do(chromedp.Navigate(p.base + path))
	p.look()
}

// press presses what has the words on it and waits for another page.
func (p *person) press(words string) {
	p.t.Helper()
	p.do(chromedp.Evaluate(`document.body.dataset.before = 1`, nil),
		chromedp.Click(fmt.Sprintf(`//*[self::a or self::button][contains(normalize-space(.), %q)]`, words), chromedp.BySearch, chromedp.NodeVisible))
	p.arrive()
}

func (p *person) arrive() {
	p.t.Helper()
	p.until(`!document.body.dataset.before && document.readyState === "complete"`)
	p.look()
}

// sees waits until the page has the words.
func (p *person) sees(words string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`document.body.innerText.includes(%q)`, words))
}

// until waits until it is true, through changes of the page.
func (p *person) until(script string) {
	p.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		var is bool
		if err := chromedp.Run(p.ctx, chromedp.Evaluate(script, &is)); err == nil && is {
			return
		}
	}
	p.do(chromedp.ActionFunc(func(context.Context) error { return fmt.Errorf("not within ten seconds: %s", script) }))
}

// look measures the page: nothing wider than the screen, what is pressed as large as a thumb in a glove, under 16 KB.
func (p *person) look() {
	p.t.Helper()
	var bad []string
	p.do(chromedp.Evaluate(`(async () => {
		const bad = [];
		const wide = document.documentElement.scrollWidth;
		if (wide > innerWidth) bad.push("the page is " + wide + " px wide");
		for (const e of document.querySelectorAll("a, button, input:not([type=hidden]), summary, label.choice")) {
			const box = e.getBoundingClientRect();
			if (box.width === 0 || e.type === "radio") continue; // shut away, or within a label
			const least = e.matches(".tick, .two button, .grid button, .choice, input, .first, .wide") ? 56 : 48;
			if (box.height < least - 0.5 || box.width < 48 - 0.5) bad.push(e.outerHTML.slice(0, 80) + " is " + box.width + " x " + box.height);
			if (box.right > innerWidth + 0.5 || box.left < -0.5) bad.push(e.outerHTML.slice(0, 80) + " sticks out");
		}
		const size = (await (await fetch(location.href)).arrayBuffer()).byteLength;
		if (size > 16 * 1024) bad.push("the page has " + size + " bytes");
		if (!document.body.innerText.includes("Invented jobs")) bad.push("it doesn't say that the jobs are invented");
		return bad;
	})()`, &bad, awaited))
	for _, b := range bad {
		p.t.Errorf("%s, %d px: %s", p.at(), p.width, b)
	}
	p.pages++
}

func (p *person) at() (address string) {
	p.do(chromedp.Location(&address))
	return strings.TrimPrefix(address, p.base)
}

// access lets axe-core look at the page.
func (p *person) access() {
	p.t.Helper()
	var found struct {
		Passes int
		Wrong  []string
	}
	p.do(chromedp.Evaluate(p.axe, nil), chromedp.Evaluate(`axe.run({preload: false}).then(r => ({Passes: r.passes.length,
		Wrong: r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => v.id + " " + v.nodes.map(n => n.html).join(" "))}))`, &found, awaited))
	if found.Passes < 10 {
		p.t.Errorf("%s: only %d rules of axe-core apply", p.at(), found.Passes)
	}
	for _, w := range found.Wrong {
		p.t.Errorf("%s, %d px: %s", p.at(), p.width, w)
	}
	p.looked++
}

// shot keeps a picture where SHOTS says.
func (p *person) shot(name string) {
	folder := os.Getenv("SHOTS")
	if folder == "" {
		return
	}
	var png []byte
	p.do(chromedp.FullScreenshot(&png, 100))
	if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%d.png", name, p.width)), png, 0o600); err != nil {
		p.t.Error(err)
	}
}

func (p *person) toJob() {
	p.t.Helper()
	p.open("/")
	p.press("Standby generator 2")
}

// Source: chromium.
func TestRoad(t *testing.T) {
	for _, width := range []int64{390, 1200} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			base := start(t)
			ann := newPerson(t, base, "Ann", width)
			ann.access()
			ann.shot("jobs")
			ann.toJob()
			ann.access()
			ann.shot("job")
			ann.press("Lock-out: 5 steps")
			ann.sees("WARNING Isolate, lock out and tag") // as it is printed
			ann.press("Back to job")
			ann.press("3. Station 2")
			ann.access()
			ann.shot("steps")
			ann.press("☐")
			ann.sees("☑")

			ann.toJob()
			ann.press("which mark at contact?")
			ann.access()
			ann.shot("contact")
			ann.press("between 3 and 4")
			ann.press("where did it stop?")
			ann.sees("at 6")
			ann.until(`document.querySelector("button.first").getBoundingClientRect().top + scrollY < 820`) // the drawing's small print isn't before it
			ann.access()
			ann.shot("stop")
			ann.press0(`summary`)
			ann.press("between 4 and 5") // too far
			ann.sees("FAIL")
			ann.sees("Never turn back")
			ann.access()
			ann.shot("fail")
			ann.press("Done again, or read wrong")
			ann.press("It stopped as shown")
			ann.sees("GOOD")
			ann.shot("good")

			ann.toJob()
			ann.press("Station 1: torque")
			ann.shot("torque")
			ann.access()
			ann.do(chromedp.SendKeys(`//input[@name="a.value"]`, "170"), chromedp.Click(`//label[contains(., "Yes")]`), chromedp.Click(`//label[contains(., "No gap")]`))
			ann.press("Save")
			ann.sees("Did the wrench show that?")
			ann.access()
			ann.shot("unit")
			ann.do(chromedp.SetValue(`//input[@name="a.value"]`, "17.2"), chromedp.Click(`//label[contains(., "I have corrected the number")]`))
			ann.press("Save")
			ann.sees("GOOD")
			ann.press("Show the working")
			ann.access()

			ann.toJob()
			ann.press("Station 1: fuel that came out") // less than expected: a doubt
			ann.do(chromedp.SendKeys(`//input[@name="a.value"]`, "0.3"), chromedp.SendKeys(`//input[@name="a.at"]`, "26"))
			ann.press("Save")
			ann.sees("ASK FIRST")
			ann.sees("Go on, and ask later")
			ann.access()
			ann.shot("ask-first")
			ann.toJob()
			ann.access()
			ann.shot("job-ask-first")
			ann.press("Station 1: water under the fuel")
			ann.access()
			ann.shot("water")
			ann.press("No water came out")
			ann.sees("GOOD")
			ann.shot("no-water")
			ann.toJob()
			ann.press("Cranking")
			ann.access()
			ann.shot("cranking")
			ann.do(chromedp.SendKeys(`//input[@name="a.crank1"]`, "8 s"))
			ann.press("Save")
			ann.sees("type digits alone")
			ann.access()
			ann.shot("mistyped")

			bob := newPerson(t, base, "Bob", width) // two people at once
			ann.toJob()
			ann.press("Station 1: did it drag")
			bob.toJob()
			bob.press("Station 1: did it drag")
			ann.press("No")
			bob.press("Yes")
			bob.sees("Two answers")
			bob.access()
			bob.shot("both")
			bob.press("Keep that of Ann")
			bob.open("/foreman")
			bob.access()
			bob.shot("foreman")
			bob.press("I take over")
			bob.sees("taken over by Bob")
			bob.open("/")
			bob.press("Standby generator 2")
			bob.press("History of this machine")
			bob.access()
			bob.shot("machine")
			if ann.pages < 15 || ann.looked < 8 {
				t.Errorf("%d pages measured, %d looked at by axe-core", ann.pages, ann.looked)
			}
		})
	}
}

// press0 presses what a selector names, on the same page.
func (p *person) press0(selector string) {
	p.t.Helper()
	p.do(chromedp.Click(selector, chromedp.ByQuery, chromedp.NodeVisible))
}

// The keyboard alone goes from the jobs to a verdict.
func TestKeyboard(t *testing.T) {
	ann := newPerson(t, start(t), "Ann", 390)
	ann.open("/")
	ann.tabTo("Standby generator 2")
	ann.tabTo("… Station 1: did it drag")
	ann.tabTo("No")
	ann.sees("GOOD")
}

// tabTo goes on by the tabulator until what has the words on it is reached, and presses it.
func (p *person) tabTo(words string) {
	p.t.Helper()
	for range 60 {
		var at string
		p.do(chromedp.KeyEvent(kb.Tab), chromedp.Evaluate(`document.activeElement.innerText || ""`, &at))
		if strings.HasPrefix(strings.TrimSpace(at), words) {
			var outline string
			p.do(chromedp.Evaluate(`getComputedStyle(document.activeElement).outlineStyle`, &outline))
			if outline == "none" {
				p.t.Errorf("%s: where the keyboard is can't be seen", words)
			}
			p.do(chromedp.Evaluate(`document.body.dataset.before = 1`, nil), chromedp.KeyEvent(kb.Enter))
			p.arrive()
			return
		}
	}
	p.t.Fatalf("%s: the keyboard doesn't get to %q", p.at(), words)
}

// Without a connection the answer is NOT SAVED, and says so; with it again, it is saved by itself.
func TestNoConnection(t *testing.T) {
	ann := newPerson(t, start(t), "Ann", 390)
	ann.toJob()
	ann.press("Station 1: did it drag")
	ann.do(network.Enable(), setOffline(true))
	ann.press0(`button[value="no"]`)
	ann.sees("NOT SAVED")
	ann.shot("not-saved")
	ann.do(setOffline(false))
	ann.sees("GOOD")
}

// Without scripts and without a connection the browser says so itself, and Back has what was typed; Save then saves it.
func TestBack(t *testing.T) {
	ann := newPerson(t, start(t), "Ann", 390)
	ann.do(chromedp.ActionFunc(func(ctx context.Context) error { return withoutScripts(ctx) }))
	ann.do(chromedp.Navigate(ann.base+"/"), chromedp.Click(`//a[contains(., "Standby generator 2")]`), chromedp.WaitVisible(`//a[contains(., "Station 1: torque")]`),
		chromedp.Click(`//a[contains(., "Station 1: torque")]`), chromedp.WaitVisible(`//input[@name="a.value"]`),
		chromedp.SendKeys(`//input[@name="a.value"]`, "17.2"), chromedp.Click(`//label[contains(., "Yes")]`), chromedp.Click(`//label[contains(., "No gap")]`),
		network.Enable(), setOffline(true))
	ann.do(chromedp.Click(`//button[.="Save"]`))
	ann.until(`!document.querySelector("input[name='a.value']")`) // the browser's own page
	ann.do(chromedp.Evaluate(`history.back()`, nil))
	ann.until(`document.readyState === "complete" && (document.querySelector("input[name='a.value']") || {}).value === "17.2"`)
	var chosen int
	ann.do(chromedp.Evaluate(`document.querySelectorAll("input[type=radio]:checked").length`, &chosen))
	if chosen != 2 {
		t.Errorf("%d of the 2 that were chosen are chosen still", chosen)
	}
	ann.do(network.Enable(), setOffline(false), chromedp.Evaluate(`document.querySelector("button.first").click()`, nil))
	ann.until(`document.body.innerText.includes("GOOD")`)
}

// Without scripts the same forms do the same.
func TestNoScript(t *testing.T) {
	ann := newPerson(t, start(t), "Ann", 390)
	ann.do(chromedp.ActionFunc(func(ctx context.Context) error { return withoutScripts(ctx) }))
	ann.do(chromedp.Navigate(ann.base+"/"), chromedp.Click(`//a[contains(., "Standby generator 2")]`), chromedp.WaitVisible(`//a[contains(., "did it drag")]`),
		chromedp.Click(`//a[contains(., "did it drag")]`), chromedp.WaitVisible(`button[value="no"]`, chromedp.ByQuery), chromedp.Click(`button[value="no"]`, chromedp.ByQuery),
		chromedp.WaitVisible(`//p[contains(., "GOOD")]`))
}
