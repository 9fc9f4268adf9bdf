package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// A floorJob is a job's file with what was put down for it.
type floorJob struct {
	File    string
	Err     error // why it can't be worked by; all but File is empty then
	Job     service.Job
	Plan    *service.Plan
	Pages   []sheet.Page // of its sheet
	Asks    []ask
	Entries []entry
	Current map[string]entry // that count, by question
	Asides  []entry
	Stale   []entry // of other revisions of the job: kept, and not counted

	Review    service.Review
	ReviewErr error // what was put down can't be read together
}

// An ask is one question, and one screen.
type ask struct {
	Key     string // the path in the readings, with the part of a list behind it: "restored[2]"
	Form    string // what is asked for: "yesno", "torque", "contact", "after", …
	Station int    // of the job; -1 for none
	Want    service.Line
	Name    string // of what is put back into service
	Waste   *service.WasteLine
	Gap     bool // with a torque: whether a gap is left is asked, too
}

// files are the names of the folder's job files, in their order.
func (f *floor) files() ([]string, error) {
	return filepath.Glob(filepath.Join(f.store.folder, "jobs", "*.json"))
}

// jobs reads the folder's job files, in the order of their names.
func (f *floor) jobs() ([]*floorJob, error) {
	files, err := f.files()
	if err != nil {
		return nil, err
	}
	var jobs []*floorJob
	seen := map[string]string{}
	for _, file := range files {
		j := f.load(file)
		if other, twice := seen[j.Job.ID]; twice && j.Err == nil {
			*j = floorJob{Err: fmt.Errorf("job %s is in %s, too", j.Job.ID, other)}
		}
		j.File = filepath.Base(file)
		seen[j.Job.ID] = j.File
		jobs = append(jobs, j)
	}
	return jobs, nil
}

// jobOf is the job that an address names, nil for none. Of the other files only what they call their job is read.
func (f *floor) jobOf(address string) (*floorJob, error) {
	files, err := f.files()
	if err != nil {
		return nil, err
	}
	for _, file := range files {
		var named struct {
			ID string `json:"id"`
		}
		data, err := os.ReadFile(file)
		if err != nil || json.Unmarshal(data, &named) != nil || id(named.ID) != address {
			continue // what can't be read is in the list of jobs, with its error
		}
		if j := f.load(file); j.Err == nil && id(j.Job.ID) == address {
			j.File = filepath.Base(file)
			return j, nil
		}
	}
	return nil, nil
}

func loadJob(file string, rules service.Rules, words *sheet.Words, s *store) *floorJob {
	j := planJob(file, rules, words)
	if j.Err == nil {
		j.answers(s)
	}
	return j
}

// planJob is a job before anything was put down for it.
func planJob(file string, rules service.Rules, words *sheet.Words) *floorJob {
	j := &floorJob{}
	data, err := os.ReadFile(file)
	if err == nil {
		j.Job, err = service.ReadJob(data)
	}
	if err == nil {
		j.Plan, err = service.NewPlan(j.Job, rules)
	}
	if err != nil {
		return &floorJob{Err: err}
	}
	j.Pages = words.Sheet(j.Plan, false).Pages
	j.Asks = asksOf(j.Plan)
	return j
}

// answers reads what was put down for a job.
func (j *floorJob) answers(s *store) {
	j.Entries = s.of(j.Job.ID)
	j.Current = current(j.Entries, j.Job.Revision)
	j.Asides = asides(j.Entries, j.Job.Revision)
	for _, e := range j.Entries {
		if e.Revision != j.Job.Revision {
			j.Stale = append(j.Stale, e)
		}
	}
	j.judge()
}

// forms are what is asked for each reading that a plan wants, by the end of its path.
var forms = map[string]string{
	"dragged": "yesno", "seated": "yesno", "priming": "yesno", "running": "yesno", "hot": "yesno", "restored": "yesno",
	"torque": "torque", "turned": "turn", "contactTurns": "turn", "stopTurns": "turn", "angle": "angle", "out": "volume", "water": "volume",
	"keyCycles": "count", "strokes": "count", "cranks": "crank", "weights": "weight", "fitted": "text",
}

// water says whether it asks how much water there was.
func (a ask) water() bool { return strings.HasSuffix(a.Key, ".water") }

