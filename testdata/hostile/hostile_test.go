package hostile

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/service"
	"example.com/snugturn/units"
)

var update = flag.Bool("update", false, "write testdata/hostile.tsv and the table in DEVELOPERS.md anew")

func full() bool { return os.Getenv("HOSTILE") == "full" }

// sizes are what each text is made at. Ten times more than the last of .ci/long's would be more than any file of JSON may
// have, so it is the last but one that is the most.
func sizes() []int {
	if full() {
		return []int{10_240, 102_400, 1_024_000, 10_240_000}
	}
	return []int{1_024, 10_240, 102_400}
}

// measured is a way in with what calls it.
type measured struct {
	name   string
	inputs []input
	take   func(text []byte) taken
}

// taken is what a call took.
type taken struct {
	bytes   int // of the text
	time    time.Duration
	memory  uint64 // that a call allocated, or the most that a program had
	outcome string
}

// called takes the least of a few calls, since others share the machine.
func called(read func([]byte) error) func([]byte) taken {
	return func(text []byte) taken {
		best := taken{len(text), time.Hour, 1 << 62, ""}
		for begin, n := time.Now(), 0; n < 3 && time.Since(begin) < 300*time.Millisecond || n == 0; n++ {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			err := read(text)
			spent := time.Since(start)
			runtime.ReadMemStats(&after)
			best.time, best.memory, best.outcome = min(best.time, spent), min(best.memory, after.TotalAlloc-before.TotalAlloc), outcome(err)
		}
		return best
	}
}

// outcome is a word for what came of it.
func outcome(err error) string {
	if err == nil {
		return "read"
	}
	if len(err.Error()) > 128<<10 {
		return "refused in too many words"
	}
	var lines service.JobErrors
	if errors.As(err, &lines) {
		return "refused: " + lines[0].Code()
	}
	for _, cause := range []error{units.ErrRange, units.ErrNoUnit, units.ErrUnknownUnit, units.ErrOtherKind, units.ErrAmbiguous, units.ErrSyntax} {
		if errors.Is(err, cause) {
			return "refused: " + cause.Error()
		}
	}
	return "refused"
}

// Ten times the text may take ten times as much, and what grows by doubling or what the clock and the others on the
// machine add is let pass: 25 and 30 times. The square of the size would take a hundred times.
const (
	mostTime, leastTime     = 30, 20 * time.Millisecond // whatever is below the least passes
	mostMemory, leastMemory = 25, 1 << 20
)

func grows(small, large taken) string {
	if large.time > leastTime && large.time > mostTime*max(small.time, leastTime/mostTime) {
		return fmt.Sprintf("grows: %v for %d bytes, %v for %d", small.time, small.bytes, large.time, large.bytes)
	}
	if large.memory > leastMemory && large.memory > mostMemory*max(small.memory, leastMemory/mostMemory) {
		return fmt.Sprintf("grows: %d KiB for %d bytes, %d KiB for %d", small.memory>>10, small.bytes, large.memory>>10, large.bytes)
	}
	return ""
}

// Ceilings of a text: so much whatever it is, and so much for each of its bytes. What is read may take more than what is
// refused; a ledger is refused at its last line, when all others have been read.
func costly(v taken) string {
	most, memory := 2*time.Second+time.Duration(v.bytes)*time.Microsecond/5, uint64(64<<20+32*v.bytes)
	if v.outcome == "read" { // or answered line by line: 300 bytes say what is wrong with the three of a line
		most, memory = 4*most+time.Duration(v.bytes)*4*time.Microsecond, memory+uint64(1200*v.bytes) // a ring of 360 marks is 3 KB of a job and 2 MB of pages and pictures
	}
	if v.outcome == "refused in too many words" || v.time > most || v.memory > memory {
		return fmt.Sprintf("costly: %s, %d bytes, %v, %d KiB", v.outcome, v.bytes, v.time, v.memory>>10)
	}
	return ""
}

type row struct {
	reader, input string
	at            []taken
	wrong         string
}

