package main

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"log/slog"
	"maps"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

//go:embed pages.tmpl style.css shop.js
var files embed.FS

const (
	maxBody   = 16 << 10 // of a form
	maxField  = 200      // of what is typed into one field
	maxName   = 60       // of a person
	maxFields = 64
	policy    = "default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)

// ourWords are what is said here besides the library's sentences.
const ourWords = `language: en
plural: one-other

shopfloor.expected: {mass}
shopfloor.no-water: No water came out. The job's figure is what may come out, and not what has to.
shopfloor.no-click: It never clicked, so what was set wasn't reached, and how tight it is isn't known. Don't pull on: look at the part, its thread and the wrench, and ask.
why.torque/no-uncertainty: Its uncertainty isn't known, which is not zero, and the rule ({rule}) needs it: ask by how much that wrench may be out, or whether to start over with one that clicks.
`

var (
	errNoContact = errors.New("Where to stop is counted from contact. First write down which mark was at the index when the gasket touched.")
	errUnseen    = errors.New("Where to stop is counted from contact, and no mark was seen there. Paint a line and start again from contact.")
	errNoPlace   = errors.New("no place was chosen")
)

// A floor answers for one folder.
type floor struct {
	store    *store
	load     func(file string) *floorJob
	invented bool // nobody gave a folder: the jobs are made up
	loopback bool
	public   string // the host by which browsers reach the proxy in front; empty for none
	log      *slog.Logger
	words    *sheet.Words
	pages    *template.Template
	mux      *http.ServeMux
}

func newFloor(s *store, rules service.Rules, invented, loopback bool, log *slog.Logger) *floor {
	words, err := sheet.English().With(ourWords)
	if err != nil {
		panic(err) // of the constant; a test makes a floor
	}
	f := &floor{store: s, invented: invented, loopback: loopback, log: log, words: words, mux: http.NewServeMux()}
	f.load = func(file string) *floorJob { return loadJob(file, rules, f.words, s) }
	f.pages = template.Must(template.New("").Funcs(template.FuncMap{
		"say": f.words.Say, "clock": func(t time.Time) string { return t.Format("15:04") }, "day": func(t time.Time) string { return t.Format("2 Jan 15:04") },
		"id": id, "add": func(a, b int) int { return a + b }, "answer": f.answerText, "upto": func(n int) []int {
			return slices.Collect(func(yield func(int) bool) {
				for i := 1; i <= n && yield(i); i++ {
				}
			})
		},
	}).ParseFS(files, "pages.tmpl"))
	get := func(pattern string, h func(http.ResponseWriter, *http.Request, *view) error) {
		f.mux.HandleFunc("GET "+pattern, func(w http.ResponseWriter, r *http.Request) { f.handle(w, r, h) })
	}
	post := func(pattern string, h func(http.ResponseWriter, *http.Request, *view) error) {
		f.mux.HandleFunc("POST "+pattern, func(w http.ResponseWriter, r *http.Request) { f.handle(w, r, h) })
	}
	get("/{$}", f.list)
	get("/who", f.who)
	post("/who", f.setWho)
	get("/foreman", f.foreman)
	get("/machine/{machine}", f.machine)
	get("/job/{job}", f.job)
	get("/job/{job}/steps/{page}", f.steps)
	get("/job/{job}/ask/{ask}", f.askPage)
	get("/job/{job}/saved/{seq}", f.saved)
	get("/job/{job}/both/{seq}", f.both)
	get("/job/{job}/working", f.working)
	get("/job/{job}/ring/{station}", f.ring)
	post("/job/{job}/answer", f.answer)
	post("/job/{job}/undo", f.undo)
	get("/style.css", f.file("style.css", "text/css; charset=utf-8"))
	get("/shop.js", f.file("shop.js", "text/javascript; charset=utf-8"))
	return f
}

// id is a text's place in an address: nothing that anybody typed is in it.
func id(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:8])
}

// A problem is an answer other than a page.
type problem struct {
	status int
	text   string
}

