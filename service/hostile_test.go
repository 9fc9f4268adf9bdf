package service

import (
	"encoding"
	"encoding/json"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// What would steer a terminal, forge a line, turn the writing round or hide in a name.
var hostileParts = []string{"\x1b[2K", "\nstations[0]: accepted", "\r", "\x00", "\u202e", "\u2066", "\u200b", "\ufeff", "\u00ad",
	"\u3164", "\u2800", "\ufe0f", "\u2028", "\xff", "\xe2\x80", "\U000e0041"}

// textReaders read a text of any kind, each with one that it takes.
func textReaders() map[string]func(string) error {
	readers := map[string]func(string) error{}
	text := func(sample string, of func() encoding.TextUnmarshaler) {
		readers[sample] = func(s string) error { return of().UnmarshalText([]byte(s)) }
	}
	quantity := func(sample string, of reflect.Type) {
		text(sample, func() encoding.TextUnmarshaler { return reflect.New(of).Interface().(encoding.TextUnmarshaler) })
	}
	for _, s := range samples {
		quantity(s.text, s.of)
	}
	for _, of := range []reflect.Type{reflect.TypeFor[units.Pressure](), reflect.TypeFor[units.TemperatureDifference]()} {
		quantity("1 "+of.Name(), of)
	}
	for name, of := range map[string]any{
		"contact": new(turn.Contact), "datum": new(turn.Datum), "action": new(turn.Action), "fit": new(turn.Match), "verdict of turn": new(turn.Reach),
		"rule": new(torque.Rule), "verdict of torque": new(torque.Acceptance), "basis of torque": new(torque.DeviationBasis),
		"answer": new(drain.Answer), "guard": new(drain.Guard),
		"container code": new(usfederal.ContainerCode), "unit code": new(usfederal.UnitCode),
		"determination": new(waste.Determination), "verdict": new(Verdict), "basis": new(Basis),
		"torque unit": new(units.TorqueUnit), "scale": new(units.TemperatureScale),
	} {
		text(name, func() encoding.TextUnmarshaler { return of.(encoding.TextUnmarshaler) })
	}
	readers["17-26 N·m (150-230 in-lb)"] = func(s string) error { _, err := torque.ParsePrintedLimit(s); return err }

	readers["A"] = func(s string) error { _, err := turn.NewRing([]string{s, "B", "C"}, turn.Clockwise); return err }
	readers["[lb_av]"] = func(s string) error { _, err := units.FromUCUM[units.MassUnit](s); return err }
	readers["KGM"] = func(s string) error { _, err := units.FromRec20[units.MassUnit](s); return err }
	readers[`{"value":"30","unit":"N·m"}`] = func(s string) error { return new(units.Torque).UnmarshalJSON([]byte(s)) }
	readers[`{"value":"15","unit":"°C"}`] = func(s string) error { return new(units.Temperature).UnmarshalJSON([]byte(s)) }
	readers["a rule set's name"] = func(s string) error { _, err := usfederal.RuleSet().Derive(s, usfederal.RuleSet().AsOf); return err }
	readers["VSQG"] = func(s string) error { _, err := usfederal.RuleSet().Category(s); return err }
	readers["W-1"] = func(s string) error {
		return waste.Entry{Job: s, Line: 1, Date: waste.MustParseDate("2026-03-31"), Stream: waste.Absorbents,
			Mass: drain.Estimate[units.MassUnit]{From: drain.Weighed}}.Check()
	}
	readers["drum 3"] = func(s string) error {
		_, err := waste.Container{ID: s, Tare: drain.MustExactly(units.Kilogram.Of(17), drain.Weighed)}.Net(drain.MustExactly(units.Kilogram.Of(17), drain.Weighed))
		return err
	}
	set, _ := json.Marshal(usfederal.RuleSet())
	readers["Invented State"] = func(s string) error {
		_, err := waste.ParseRuleSet([]byte(strings.Replace(string(set), "US federal", s, 1)))
		return err
	}
	readers["asOf"] = func(s string) error {
		_, err := waste.ParseRuleSet([]byte(strings.Replace(string(set), "asOf", s, 1)))
		return err
	}
	for name, part := range map[string]string{"T-1": "T-1", "machine": "machine", "150 to 230 in-lb": "150 to 230 in-lb", "right hand": "right hand", "840": "840"} {
		readers["job: "+name] = func(s string) error { _, err := ReadJob([]byte(strings.Replace(bench, part, s, 1))); return err }
	}
	readers["shop rules"] = func(s string) error {
		_, err := ReadRules([]byte(`{"version": 1, "name": "` + s + `", "torque": "guarded by U", "eye": "15°", "count": "1/4 turn"}`))
		return err
	}
	return readers
}

// An error is one line of what is seen, whatever was in the text that it quotes.
func TestErrorsShowWhatTheyQuote(t *testing.T) {
	refused := 0
	for sample, read := range textReaders() {
		for _, part := range hostileParts {
			for _, text := range []string{part, part + sample, sample + part, sample + " " + part + " x",
				sample[:len(sample)/2] + part + sample[len(sample)/2:], "1 " + part, "7 " + part + " N·m after " + part} {
				err := read(text)
				if err == nil {
					continue
				}
				refused++
				lines := []string{err.Error()}
				if all, ok := err.(JobErrors); ok {
					lines = strings.Split(err.Error(), "\n")
					require.Len(t, lines, len(all), "%q", text)
				}
				for _, line := range lines {
					require.Empty(t, plain.Hidden(line), "%q: %s", text, line)
				}
			}
		}
	}
	assert.Greater(t, refused, 4000)
}

// Texts by which things are told apart, and texts of rules, hold nothing that isn't seen.
func TestUnseenCharactersRefused(t *testing.T) {
	for _, sample := range []string{"a rule set's name", "W-1", "drum 3", "Invented State", "job: machine", "shop rules", "job: T-1", "A"} {
		for _, part := range hostileParts {
			name := strings.TrimPrefix(sample, "job: ")
			assert.Error(t, textReaders()[sample](name+part), "%q", name+part)
		}
		assert.NoError(t, textReaders()[sample](strings.TrimPrefix(sample, "job: ")), sample)
	}
}

// The value and the unit of a quantity are each what they are called, and null is nothing.
func TestQuantitiesInParts(t *testing.T) {
	read := func(pan string) error {
		require.Contains(t, bench, `"panHolds": "10 L"`)
		_, err := ReadJob([]byte(strings.Replace(bench, `"panHolds": "10 L"`, `"panHolds": `+pan, 1)))
		return err
	}
	require.NoError(t, read(`{"value": "10", "unit": "L"}`))
	for pan, want := range map[string]string{
		`{"value": "8", "unit": "½ L"}`:              "the unit starts with a number",
		`{"value": "8 ½", "unit": "L x"}`:            "",
		`{"value": "1 L 8", "unit": "L"}`:            "the value is more than a number",
		`{"value": 8, "unit": "L"}`:                  "the value is not a string",
		`{"value": "8", "unit": null}`:               `the key "unit" is null`,
		`{"value": "8"}`:                             "the value or the unit is missing",
		`{"value": "8", "unit": "L", "per": "hour"}`: `the key "per" is unknown`,
		`null`: "null; want a string such as \"1.5 L\"",
		`8`:    "a number; want a string such as \"1.5 L\"",
		`[]`:   "a list; want a string such as \"1.5 L\"",
	} {
		err := read(pan)
		require.ErrorContains(t, err, "shop.panHolds: ", pan)
		assert.ErrorContains(t, err, want, pan)
	}
}

// No field of a job file may be null.
func TestNullIsRefusedEverywhere(t *testing.T) {
	for name, text := range shopJobs(t) {
		var tree any
		require.NoError(t, json.Unmarshal(text, &tree))
		nulls := 0
		var walk func(at any, set func(any))
		walk = func(at any, set func(any)) {
			switch at := at.(type) {
			case map[string]any:
				for key, child := range at {
					walk(child, func(v any) { at[key] = v })
				}
			case []any:
				for i, child := range at {
					walk(child, func(v any) { at[i] = v })
				}
			}
			set(nil)
			data, err := json.Marshal(tree)
			require.NoError(t, err)
			_, err = ReadJob(data)
			assert.Error(t, err, "%s with a null for %v", name, at)
			set(at)
			nulls++
		}
		walk(tree, func(v any) { tree = v })
		assert.Greater(t, nulls, 50, name)
	}
}

// Whoever wrote a text needn't know Go: no error about one names a function.
func TestErrorsNameNoFunction(t *testing.T) {
	names := regexp.MustCompile(`\b(Parse|Read|New|Must|DensityOf|View\.)[A-Z]\w*|Unmarshal|Go struct|json: `)
	readers := textReaders()
	refused := 0
	for sample, read := range readers {
		texts := []string{"", "35 °API", "SG 0.84", "3/4 to 1 turn", "145-190 in-lb (16-21 N·m)", "inward", "5", "null", "x", `{"value": 8}`}
		for other := range readers {
			texts = append(texts, other)
		}
		for _, text := range texts {
			if err := read(text); err != nil {
				refused++
				assert.NotRegexp(t, names, err.Error(), "%s: %q", sample, text)
			}
		}
	}
	assert.Greater(t, refused, 1000)
}

// Every refusal of the tests has a code of its own kind, and a code is one word of small letters.
func TestErrorsHaveCodes(t *testing.T) {
	word := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, c := range badJobs {
		_, err := ReadJob([]byte(strings.Replace(bench, c.old, c.new, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		for _, one := range all {
			assert.Regexp(t, word, one.Code())
			assert.NotEqual(t, "refused", one.Code(), "%s: %v", c.name, one)
			seen[one.Code()] = true
		}
	}
	assert.Greater(t, len(seen), 10, "%v", seen)
	assert.Equal(t, "refused", (&JobError{}).Code())
}
