package main

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// A phone is somebody at the pages: it follows what a form says.
type phone struct {
	t      *testing.T
	client *http.Client
	base   string
	page   string
	status int
	at     string
}

func newTestFloor(t *testing.T) (*floor, *httptest.Server) {
	t.Helper()
	folder := t.TempDir()
	require.NoError(t, makeDemo(folder))
	rules, err := readRules(filepath.Join(folder, "rules.json"))
	require.NoError(t, err)
	s, err := openStore(folder)
	require.NoError(t, err)
	t.Cleanup(s.close)
	f := newFloor(s, rules, true, true, slog.New(slog.NewTextHandler(io.Discard, nil)))
	s.now = func() time.Time { return time.Date(2026, 12, 3, 10, 42, 0, 0, time.UTC) }
	server := httptest.NewServer(f)
	t.Cleanup(server.Close)
	return f, server
}

func newPhone(t *testing.T, server *httptest.Server, name string) *phone {
	t.Helper()
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	p := &phone{t: t, client: &http.Client{Jar: jar}, base: server.URL}
	p.post("/who", url.Values{"by": {name}, "back": {"/"}})
	require.Equal(t, http.StatusOK, p.status)
	require.Contains(t, p.page, name)
	return p
}

func (p *phone) read(r *http.Response, err error) {
	p.t.Helper()
	require.NoError(p.t, err)
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	require.NoError(p.t, err)
	p.page, p.status, p.at = string(body), r.StatusCode, r.Request.URL.Path
}

func (p *phone) get(path string) {
	p.t.Helper()
	r, err := p.client.Get(p.base + path)
	p.read(r, err)
}

func (p *phone) post(path string, form url.Values) {
	p.t.Helper()
	r, err := http.NewRequest(http.MethodPost, p.base+path, strings.NewReader(form.Encode()))
	require.NoError(p.t, err)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", p.base)
	answer, err := p.client.Do(r)
	p.read(answer, err)
}

// follow goes to the link whose text has the words.
func (p *phone) follow(words string) {
	p.t.Helper()
	for _, m := range regexp.MustCompile(`(?s)<a [^>]*href="([^"]*)"[^>]*>(.*?)</a>`).FindAllStringSubmatch(p.page, -1) {
		if strings.Contains(html.UnescapeString(m[2]), words) {
			p.get(html.UnescapeString(m[1]))
			return
		}
	}
	p.t.Fatalf("no link %q on %s:\n%s", words, p.at, p.page)
}

// form is what the form with such a button would send, and where to.
func (p *phone) form(button string) (string, url.Values) {
	p.t.Helper()
	for _, m := range regexp.MustCompile(`(?s)<form method="post" action="([^"]*)"[^>]*>(.*?)</form>`).FindAllStringSubmatch(p.page, -1) {
		for _, b := range regexp.MustCompile(`(?s)<button([^>]*)>(.*?)</button>`).FindAllStringSubmatch(m[2], -1) {
			if !strings.Contains(html.UnescapeString(b[2]), button) {
				continue
			}
			values := url.Values{}
			for _, tag := range append(regexp.MustCompile(`<input type="hidden"[^>]*>`).FindAllString(m[2], -1), b[1]) {
				if name := regexp.MustCompile(`name="([^"]*)"`).FindStringSubmatch(tag); name != nil {
					values.Set(name[1], html.UnescapeString(regexp.MustCompile(`value="([^"]*)"`).FindStringSubmatch(tag)[1]))
				}
			}
			return m[1], values
		}
	}
	p.t.Fatalf("no button %q on %s:\n%s", button, p.at, p.page)
	return "", nil
}

// press sends the form with the button, filled in with name and value by turns.
func (p *phone) press(button string, filled ...string) {
	p.t.Helper()
	action, values := p.form(button)
	for i := 0; i+1 < len(filled); i += 2 {
		values.Set(filled[i], filled[i+1])
	}
	p.post(action, values)
}

// toJob opens the generator's job.
func (p *phone) toJob() {
	p.t.Helper()
	p.get("/")
	p.follow("Standby generator 2")
}

// The whole road: contact between two marks, where to stop, a mistake, the verdict, its correction.
func TestRoad(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("2. Station 1")
	assert.Contains(t, ann.page, "SET 17.2 N·m", "what the sheet sets the wrench to")
	ann.press("☐")
	assert.Contains(t, ann.page, "☑")
	assert.Contains(t, ann.page, "Ann 10:42")
	ann.toJob()
	assert.Regexp(t, `Station 1: water separator <b>SET 17.2 N·m</b> <small>1 of \d+, Ann 10:42</small>`, ann.page)

	ann.toJob()
	ann.follow("which mark at contact?")
	ann.press("between 3 and 4")
	assert.Contains(t, ann.page, "WRITTEN DOWN")
	ann.follow("Next: Station 2: where did it stop?")
	ann.get(regexp.MustCompile(`<img class="ring" src="([^"]*)"`).FindStringSubmatch(ann.page)[1])
	assert.Contains(t, ann.page, "<svg")
	ann.toJob()
	ann.follow("where did it stop?")
	assert.Contains(t, ann.page, "at 6", "from midway between 3 and 4, 7/12 of a turn on six marks that count down")
	assert.Contains(t, ann.page, "CLOCKWISE")
	assert.Contains(t, ann.page, "TOO FAR?")
	ann.press("between 4 and 5", "a.passes", "0")
	assert.Contains(t, ann.page, "✗</span> FAIL", "a known fault isn't a doubt")
	assert.Contains(t, ann.page, "Never turn back")
	assert.Contains(t, ann.page, "<b>between 4 and 5</b>")
	assert.Contains(t, ann.page, "Do as it says", "a true reading isn't what is to be mended")
	ann.follow("Done again, or read wrong")
	ann.press("at 6", "a.passes", "1")
	assert.Contains(t, ann.page, "✗</span> FAIL")
	assert.Contains(t, ann.page, "<b>at 6, start came round 1 ×</b>", "a whole turn too far isn't what the next answer is")
	ann.press("Take it back")
	ann.follow("where did it stop? <b>between 4 and 5")
	ann.press("It stopped as shown")
	assert.Contains(t, ann.page, "GOOD")
	assert.Contains(t, ann.page, "<b>at 6</b>")
	ann.press("Take it back")
	ann.follow("where did it stop? <b>between 4 and 5") // what was there before counts again
}