func (p problem) Error() string { return p.text }

func (f *floor) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache") // Back shows what was typed, which no-store would lose
	switch {
	case f.loopback && !loopbackHost(r.Host) && r.Host != f.public:
		http.Error(w, "asked for under another name than this machine's own", http.StatusMisdirectedRequest)
	case r.Method == http.MethodPost && !f.sameOrigin(r):
		http.Error(w, "a form of another site", http.StatusForbidden)
	default:
		f.mux.ServeHTTP(w, r)
	}
}

func loopbackHost(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	ip := net.ParseIP(strings.Trim(name, "[]"))
	return name == "localhost" || ip != nil && ip.IsLoopback()
}

// sameOrigin: browsers say where a form comes from, and a form of ours comes from here.
func (f *floor) sameOrigin(r *http.Request) bool {
	origin, err := url.Parse(r.Header.Get("Origin"))
	return err == nil && origin.Host != "" && (origin.Host == r.Host || origin.Host == f.public)
}

func (f *floor) handle(w http.ResponseWriter, r *http.Request, h func(http.ResponseWriter, *http.Request, *view) error) {
	v := &view{floor: f, Invented: f.invented, Token: rand.Text(), Path: r.URL.Path}
	if c, err := r.Cookie("by"); err == nil {
		if by, err := url.QueryUnescape(c.Value); err == nil && isName(by) {
			v.By = by
		}
	}
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	err := h(w, r, v)
	var p problem
	var tooLong *http.MaxBytesError
	switch {
	case err == nil:
		return
	case errors.As(err, &p):
	case errors.As(err, &tooLong):
		p = problem{http.StatusRequestEntityTooLarge, "That is too long."}
	default:
		f.log.Error("answering", "path", r.URL.Path, "error", err)
		p = problem{http.StatusInternalServerError, "NOT SAVED. The disk or the folder has a fault: " + err.Error()}
	}
	v.Title, v.Problem = "Not done", p.text
	if err := v.show(w, p.status, "problem"); err != nil {
		f.log.Error("showing", "error", err)
	}
}

// A view is what a page shows.
type view struct {
	*floor
	Title, By, Token, Path string
	Invented               bool
	Problem                string // at the top: what is wrong with what was typed
	Field                  string // and the field it is about

	Jobs    []*floorJob // on the list of jobs those that are open
	Done    []*floorJob
	Rows    []row
	Names   []string
	J       *floorJob
	Ask     ask
	Entry   entry // what counts now, or what was just put down
	Theirs  entry
	Asked   entry // about what was put down
	Typed   map[string]string
	Choices []choice
	Lines   []service.Line
	Verdict sign
	Next    *todo
	Said    service.Message
	Stop    turn.Place
	Page    sheet.Page
	PageNo  int
	Ticked  map[string]entry
	Machine string
	Wrench  string
	Unit    string
	Units   []string
	Back    string
}

func (v *view) show(w http.ResponseWriter, status int, name string) error {
	var page bytes.Buffer
	if err := v.pages.ExecuteTemplate(&page, name, v); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(page.Len()))
	w.WriteHeader(status)
	_, err := w.Write(page.Bytes())
	return err
}

func (f *floor) file(name, kind string) func(http.ResponseWriter, *http.Request, *view) error {
	return func(w http.ResponseWriter, _ *http.Request, _ *view) error {
		data, err := files.ReadFile(name)
		if err != nil {
			return err
		}
		w.Header().Set("Content-Type", kind)
		_, err = w.Write(data)
		return err
	}
}

// find reads the job that an address names.
func (f *floor) find(r *http.Request, v *view) error {
	j, err := f.jobOf(r.PathValue("job"))
	if err != nil {
		return err
	}
	if j == nil {
		return problem{http.StatusNotFound, "There is no such job here now."}
	}
	v.J, v.Title = j, j.Job.Machine
	return nil
}

