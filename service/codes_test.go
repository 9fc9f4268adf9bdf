package service

import (
	"bytes"
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

var writeCodes = flag.Bool("codes", false, "write codes.json anew: what is used, with the meanings that stand in it")

// codes are those of one kind, "reason", each with how it is used.
type codes map[string]map[string]*usage

// usage is what is known of a code: what each of its variants means, "" being the code alone, and of which type its
// values are.
type usage struct {
	Means  map[string]string `json:"means"`
	Values map[string]string `json:"values,omitempty"`
}

func (c codes) of(kind, code string) *usage {
	if c[kind] == nil {
		c[kind] = map[string]*usage{}
	}
	if c[kind][code] == nil {
		c[kind][code] = &usage{Means: map[string]string{}, Values: map[string]string{}}
	}
	return c[kind][code]
}

func (c codes) add(kind, code, variant string) *usage {
	u := c.of(kind, code)
	u.Means[variant] += "" // what isn't said here
	return u
}

var counted = regexp.MustCompile(`-[0-9]+$`)

// said adds a message with its values, and the messages and words that are values.
func (c codes) said(kind string, m Message) {
	if m.Code == "" {
		return
	}
	u := c.add(kind, m.Code, m.Variant)
	for _, v := range m.Values {
		name := counted.ReplaceAllString(v.Name, "-#")
		switch x := v.Value.(type) {
		case Message:
			c.said(cmp.Or(familyOf(x.Code), "name"), x)
		case Word:
			c.add("word", string(x), "")
		case []Word:
			for _, word := range x {
				c.add("word", string(word), "")
			}
		}
		types := append(strings.Split(u.Values[name], " or "), typeName(v.Value))
		slices.Sort(types)
		u.Values[name] = strings.TrimPrefix(strings.Join(slices.Compact(types), " or "), " or ")
	}
}

// typeName is what a value is, in words that need no Go: "torque", "range of masses", "date".
func typeName(v any) string {
	typ := reflect.TypeOf(v)
	switch {
	case typ.Kind() == reflect.Slice && typ.Name() == "":
		return "list of " + typeName(reflect.Zero(typ.Elem()).Interface())
	case typ == reflect.TypeFor[string]():
		return "text"
	case typ.Kind() == reflect.Int && typ.Name() == "int" || typ.Kind() == reflect.Int64 && typ.Name() == "int64":
		return "number"
	}
	name := defName(typ)
	if of, is := strings.CutPrefix(name, "RangeOf"); is {
		return "range of " + spaced(of)
	}
	return spaced(name)
}

var inside = regexp.MustCompile(`([a-z])([A-Z])`)

func spaced(name string) string { return strings.ToLower(inside.ReplaceAllString(name, "$1 $2")) }

// plan adds what a plan says.
func (c codes) plan(p *Plan) {
	for _, f := range p.Findings {
		c.said("finding", f.Message)
	}
	for _, phase := range p.Steps() {
		c.add("page", phase.Page, "")
		c.add("section", phase.Code, "")
		for _, step := range phase.Steps {
			c.said("step", step.Message)
		}
	}
	if p.Rules != (Rules{}) {
		for _, rule := range p.Rules.says() {
			c.said("rule", rule.Message)
		}
	}
}

// review adds what a review of readings says, if they fit.
func (c codes) review(p *Plan, done AsDone) {
	review, err := p.Review(done)
	if err != nil {
		return
	}
	for _, l := range review.Lines {
		c.add("line", l.Code, "")
		c.said("found", l.Found)
		c.said("want", l.Want)
		for _, reason := range l.Reasons {
			c.said("reason", reason)
		}
	}
	for _, total := range review.Totals {
		for _, note := range total.Notes {
			c.said("total", note)
		}
	}
}

var figure = regexp.MustCompile(`[0-9]+`)

// changed calls f with a JSON text for each of its leaves, changed in some way, and put back afterwards.
func changed(t *testing.T, text []byte, f func([]byte)) {
	var root any
	require.NoError(t, json.Unmarshal(text, &root))
	try := func() {
		text, err := json.Marshal(root)
		require.NoError(t, err)
		f(text)
	}
	var walk func(v any, set func(any))
	walk = func(v any, set func(any)) {
		switch x := v.(type) {
		case map[string]any:
			for key, child := range x {
				delete(x, key)
				try()
				x[key] = child
				walk(child, func(v any) { x[key] = v })
			}
		case []any:
			for i, child := range x {
				walk(child, func(v any) { x[i] = v })
			}
			if len(x) > 0 {
				set(x[1:])
				try()
			}
		case bool:
			set(!x)
			try()
		case float64:
			for _, by := range []float64{0, 0.5, 2, 10} {
				set(float64(int(x * by)))
				try()
			}
		case string:
			for _, by := range []int{0, 1, 3, 50} {
				set(figure.ReplaceAllStringFunc(x, func(n string) string {
					i, _ := strconv.Atoi(n)
					return strconv.Itoa(i * by / 2)
				}))
				if figure.MatchString(x) {
					try()
				}
			}
			for _, other := range []string{"-" + x, strings.Replace(x, "N·m", "ft-lb", 1), strings.Replace(x, " ", ".3 ", 1), strings.Repeat("other ", 20)} {
				set(other)
				try()
			}
		}
		set(v)
	}
	walk(root, func(any) {})
}

// written adds the codes that stand in the source of this package as literals, also those that no job of these tests
// brings about. What is put together, "record.leaks/"+stage, is known by its part before the slash.
func (c codes) written(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				c.called(n)
			case *ast.KeyValueExpr:
				if key, is := n.Key.(*ast.Ident); is && key.Name == "Code" {
					c.literal("line", n.Value)
				}
			case *ast.BasicLit:
				text, _ := literal(n)
				if code, variant, _ := strings.Cut(text, "/"); variant != "" {
					c.literal(kindOf(n), n)
				} else if kind := kindOf(n); kind != "" {
					c.of(kind, code) // perhaps another text is put behind it
				}
			}
			return true
		})
	}
}