// The demonstration's wrench reads in-lb from 30 to 200 or so; what isn't on its scale asks which unit was read.
func TestTorque(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 1: torque")
	jobs, err := f.jobs()
	require.NoError(t, err)
	j := jobs[2]
	require.Equal(t, "Standby generator 2", j.Job.Machine)
	a, ok := j.ask("stations[0].torque")
	require.True(t, ok)
	wrench, unit := j.wrench(a)
	require.NotNil(t, wrench)
	assert.Contains(t, ann.page, "wrench "+wrench.Name+", "+unit.String(), "the unit is the wrench's")

	far := wrench.Highest.Float64(unit) * 1.5
	ann.press("Save", "a.value", fmt.Sprint(far), "a.clicked", "yes", "a.gap", "no")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, "Did the wrench show that?")
	assert.Contains(t, ann.page, "is not on the scale of this wrench")
	assert.NotRegexp(t, `name="a.unit"[^>]*checked`, ann.page, "none is chosen")
	ann.press("Save", "a.value", "x", "a.clicked", "yes", "a.gap", "no")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, `role="alert"`)
	assert.Contains(t, ann.page, `value="x"`, "what was typed is kept in its field")

	ann.press("Save", "a.value", "17", "a.clicked", "yes")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, "Say whether a gap is left")
	ann.press("Save", "a.value", "17", "a.clicked", "yes", "a.gap", "yes")
	assert.Contains(t, ann.page, "✗</span> FAIL")
	ann.follow("Done again, or read wrong")
	ann.press("Save", "a.value", "17", "a.clicked", "yes", "a.gap", "no")
	assert.Equal(t, http.StatusOK, ann.status, ann.page)
	assert.Contains(t, ann.page, "GOOD")
	assert.Contains(t, ann.page, "Next: ")
}

func TestTwoPeople(t *testing.T) {
	f, server := newTestFloor(t)
	j, err := f.jobOf(id("COLD-0417"))
	require.NoError(t, err)
	for _, step := range j.LockOut() {
		_, err := f.store.add(entry{Token: step.Key, By: "Ann", Job: "COLD-0417", Revision: 1, Ask: step.Key, Answer: map[string]string{"done": "yes"}})
		require.NoError(t, err)
	}
	ann, bob := newPhone(t, server, "Ann"), newPhone(t, server, "Bob")
	ann.toJob()
	ann.follow("did it drag")
	bob.toJob()
	bob.follow("did it drag")
	action, values := ann.form("No")
	ann.press("No")
	assert.Contains(t, ann.page, "GOOD")
	ann.post(action, values) // a double tap
	assert.Contains(t, ann.page, "GOOD")
	bob.press("Yes")
	assert.Contains(t, bob.page, "Two answers")
	assert.Regexp(t, `10:42 Ann: <b>no</b>`, bob.page)
	assert.Regexp(t, `10:42 Bob: <b>yes</b>`, bob.page)
	ann.get("/foreman")
	assert.Contains(t, ann.page, "<b>▲ TWO ANSWERS</b> Station 1: did it drag while it was run up by hand? two answers, and one has to be chosen")
	ann.toJob()
	assert.Contains(t, ann.page, "▲ Station 1: did it drag while it was run up by hand? Two answers: choose one")
	assert.NotRegexp(t, `first"[^>]*>Next: `, ann.page, "choosing comes first")
	bob.press("Use that of Bob")
	assert.Contains(t, bob.page, "✗</span> FAIL", "it drags")
	bob.toJob()
	bob.follow("Two answers") // still to be settled
	bob.press("Keep that of Bob")
	assert.NotContains(t, bob.page, "Two answers")
	ann.get("/foreman")
	assert.Less(t, strings.Index(ann.page, "Standby generator 2"), strings.Index(ann.page, "Dozer engine"), "the worst first")
	assert.Contains(t, ann.page, "did it drag", "what is next is said of the others")
	assert.Contains(t, ann.page, `<td data-is="Who">nobody yet<form`)
	ann.press("I take over")
	assert.Contains(t, ann.page, "taken over by Ann")
}

// Two who say the same are both named on the pages.
func TestTwoPeopleAgree(t *testing.T) {
	_, server := newTestFloor(t)
	ann, bob := newPhone(t, server, "Ann"), newPhone(t, server, "Bob")
	for _, p := range []*phone{ann, bob} {
		p.toJob()
		p.follow("did it drag")
	}
	ann.press("No")
	bob.press("No")
	assert.Contains(t, bob.page, "GOOD")
	assert.Contains(t, bob.page, "Saved 10:42 by Ann, Bob")
	ann.toJob()
	assert.Contains(t, ann.page, "<b>no</b> <small>Ann, Bob 10:42</small>")
}

// One who takes back what another has corrected meanwhile sees both.
func TestStaleUndo(t *testing.T) {
	_, server := newTestFloor(t)
	ann, bob := newPhone(t, server, "Ann"), newPhone(t, server, "Bob")
	ann.toJob()
	ann.follow("did it drag")
	ann.press("No")
	bob.toJob()
	ann.toJob()
	ann.follow("did it drag")
	ann.press("Yes")
	bob.press("Take it back")
	assert.Contains(t, bob.page, "Two answers")
	assert.Regexp(t, `10:42 Ann: <b>yes</b>`, bob.page)
	assert.Contains(t, bob.page, "10:42 Bob: <b>took entry 1 back</b>")
	bob.press("Take it back all the same")
	bob.toJob()
	assert.Contains(t, bob.page, "did it drag while it was run up by hand? <b>no</b>", "what was there before counts again")
}

// Behind a proxy the pages are asked for under its name, or under this machine's.
func TestBehindProxy(t *testing.T) {
	f, server := newTestFloor(t)
	f.public = "shop.example"
	for _, host := range []string{"shop.example", strings.TrimPrefix(server.URL, "http://")} {
		r, err := http.NewRequest(http.MethodPost, server.URL+"/who", strings.NewReader("by=Ann&back=/"))
		require.NoError(t, err)
		r.Host = host
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "https://shop.example")
		client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
		answer, err := client.Do(r)
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, http.StatusSeeOther, answer.StatusCode, host)
	}
}

// The invented folder says so also when it is given again.
func TestInventedFolderGivenAgain(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, makeDemo(folder))
	var out, problems bytes.Buffer
	require.Equal(t, 0, run(context.Background(), []string{"-list", folder}, &out, &problems), problems.String())
	assert.Contains(t, out.String(), "Invented jobs")
	assert.Equal(t, 1, run(context.Background(), []string{"-origin", "shop", "-list", folder}, &out, &problems))
}

func TestForms(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, c := range []struct{ ask, button, filled, want string }{
		{"fuel that came out", "Save", "a.value=0.8,a.spread=0.05,a.at=26", "✓"},
		{"water under the fuel", "Save", "a.value=0.06,a.spread=0.01,a.at=26", "✓"},
		{"Key cycles", "Save", "a.value=4", "✓"},
		{"Cranking", "Save", "a.crank1=8", "✓"},
		{"leaks at priming pressure?", "No", "", "✓"},
		{"starter batteries", "Yes", "", "✓"},
		{"Weight of drained fuel", "Save", "a.value=1.35,a.spread=0.02", "✓"},
		{"weight of fuel-water mix", "Save", "a.value=0.06,a.spread=0.01", "✓"},
		{"Weight of absorbent", "Save", "a.value=0.40", "GOOD"}, // and not what is said of the O-rings, which aren't weighed yet
	} {
		ann.toJob()
		ann.follow(c.ask)
		var filled []string
		for _, f := range strings.FieldsFunc(c.filled, func(r rune) bool { return r == ',' || r == '=' }) {
			filled = append(filled, f)
		}
		ann.press(c.button, filled...)
		assert.Equal(t, http.StatusOK, ann.status, "%s: %s", c.ask, ann.page)
		assert.Contains(t, ann.page, c.want, c.ask)
	}
	ann.toJob()
	ann.follow("Hours on the meter")
	ann.press("Save", "a.hours", "1250")
	assert.Contains(t, ann.page, "WRITTEN DOWN", "what nothing judges isn't called good")
	assert.NotContains(t, ann.page, "GOOD")
	assert.Contains(t, ann.page, "<b>1250 h</b>")
	ann.toJob()
	ann.follow("History of this machine")
	assert.Contains(t, ann.page, "1250 h")
	assert.Contains(t, ann.page, "water under the fuel: 0.06 ± 0.01 L, 26 °C<br>")
	ann.toJob()
	ann.follow("Hours on the meter")
	ann.press("Save", "a.hours", "-5")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, `value="-5"`, "what was typed is kept")
	assert.Contains(t, ann.page, `href="#a.hours"`)
	ann.toJob()
	ann.follow("Show the working")
	assert.Contains(t, ann.page, "✓")
}

