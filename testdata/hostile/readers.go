package hostile

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// reader is one way into the library.
type reader struct {
	name   string
	inputs []input
	read   func(text []byte) error
}

func file(name string) []byte {
	text, err := os.ReadFile(filepath.Join("..", "..", name))
	if err != nil {
		panic(err)
	}
	return text
}

func parses[T any](parse func(string) (T, error)) func([]byte) error {
	return func(text []byte) error { _, err := parse(string(text)); return err }
}

func reads[T any](read func([]byte) (T, error)) func([]byte) error {
	return func(text []byte) error { _, err := read(text); return err }
}

// value are the ways into a type that decodes itself.
func value[T any, P interface {
	*T
	UnmarshalText([]byte) error
	UnmarshalJSON([]byte) error
	UnmarshalBinary([]byte) error
	Scan(any) error
}](name string) []reader {
	return []reader{
		{name + ".UnmarshalText", texts, func(text []byte) error { return P(new(T)).UnmarshalText(text) }},
		{name + ".UnmarshalJSON", join(texts, documents), func(text []byte) error { return P(new(T)).UnmarshalJSON(text) }},
		{name + ".UnmarshalBinary", texts, func(text []byte) error { return P(new(T)).UnmarshalBinary(text) }},
		{name + ".Scan", texts, func(text []byte) error { return P(new(T)).Scan(text) }},
	}
}

func join[T any](lists ...[]T) (all []T) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// paged plans a job and writes its pages in every form; how many bytes these have may grow as the job does.
func paged(text []byte) error {
	job, err := service.ReadJob(text)
	if err != nil {
		return err
	}
	plan, err := service.NewPlan(job, service.Rules{})
	if err != nil {
		return err
	}
	s := sheet.English().Sheet(plan, true)
	s.Text()
	if _, err := s.JSON(); err != nil {
		return err
	}
	_, err = s.HTML()
	return err
}

// readers are all of them. Where a type is one of several alike (the kinds of quantity, the enumerations), one stands
// for the others, which have the same methods.
func readers() []reader {
	bench, machine, onMachine := file("service/testdata/bench.json"), file("service/testdata/machine.json"), file("service/testdata/job-on-machine.json")
	ring, err := turn.NewRing([]string{"A", "B", "C"}, turn.Clockwise)
	if err != nil {
		panic(err)
	}
	var all []reader
	for _, ways := range [][]reader{
		value[units.Torque]("units.Torque"), value[units.Temperature]("units.Temperature"), value[units.TorqueUnit]("units.TorqueUnit"),
		value[torque.Band]("torque.Band"), value[torque.Rule]("torque.Rule"),
		value[turn.Turn]("turn.Turn"), value[turn.Instruction]("turn.Instruction"), value[turn.Sequence]("turn.Sequence"), value[turn.Thread]("turn.Thread"),
		value[turn.Part]("turn.Part"),
		value[drain.StatedDensity]("drain.StatedDensity"), value[drain.Duration]("drain.Duration"),
		value[waste.Date]("waste.Date"), value[waste.Zone]("waste.Zone"), value[usfederal.ContainerCode]("usfederal.ContainerCode"),
		value[service.FillPart]("service.FillPart"),
	} {
		all = append(all, ways...)
	}
	return append(all,
		reader{"units.ParseTorque", texts, parses(units.ParseTorque)},
		reader{"units.ParseShare", texts, parses(units.ParseShare)},
		reader{"units.ParseUnit", texts, parses(units.ParseUnit[units.VolumeUnit])},
		reader{"units.FromUCUM", texts, parses(units.FromUCUM[units.VolumeUnit])},
		reader{"units.FromRec20", texts, parses(units.FromRec20[units.VolumeUnit])},
		reader{"torque.ParseBand", texts, parses(torque.ParseBand)},
		reader{"torque.ParsePrintedLimit", texts, parses(torque.ParsePrintedLimit)},
		reader{"turn.Parse", texts, parses(turn.Parse)},
		reader{"turn.ParseInstruction", texts, parses(turn.ParseInstruction)},
		reader{"turn.Ring.ParsePosition", texts, func(text []byte) error { _, err := ring.ParsePosition(string(text), turn.RightHand); return err }},
		reader{"turn.Ring.UnmarshalJSON", documents, func(text []byte) error { return new(turn.Ring).UnmarshalJSON(text) }},
		reader{"drain.Estimate.UnmarshalJSON", documents, func(text []byte) error { return new(drain.Estimate[units.MassUnit]).UnmarshalJSON(text) }},
		reader{"waste.ParseRuleSet", documents, reads(waste.ParseRuleSet)},
		reader{"waste.Posting.UnmarshalJSON", documents, func(text []byte) error { return new(waste.Posting).UnmarshalJSON(text) }},
		reader{"waste.Ledger.UnmarshalText", join(lines, documents), func(text []byte) error { return new(waste.Ledger).UnmarshalText(text) }},
		reader{"waste.Ledger.UnmarshalJSON", join(texts, documents), func(text []byte) error { return new(waste.Ledger).UnmarshalJSON(text) }},
		reader{"service.ReadJob", documents, func(text []byte) error { _, err := service.ReadJob(text); return err }},
		reader{"service.ReadJobOn, its machine", documents, func(text []byte) error { _, err := service.ReadJobOn(text, onMachine); return err }},
		reader{"service.ReadJobOn, its job", documents, func(text []byte) error { _, err := service.ReadJobOn(machine, text); return err }},
		reader{"service.ReadAsDone", documents, reads(service.ReadAsDone)},
		reader{"service.ReadRules", documents, reads(service.ReadRules)},
		reader{"service.ReadRecord", documents, reads(service.ReadRecord)},
		reader{"service.Values.UnmarshalJSON", documents, func(text []byte) error { return new(service.Values).UnmarshalJSON(text) }},
		reader{"sheet.Sheet.UnmarshalJSON", documents, func(text []byte) error { return new(sheet.Sheet).UnmarshalJSON(text) }},
		reader{"sheet.Words.With", join(texts, catalogues), parses(func(text string) (*sheet.Words, error) { return sheet.English().With(text) })},
		reader{"a job's pages", large(bench), paged},
	)
}