// kindOf is that of a code which says it by its beginning; "" for other texts.
func kindOf(e ast.Expr) string {
	text, _ := literal(e)
	return familyOf(text)
}

func familyOf(code string) string {
	family, _, dotted := strings.Cut(code, ".")
	if !dotted {
		return ""
	}
	return map[string]string{"why": "reason", "found": "found", "want": "want", "total": "total"}[family]
}

// literal is a text in the source, or the one that another is put behind.
func literal(e ast.Expr) (text string, whole bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, _ = strconv.Unquote(e.Value)
		return text, true
	case *ast.BinaryExpr:
		text, _ = literal(e.X)
	}
	return text, false
}

// takers are the functions that take a code: its kind, where it is among their arguments, and how far behind it the
// names of the values begin. Where the kind is "" the code says it.
var takers = map[string]struct {
	kind     string
	at, list int
}{"section": {"section", 0, 1}, "do": {"step", 0, 1}, "know": {"step", 0, 1}, "picture": {"step", 0, 1}, "blank": {"step", 0, 1},
	"figure": {"step", 0, 1}, "alarm": {"step", 0, 1}, "why": {"step", 0, 1}, "warn": {"step", 1, 1}, "lettered": {"step", 1, 1}, "backAs": {"step", 1, 1},
	"tell": {"step", 0, 1}, "say": {"finding", 1, 3}, "is": {"", 1, 1}, "message": {"", 0, 1}, "Word": {"word", 0, 1}}

func first(args []ast.Expr) ast.Expr {
	if len(args) == 0 {
		return nil
	}
	return args[0]
}

func (c codes) called(call *ast.CallExpr) {
	name := ""
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		name = fun.Name
	case *ast.SelectorExpr:
		name = fun.Sel.Name
	}
	taker, is := takers[name]
	if _, whole := literal(first(call.Args)); name == "tell" && !whole {
		taker.kind, taker.at, taker.list = "finding", 1, 4
	}
	if !is || taker.at >= len(call.Args) {
		return
	}
	code := call.Args[taker.at]
	if taker.kind == "" {
		taker.kind = kindOf(code)
	}
	c.literal(taker.kind, code)
	text, _ := literal(code)
	text, _, _ = strings.Cut(text, "/")
	if used := c[taker.kind][text]; used != nil {
		if name == "tell" && taker.kind == "finding" {
			used.Values["station"] += "" // which it puts before the others
		}
		for i := taker.at + taker.list; i < len(call.Args); i += 2 {
			if name, whole := literal(call.Args[i]); whole && name != "" && used.Values[name] == "" {
				used.Values[name] = "" // of whatever type
			}
		}
	}
}

func (c codes) literal(kind string, e ast.Expr) {
	text, whole := literal(e)
	code, variant, slash := strings.Cut(text, "/")
	switch {
	case kind == "" || code == "" || strings.HasSuffix(code, "."):
	case whole && !(slash && variant == ""):
		c.add(kind, code, variant)
	case slash:
		c.of(kind, code)
	}
}