func (f *floor) who(w http.ResponseWriter, r *http.Request, v *view) error {
	v.Names = f.store.names()
	v.Title, v.Back = "Who are you?", r.FormValue("back")
	return v.show(w, http.StatusOK, "who")
}

func (f *floor) setWho(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := parse(r); err != nil {
		return err
	}
	name := strings.TrimSpace(r.PostFormValue("by"))
	if !isName(name) {
		v.Problem, v.Field = "Type your name, at most 60 letters.", "by"
		return f.who(w, r, v)
	}
	http.SetCookie(w, &http.Cookie{Name: "by", Value: url.QueryEscape(name), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 12 * 3600})
	back := r.PostFormValue("back")
	if !strings.HasPrefix(back, "/") || strings.HasPrefix(back, "//") || strings.Contains(back, `\`) {
		back = "/"
	}
	http.Redirect(w, r, back, http.StatusSeeOther)
	return nil
}

func (f *floor) list(w http.ResponseWriter, r *http.Request, v *view) error {
	if v.By == "" {
		http.Redirect(w, r, "/who", http.StatusSeeOther)
		return nil
	}
	v.Title = "Open jobs"
	jobs, err := f.jobs()
	if err != nil {
		return err
	}
	for _, j := range jobs {
		if j.Sign() == finished {
			v.Done = append(v.Done, j)
		} else {
			v.Jobs = append(v.Jobs, j)
		}
	}
	return v.show(w, http.StatusOK, "list")
}

func (f *floor) job(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	v.Next = v.J.next(0)
	return v.show(w, http.StatusOK, "job")
}

// steps is a page of the sheet with something to tick at each step.
func (f *floor) steps(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	pages := v.J.Pages
	n, err := strconv.Atoi(r.PathValue("page"))
	if err != nil || n < 1 || n > len(pages) {
		return problem{http.StatusNotFound, "There is no such page of this job."}
	}
	v.Page, v.PageNo, v.Ticked = pages[n-1], n, v.J.Current
	v.Title = v.Page.Title
	if v.J.openOn(n) == nil { // else what comes next is on this page
		v.Next = v.J.next(n)
	}
	return v.show(w, http.StatusOK, "steps")
}

func (f *floor) askPage(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	a, ok := v.J.byID(r.PathValue("ask"))
	if !ok {
		return problem{http.StatusNotFound, "This job has no such question now: it may have a new revision."}
	}
	return f.showAsk(w, v, a, http.StatusOK)
}

func (j *floorJob) byID(text string) (ask, bool) {
	for _, a := range j.Asks {
		if id(a.Key) == text {
			return a, true
		}
	}
	return ask{}, false
}

func (f *floor) showAsk(w http.ResponseWriter, v *view, a ask, status int) error {
	v.Ask, v.Entry = a, v.J.Current[a.Key]
	if v.Typed == nil {
		v.Typed = v.Entry.Answer
	}
	switch a.Form {
	case "torque":
		wrench, unit := v.J.wrench(a)
		v.Unit = unit.String()
		if wrench != nil {
			v.Wrench = wrench.Name
		}
	case "contact":
		v.Choices = places(v.J.station(a).Station.Tighten)
	case "after":
		said, stop, err := v.J.stop(a)
		if errors.Is(err, errNoContact) || errors.Is(err, errUnseen) {
			if contact, ok := v.J.ask(contactOf(a)); ok {
				v.Next = v.J.toAsk(contact)
			}
			return problem{http.StatusConflict, err.Error()}
		} else if err != nil {
			return problem{http.StatusConflict, "Where to stop can't be said: " + err.Error()}
		}
		v.Said, v.Stop = said, stop
		v.Choices = places(v.J.station(a).Station.Tighten)
	}
	return v.show(w, status, "ask")
}

// A choice is one button of "which mark?".
type choice struct{ Value, At, Between, BetweenValue string }

func places(t service.Tighten) (all []choice) {
	if t.Marks == nil {
		return nil
	}
	labels := t.Marks.Labels
	for i, l := range labels {
		next := labels[(i+1)%len(labels)]
		all = append(all, choice{Value: l, At: l, Between: l + " and " + next, BetweenValue: l + "|" + next})
	}
	return all
}

// PlaceValue is a place as a form has it.
func (v *view) PlaceValue() string {
	if v.Stop.Next != "" {
		return v.Stop.Mark + "|" + v.Stop.Next
	}
	return v.Stop.Mark
}

// ShareValue is how far between two marks, if not half way.
func (v *view) ShareValue() string {
	if v.Stop.Next == "" || v.Stop.Share == (turn.Part{}) {
		return ""
	}
	return v.Stop.Share.String()
}

func (f *floor) ring(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PathValue("station"))
	if err != nil || n < 0 || n >= len(v.J.Plan.Stations) {
		return problem{http.StatusNotFound, "There is no such station."}
	}
	svg, err := f.draw(v.J, n)
	if err != nil {
		return problem{http.StatusNotFound, err.Error()}
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	_, err = w.Write(svg)
	return err
}

var errNoRing = errors.New("this station has no ring to draw")

// draw is the turn of a station from what was at the index at contact. From beside there is no drawing.
func (f *floor) draw(j *floorJob, station int) ([]byte, error) {
	s := j.Plan.Stations[station]
	t := s.Station.Tighten
	before, ok := j.Current[fmt.Sprintf("stations[%d].marks.before", station)]
	if s.Turn == nil || t.Marks == nil || !ok {
		return nil, errNoRing
	}
	marks, err := turn.NewRing(t.Marks.Labels, t.Marks.Order)
	if err != nil {
		return nil, err
	}
	seen := markSeen(before.Answer)
	from, err := marks.At(seen.Mark)
	if len(seen.Between) == 2 {
		from, err = marks.Between(seen.Between[0], seen.Between[1], turn.Part{}, t.Thread)
	}
	if err != nil {
		return nil, err
	}
	return f.words.DrawTurn(marks, from, s.Turn.Window, t.Thread, t.Marks.View)
}

// Drawn says whether there is a drawing of where to stop.
func (v *view) Drawn() bool {
	_, err := v.draw(v.J, v.Ask.Station)
	return err == nil
}

// plain says whether a text is no longer than that, and nothing but letters that a page and a file can show.
func plain(text string, most int) bool {
	return len(text) <= most && utf8.ValidString(text) && !strings.ContainsFunc(text, unicode.IsControl)
}

// isName says whether a text names a person: short, and as the readings may have it, or one name would keep a job from being read.
func isName(text string) bool {
	data, err := json.Marshal(map[string]any{"version": service.AsDoneVersion, "job": "any", "revision": 0, "date": "2026-01-01", "by": text, "source": "any", "stations": []any{}})
	if err == nil {
		_, err = service.ReadAsDone(data)
	}
	return err == nil && plain(text, maxName)
}

// parse reads the fields of a form. What is no form is nobody's fault but that of whoever made it.
func parse(r *http.Request) error {
	err := r.ParseForm()
	var tooLong *http.MaxBytesError
	if err == nil || errors.As(err, &tooLong) {
		return err
	}
	return problem{http.StatusBadRequest, "Only the forms of these pages are read."}
}

// form reads what was sent: its token, its entry, and the fields of the answer.
func (f *floor) form(r *http.Request, v *view) (entry, error) {
	mediaType := strings.TrimSpace(strings.Split(r.Header.Get("Content-Type"), ";")[0])
	if mediaType != "application/x-www-form-urlencoded" {
		return entry{}, problem{http.StatusUnsupportedMediaType, "Only the forms of these pages are read."}
	}
	if err := parse(r); err != nil {
		return entry{}, err
	}
	if v.By == "" {
		return entry{}, problem{http.StatusForbidden, "Say who you are first."}
	}
	from, err := strconv.Atoi(r.PostFormValue("from"))
	token := r.PostFormValue("token")
	if err != nil || token == "" || !plain(token, 64) || len(r.PostForm) > maxFields {
		return entry{}, problem{http.StatusBadRequest, "Only the forms of these pages are read."}
	}
	e := entry{Token: token, By: v.By, Job: v.J.Job.ID, Revision: v.J.Job.Revision, From: from, Answer: map[string]string{}}
	for name, values := range r.PostForm {
		if field, ok := strings.CutPrefix(name, "a."); ok && values[0] != "" {
			if !plain(field, maxField) || !plain(values[0], maxField) {
				return entry{}, problem{http.StatusBadRequest, "NOT SAVED. That is too long, or has what isn't text in it."}
			}
			e.Answer[field] = values[0]
		}
	}
	if revision, err := strconv.Atoi(r.PostFormValue("revision")); err != nil || revision != v.J.Job.Revision {
		return entry{}, problem{http.StatusConflict, fmt.Sprintf("NOT SAVED. The job is now at revision %d: begin at the job again, and read what changed.", v.J.Job.Revision)}
	}
	return e, nil
}

func (f *floor) answer(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	e, err := f.form(r, v)
	if err != nil {
		return err
	}
	at := "/job/" + id(v.J.Job.ID)
	key := r.PostFormValue("ask")
	switch {
	case key == "taken", slices.ContainsFunc(v.J.steps(), func(s step) bool { return s.Key == key }):
		e.Ask = key
	case strings.HasPrefix(key, askedKey):
		e.Ask = key
		if again, err := f.wrongAsked(w, v, e); again || err != nil {
			return err
		}
	default:
		a, ok := v.J.ask(key)
		if !ok {
			return problem{http.StatusNotFound, "This job has no such question now: it may have a new revision."}
		}
		if a.Form == "contact" && e.Answer["place"] == "drags" { // another question's answer
			if drag, ok := v.J.ask(strings.TrimSuffix(a.Key, ".marks.before") + ".dragged"); ok {
				a, e.Answer, e.From = drag, map[string]string{"yes": "yes"}, v.J.Current[drag.Key].Seq
			}
		}
		e.Ask = a.Key
		if again, err := f.wrong(w, v, a, e); again || err != nil {
			return err
		}
	}
	e, err = f.store.add(e)
	if err != nil {
		return err
	}
	switch {
	case e.Aside:
		http.Redirect(w, r, fmt.Sprintf("%s/both/%d", at, e.Seq), http.StatusSeeOther)
	case strings.HasPrefix(e.Ask, "tick:"):
		http.Redirect(w, r, at+stepAt(e.Ask), http.StatusSeeOther)
	case strings.HasPrefix(e.Ask, askedKey):
		http.Redirect(w, r, fmt.Sprintf("%s/saved/%d", at, v.Entry.Seq), http.StatusSeeOther)
	case e.Ask == "taken":
		http.Redirect(w, r, "/foreman", http.StatusSeeOther)
	default:
		http.Redirect(w, r, fmt.Sprintf("%s/saved/%d", at, e.Seq), http.StatusSeeOther)
	}
	return nil
}

// wrongAsked shows an answer in doubt again, where it isn't said who was asked about it or what they said.
func (f *floor) wrongAsked(w http.ResponseWriter, v *view, e entry) (bool, error) {
	a, ok := v.J.ask(strings.TrimPrefix(e.Ask, askedKey))
	if v.Entry = v.J.Current[a.Key]; !ok || v.Entry.Seq == 0 || e.Answer["about"] != v.J.about(a) {
		return true, problem{http.StatusConflict, "NOT SAVED. What you asked about has changed: look at it again."}
	}
	v.Typed = e.Answer
	switch "" {
	case strings.TrimSpace(e.Answer["who"]):
		v.Problem, v.Field = "NOT SAVED. Type who answered.", "a.who"
	case strings.TrimSpace(e.Answer["said"]):
		v.Problem, v.Field = "NOT SAVED. Type what they said.", "a.said"
	case e.Answer["stay"]:
		v.Problem, v.Field = "NOT SAVED. Say whether it may stay so.", "a.stay"
	default:
		return false, nil
	}
	return true, f.showSaved(w, v, a, http.StatusUnprocessableEntity)
}

// stepAt is where a step that was ticked is on its page.
func stepAt(key string) string {
	page, _, _ := strings.Cut(strings.TrimPrefix(key, "tick:"), "/")
	return "/steps/" + page + "#" + id(key)
}

// wrong shows the form again with what was typed, where it can't be an answer.
func (f *floor) wrong(w http.ResponseWriter, v *view, a ask, e entry) (bool, error) {
	v.Typed = e.Answer
	if v.Field, v.Problem = v.mistake(a, e.Answer); v.Problem == "" {
		return false, nil
	}
	v.Problem = "NOT SAVED. " + v.Problem
	return true, f.showAsk(w, v, a, http.StatusUnprocessableEntity)
}

// mistake is what keeps an answer from being one, and the field it is in. It fills in what the form leaves to the wrench.
func (v *view) mistake(a ask, answer map[string]string) (field, problem string) {
	if field, problem = mistyped(a, answer); problem != "" {
		return field, problem
	}
	if a.water() && answer["none"] == "" && strings.Trim(strings.TrimSpace(answer["value"]), "0.") == "" {
		return "a.value", "If there was none, press “No water came out”."
	}
	if a.Form == "volume" && v.wide(answer) {
		return "a.spread", "It can't be out by more than the jug showed."
	}
	if a.Form == "yesno" && answer["yes"] != "yes" && answer["yes"] != "no" {
		return "", "Press Yes or No."
	}
	if a.Form == "torque" {
		wrench, unit := v.J.wrench(a)
		if wrench != nil {
			answer["tool"] = wrench.Name
		} else if strings.TrimSpace(answer["tool"]) == "" {
			return "a.tool", "Type the wrench's number, or what it is called in the shop."
		}
		if answer["unit"] == "" { // it is the wrench's, unless that can't be
			if v.Units = otherUnits(wrench, answer["value"], unit); len(v.Units) > 0 {
				return "a.unit", fmt.Sprintf("%s %s is not on the scale of this wrench, %v to %v.", answer["value"], unit, wrench.Lowest, wrench.Highest)
			}
			answer["unit"] = unit.String()
		}
	}
	if a.Form == "torque" && clicks[answer["clicked"]] == "" {
		return "a.clicked", "Say whether it clicked."
	}
	if a.Gap && answer["gap"] != "yes" && answer["gap"] != "no" {
		return "a.gap", "Say whether a gap is left."
	}
	err := v.J.check(a, answer)
	if (a.Form == "contact" || a.Form == "after") && answer["place"] == "" {
		err = errNoPlace
	}
	if err == nil && a.Form == "contact" && answer["place"] != "unseen" {
		_, err = v.J.station(a).StopFrom(markSeen(answer))
	}
	if err != nil {
		return refused(a, answer, err)
	}
	return "", ""
}

// wide says whether a volume may be out by more than there was, and by more than the shop's jug: then it shows nothing.
func (v *view) wide(answer map[string]string) bool {
	litres := func(name string) units.Volume {
		q, _ := units.ParseVolume(strings.TrimSpace(answer[name]) + " L") // 0 of what isn't a number
		return q
	}
	spread := litres("spread")
	return litres("value").Less(spread) && v.J.Job.Shop.JugDeviation.Less(spread)
}

// reason is an error's first, without the path of a file that nobody here wrote.
func (f *floor) reason(err error) string {
	var all service.JobErrors
	if errors.As(err, &all) && len(all) > 0 {
		var one *service.JobError
		if errors.As(all[0], &one) {
			if one.Want == "" {
				return one.Problem
			}
			return one.Problem + "; want " + one.Want
		}
	}
	return err.Error()
}

func (f *floor) undo(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	e, err := f.form(r, v)
	if err != nil {
		return err
	}
	seq, err := strconv.Atoi(r.PostFormValue("seq"))
	if err != nil || seq < 1 || seq > len(v.J.Entries) {
		return problem{http.StatusBadRequest, "There is no such entry."}
	}
	e.Ask, e.Withdraws, e.Answer = v.J.Entries[seq-1].Ask, seq, nil
	if v.J.Entries[seq-1].Aside { // the one that doesn't count is settled; what counts stays
		e.From = v.J.Current[e.Ask].Seq
	}
	if e, err = f.store.add(e); err != nil {
		return err
	}
	at := "/job/" + id(v.J.Job.ID)
	if e.Aside { // somebody answered meanwhile
		http.Redirect(w, r, fmt.Sprintf("%s/both/%d", at, e.Seq), http.StatusSeeOther)
		return nil
	}
	if strings.HasPrefix(e.Ask, "tick:") {
		at += stepAt(e.Ask)
	}
	http.Redirect(w, r, at, http.StatusSeeOther)
	return nil
}

// entryOf finds the entry an address names.
func (f *floor) entryOf(r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	seq, err := strconv.Atoi(r.PathValue("seq"))
	if err != nil || seq < 1 || seq > len(v.J.Entries) {
		return problem{http.StatusNotFound, "There is no such entry."}
	}
	v.Entry = v.J.Entries[seq-1]
	if now := v.J.Current[v.Entry.Ask]; now.Seq == seq || v.Entry.Withdraws == 0 && !v.Entry.Aside && maps.Equal(now.Answer, v.Entry.Answer) {
		v.Entry = now // with the names of all who said it
	}
	return nil
}

func (f *floor) saved(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.entryOf(r, v); err != nil {
		return err
	}
	a, ok := v.J.ask(v.Entry.Ask)
	if !ok {
		return problem{http.StatusNotFound, "This job has no such question now: it may have a new revision."}
	}
	if v.Entry.Seq != v.J.Current[a.Key].Seq {
		v.Next = v.J.toAsk(a)
		return problem{http.StatusConflict, "This answer doesn't count any more: it was corrected or taken back."}
	}
	return f.showSaved(w, v, a, http.StatusOK)
}

func (f *floor) showSaved(w http.ResponseWriter, v *view, a ask, status int) error {
	v.Ask = a
	v.Lines = v.J.linesOf(a)
	if v.Verdict = signOf(v.Lines); len(v.Lines) == 0 {
		v.Verdict.Word = "WRITTEN DOWN" // nothing judges it
	}
	v.Next = v.J.next(v.J.pageOf(a))
	switch {
	case unseen(v.Entry):
		v.Verdict, v.Lines = sign{"▲", "ASK FIRST"}, nil
	case a.Form == "contact":
		v.Verdict, v.Lines = sign{"✓", "WRITTEN DOWN"}, nil // judged with where it stopped
		after, _ := v.J.ask(strings.TrimSuffix(a.Key, "before") + "after")
		v.Next = v.J.toAsk(after)
	}
	if v.Next != nil && *v.Next == *v.J.toAsk(a) {
		v.Next = nil // going on isn't the same question again
	}
	if v.Asked = v.J.Asked(a); v.Verdict == signs[doubt] && v.Asked.Seq > 0 {
		v.Verdict.Word = "ASKED"
		if !v.J.mayStay(a) {
			v.Verdict.Word = "DO IT AGAIN"
		}
	}
	return v.show(w, status, "saved")
}

func (f *floor) both(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.entryOf(r, v); err != nil {
		return err
	}
	v.Theirs = v.J.Current[v.Entry.Ask]
	v.Ask, _ = v.J.ask(strings.TrimPrefix(v.Entry.Ask, askedKey))
	return v.show(w, http.StatusOK, "both")
}

func (f *floor) working(w http.ResponseWriter, r *http.Request, v *view) error {
	if err := f.find(r, v); err != nil {
		return err
	}
	v.Lines = v.J.others()
	return v.show(w, http.StatusOK, "working")
}

func (f *floor) foreman(w http.ResponseWriter, r *http.Request, v *view) error {
	jobs, err := f.jobs()
	if err != nil {
		return err
	}
	v.Title, v.Rows = "Foreman's list", f.rows(jobs)
	return v.show(w, http.StatusOK, "foreman")
}

func (f *floor) machine(w http.ResponseWriter, r *http.Request, v *view) error {
	jobs, err := f.jobs()
	if err != nil {
		return err
	}
	for _, j := range jobs {
		if j.Err == nil && id(j.Job.Machine) == r.PathValue("machine") {
			v.Machine, v.Jobs = j.Job.Machine, append(v.Jobs, j)
		}
	}
	if v.Machine == "" {
		return problem{http.StatusNotFound, "There is no job for such a machine here."}
	}
	slices.SortStableFunc(v.Jobs, func(a, b *floorJob) int { return b.Job.Date.Compare(a.Job.Date) })
	v.Title = v.Machine
	return v.show(w, http.StatusOK, "machine")
}

// answerText is an answer as somebody said it.
func (f *floor) answerText(a ask, e entry) string {
	switch {
	case e.Withdraws > 0:
		return fmt.Sprintf("took entry %d back", e.Withdraws)
	case e.Answer["yes"] == "yes":
		return "yes"
	case e.Answer["yes"] == "no":
		return "no"
	case strings.HasPrefix(e.Ask, askedKey):
		return e.Answer["who"] + ": “" + e.Answer["said"] + "”" + map[string]string{"no": ", it may not stay so"}[e.Answer["stay"]]
	case e.Answer["none"] == "yes":
		return "no water"
	case unseen(e):
		return "no mark can be seen"
	case e.Answer["place"] != "":
		return placeText(e.Answer)
	case strings.HasPrefix(e.Ask, "tick:"):
		return "done"
	}
	return figureText(a, e)
}

// placeText is a place with how often the starting place came round, where it did.
func placeText(answer map[string]string) string {
	said := "at " + answer["place"]
	if from, to, between := strings.Cut(answer["place"], "|"); between {
		said = "between " + from + " and " + to
	}
	if n, err := passesOf(answer); err == nil && n > 0 {
		said += ", start came round " + strconv.Itoa(n) + " ×"
	}
	return said
}

// clicks are what a wrench can have done, and what is said of it.
var clicks = map[string]string{"yes": "clicked", "no": "read off a scale", "never": "never clicked"}

// figureText is an answer in numbers as somebody said it.
func figureText(a ask, e entry) string {
	value, spread := e.Answer["value"], e.Answer["spread"]
	within := func(unit string) string {
		if spread == "" {
			return value + " " + unit
		}
		return value + " ± " + spread + " " + unit
	}
	switch a.Form {
	case "torque":
		return value + " " + e.Answer["unit"] + ", " + clicks[e.Answer["clicked"]] + map[string]string{"no": ", no gap", "yes": ", a gap is left"}[e.Answer["gap"]]
	case "volume":
		return within("L") + ", " + e.Answer["at"] + " °C"
	case "weight":
		return within("kg")
	case "turn":
		return value + " turns"
	case "angle":
		if spread != "" {
			value += " ± " + spread
		}
		return value + "°, " + cmp.Or(e.Answer["tool"], "by eye")
	case "crank":
		return crankText(e.Answer)
	case "meter":
		return e.Answer["hours"] + " h"
	case "count":
		return value
	}
	var said []string
	for _, name := range slices.Sorted(maps.Keys(e.Answer)) {
		said = append(said, name+" "+e.Answer[name])
	}
	return strings.Join(said, ", ")
}

func crankText(answer map[string]string) string {
	var attempts []string
	for i := 1; i <= cranked(answer); i++ {
		attempt := answer[fmt.Sprintf("crank%d", i)] + " s"
		if rest := answer[fmt.Sprintf("rest%d", i)]; rest != "" && i > 1 {
			attempt = "rested " + rest + " s, " + attempt
		}
		attempts = append(attempts, attempt)
	}
	return strings.Join(attempts, "; ")
}
