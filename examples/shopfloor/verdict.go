package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/service"
	"example.com/snugturn/units"
)

// LinesOf are the lines of the review that a question is about.
func (j *floorJob) LinesOf(a ask) []service.Line {
	if a.Form == "contact" {
		return nil // judged with where it stopped
	}
	return j.linesOf(a)
}

// others are the lines of the review that are about no question.
func (j *floorJob) others() []service.Line {
	asked := map[string]bool{}
	for _, a := range j.Asks {
		for _, l := range j.linesOf(a) {
			asked[l.String()] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(j.Review.Lines), func(l service.Line) bool { return asked[l.String()] || l.Verdict == service.NotRecorded })
}

// linesOf are the lines of the review that a question is about, or will be.
func (j *floorJob) linesOf(a ask) []service.Line {
	switch {
	case strings.HasPrefix(a.Key, "restored"):
		var out []service.Line
		for _, l := range j.Review.Lines {
			if l.Code == "isolation" && l.Want.Values.Get("what") == a.Name {
				out = append(out, l)
			}
		}
		return out
	case a.Waste != nil:
		var out []service.Line
		for _, l := range j.Review.Lines {
			if l.Code == "weight" && l.Want.Values.Get("waste") != nil && sameWaste(l, a) {
				out = append(out, l)
			}
		}
		return out
	}
	var lines []service.Line
	for _, l := range j.Review.Lines {
		switch rest, under := strings.CutPrefix(l.Where, a.Want.Where); {
		case under && (rest == "" || rest[0] == '.' || rest[0] == '['), // "stations[0].out.at" is of the same answer, and so is "cranks[1].rest"
			a.Gap && l.Where == strings.TrimSuffix(a.Want.Where, "torque")+"seated":
			lines = append(lines, l)
		}
	}
	return lines
}

// sameWaste: a waste is named by a message of its stream and station, or by the job's own words.
func sameWaste(l service.Line, a ask) bool {
	return fmt.Sprint(l.Want.Values.Get("waste")) == fmt.Sprint(a.Want.Want.Values.Get("waste"))
}

// How bad a line is.
const (
	good    = iota
	missing // not written down yet, or not back in service yet
	doubt   // a reading can't show it, or isn't what an estimate expects
	fault   // a reading shows that it is wrong
)

// signs are how bad a line is, as a sign and a word: a known fault never looks like a doubt.
var signs = [...]sign{good: {"✓", "GOOD"}, missing: {"…", "NOT YET"}, doubt: {"▲", "ASK FIRST"}, fault: {"✗", "FAIL"}}

// signOf is the worst of some lines.
func signOf(lines []service.Line) sign { return signs[worst(lines)] }

func worst(lines []service.Line) (n int) {
	for _, l := range lines {
		n = max(n, level(l))
	}
	return n
}

// level is how bad a line is. What isn't as an estimate expects is a doubt, for the estimate may be wrong; and nobody at the
// machine can do anything about the month's category.
func level(l service.Line) int {
	hint := slices.ContainsFunc(l.Reasons, func(m service.Message) bool { return m.Code == "why.expected" || m.Code == "why.count" })
	switch {
	case l.Verdict == service.NotRecorded, l.Verdict == service.Fail && l.Code == "isolation", l.Code == "month.category" && l.Verdict == service.Undecided:
		return missing
	case l.Verdict == service.Undecided, l.Verdict == service.Fail && hint:
		return doubt
	case l.Verdict == service.Fail:
		return fault
	}
	return good
}

// A todo is something to do: where it is below the job's address, what it is called, and the page whose steps it is, if it is
// that.
type todo struct {
	To, Title string
	Steps     int
}

func (j *floorJob) toAsk(a ask) *todo { return &todo{To: "/ask/" + id(a.Key), Title: j.Title(a)} }

// next is what comes next: the questions of the page that somebody is at, 0 for none; then page by page the steps that aren't
// ticked and the questions. When all that is done, it is the first whose answer says that something is still to be done,
// and last what nobody needs weighed.
func (j *floorJob) next(here int) *todo {
	for n := range len(j.Pages) + 1 {
		page := n
		if n == 0 {
			page = here
		} else if s := j.openOn(n); s != nil {
			return &todo{stepAt(s.Key), fmt.Sprintf("page %d, %s", n, j.Pages[n-1].Title), n}
		}
		for _, a := range j.Asks {
			if j.pageOf(a) == page && !j.answered(a) && (page == here || a.Waste == nil || a.Want.Needed) {
				return j.toAsk(a)
			}
		}
	}
	for _, wanted := range []func(ask) bool{
		func(a ask) bool { return j.Current[a.Key].Seq > 0 && j.levelOf(a) == missing },
		func(a ask) bool { return !j.answered(a) },
	} {
		if i := slices.IndexFunc(j.Asks, wanted); i >= 0 {
			return j.toAsk(j.Asks[i])
		}
	}
	return nil
}

// openOn is the first step of a page that isn't ticked; nil for none.
func (j *floorJob) openOn(page int) *step {
	for _, s := range j.open() {
		if s.Page == page {
			return &s
		}
	}
	return nil
}

// answered says whether there is nothing left to say to a question: it has an answer, or there is nothing to weigh.
func (j *floorJob) answered(a ask) bool {
	if a.Waste != nil && a.Waste.Stream == waste.FuelWaterMix {
		for _, other := range j.Asks {
			if s := j.station(other); s != nil && s.Station.ID == a.Waste.Station && j.Current[other.Key].Answer["none"] == "yes" {
				return true
			}
		}
	}
	return j.Current[a.Key].Seq > 0 && !unseen(j.Current[a.Key])
}

// levelOf is how bad the answer to a question is. A mark at contact is judged with where it stopped.
func (j *floorJob) levelOf(a ask) int {
	switch e, ok := j.Current[a.Key]; {
	case !ok:
		return missing
	case unseen(e):
		return doubt
	case a.Form == "contact":
		return good
	}
	return worst(j.linesOf(a))
}

// about names an answer and what is said of it: what was asked about it counts for that alone.
func (j *floorJob) about(a ask) string {
	said := fmt.Sprint(j.Current[a.Key].Answer)
	for _, l := range j.linesOf(a) {
		said += fmt.Sprint("; ", l.Verdict, l.Reasons)
	}
	return id(said)
}

// Asked is who was asked about a doubt, and what they said; the zero entry for nobody. After a no an answer put down anew is
// asked about anew, even if it says the same.
func (j *floorJob) Asked(a ask) entry {
	e := j.Current[askedKey+a.Key]
	if e.Answer["about"] != j.about(a) || e.Answer["stay"] == "no" && e.Seq < j.Current[a.Key].Seq {
		return entry{}
	}
	return e
}

// mayStay says whether somebody was asked about an answer, and said that it may stay so.
func (j *floorJob) mayStay(a ask) bool {
	e := j.Asked(a)
	return e.Seq > 0 && e.Answer["stay"] != "no"
}

// askedKey goes before a question's key where somebody was asked about its answer.
const askedKey = "asked:"

// troubled says whether an answer is wrong, or in doubt and nobody said that it may stay so.
func (j *floorJob) troubled(a ask) bool {
	w := j.levelOf(a)
	return w == fault || w == doubt && !j.mayStay(a)
}

// doubts counts the answers that are in doubt and may stay so.
func (j *floorJob) doubts() (asked int) {
	for _, a := range j.Asks {
		if j.levelOf(a) == doubt && !j.troubled(a) {
			asked++
		}
	}
	return asked
}

// Trouble is the question whose answer is worst, where that is wrong, or in doubt and nobody said that it may stay so.
func (j *floorJob) Trouble() (first *ask) {
	most := missing
	for i, a := range j.Asks {
		if w := j.levelOf(a); w > most && j.troubled(a) {
			most, first = w, &j.Asks[i]
		}
	}
	return first
}

// A sign is where something has got to: a shape and a word.
type sign struct{ Sign, Word string }

// finished is the sign of a job with nothing left to do.
var finished = sign{"✓", "DONE"}

func (s sign) String() string { return s.Sign + " " + s.Word }

// Sign is the worst of the job that is needed. A job isn't done before each of its steps is ticked.
func (j *floorJob) Sign() sign {
	switch {
	case j.Err != nil:
		return sign{"▲", "CAN'T BE READ"}
	case j.ReviewErr != nil:
		return sign{"▲", "ASK FIRST"}
	case worst(j.Review.Lines) == fault:
		return signs[fault]
	case len(j.Asides) > 0:
		return sign{"▲", "TWO ANSWERS"}
	case j.Trouble() != nil || worst(j.Review.Lines) == doubt && j.doubts() == 0:
		return signs[doubt]
	case j.Review.Complete && len(j.open()) == 0:
		return finished
	case len(j.Current) == 0:
		return sign{"…", "NOT BEGUN"}
	}
	return sign{"…", "OPEN"}
}

// A step is one that can be ticked.
type step struct {
	Page      int
	Key, Code string
}

// steps are those of all pages.
func (j *floorJob) steps() (steps []step) {
	for n, p := range j.Pages {
		for i, section := range p.Sections {
			for k, it := range section.Items {
				if it.Kind == "do" {
					steps = append(steps, step{n + 1, tickKey(n+1, i, k, it.Code), it.Code})
				}
			}
		}
	}
	return steps
}

// open are the steps that aren't ticked.
func (j *floorJob) open() []step {
	return slices.DeleteFunc(j.steps(), func(s step) bool { return j.Current[s.Key].Seq > 0 })
}

// LockOut are the steps of taking the machine out of service that aren't ticked.
func (j *floorJob) LockOut() []step {
	return slices.DeleteFunc(j.open(), func(s step) bool { return !strings.HasPrefix(s.Code, "isolate.") })
}

// rank orders jobs for the foreman: the worst first.
func (j *floorJob) rank() int {
	switch {
	case j.Err != nil:
		return 0
	case j.ReviewErr != nil:
		return 1
	}
	return 2 + slices.Index([]string{"FAIL", "TWO ANSWERS", "ASK FIRST", "OPEN", "NOT BEGUN", "DONE"}, j.Sign().Word)
}

// A row is a job on the foreman's list.
type row struct {
	J     *floorJob
	Sign  sign
	Why   string
	Next  string
	Who   string
	Taken entry
}

func (f *floor) rows(jobs []*floorJob) (rows []row) {
	for _, j := range jobs {
		r := row{J: j, Sign: j.Sign()}
		if r.Why = f.Why(j); j.Err == nil && j.ReviewErr == nil {
			if a := j.Trouble(); a != nil { // what is wrong or in doubt comes first
				r.Next = j.Title(*a)
			} else if next := j.next(0); next != nil && r.Sign != finished {
				r.Next = next.Title
			}
			r.Who, r.Taken = lastOf(j.Entries).By, j.Current["taken"]
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.J.rank(), b.J.rank()) })
	return rows
}