// everyCode is what all jobs of these tests say, as they are and changed in one place each, with the readings that
// belong to them and with some that went wrong.
func everyCode(t *testing.T) codes {
	used := codes{}
	used.written(t)
	rules := []Rules{rulesWith(t, `"eye"`, `"needs": {"leakRunning": true, "meter": true, "part": true, "batch": true, "checkedBy": true}, "eye"`)}
	for _, rule := range []string{"simple acceptance", "non-binary", "guarded for 95 %"} {
		rules = append(rules, rulesWith(t, "guarded by U", rule))
	}
	plan := func(job Job, rules Rules) *Plan {
		p, err := NewPlan(job, rules)
		if err != nil {
			return &Plan{} // that of a job that was changed too much
		}
		used.plan(p)
		return p
	}
	jobs := everyJob(t)
	for name, job := range jobs {
		text, err := json.Marshal(job)
		require.NoError(t, err)
		if strings.HasPrefix(name, "warm") || strings.HasSuffix(name, "cover-and-cap.json") {
			changed(t, text, func(text []byte) {
				if job, err := ReadJob(text); err == nil {
					plan(job, Rules{})
				}
			})
		}
	}
	for _, c := range leftOut {
		jobs[c.path] = without(t, c.path)
	}
	for _, job := range jobs {
		done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x"}
		plan(job, Rules{})
		for _, rules := range rules {
			p := plan(job, rules)
			used.review(p, done)
			counted := done
			counted.KeyCycles, counted.Strokes = ptr(3), ptr(3)
			used.review(p, counted)
		}
	}
	for _, way := range ways() {
		p, done := oneStation(t, way.tighten, way.done)
		done.Stations[0].Dragged = ptr(false)
		for _, rules := range rules {
			used.review(plan(p.Job, rules), done)
		}
		used.changes(t, plan(p.Job, rules[0]), done)
	}
	for _, way := range plannedWays {
		for seed := range 15 {
			drawnJob(benchPlan(t).Job, rules[0], seed, func(d drawn) {
				tighten := way.draw(d)
				tighten.Thread = turn.RightHand
				d.job.Shop.Wrenches, d.job.Stations = d.wrenches(), d.job.Stations[:1:1]
				d.job.Stations[0].Tighten = tighten
				plan(d.job, Rules{})
			})
		}
	}
	const (
		tool                   = `{"id": "W-1", "lowest": "10 ft-lb", "highest": "60 ft-lb", "step": "1 ft-lb", "deviation": "1 %", "length": "12 in", "calibratedUntil": "2026-12-31"}`
		band, turned, straight = `"torque": "150 to 230 in-lb"`, `"turn": "3/4`, `"lever": {"offset": "4 in", "angle": "0°"}`
	)
	through := func(tool, adapter string) []string {
		return append(withWrenches(tool), band, `"torque": "30 to 44 ft-lb", "adapter": {"name": "claw", `+adapter+`}`)
	}
	for _, edits := range [][]string{nil,
		through(tool, straight), through(strings.Replace(tool, `"length": "12 in", `, "", 1), straight), through(strings.Replace(tool, "2026-12", "2025-12", 1), straight),
		through(tool, strings.Replace(straight, "0°", "30°", 1)), through(tool, `"kind": "strap wrench"`),
		{turned, `"stud": "M20x1.5", "canister": "13/16-16 UN", ` + turned}, {turned, `"stud": "1-14 UNF", "canister": "1-14 UNS", ` + turned},
		{turned, `"contactTurns": "4 1/2 turns", "stud": "1-14 UNS", "canister": "1-14 UNS", "gasket": "4 mm", ` + turned, `"fill": "dry"`, `"fill": "prefill", "prefillWith": "0.4 L"`},
		{`"panHolds": "10 L"`, `"panHolds": "10 L", "jugDeviation": "25 mL", "localRules": "x"`, `"machine": "`, `"card": "M-1", "machine": "`, band, `"seat": {"gap": "x", "stopTurns": "4 turns"}`,
			`"waste": {`, `"interval": {"distance": "10000 km"}, "waste": {`, `"wet": "clean fuel"`, `"dry": true`},
	} {
		p := plan(benchPlan(t, edits...).Job, rules[0])
		if used.changes(t, p, wholly(t)); edits == nil {
			used.changes(t, p, doneWith(t))
		}
	}
	return used
}

// changes adds what a review says of readings, and of each of them changed.
func (c codes) changes(t *testing.T, p *Plan, done AsDone) {
	text, err := json.Marshal(done)
	require.NoError(t, err)
	c.review(p, done)
	changed(t, text, func(text []byte) {
		if done, err := ReadAsDone(text); err == nil {
			c.review(p, done)
		}
	})
}