// row measures up to ten times, since others share the machine: of each size, the least counts.
func (m measured) row(in input, texts [][]byte) (r row) {
	r = row{reader: m.name, input: in.name, at: make([]taken, len(texts))}
	for try := range 10 {
		r.wrong = ""
		for i, text := range texts {
			v := m.take(text)
			if try > 0 {
				v.time, v.memory = min(v.time, r.at[i].time), min(v.memory, r.at[i].memory)
			}
			if r.at[i] = v; r.wrong == "" {
				r.wrong = costly(v)
			}
			if i > 0 && r.wrong == "" {
				r.wrong = grows(r.at[i-1], v)
			}
		}
		if r.wrong == "" {
			break
		}
	}
	return r
}

// Ten times as much of whatever is read takes no more than linear growth allows, and no text is costly to refuse.
func TestHostile(t *testing.T) {
	var all []measured
	for _, r := range readers() {
		all = append(all, measured{r.name, r.inputs, called(r.read)})
	}
	all = append(all, programs(t)...)
	made := map[string][][]byte{}
	var rows []row
	for _, m := range all {
		for _, in := range m.inputs {
			texts := made[in.name]
			if texts == nil {
				for _, size := range sizes() {
					texts = append(texts, []byte(in.make(size)))
				}
				if !full() { // else they are too many to keep
					made[in.name] = texts
				}
			}
			r := m.row(in, texts)
			if r.wrong != "" {
				t.Errorf("%s, %s: %s", r.reader, r.input, r.wrong)
			}
			rows = append(rows, r)
		}
	}
	if len(rows) < 1000 {
		t.Errorf("%d rows", len(rows))
	}
	if *update {
		write(t, rows)
	}
}

// alike are the readers that others stand for, whose methods are the same code: enumerations, for torque.Rule; the kinds of
// quantity, for units.Torque.
var alike = strings.Fields(`drain.Answer drain.Guard drain.Provenance service.AdapterKind service.Basis service.Fit service.Kind service.Level service.Side
	service.Verdict torque.Acceptance torque.Agreement torque.DeviationBasis turn.Action turn.Contact turn.Datum turn.Hand turn.Match turn.Reach turn.Rotation
	turn.View usfederal.UnitCode waste.Determination waste.Stream units.ParseAngle units.ParseDensity units.ParseFlow units.ParseLength units.ParseMass
	units.ParsePressure units.ParseTemperature units.ParseVolume units.Parse units.TemperatureScale`)

// named are the types and functions whose readers are called otherwise in the table.
var named = map[string]string{"units.Quantity": "units.Torque", "units.UnitOf": "units.TorqueUnit", "turn.ParsePart": "turn.Part", "turn.ParseSequence": "turn.Sequence",
	"turn.ParseThread": "turn.Thread", "drain.ParseStatedDensity": "drain.StatedDensity", "waste.ParseDate": "waste.Date", "waste.RuleSet": "waste.ParseRuleSet"}

// Every exported reader is in the table, or one stands for it.
func TestEveryReaderIsMeasured(t *testing.T) {
	api, err := os.ReadFile(filepath.Join("..", "api.txt"))
	if err != nil {
		t.Fatal(err)
	}
	all, found := readers(), 0
	exported := regexp.MustCompile(`(?m)^(\w+): func (?:\(\*(\w+)(?:\[\w+\])?\)\.(?:UnmarshalJSON|UnmarshalText)|((?:Parse|Read)\w*))\b`)
	for _, m := range exported.FindAllStringSubmatch(string(api), -1) {
		found++
		name := m[1] + "." + m[2] + m[3]
		if slices.Contains(alike, name) {
			continue
		}
		if other, ok := named[name]; ok {
			name = other
		}
		if !slices.ContainsFunc(all, func(r reader) bool {
			return r.name == name || strings.HasPrefix(r.name, name+".") || strings.HasPrefix(r.name, name+",")
		}) {
			t.Errorf("%s is in no row", name)
		}
	}
	if found < 80 {
		t.Errorf("%d readers in api.txt", found)
	}
}