// turn is when in the work a question comes: no leak is looked for before the system is primed.
func (a ask) turn() int {
	leak := strings.Contains(a.Key, ".leaks.")
	switch end := a.Key[strings.LastIndex(a.Key, ".")+1:]; {
	case a.Station >= 0 && !leak:
		return a.Station
	case end == "keyCycles", end == "strokes":
		return 1000
	case end == "priming":
		return 1001
	case end == "cranks":
		return 1002
	case end == "running":
		return 1003
	case end == "hot":
		return 1004
	case end == "meter":
		return 1006
	case a.Waste != nil:
		return 1007
	}
	return 1005
}

// runUp orders the questions of a station: what is counted while it is run up by hand comes before what it is tightened to.
func (a ask) runUp() int {
	switch a.Key[strings.LastIndex(a.Key, ".")+1:] {
	case "dragged":
		return 0
	case "contactTurns", "stopTurns":
		return 1
	}
	return 2
}

// asksOf are the questions of a job, in the order of its work.
func asksOf(p *service.Plan) (asks []ask) {
	var restored, weights int
	add := func(a ask) { asks = append(asks, a) }
	meter := ask{Key: "meter", Form: "meter", Station: -1} // asked for whether the rules want it or not
	wants := p.Wants()
	if i := slices.IndexFunc(wants, func(l service.Line) bool { return l.Where == "meter" }); i >= 0 {
		meter.Want = wants[i]
		wants = slices.Delete(wants, i, i+1)
	}
	for _, want := range wants {
		a := ask{Key: want.Where, Station: -1, Want: want}
		if _, err := fmt.Sscanf(want.Where, "stations[%d]", &a.Station); err != nil {
			a.Station = -1
		}
		switch end := want.Where[strings.LastIndex(want.Where, ".")+1:]; end {
		case "marks": // what stood at the index at contact, then where it stopped
			before, after := a, a
			before.Key, before.Form = a.Key+".before", "contact"
			after.Key, after.Form = a.Key+".after", "after"
			add(before)
			add(after)
			continue
		case "restored":
			a.Key, a.Name = fmt.Sprintf("restored[%d]", restored), fmt.Sprint(want.Want.Values.Get("what"))
			restored++
			a.Form = forms[end]
		case "weights":
			a.Key, a.Waste = fmt.Sprintf("weights[%d]", weights), &p.Waste[weights]
			weights++
			a.Form = forms[end]
		case "seated": // said with the torque, where there is one
			if i := slices.IndexFunc(asks, func(b ask) bool { return b.Station == a.Station && b.Form == "torque" }); i >= 0 {
				asks[i].Gap = true
				continue
			}
			a.Form = forms[end]
		default:
			a.Form = forms[end]
		}
		if a.Form == "" {
			a.Form = "text"
		}
		add(a)
	}
	add(meter)
	slices.SortStableFunc(asks, func(a, b ask) int { return cmp.Or(cmp.Compare(a.turn(), b.turn()), cmp.Compare(a.runUp(), b.runUp())) })
	return asks
}

func (j *floorJob) ask(key string) (ask, bool) {
	i := slices.IndexFunc(j.Asks, func(a ask) bool { return a.Key == key })
	if i < 0 {
		return ask{}, false
	}
	return j.Asks[i], true
}

// Station is the plan of a question's station; nil where it has none.
func (j *floorJob) station(a ask) *service.StationPlan {
	if a.Station < 0 {
		return nil
	}
	return &j.Plan.Stations[a.Station]
}

// wrench is what a torque is set on: the shop's wrench for it, else the unit of the band.
func (j *floorJob) wrench(a ask) (w *service.Wrench, unit units.TorqueUnit) {
	plan := j.station(a).Band()
	if plan == nil {
		return nil, units.NewtonMetre
	}
	if plan.Set != nil {
		return &plan.Set.Wrench, plan.Set.Wrench.Highest.Unit()
	}
	return nil, plan.Wrench.High().Unit()
}