// wholly is readings with all that may be written down.
func wholly(t *testing.T) AsDone {
	done := doneWith(t)
	done.Meter, done.CheckedBy = Meter{Hours: ptr(1), Distance: units.Kilometre.Of(1)}, "y"
	read := &VolumeTaken{Read: units.MustParseVolume("1 L"), Deviation: units.MustParseVolume("10 mL"), At: units.Celsius.Of(20)}
	scale := drain.MustExactly(units.Kilogram.Of(1), drain.Weighed)
	for i := range done.Stations {
		done.Stations[i].Out, done.Stations[i].Water = read, read
		done.Stations[i].Fitted = Fitted{Part: "element", Batch: "B"}
	}
	done.Stations[0].Torque = &TorqueReading{Value: units.FootPound.Of(30), Tool: "W-1", Clicked: true}
	done.Stations[1].ContactTurns = ptr(turn.MustOf(9, 4))
	done.Cranks = []CrankDone{{Crank: drain.Duration(8 * time.Second)}, {Crank: drain.Duration(8 * time.Second), Rest: ptr(drain.Duration(time.Minute))}}
	done.Weights = []Weight{{Stream: waste.WetElement, Station: "1", Scale: scale}, {Stream: waste.WetElement, Station: "2", Scale: scale, Density: units.KilogramPerCubicMetre.Of(1000)}}
	return done
}

// drawnJob calls f with the same draws every time.
func drawnJob(job Job, rules Rules, seed int, f func(drawn)) {
	rapid.Custom(func(t *rapid.T) bool {
		f(drawn{T: t, job: job, rules: rules})
		return true
	}).Example(seed)
}

// fixed adds the codes that aren't said: verdicts, bases, levels, errors and sources.
func (c codes) fixed(t *testing.T) {
	for kind, typ := range map[string]reflect.Type{"verdict": reflect.TypeFor[Verdict](), "basis": reflect.TypeFor[Basis](), "level": reflect.TypeFor[Level]()} {
		for _, word := range wordsOf(typ) {
			c.add(kind, word, "")
		}
	}
	c.add("error", (&JobError{}).Code(), "")
	for _, e := range errorCodes {
		c.add("error", e.code, "")
	}
	file, err := parser.ParseFile(token.NewFileSet(), "review.go", nil, parser.ParseComments)
	require.NoError(t, err)
	for _, decl := range file.Decls {
		if group, is := decl.(*ast.GenDecl); is && strings.HasPrefix(group.Doc.Text(), "Sources that are") {
			for _, spec := range group.Specs {
				c.literal("source", spec.(*ast.ValueSpec).Values[0])
			}
		}
	}
	require.Contains(t, c["source"], practice)
}

var places = regexp.MustCompile(`\{([^}/]+)[^}]*\}`)