// Good readings don't make a job look finished: steps that aren't ticked are said, and lock-out before all.
func TestDone(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	job := func() *floorJob {
		j, err := f.jobOf(id("COLD-0417"))
		require.NoError(t, err)
		return j
	}
	ann.toJob()
	assert.Contains(t, ann.page, "▲ Lock-out: 5 steps aren't ticked")
	for _, c := range [][]string{{"Station 1: did it drag", "No"}, {"Station 1: torque", "Save", "a.value", "17.2", "a.clicked", "yes", "a.gap", "no"},
		{"Station 2: did it drag", "No"}, {"Station 2: which mark", "between 3 and 4"}, {"Station 2: where did it stop", "It stopped as shown"},
		{"Station 1: leaks at priming", "No"}, {"Station 1: leaks when hot", "No"}, {"Station 2: leaks at priming", "No"}, {"Station 2: leaks when hot", "No"},
		{"fuel supply cock", "Yes"}, {"starter batteries", "Yes"}, {"battery charger", "Yes"}, {"automatic and remote start", "Yes"}} {
		ann.toJob()
		ann.follow(c[0])
		ann.press(c[1], c[2:]...)
		require.Contains(t, ann.page, "▲ Lock-out: 5 steps aren't ticked", c[0])
	}
	require.True(t, job().Review.Complete)
	assert.Equal(t, "… OPEN", job().Sign().String())
	assert.Equal(t, "65 steps aren't ticked, lock-out among them", f.Why(job()))
	ann.toJob()
	assert.NotContains(t, ann.page, "GOOD")
	assert.NotContains(t, ann.page, "DONE")
	assert.Contains(t, ann.page, "65 steps aren&#39;t ticked, lock-out among them")
	ann.get("/foreman")
	assert.Contains(t, ann.page, "65 steps aren&#39;t ticked, lock-out among them")

	todo := job().open()
	for i, step := range todo {
		if i == len(todo)-1 {
			assert.Equal(t, "… OPEN", job().Sign().String())
			assert.Equal(t, "1 step isn't ticked", f.Why(job()))
		}
		_, err := f.store.add(entry{Token: fmt.Sprint(i), By: "Ann", Job: "COLD-0417", Revision: 1, Ask: step.Key, Answer: map[string]string{"done": "yes"}})
		require.NoError(t, err)
	}
	ann.get("/")
	assert.Regexp(t, `(?s)<h1>Open jobs</h1>.*Dozer engine.*<h2>Done</h2>.*Standby generator 2`, ann.page)
	ann.toJob()
	assert.NotContains(t, ann.page, "Lock-out")
	assert.Contains(t, ann.page, "✓ DONE")
	assert.NotContains(t, ann.page, "Next: ", "nothing has to be done")
	assert.NotContains(t, ann.page, "wide first")
	assert.Contains(t, ann.page, "May still be written down: Station 1: fuel that came out")
	assert.Contains(t, ann.page, "not written down: Station 1: fuel that came out, Station 1: water under the fuel, Station 2: fuel that came out, "+
		"Key cycles of the lift pump, Cranking, Hours on the meter, 6 weights")
	assert.Less(t, len(ann.page), 16<<10)
	for n := range job().Pages {
		ann.get(fmt.Sprintf("/job/%s/steps/%d", id("COLD-0417"), n+1))
		assert.NotContains(t, ann.page, "☐")
		assert.Less(t, len(ann.page), 16<<10, "page %d", n+1)
	}
}

// When every page is done, next is what an answer says is still to be done; what nobody needs weighed comes when all else is done.
func TestNextAtTheEnd(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	j, err := f.jobOf(id("COLD-0417"))
	require.NoError(t, err)
	put := func(ask string, answer map[string]string) {
		_, err := f.store.add(entry{Token: ask, By: "Ann", Job: "COLD-0417", Revision: 1, Ask: ask, Answer: answer})
		require.NoError(t, err)
	}
	for _, step := range j.open()[:64] {
		put(step.Key, map[string]string{"done": "yes"})
	}
	weights := map[string]string{"weights[0]": "1.36", "weights[1]": "0.06", "weights[2]": "0.275", "weights[3]": "1.06", "weights[4]": "0.40", "weights[5]": "0.02"} // as the sheet expects
	for _, a := range j.Asks {
		switch a.Form {
		case "yesno":
			put(a.Key, map[string]string{"yes": map[bool]string{true: "yes", false: "no"}[a.Name != "" && a.Name != "battery charger"]})
		case "torque":
			put(a.Key, map[string]string{"value": "17.2", "unit": "N·m", "tool": "W-7", "clicked": "yes", "gap": "no"})
		case "contact":
			put(a.Key, map[string]string{"place": "3|4"})
		case "after":
			put(a.Key, map[string]string{"place": "6", "passes": "0"})
		case "volume":
			put(a.Key, map[string]string{"value": map[bool]string{true: "0.06", false: "0.85"}[a.water()], "spread": "0.01", "at": "26"})
		case "count":
			put(a.Key, map[string]string{"value": "3"})
		case "crank":
			put(a.Key, map[string]string{"crank1": "8"})
		case "meter":
			put(a.Key, map[string]string{"hours": "1204"})
		case "weight":
			if a.Key != "weights[0]" {
				put(a.Key, map[string]string{"value": weights[a.Key]})
			}
		}
	}
	ann.toJob()
	ann.follow("Next: page 5, For the office")
	ann.press("☐")
	ann.toJob()
	ann.follow("Next: battery charger: back in service?")
	ann.press("Yes")
	assert.Contains(t, ann.page, "✓ DONE")
	ann.follow("May still be written down: Weight of drained fuel")
}

// A known fault, a doubt and what isn't done yet differ in word and sign, in the answer, on the job's page and on the foreman's list.
func TestFaultOrDoubt(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, c := range []struct{ ask, button, filled, sign, job string }{
		{"battery charger: back", "No", "", "… NOT YET", "… OPEN"},
		{"fuel that came out", "Save", "a.value=0.3,a.at=26", "▲ ASK FIRST", "▲ ASK FIRST"},
		{"Station 1: leaks at priming", "Yes", "", "✗ FAIL", "✗ FAIL"},
	} {
		ann.toJob()
		ann.follow(c.ask)
		ann.press(c.button, strings.FieldsFunc(c.filled, func(r rune) bool { return r == ',' || r == '=' })...)
		mark, word, _ := strings.Cut(c.sign, " ")
		assert.Contains(t, ann.page, mark+"</span> "+word, c.ask)
		ann.toJob()
		assert.Contains(t, ann.page, "<b>"+c.job+"</b>: ", c.ask)
		assert.Regexp(t, ">"+mark+" [^<]*"+c.ask, ann.page)
		ann.get("/foreman")
		assert.Contains(t, ann.page, "<b>"+c.job+"</b>", c.ask)
	}
}