// Why is what keeps a job from being done: its worst answer, else what isn't written down or ticked.
func (f *floor) Why(j *floorJob) string {
	switch {
	case j.Err != nil:
		return f.reason(j.Err)
	case j.ReviewErr != nil:
		return f.reason(j.ReviewErr)
	case j.Sign().Word == "TWO ANSWERS":
		return j.Question(j.Asides[0]) + "two answers, and one has to be chosen"
	}
	if a := j.Trouble(); a != nil {
		if unseen(j.Current[a.Key]) {
			return question(j.Title(*a)) + "no mark could be seen"
		}
		if e := j.Asked(*a); e.Seq > 0 && j.levelOf(*a) == doubt {
			return question(j.Title(*a)) + "it may not stay so, said " + e.Answer["who"]
		}
		return question(j.Title(*a)) + f.because(j.linesOf(*a), j.levelOf(*a))
	}
	if w := worst(j.Review.Lines); w >= doubt && j.doubts() == 0 {
		return f.because(j.Review.Lines, w) // nobody asked for it
	}
	return strings.Join(j.missing(), "; ")
}

// Question is what an answer is to, as a title with something behind it; "" where it is a step or who took over.
func (j *floorJob) Question(e entry) string {
	if a, ok := j.ask(strings.TrimPrefix(e.Ask, askedKey)); ok {
		return question(j.Title(a))
	}
	return ""
}