// differences are where two lists of codes don't say the same. Where nothing says of which type a value is, any will do.
func differences(used, listed codes) (found []string) {
	wrong := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	message := map[string]string{} // of each code that is said, by whom
	for _, kind := range slices.Sorted(maps.Keys(used)) {
		for _, code := range slices.Sorted(maps.Keys(used[kind])) {
			is := used[kind][code]
			if slices.Contains([]string{"finding", "found", "name", "reason", "step", "total", "want"}, kind) {
				if other, twice := message[code]; twice {
					wrong("%s is a code of %s and of %s", code, other, kind)
				}
				message[code] = kind
			}
			as, known := listed[kind][code]
			if !known {
				wrong("%s %s is used and not listed", kind, code)
				continue
			}
			for variant := range is.Means {
				meaning, known := as.Means[variant]
				if !known {
					wrong("%s %s/%s is used and not listed", kind, code, variant)
				} else if meaning == "" {
					wrong("%s %s/%s has no meaning", kind, code, variant)
				}
				for _, place := range places.FindAllStringSubmatch(meaning, -1) {
					if as.Values[place[1]] == "" && kind != "page" && kind != "section" && !strings.HasPrefix(code, "picture.") {
						wrong("%s %s/%s speaks of %s, which isn't listed", kind, code, variant, place[1])
					}
				}
			}
			for name, typ := range is.Values {
				if as.Values[name] == "" || typ != "" && as.Values[name] != typ {
					wrong("%s %s: value %s is %q, and listed as %q", kind, code, name, typ, as.Values[name])
				}
			}
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(listed)) {
		for _, code := range slices.Sorted(maps.Keys(listed[kind])) {
			is, known := used[kind][code]
			if !known {
				wrong("%s %s is listed and not used", kind, code)
				continue
			}
			for variant := range listed[kind][code].Means {
				if _, known := is.Means[variant]; !known {
					wrong("%s %s/%s is listed and not used", kind, code, variant)
				}
			}
			for name := range listed[kind][code].Values {
				if _, known := is.Values[name]; !known {
					wrong("%s %s: value %s is listed and not used", kind, code, name)
				}
			}
		}
	}
	return found
}

// The published list has every code, with its variants and the types of its values, and none that isn't used.
func TestCodesAreListed(t *testing.T) {
	var listed codes
	require.NoError(t, json.Unmarshal(Codes(), &listed))
	if testing.Short() { // what the source says alone: what all jobs say takes long
		used := codes{}
		used.written(t)
		require.Greater(t, len(used), 3)
		for _, wrong := range differences(used, listed) {
			if strings.HasSuffix(wrong, "is used and not listed") {
				t.Error(wrong)
			}
		}
		return
	}
	used := everyCode(t)
	used.fixed(t)
	if *writeCodes {
		require.NoError(t, os.WriteFile("codes.json", rewritten(t, used, listed), 0o644))
		return
	}
	for _, wrong := range differences(used, listed) {
		t.Error(wrong)
	}
	got := Codes()
	got[0] = 'x'
	assert.NotEqual(t, got[0], Codes()[0], "nobody can change it for others")
}

// rewritten is the list with what is used. Meanings stay as they are; a new code has its sentence in English until
// somebody writes a better one.
func rewritten(t *testing.T, used, listed codes) []byte {
	english, err := os.ReadFile("sheet/words/en.txt")
	require.NoError(t, err)
	sentences := map[string]string{}
	for line := range strings.Lines(string(english)) {
		code, words, _ := strings.Cut(strings.TrimSpace(line), ": ")
		sentences[code] = words
	}
	for kind, all := range used {
		prefix := map[string]string{"rule": "rule/", "page": "page/", "section": "title/", "word": "word/", "source": "source/"}[kind]
		for code, u := range all {
			old := listed[kind][code]
			if old == nil {
				old = &usage{}
			}
			for variant := range u.Means {
				u.Means[variant] = cmp.Or(old.Means[variant], sentences[prefix+strings.TrimSuffix(code+"/"+variant, "/")])
			}
			for name, typ := range u.Values {
				u.Values[name] = cmp.Or(typ, old.Values[name])
			}
		}
	}
	var text bytes.Buffer
	write := json.NewEncoder(&text)
	write.SetEscapeHTML(false)
	write.SetIndent("", " ")
	require.NoError(t, write.Encode(used))
	return text.Bytes()
}

// What isn't listed, isn't used, or is used for two things is found, and what is alike isn't.
func TestCodesThatDiffer(t *testing.T) {
	list := func() codes {
		return codes{"step": {"a.b": {Means: map[string]string{"": "m", "c": "of {n}"}, Values: map[string]string{"n": "number"}}}, "line": {"d": {Means: map[string]string{"": "m"}}}}
	}
	assert.Empty(t, differences(list(), list()))
	for want, change := range map[string]func(used, listed codes){
		"step a.b is used and not listed":                     func(_, listed codes) { delete(listed["step"], "a.b") },
		"step a.b is listed and not used":                     func(used, _ codes) { delete(used["step"], "a.b") },
		"step a.b/c is used and not listed":                   func(_, listed codes) { delete(listed["step"]["a.b"].Means, "c") },
		"step a.b/c is listed and not used":                   func(used, _ codes) { delete(used["step"]["a.b"].Means, "c") },
		"step a.b/c speaks of m, which isn't listed":          func(_, listed codes) { listed["step"]["a.b"].Means["c"] = "{m}" },
		"step a.b: value n is listed and not used":            func(used, _ codes) { used["step"]["a.b"].Values = nil },
		`step a.b: value n is "number", and listed as "text"`: func(_, listed codes) { listed["step"]["a.b"].Values["n"] = "text" },
		`step a.b: value o is "", and listed as ""`:           func(used, _ codes) { used["step"]["a.b"].Values["o"] = "" },
		"line d/ has no meaning":                              func(_, listed codes) { listed["line"]["d"].Means[""] = "" },
		"a.b is a code of reason and of step": func(used, listed codes) {
			used.add("reason", "a.b", "")
			listed.add("reason", "a.b", "").Means[""] = "m"
		},
	} {
		used, listed := list(), list()
		change(used, listed)
		assert.Equal(t, []string{want}, differences(used, listed))
	}
	found := codes{}
	found.written(t)
	assert.Contains(t, found["reason"], "why.not-recorded")
	assert.Contains(t, found["finding"], "fuel.near-flash-point", "put together")
	assert.Contains(t, found["step"]["prime.void"].Means, "unknown")
	assert.Contains(t, found["want"]["want.flash"].Values, "grade")
}