// What comes next follows the work, page by page: its steps, and then what is written down of them. No leak is looked for before the
// stations and the priming are answered, and nobody is led to what needn't be weighed while steps are left.
func TestNext(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	assert.NotContains(t, ann.page, "Next: ", "lock-out comes first")
	ann.follow("Lock-out")
	var order []string
	for len(order) < 24 {
		title := html.UnescapeString(regexp.MustCompile(`<h1>([^<]*)</h1>`).FindStringSubmatch(ann.page)[1])
		order = append(order, title)
		switch {
		case strings.Contains(ann.page, "☐"):
			assert.NotContains(t, ann.page, "Next: ", title)
			j, err := f.jobOf(id("COLD-0417"))
			require.NoError(t, err)
			page := j.open()[0].Page
			for _, s := range j.open()[1:] {
				if s.Page == page {
					_, err := f.store.add(entry{Token: s.Key, By: "Ann", Job: "COLD-0417", Revision: 1, Ask: s.Key, Answer: map[string]string{"done": "yes"}})
					require.NoError(t, err)
				}
			}
			ann.press("☐")
		case strings.Contains(ann.page, `name="a.gap"`):
			ann.press("Save", "a.value", "17.2", "a.clicked", "yes", "a.gap", "no")
		case strings.Contains(ann.page, `name="a.at"`):
			ann.press("Save", "a.value", map[bool]string{true: "0.06", false: "0.85"}[strings.Contains(ann.page, "water under the fuel")], "a.spread", "0.01", "a.at", "26")
		case strings.Contains(ann.page, `name="a.crank1"`):
			ann.press("Save", "a.crank1", "8")
		case strings.Contains(ann.page, `name="a.hours"`):
			ann.press("Save", "a.hours", "1204")
		case strings.Contains(ann.page, `name="a.value"`):
			ann.press("Save", "a.value", "4")
		case strings.Contains(ann.page, "between 3 and 4") && !strings.Contains(ann.page, "It stopped as shown"):
			ann.press("between 3 and 4")
		case strings.Contains(ann.page, "It stopped as shown"):
			ann.press("It stopped as shown")
		case strings.Contains(title, "back in service"):
			ann.press("Yes")
		default:
			ann.press("No")
		}
		if len(order) < 24 {
			ann.follow("Next: ")
		}
	}
	assert.Contains(t, ann.page, "May still be written down: Weight of drained fuel", "all that is needed is done")
	assert.Equal(t, []string{"Before you start",
		"Station 1: water separator", "Station 1: did it drag while it was run up by hand?", "Station 1: torque", "Station 1: fuel that came out", "Station 1: water under the fuel",
		"Station 2: fine filter, canister", "Station 2: did it drag while it was run up by hand?", "Station 2: which mark at contact?", "Station 2: where did it stop?", "Station 2: fuel that came out",
		"Prime, start, leaks, back into service", "Key cycles of the lift pump", "Station 1: leaks at priming pressure?", "Station 2: leaks at priming pressure?", "Cranking",
		"Station 1: leaks when hot?", "Station 2: leaks when hot?",
		"fuel supply cock: back in service?", "starter batteries: back in service?", "battery charger: back in service?", "automatic and remote start: back in service?",
		"Hours on the meter", "For the office"}, order)
}

// Turns to the stop are counted before it is tightened, and its torque is judged by them: asked for in that order, the torque is in
// no doubt. The screen says what to set, though the card's figure is the gap.
func TestStopBeforeTorque(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.get("/job/" + id("DOZ-0031") + "/ask/" + id("stations[1].dragged"))
	ann.press("No")
	ann.follow("Next: Station cap: turns to the stop")
	ann.press("Save", "a.value", "5 1/2")
	assert.Contains(t, ann.page, "GOOD")
	ann.follow("Next: Station cap: torque")
	assert.Contains(t, ann.page, `<p class="strip">SET 16.5 ft-lb</p>`)
	assert.Contains(t, ann.page, "CLICK OR STOP, BUT A GAP?")
	ann.press("Save", "a.value", "16.5", "a.clicked", "yes", "a.gap", "no")
	assert.Contains(t, ann.page, "GOOD")
	ann.follow("Next: Station cap: fuel that came out")
}

// After a doubt asking comes first, and going on is another choice; after a fault there is only what mends it.
func TestAskFirst(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 1: fuel that came out")
	ann.press("Save", "a.value", "0.3", "a.at", "26")
	assert.NotContains(t, ann.page, "Next: ")
	assert.NotContains(t, ann.page, "flash point", "what is good isn't mixed with the doubt")
	assert.Regexp(t, `(?s)Ask the foreman.*Write the answer down.*answer again.*Go on, and ask later: Station 1: did it drag`, ann.page)
	assert.NotRegexp(t, `first"[^>]*>Go on`, ann.page)
	ann.get("/foreman")
	assert.Contains(t, ann.page, "Station 1: fuel that came out: Less than the plan expects")
	assert.Contains(t, ann.page, `<td data-is="Next">Station 1: fuel that came out</td>`)
	ann.toJob()
	assert.Regexp(t, `(?s)first"[^>]*>What to do: ▲ Station 1: fuel that came out<.*wide warn"[^>]*>▲ Lock-out`, ann.page)
	ann.follow("What to do")
	assert.Contains(t, ann.page, "Ask the foreman")

	ann.toJob()
	ann.follow("Station 2: leaks at priming")
	ann.press("Yes")
	assert.Contains(t, ann.page, "A LEAK? Stop the engine.")
	assert.NotContains(t, ann.page, "Next: ")
	assert.NotContains(t, ann.page, "Go on: ")
	ann.follow("Do as it says")
	assert.Contains(t, ann.page, "Prime, start, leaks")
	ann.toJob()
	assert.Regexp(t, `first"[^>]*>What to do: ✗ Station 2: leaks at priming pressure\?`, ann.page, "the worst")
}

// No water is an answer of its own: it needs no temperature, isn't less than expected, and leaves nothing to weigh.
func TestNoWater(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 1: water under the fuel")
	ann.press("Save", "a.value", "0.0", "a.at", "26")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	ann.press("No water came out")
	assert.Contains(t, ann.page, "GOOD")
	assert.Contains(t, ann.page, "<b>no water</b>")
	assert.NotContains(t, ann.page, "Less than")
	j, err := f.jobOf(id("COLD-0417"))
	require.NoError(t, err)
	require.NoError(t, j.ReviewErr)
	require.NotNil(t, j.Review.Done.Stations[0].Water)
	assert.Equal(t, "0 L", j.Review.Done.Stations[0].Water.Volume.High.String(), "it is in the readings")
	mix, ok := j.ask("weights[1]")
	require.True(t, ok)
	assert.True(t, j.answered(mix), "there is no mix to weigh")
	ann.get("/machine/" + id("Standby generator 2"))
	assert.Contains(t, ann.page, "water under the fuel: no water<br>")
	ann.toJob()
	ann.follow("Station 1: water under the fuel")
	ann.press("Take it back")
	ann.follow("… Station 1: water under the fuel")
}