// missing is what isn't written down, put back or ticked; where there is nothing of it, what the job is done without.
func (j *floorJob) missing() (why []string) {
	readings, away := 0, 0
	for _, l := range j.Review.Lines {
		switch {
		case l.Needed && l.Verdict == service.NotRecorded:
			readings++
		case l.Needed && level(l) == missing:
			away++
		}
	}
	if away > 0 {
		why = append(why, strconv.Itoa(away)+" not back in service")
	}
	if readings > 0 {
		why = append(why, count(readings, "reading is missing", "readings are missing"))
	}
	if open := j.open(); len(open) > 0 {
		said := count(len(open), "step isn't ticked", "steps aren't ticked")
		if len(j.LockOut()) > 0 {
			said += ", lock-out among them"
		}
		why = append(why, said)
	}
	if n := j.doubts(); n > 0 {
		why = append(why, count(n, "answer is in doubt, and was asked about", "answers are in doubt, and were asked about"))
	}
	if j.Sign() == finished {
		why = append(why, "every step is ticked, and every reading that is needed is good")
		if left := j.Left(); left != "" {
			why = append(why, "not written down: "+left)
		}
	}
	return why
}

// Left names what nobody wrote down.
func (j *floorJob) Left() string {
	var left []string
	weights := 0
	for _, a := range j.Asks {
		switch {
		case j.answered(a):
		case a.Waste != nil:
			weights++
		default:
			left = append(left, j.Title(a))
		}
	}
	if weights > 0 {
		left = append(left, count(weights, "weight", "weights"))
	}
	return strings.Join(left, ", ")
}

func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// because is the first reason why a line is as bad as that.
func (f *floor) because(lines []service.Line, bad int) string {
	for _, l := range lines {
		if level(l) == bad && len(l.Reasons) > 0 {
			return f.words.Say(l.Reasons[0])
		}
	}
	return ""
}

// question is a title with something behind it.
func question(title string) string {
	if strings.HasSuffix(title, "?") {
		return title + " "
	}
	return title + ": "
}

// otherUnits are the ways to read a number that isn't on a wrench's scale: in its unit and in the others that
// it shows. None where it is on the scale, or where the wrench isn't known.
func otherUnits(w *service.Wrench, value string, unit units.TorqueUnit) (read []string) {
	if w == nil {
		return nil
	}
	on := func(unit units.TorqueUnit) bool {
		set, err := units.ParseTorque(strings.TrimSpace(value) + " " + unit.String())
		return err == nil && set.Compare(w.Lowest) >= 0 && set.Compare(w.Highest) <= 0
	}
	if on(unit) {
		return nil
	}
	read = []string{unit.String()}
	for _, other := range w.AlsoShows {
		if other != unit && on(other) {
			read = append(read, other.String())
		}
	}
	return read
}