var catalogues = []input{
	{"sentences", numbered("language: en\nplural: one-other\n", "my.own.%d: x\n", "")},
	{"forms", fill("language: en\nplural: one-other\nmy.own: {n|a", "|a", "}\n")},
	{"braces", fill("language: en\nplural: one-other\nmy.own: ", "{", "\n")},
	{"slots", fill("language: en\nplural: one-other\nmy.own: ", "{n}", "\n")},
}

// large are jobs that are right, and long: up to what a job may hold they are planned and written, and beyond refused.
func large(bench []byte) []input {
	one := func(name, key string, item func(job map[string]any, i int) any) input {
		return input{name, func(size int) string {
			var job map[string]any
			if err := json.Unmarshal(bench, &job); err != nil {
				panic(err)
			}
			list, _ := job[key].([]any)
			for used, i := len(bench), 0; used < size || i == 0; i++ {
				text, err := json.Marshal(item(job, i))
				if err != nil {
					panic(err)
				}
				list, used = append(list, json.RawMessage(text)), used+len(text)+1
			}
			job[key] = list
			text, err := json.Marshal(job)
			if err != nil {
				panic(err)
			}
			return string(text)
		}}
	}
	station := func(from int, marks int) func(map[string]any, int) any {
		return func(job map[string]any, i int) any {
			s := maps.Clone(job["stations"].([]any)[from].(map[string]any))
			s["id"] = fmt.Sprint("S", i)
			if marks > 0 {
				tighten := maps.Clone(s["tighten"].(map[string]any))
				ring := maps.Clone(tighten["marks"].(map[string]any))
				var labels []string
				for k := range marks {
					labels = append(labels, fmt.Sprint("M", k))
				}
				ring["labels"], ring["atContact"] = labels, "M0"
				tighten["marks"], s["tighten"] = ring, tighten
			}
			return s
		}
	}
	return []input{
		one("stations", "stations", station(0, 0)),
		one("stations of 360 marks", "stations", station(1, 360)),
		one("cautions", "cautions", func(_ map[string]any, i int) any { return fmt.Sprint("mind <", i, ">") }),
		one("cautions of one letter", "cautions", func(map[string]any, int) any { return "x" }),
		one("cautions of 500 bytes", "cautions", func(map[string]any, int) any { return strings.Repeat("&", 500) }),
		one("things taken out of service", "isolate", func(_ map[string]any, i int) any {
			return map[string]any{"what": fmt.Sprint("thing ", i), "how": "off"}
		}),
	}
}