// What was typed wrong is said in plain words, with a link to its field, and nothing of it is lost.
func TestMistyped(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, c := range []struct{ ask, filled, field, want string }{
		{"Station 1: torque", "a.value=17.2 N·m;a.clicked=yes;a.gap=no", "a.value", "“17.2 N·m” isn't a number such as 12.5: type digits alone, without a unit."},
		{"Station 1: torque", "a.value=17,2;a.clicked=yes;a.gap=no", "a.value", "“17,2” has a comma: type it with a point, such as 12.5."},
		{"Station 1: torque", "a.value=1e9;a.clicked=yes;a.gap=no", "a.value", "“1e9” isn't a number"},
		{"fuel that came out", "a.value=0.8;a.at=warm", "a.at", "The temperature: “warm” isn't a number"},
		{"fuel that came out", "a.value=0.8;a.at=2600", "a.at", "The temperature: “2600” can't be right here: read it again."},
		{"fuel that came out", "a.value=-1;a.at=26", "a.value", "The jug: “-1” is below zero."},
		{"fuel that came out", "a.value=0.8;a.at=26;a.spread=0", "a.spread", "How far it may be out: it is never 0: leave it empty if you don't know it."},
		{"fuel that came out", "a.value=1.1;a.at=26;a.spread=2", "a.spread", "It can't be out by more than the jug showed."},
		{"Weight of drained fuel", "a.value=1;a.spread=3", "a.spread", "It can't be out by more than the scale showed."},
		{"Key cycles", "a.value=1.5", "a.value", "“1.5” isn't a whole number such as 4."},
		{"Key cycles", "a.value=007", "a.value", "“007” isn't a whole number"},
		{"Key cycles", "a.value=100000000", "a.value", "“100000000” can't be right here"},
		{"Hours on the meter", "a.hours=12.5", "a.hours", "“12.5” isn't a whole number such as 1204: leave tenths and commas off."},
		{"Cranking", "a.crank1=8;a.crank2=x;a.rest2=120", "a.crank2", "Attempt 2: “x” isn't a number"},
		{"Cranking", "a.crank1=8;a.crank2=8;a.rest2=-3", "a.rest2", "The rest before attempt 2: “-3” is below zero."},
		{"Cranking", "a.crank2=8;a.rest2=120", "a.crank1", "Attempt 1: type a number."},
		{"Cranking", "a.crank1=0", "a.crank1", "Attempt 1: it has to be more than 0."},
	} {
		ann.toJob()
		ann.follow(c.ask)
		var filled []string
		for _, one := range strings.Split(c.filled, ";") {
			name, value, _ := strings.Cut(one, "=")
			filled = append(filled, name, value)
		}
		ann.press("Save", filled...)
		assert.Equal(t, http.StatusUnprocessableEntity, ann.status, c.filled)
		assert.Contains(t, html.UnescapeString(ann.page), `<a href="#`+c.field+`">NOT SAVED. `+c.want, c.filled)
		assert.Contains(t, ann.page, `id="`+c.field+`"`, c.filled)
		assert.NotContains(t, ann.page, "byte ")
	}
	j, err := f.jobOf(id("COLD-0417"))
	require.NoError(t, err)
	assert.Empty(t, j.Entries)
}

// A job without a wrench of its own asks which it was: what one delivers that nobody names can't be known.
func TestWhichWrench(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.get("/job/" + id("PUMP-0012") + "/ask/" + id("stations[0].torque"))
	ann.press("Save", "a.value", "25", "a.clicked", "yes", "a.gap", "no", "a.tool", " ")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, html.UnescapeString(ann.page), `<a href="#a.tool">NOT SAVED. Type the wrench's number, or what it is called in the shop.</a>`)
	ann.press("Save", "a.value", "25", "a.clicked", "yes", "a.gap", "no", "a.tool", "T-1")
	assert.Contains(t, ann.page, "The job lists no wrench T-1")
	ann.follow("answer again")
	ann.press("Save", "a.value", "60", "a.clicked", "yes", "a.gap", "no", "a.tool", "T-1")
	assert.Contains(t, ann.page, "✗</span> FAIL", "set outside the band, it is wrong by any wrench")
	assert.Contains(t, ann.page, "It is above the band")
	ann.follow("answer again")
	ann.press("Save", "a.value", "25", "a.clicked", "no", "a.gap", "no", "a.tool", "T-1")
	assert.Contains(t, ann.page, "ask by how much that wrench may be out")
}

// A wrench that never clicked shows nothing of the torque, whatever it was set to; at a stop the click is the limit, and needn't come.
func TestNeverClicked(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, set := range []string{"17.2", "24"} {
		ann.get("/job/" + id("COLD-0417") + "/ask/" + id("stations[0].torque"))
		ann.press("Save", "a.value", set, "a.clicked", "never", "a.gap", "no")
		assert.Contains(t, ann.page, "▲</span> ASK FIRST", set)
		assert.Contains(t, ann.page, "It never clicked, so what was set wasn&#39;t reached")
		assert.NotContains(t, ann.page, "above the band")
		assert.Contains(t, ann.page, "<b>"+set+" N·m, never clicked, no gap</b>")
	}
	cap := "/job/" + id("DOZ-0031") + "/ask/"
	ann.get(cap + id("stations[1].dragged"))
	ann.press("No")
	ann.get(cap + id("stations[1].stopTurns"))
	ann.press("Save", "a.value", "5 1/2")
	ann.get(cap + id("stations[1].torque"))
	ann.press("Save", "a.value", "16.5", "a.clicked", "", "a.gap", "no")
	assert.Contains(t, ann.page, `<a href="#a.clicked">NOT SAVED. Say whether it clicked.</a>`)
	ann.press("Save", "a.value", "16.5", "a.clicked", "never", "a.gap", "no")
	assert.Contains(t, ann.page, "GOOD")
}

// The working names questions as the pages do, has what was found and what is wanted, and what isn't written down once.
func TestWorking(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, c := range [][]string{{"Station 1: torque", "Save", "a.value", "17.2", "a.clicked", "yes", "a.gap", "no"}, {"Station 2: which mark", "between 3 and 4"}, {"Station 2: where did it stop", "It stopped as shown"}} {
		ann.toJob()
		ann.follow(c[0])
		ann.press(c[1], c[2:]...)
	}
	ann.toJob()
	ann.follow("Show the working")
	page := html.UnescapeString(ann.page)
	assert.Contains(t, page, "<b>✓ Station 1: torque 17.2 N·m, clicked, no gap</b>")
	assert.Contains(t, page, "All that the wrench may deliver at that setting is in the band.")
	assert.Contains(t, page, "; wanted: ")
	assert.Contains(t, page, "Not written down: Station 1: did it drag")
	assert.Equal(t, 1, strings.Count(page, "6 weights"))
	assert.NotRegexp(t, `stations\[|weights:|not recorded`, page)
}