// judge reads all answers as one and reviews them.
func (j *floorJob) judge() {
	done, err := j.done(j.Current)
	if err == nil {
		j.Review, err = j.Plan.Review(done)
	}
	j.ReviewErr = err
	for i, l := range j.Review.Lines {
		if j.Current[l.Where].Answer["none"] == "yes" { // no water isn't less water than expected
			l.Verdict, l.Reasons = service.Pass, []service.Message{{Code: "shopfloor.no-water"}}
			j.Review.Lines[i] = l
		}
		if j.Current[l.Where].Answer["clicked"] == "never" && l.Verdict != service.Seated { // what was set isn't what was reached
			j.Review.Lines[i].Verdict, j.Review.Lines[i].Reasons = service.Undecided, []service.Message{{Code: "shopfloor.no-click"}}
		}
	}
}

// done are the answers as readings.
func (j *floorJob) done(answers map[string]entry) (service.AsDone, error) {
	doc, err := j.document(answers)
	if err != nil {
		return service.AsDone{}, err
	}
	data, err := json.Marshal(doc)
	if err != nil {
		return service.AsDone{}, err
	}
	return service.ReadAsDone(data)
}

// document is the JSON of the readings. Quantities stay the text that was typed: reading them is the library's.
func (j *floorJob) document(answers map[string]entry) (map[string]any, error) {
	last := entry{By: "nobody yet"}
	for _, e := range answers {
		if e.Seq > last.Seq {
			last = e
		}
	}
	day := j.Job.Date
	if !last.At.IsZero() {
		d, err := waste.DateIn(last.At, last.At.Location())
		if err != nil {
			return nil, err
		}
		day = d
	}
	doc := map[string]any{"version": service.AsDoneVersion, "job": j.Job.ID, "revision": j.Job.Revision, "date": day, "by": last.By,
		"source": "shopfloor, put down at the machine"}
	if j.Job.Invented {
		doc["invented"] = true
	}
	stations := make([]map[string]any, len(j.Plan.Stations))
	for i, s := range j.Plan.Stations {
		stations[i] = map[string]any{"id": s.Station.ID}
	}
	doc["stations"] = stations
	for _, a := range j.Asks {
		e, ok := answers[a.Key]
		if !ok || unseen(e) { // no mark is no reading of one
			continue
		}
		v, err := j.value(a, e.Answer)
		if err != nil {
			return nil, err
		}
		if a.Station >= 0 {
			a.putStation(stations[a.Station], e.Answer, v)
		} else {
			a.put(doc, v)
		}
	}
	for _, s := range stations { // half a pair is no reading yet
		marks, _ := s["marks"].(map[string]any)
		if marks != nil && (marks["before"] == nil || marks["after"] == nil) {
			delete(s, "marks")
		}
	}
	return doc, nil
}

// put puts an answer that is about the job as a whole into its readings.
func (a ask) put(doc map[string]any, v any) {
	if a.Name != "" {
		v = map[string]any{"what": a.Name, "restored": v}
	}
	name, _, list := strings.Cut(a.Key, "[")
	if !list {
		doc[name] = v
		return
	}
	all, _ := doc[name].([]any)
	doc[name] = append(all, v)
}

// putStation puts an answer into the readings of its station: stations[0].out, stations[0].marks.before.
func (a ask) putStation(station map[string]any, answer map[string]string, v any) {
	path := strings.Split(a.Key, ".")
	if len(path) == 2 {
		station[path[1]] = v
		if gap := answer["gap"]; a.Gap && gap != "" {
			station["seated"] = gap == "no"
		}
		return
	}
	inner, _ := station[path[1]].(map[string]any)
	if inner == nil {
		inner = map[string]any{}
		station[path[1]] = inner
	}
	inner[path[2]] = v
	if passes, err := passesOf(answer); err == nil && a.Form == "after" {
		inner["passes"] = passes
	}
}

func passesOf(answer map[string]string) (n int, err error) {
	_, err = fmt.Sscanf(answer["passes"], "%d", &n)
	return n, err
}

// estimate is what a scale showed with how far it may be out, as a figure with its bounds.
func estimate(value, spread string) (e drain.Estimate[units.MassUnit], err error) {
	best, err := units.ParseMass(strings.TrimSpace(value) + " kg")
	if err != nil {
		return e, err
	}
	out, err := units.ParseMass(cmp.Or(strings.TrimSpace(spread), "0") + " kg")
	if err != nil {
		return e, err
	}
	return drain.PlusMinus(best, out, drain.Weighed)
}