// A million postings (ten thousand where it has to be quick), as the program that keeps them reads them.
func TestAMillionPostings(t *testing.T) {
	counts := map[bool][]int{false: {1_000, 10_000}, true: {10_000, 100_000, 1_000_000}}[full()]
	month := built(t, "wastemonth")
	var before taken
	for _, n := range counts {
		var b strings.Builder
		for i := range n {
			b.WriteString(posting(i))
		}
		v := fed(t, []byte(b.String()), month, "-on", "2026-03-31", "-format", "json", "-")
		if before.bytes > 0 {
			if wrong := grows(before, v); wrong != "" {
				t.Error(wrong)
			}
		}
		if v.outcome != "read" || v.memory > 64<<20+uint64(n)*1500 {
			t.Errorf("%d postings: %s, %d KiB", n, v.outcome, v.memory>>10)
		}
		t.Logf("%d postings: %v, %d MiB", n, v.time.Round(time.Millisecond), v.memory>>20)
		before = v
	}
}

// write keeps what was measured: the rows of what took a millisecond or a MiB and more at any size, and of each reader what
// took longest and what took most.
func write(t *testing.T, rows []row) {
	var b, summary strings.Builder
	b.WriteString("reader\tinput\toutcome of the longest")
	for _, size := range sizes() {
		fmt.Fprintf(&b, "\tms of %d bytes\tKiB", size)
	}
	type worst struct {
		time, memory     taken
		timeIn, memoryIn string
	}
	worsts, order, less := map[string]*worst{}, []string(nil), 0
	for _, r := range rows {
		group, _, _ := strings.Cut(strings.Split(r.reader, ", /")[0], ".")
		if group == "service" || group == "waste" || group == "sheet" {
			group = strings.Split(r.reader, ".Unmarshal")[0]
		}
		w := worsts[group]
		if w == nil {
			w = &worst{}
			order, worsts[group] = append(order, group), w
		}
		cells, small := "", true
		for _, v := range r.at {
			cells += fmt.Sprintf("\t%s\t%d", ms(v), v.memory>>10)
			small = small && v.time < time.Millisecond && v.memory < 1<<20
			if v.time > w.time.time {
				w.time, w.timeIn = v, r.input
			}
			if v.memory > w.memory.memory {
				w.memory, w.memoryIn = v, r.input
			}
		}
		if less++; !small {
			less--
			fmt.Fprintf(&b, "\n%s\t%s\t%s%s", r.reader, r.input, r.at[len(r.at)-1].outcome, cells)
		}
	}
	fmt.Fprintf(&b, "\n%d others\ttook less than 1 ms and 1 MiB at any size\n", less)
	root := filepath.Join("..", "..")
	if err := os.WriteFile(filepath.Join(root, "testdata", "hostile.tsv"), []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	summary.WriteString("| reader | ms | longest | KiB | most |\n|---|---|---|---|---|\n")
	for _, group := range order {
		w := worsts[group]
		fmt.Fprintf(&summary, "| %s | %s | %s, %d bytes, %s | %d | %s, %d bytes, %s |\n", group, ms(w.time), w.timeIn, w.time.bytes, w.time.outcome,
			w.memory.memory>>10, w.memoryIn, w.memory.bytes, w.memory.outcome)
	}
	const begin, end = "<!-- hostile: HOSTILE=full testdata/hostile/run -update -->\n", "<!-- end of hostile -->"
	name := filepath.Join(root, "DEVELOPERS.md")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), begin)
	_, after, ended := strings.Cut(rest, end)
	if !found || !ended {
		t.Fatal("DEVELOPERS.md has no place for the table")
	}
	if err := os.WriteFile(name, []byte(before+begin+summary.String()+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

func ms(v taken) string {
	if v.time >= 100*time.Millisecond {
		return fmt.Sprint(v.time.Milliseconds())
	}
	return fmt.Sprintf("%.2g", float64(v.time)/1e6)
}