// Only units that the wrench shows are offered.
func TestUnitsOfWrench(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 1: torque")
	ann.press("Save", "a.value", "170", "a.clicked", "yes", "a.gap", "no")
	assert.Contains(t, ann.page, "170 N·m is not on the scale of this wrench, 5 N·m to 25 N·m.")
	assert.Contains(t, ann.page, "Did the wrench show that?")
	assert.NotContains(t, ann.page, "in-lb</label>")
	ann.press("Save", "a.value", "180", "a.clicked", "yes", "a.gap", "no", "a.unit", "")
	assert.Contains(t, ann.page, "180 N·m is not on the scale", "the corrected number is looked at as the first was")
	ann.press("Save", "a.value", "17.2", "a.clicked", "yes", "a.gap", "no", "a.unit", "")
	assert.Contains(t, ann.page, "GOOD")
	j, err := f.jobOf(id("DOZ-0031")) // its wrench shows N·m, too
	require.NoError(t, err)
	a, ok := j.ask("stations[0].torque")
	require.True(t, ok)
	wrench, unit := j.wrench(a)
	assert.Equal(t, []string{"ft-lb", "N·m"}, otherUnits(wrench, "75", unit))
	assert.Empty(t, otherUnits(wrench, "30", unit))
}

// Where it stopped needs a mark at contact, and leads to it; that none was seen is no mark.
func TestBeforeContact(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 2: did it drag")
	ann.press("No")
	ann.toJob()
	ann.follow("Station 2: where did it stop?")
	assert.Equal(t, http.StatusConflict, ann.status)
	assert.Contains(t, ann.page, "Where to stop is counted from contact.")
	ann.follow("Station 2: which mark at contact?")
	ann.press("I can't see a mark")
	assert.Contains(t, ann.page, "▲</span> ASK FIRST")
	assert.Contains(t, ann.page, "Paint a line")
	assert.NotContains(t, ann.page, "Go on, and ask later", "to the same question")
	ann.follow("There is a mark now: which one?")
	ann.toJob()
	assert.Contains(t, ann.page, "<b>▲ ASK FIRST</b>: Station 2: which mark at contact? no mark could be seen")
	assert.Contains(t, ann.page, "▲ Station 2: which mark at contact?")
	ann.follow("Station 2: where did it stop?")
	assert.Contains(t, ann.page, "no mark was seen there")
	ann.follow("Station 2: which mark at contact?")
	j, err := f.jobOf(id("COLD-0417"))
	require.NoError(t, err)
	require.NoError(t, j.ReviewErr)
	doc, err := j.document(j.Current)
	require.NoError(t, err)
	assert.NotContains(t, fmt.Sprint(doc), "unseen")
	ann.press("between 3 and 4")
	ann.follow("Next: Station 2: where did it stop?")
	ann.press("between 4 and 5", "a.passes", "0")
	ann.toJob()
	assert.Contains(t, ann.page, "✓ Station 2: which mark at contact?")
	ann.follow("What to do: ✗ Station 2: where did it stop?")
	assert.Contains(t, ann.page, "Never turn back")
}

// What is wrong with the temperature of a volume is said with the volume.
func TestHotFuel(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("Station 2: fuel that came out")
	ann.press("Save", "a.value", "0.85", "a.spread", "0.01", "a.at", "60") // the flash point is 52 °C
	assert.Contains(t, ann.page, "✗</span> FAIL")
	assert.Contains(t, ann.page, "At its least flash point or above")
}

// An address of an answer that was corrected doesn't show the verdict of another with it.
func TestOldAnswer(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for _, answer := range []string{"No", "Yes"} {
		ann.toJob()
		ann.follow("Station 1: leaks at priming")
		ann.press(answer)
	}
	now := ann.at
	ann.get(strings.Replace(now, "/2", "/1", 1))
	assert.Equal(t, http.StatusConflict, ann.status)
	assert.Contains(t, ann.page, "doesn&#39;t count any more")
	ann.follow("Station 1: leaks at priming")
	assert.Contains(t, ann.page, "Ann: yes")
}

// Who was asked about a doubt, and what they said, is written down; then it keeps the job open no longer. It counts for that answer alone.
func TestAsked(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	fuel := func(litres string) {
		ann.toJob()
		ann.follow("Station 1: fuel that came out")
		ann.press("Save", "a.value", litres, "a.at", "26")
		require.Contains(t, ann.page, "ASK FIRST")
	}
	job := func() *floorJob {
		j, err := f.jobOf(id("COLD-0417"))
		require.NoError(t, err)
		return j
	}
	fuel("0.3")
	stale, form := ann.form("Write the answer down")
	ann.press("Write the answer down", "a.who", " ", "a.said", "it may")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, `<a href="#a.who">NOT SAVED. Type who answered.</a>`)
	assert.Contains(t, ann.page, `value="it may"`)
	ann.press("Write the answer down", "a.who", "Joe", "a.said", "the drain was left open")
	assert.Equal(t, http.StatusUnprocessableEntity, ann.status)
	assert.Contains(t, ann.page, `<a href="#a.stay">NOT SAVED. Say whether it may stay so.</a>`)
	ann.press("Write the answer down", "a.who", "Joe", "a.said", "drain it again", "a.stay", "no")
	assert.Contains(t, ann.page, "▲</span> DO IT AGAIN")
	assert.Contains(t, ann.page, "Joe: “drain it again”, it may not stay so")
	assert.NotContains(t, ann.page, "Next: ")
	assert.Equal(t, "▲ ASK FIRST", job().Sign().String(), "a no doesn't make it good")
	assert.Equal(t, "Station 1: fuel that came out: it may not stay so, said Joe", f.Why(job()))
	ann.follow("Done again, or read wrong")
	ann.press("Save", "a.value", "0.3", "a.at", "26") // drained again, and the same came out
	require.Contains(t, ann.page, "ASK FIRST")
	ann.press("Write the answer down", "a.who", "Joe", "a.said", "the drain was left open", "a.stay", "yes")
	assert.Contains(t, ann.page, "▲</span> ASKED")
	assert.Contains(t, ann.page, "Joe: “the drain was left open”")
	assert.Contains(t, ann.page, "Next: Station 1: did it drag")
	assert.Equal(t, "… OPEN", job().Sign().String())
	assert.Equal(t, "13 readings are missing; 65 steps aren't ticked, lock-out among them; 1 answer is in doubt, and was asked about", f.Why(job()))
	ann.toJob()
	assert.Regexp(t, "▲ Station 1: fuel that came out <b>0.3 L, 26 °C</b> <small>Ann 10:42; asked Joe</small>", ann.page)
	assert.NotContains(t, ann.page, "What to do")

	fuel("0.2")
	assert.Equal(t, "▲ ASK FIRST", job().Sign().String())
	form.Set("a.who", "Joe")
	form.Set("a.said", "it may")
	ann.post(stale, form)
	assert.Equal(t, http.StatusConflict, ann.status, "asked about another answer")
}