// value is an answer as its part of the readings.
func (j *floorJob) value(a ask, answer map[string]string) (any, error) {
	text := func(name string) string { return strings.TrimSpace(answer[name]) }
	switch a.Form {
	case "yesno":
		return answer["yes"] == "yes", nil
	case "torque":
		v := map[string]any{"value": text("value") + " " + text("unit"), "tool": cmp.Or(answer["tool"], "not said")}
		if answer["clicked"] == "yes" {
			v["clicked"] = true
		}
		return v, nil
	case "contact", "after":
		switch place := strings.Split(answer["place"], "|"); len(place) {
		case 1:
			return map[string]any{"mark": place[0]}, nil
		default:
			v := map[string]any{"between": place[:2]}
			if answer["share"] != "" {
				v["share"] = answer["share"]
			}
			return v, nil
		}
	case "turn":
		return text("value") + " turn", nil
	case "angle":
		v := map[string]any{"total": text("value") + "°"}
		if text("tool") != "" {
			v["tool"] = text("tool")
		}
		if text("spread") != "" {
			v["deviation"] = text("spread") + "°"
		}
		return v, nil
	case "volume":
		if answer["none"] == "yes" {
			none := "0 L"
			return map[string]any{"volume": map[string]any{"low": none, "best": none, "high": none, "from": drain.Measured}, "at": j.Job.Fuel.MeasuredAt}, nil
		}
		v := map[string]any{"read": text("value") + " L", "at": text("at") + " °C"}
		if text("spread") != "" {
			v["deviation"] = text("spread") + " L"
		}
		return v, nil
	case "meter":
		return map[string]any{"hours": json.Number(text("hours"))}, nil
	case "count":
		return json.Number(text("value")), nil
	case "crank":
		return attempts(answer), nil
	case "weight":
		return a.weight(text("value"), text("spread"))
	}
	return text("value"), nil
}

// attempts are those to start, as a list of the readings.
func attempts(answer map[string]string) (all []any) {
	for i := 1; i <= cranked(answer); i++ {
		attempt := map[string]any{"crank": strings.TrimSpace(answer[fmt.Sprintf("crank%d", i)]) + " s"}
		if rest := strings.TrimSpace(answer[fmt.Sprintf("rest%d", i)]); rest != "" && i > 1 {
			attempt["rest"] = rest + " s"
		}
		all = append(all, attempt)
	}
	return all
}

// weight is what a scale showed of a waste.
func (a ask) weight(value, spread string) (any, error) {
	scale, err := estimate(value, spread)
	if err != nil {
		return nil, err
	}
	v := map[string]any{"scale": scale, "stream": a.Waste.Stream}
	if a.Waste.Station != "" {
		v["station"] = a.Waste.Station
	}
	if a.Waste.What != "" {
		v["what"] = a.Waste.What
	}
	return v, nil
}

// check reads and judges one answer alone, as it would be with all others.
func (j *floorJob) check(a ask, answer map[string]string) error {
	alone := map[string]entry{a.Key: {Seq: 1, By: "somebody", Ask: a.Key, Answer: answer}}
	done, err := j.done(alone)
	if err == nil {
		_, err = j.Plan.Review(done)
	}
	return err
}

// contactOf is the question of which mark was at the index at contact, by that of where it stopped.
func contactOf(a ask) string { return strings.TrimSuffix(a.Key, ".after") + ".before" }

// unseen says whether somebody answered that no mark could be seen at contact.
func unseen(e entry) bool { return e.Answer["place"] == "unseen" }

// stop is where to stop a turn, as a sentence and as a place, from what stood at the index at contact.
func (j *floorJob) stop(a ask) (said service.Message, at turn.Place, err error) {
	before, ok := j.Current[contactOf(a)]
	switch {
	case !ok:
		return said, at, errNoContact
	case unseen(before):
		return said, at, errUnseen
	}
	said, err = j.station(a).StopFrom(markSeen(before.Answer))
	if err == nil {
		at, _ = said.Values.Get("aim").(turn.Place)
	}
	return said, at, err
}

func markSeen(answer map[string]string) service.MarkSeen {
	place := strings.Split(answer["place"], "|")
	if len(place) == 1 {
		return service.MarkSeen{Mark: place[0]}
	}
	return service.MarkSeen{Between: place[:2]}
}