// An angle says what it was read with: by eye it is too coarse for a sequence, with the job's gauge it decides.
func TestAngle(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	angle := func(filled ...string) {
		ann.get("/job/" + id("DOZ-0031") + "/ask/" + id("stations[0].angle"))
		ann.press("Save", append([]string{"a.value", "170"}, filled...)...)
	}
	angle()
	assert.Contains(t, ann.page, "ASK FIRST")
	assert.Contains(t, ann.page, "170°, by eye")
	angle("a.tool", "G-1", "a.spread", "1")
	assert.Contains(t, ann.page, "170 ± 1°, G-1")
	assert.NotContains(t, ann.page, "A limit is within")
	angle("a.tool", "G-1", "a.spread", "x")
	assert.Contains(t, ann.page, `<a href="#a.spread">NOT SAVED. How far the gauge may be out: “x” isn`)
}

// Attempts to start read as somebody would say them, and no sentence comes twice.
func TestCranking(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	assert.NotContains(t, ann.page, "<h2>Done</h2>")
	ann.follow("Cranking")
	ann.press("Save", "a.crank1", "8", "a.rest2", "120", "a.crank2", "10")
	assert.Contains(t, ann.page, "<b>8 s; rested 120 s, 10 s</b>")
	assert.Equal(t, 1, strings.Count(ann.page, "Within the job&#39;s limit."))
	ann.toJob()
	ann.follow("Cranking")
	ann.press("Save", "a.crank1", "8", "a.rest2", "30", "a.crank2", "10")
	assert.Contains(t, ann.page, "Attempt 2: Rested less than the job requires")
	ann.toJob()
	ann.follow("Cranking <b>")
	ann.press("Save", "a.crank1", "8", "a.crank2", "10")
	assert.Contains(t, ann.page, "Attempt 2: The rest before it isn&#39;t written down.")
	ann.follow("When that has changed: answer again")
	assert.Contains(t, ann.page, "<h1>Cranking</h1>")
	ann.press("Save", "a.crank1", "8", "a.rest2", "30", "a.crank2", "10")
	assert.NotContains(t, ann.page, "Within the job")
}

// What the plan expects and what the job allows are said where they are asked for.
func TestExpected(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	for ask, want := range map[string]string{
		"Station 2: fuel that came out":   "Expected: <b>0.85 L (0.70 L to 1.05 L)</b>", // as the job states it
		"Station 1: water under the fuel": "Expected: <b>0.06 L (0.02 L to 0.15 L)</b>",
		"Weight of absorbent":             "Expected: <b>0.40 (0.20 to 0.70) kg</b>",
		"Key cycles":                      "key on for 25 s, off, wait for the pump to stop: 3 times",
		"Cranking":                        "crank for at most 12 s, then rest 2 min; at most 3 attempts, then find the cause",
	} {
		ann.toJob()
		ann.follow(ask)
		assert.Contains(t, ann.page, want, ask)
	}
	ann.toJob()
	ann.follow("Cranking")
	assert.Contains(t, ann.page, "Cranked, s, at most 12<")
	assert.Contains(t, ann.page, "Rest before it, s, at least 120<")
	ann.toJob()
	ann.follow("Station 1: water under the fuel")
	assert.Contains(t, ann.page, "L either way; empty for 0.02 L<", "the job says 20 mL, and the field is in L")
	ann.toJob()
	ann.follow("Key cycles")
	assert.Contains(t, ann.page, "Still air after 5? Stop and look for the cause.")
}

// Where the shop's rules want the meter, the question is the same, and is judged.
func TestMeterWanted(t *testing.T) {
	f, server := newTestFloor(t)
	name := filepath.Join(f.store.folder, "rules.json")
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, bytes.Replace(text, []byte(`"eye"`), []byte(`"needs": {"meter": true}, "eye"`), 1), 0o600))
	rules, err := readRules(name)
	require.NoError(t, err)
	f.load = func(file string) *floorJob { return loadJob(file, rules, f.words, f.store) }
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	assert.Equal(t, 1, strings.Count(ann.page, "Hours on the meter"))
	ann.follow("Hours on the meter")
	ann.press("Save", "a.hours", "1250")
	assert.Contains(t, ann.page, "GOOD")
	assert.Contains(t, ann.page, "<b>1250 h</b>")
}

// A new revision is said, and what was put down for the old one is kept and doesn't count.
func TestNewRevision(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("did it drag")
	old, form := ann.form("No")
	ann.press("No")
	name := filepath.Join(f.store.folder, "jobs", "generator.json")
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	revised := bytes.Replace(text, []byte(`"revision": 1`), []byte(`"revision": 2`), 1)
	require.NotEqual(t, text, revised)
	require.NoError(t, os.WriteFile(name, revised, 0o600))
	ann.toJob()
	assert.Contains(t, ann.page, "new revision")
	assert.Contains(t, ann.page, "1 old entries")
	ann.post(old, form)
	assert.Equal(t, http.StatusConflict, ann.status)
	assert.Contains(t, ann.page, "NOT SAVED")
}

func TestRefused(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	job := ann.at
	ann.follow("did it drag")
	action, good := ann.form("No")

	request := func(change func(*http.Request), form url.Values) int {
		r, err := http.NewRequest(http.MethodPost, server.URL+action, strings.NewReader(form.Encode()))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", server.URL)
		change(r)
		answer, err := ann.client.Do(r)
		require.NoError(t, err)
		answer.Body.Close()
		return answer.StatusCode
	}
	with := func(name, value string) url.Values {
		v := url.Values{}
		for k, old := range good {
			v[k] = old
		}
		v.Set(name, value)
		return v
	}
	nothing := func(*http.Request) {}
	assert.Equal(t, 403, request(func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") }, good))
	assert.Equal(t, 403, request(func(r *http.Request) { r.Header.Del("Origin") }, good))
	assert.Equal(t, 421, request(func(r *http.Request) { r.Host = "elsewhere.example" }, good))
	assert.Equal(t, 415, request(func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, good))
	assert.Equal(t, 413, request(nothing, with("a.value", strings.Repeat("x", 20<<10))))
	assert.Equal(t, 400, request(nothing, with("a.value", strings.Repeat("x", 300))))
	assert.Equal(t, 400, request(nothing, with("from", "x")))
	assert.Equal(t, 400, request(nothing, with("token", "")))
	assert.Equal(t, 400, request(nothing, with("a.value", "\xff")), "it couldn't be read from the disk as it was written")
	assert.Equal(t, 400, request(nothing, with("token", "a\x00")))
	assert.Equal(t, 422, request(nothing, with("a.yes", "maybe")), "neither is no")
	assert.Equal(t, 400, request(func(r *http.Request) { r.Body = io.NopCloser(strings.NewReader("token=%5")); r.ContentLength = 8 }, good))
	for _, by := range []string{strings.Repeat("x", 61), "+", "%E3%85%A4", "%ff"} {
		assert.Equal(t, 403, request(func(r *http.Request) { r.Header.Set("Cookie", "by="+by) }, good), "%s is no name", by)
	}
	assert.Equal(t, 404, request(nothing, with("ask", "nosuch")))
	assert.Equal(t, 404, request(nothing, with("ask", "tick:1/0/99/nosuch")), "no such step")
	assert.Equal(t, 409, request(nothing, with("revision", "9")))
	for _, path := range []string{"/job/nosuch", job + "/steps/99", job + "/ask/nosuch", job + "/saved/99", job + "/both/0", job + "/ring/0", job + "/ring/1", "/machine/nosuch"} {
		ann.get(path)
		assert.Equal(t, 404, ann.status, path)
	}
	jobs, err := f.jobs()
	require.NoError(t, err)
	for _, j := range jobs {
		assert.Empty(t, j.Entries, "nothing is kept of what is refused")
	}

	stranger := &phone{t: t, client: &http.Client{}, base: server.URL}
	stranger.post(action, good)
	assert.Equal(t, 403, stranger.status, "who are you?")
	stranger.post("/who", url.Values{"by": {strings.Repeat("x", 61)}})
	assert.Contains(t, stranger.page, "Type your name")
	for _, name := range []string{" ", "\u3164", "A\u200bnn", "A\xffnn"} {
		stranger.post("/who", url.Values{"by": {name}})
		assert.Contains(t, stranger.page, "Type your name", "%q would keep a job from being read", name)
	}
	ann.post("/who", url.Values{"by": {"Ann"}, "back": {"//elsewhere.example"}})
	assert.Equal(t, "/", ann.at)
}

// Whatever somebody types comes back as text.
func TestEscaped(t *testing.T) {
	_, server := newTestFloor(t)
	eve := newPhone(t, server, "Eve")
	eve.post("/who", url.Values{"by": {`<script>x</script>`}, "back": {"/"}})
	assert.NotContains(t, eve.page, "<script>x")
	eve.toJob()
	eve.follow("Station 1: torque")
	eve.press("Save", "a.value", `"><img src=x>`, "a.clicked", "yes")
	assert.NotContains(t, eve.page, "<img src=x")
}

func TestUnreadableJob(t *testing.T) {
	f, server := newTestFloor(t)
	require.NoError(t, os.WriteFile(filepath.Join(f.store.folder, "jobs", "a-broken.json"), []byte(`{"version":1`), 0o600))
	twin, err := os.ReadFile(filepath.Join(f.store.folder, "jobs", "cartridge.json"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(f.store.folder, "jobs", "cartridge-again.json"), twin, 0o600))
	ann := newPhone(t, server, "Ann")
	assert.Contains(t, ann.page, "CAN'T BE READ")
	assert.Contains(t, ann.page, "a-broken.json")
	assert.Contains(t, ann.page, "PUMP-0012 is in cartridge-again.json, too")
	ann.get("/foreman")
	assert.Less(t, strings.Index(ann.page, "a-broken.json"), strings.Index(ann.page, "Dozer"), "first on the foreman's list")
}

// A page of a job works out that job, once, and no other.
func TestJobLoadedOnce(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	job := ann.at
	ann.follow("did it drag")
	ann.press("No")
	var loaded []string
	load := f.load
	f.load = func(file string) *floorJob { loaded = append(loaded, filepath.Base(file)); return load(file) }
	for _, path := range []string{job, job + "/steps/1", job + "/ask/" + id("stations[0].torque"), job + "/saved/1", job + "/working"} {
		loaded = nil
		ann.get(path)
		assert.Equal(t, http.StatusOK, ann.status, path)
		assert.Equal(t, []string{"generator.json"}, loaded, path)
	}
	loaded = nil
	ann.get("/who")
	assert.Contains(t, ann.page, `value="Ann"`)
	assert.Empty(t, loaded, "names are in the entries")
	ann.get("/")
	assert.Len(t, loaded, 3)
}

// The disk that fails is said on the page, with what to do.
func TestNotSaved(t *testing.T) {
	f, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	ann.toJob()
	ann.follow("did it drag")
	f.store.before = func(string) error { return os.ErrPermission }
	ann.press("No")
	assert.Equal(t, 500, ann.status)
	assert.Contains(t, ann.page, "NOT SAVED")
	assert.NotContains(t, ann.page, "Saved ")
}

// Every page stays under 16 KB, and says that the jobs are invented.
func TestPages(t *testing.T) {
	_, server := newTestFloor(t)
	ann := newPhone(t, server, "Ann")
	seen := map[string]bool{}
	todo := []string{"/", "/foreman", "/who"}
	for len(todo) > 0 {
		path := todo[0]
		todo = todo[1:]
		if seen[path] {
			continue
		}
		seen[path] = true
		ann.get(path)
		if ann.status == http.StatusConflict {
			continue // where it stopped is asked after contact
		}
		require.Equal(t, 200, ann.status, path)
		assert.Less(t, len(ann.page), 16<<10, path)
		assert.Contains(t, ann.page, "Invented jobs", path)
		for _, m := range regexp.MustCompile(`href="(/[^"#?]*)"`).FindAllStringSubmatch(ann.page, -1) {
			if !strings.HasSuffix(m[1], ".css") {
				todo = append(todo, m[1])
			}
		}
	}
	assert.Greater(t, len(seen), 50)
}

// The invented jobs agree with themselves: no fuel is caught warmer than the cards want it.
func TestDemoTemperatures(t *testing.T) {
	f, _ := newTestFloor(t)
	jobs, err := f.jobs()
	require.NoError(t, err)
	for _, j := range jobs {
		require.NoError(t, j.Err)
		limits := 0
		for _, p := range j.Pages {
			for _, s := range p.Sections {
				for _, it := range s.Items {
					if below, ok := it.Values.Get("limit").(units.Temperature); ok && it.Code == "off.cool" {
						limits++
						assert.True(t, j.Job.Fuel.CaughtAt.Less(below), "%s: caught at %v, fuel cool: below %v", j.File, j.Job.Fuel.CaughtAt, below)
					}
				}
			}
		}
		assert.Equal(t, len(j.Plan.Stations), limits, j.File)
	}
}

func TestList(t *testing.T) {
	var out, problems bytes.Buffer
	assert.Equal(t, 0, run(context.Background(), []string{"-list"}, &out, &problems))
	assert.Contains(t, out.String(), "… NOT BEGUN  Standby generator 2, COLD-0417: 13 readings are missing; 65 steps aren't ticked, lock-out among them; next: page 1, Before you start")
	assert.Empty(t, problems.String())
	assert.Equal(t, 2, run(context.Background(), []string{"a", "b"}, &out, &problems))
	assert.Equal(t, 1, run(context.Background(), []string{"-list", t.TempDir()}, &out, &problems), "a folder without rules")
	assert.Contains(t, problems.String(), "the shop's rules")
	ended, stop := context.WithCancel(context.Background())
	stop()
	out.Reset()
	assert.Equal(t, 0, run(ended, []string{"-listen", "127.0.0.1:0"}, &out, &problems))
	assert.Contains(t, out.String(), "open http://127.0.0.1:")
	out.Reset()
	assert.Equal(t, 0, run(ended, []string{"-listen", ":0"}, &out, &problems))
	assert.Contains(t, out.String(), "an authenticating TLS proxy belongs in front")
}
