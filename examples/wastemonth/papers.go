package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

// batches are the month's streams with the containers they went into. What the generator determined
// not to count is left out: it goes on other papers.
func batches(s waste.Statement, l *books) []waste.Batch {
	var all []waste.Batch
	for i, b := range s.Batches() {
		if s.Streams[i].Determination == waste.NotCounted {
			continue
		}
		for _, label := range s.Streams[i].Containers {
			b.Containers = append(b.Containers, l.containers[label])
		}
		all = append(all, b)
	}
	return all
}

// kind reads the code that the labels of a batch's containers begin with, such as "DM 3"; a line takes
// containers of one kind.
func kind(b waste.Batch) (usfederal.ContainerCode, error) {
	if err := b.Check(); err != nil {
		return 0, err
	}
	var first usfederal.ContainerCode
	for i, c := range b.Containers {
		var code usfederal.ContainerCode
		err := code.UnmarshalText([]byte(c.ID[:min(2, len(c.ID))]))
		switch {
		case err != nil:
			return 0, fmt.Errorf("container %q: want a label that begins with its code, such as \"DM 3\"", c.ID)
		case i == 0:
			first = code
		case code != first:
			return 0, fmt.Errorf("container %q: another kind than %q; want a line of its own", c.ID, b.Containers[0].ID)
		}
	}
	return first, nil
}

// form writes the lines of a manifest. What can't be a line says why.
func form(out io.Writer, s waste.Statement, l *books, unit usfederal.UnitCode) {
	var lines usfederal.Manifest
	for _, b := range batches(s, l) {
		code, err := kind(b)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", b.Description, err)
			continue
		}
		line, err := usfederal.NewManifestLine(b, code, unit)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", b.Description, err)
			continue
		}
		lines = append(lines, line)
	}
	fmt.Fprintf(out, "%s\n\n", lines)
}

// notes writes the lines of consignment notes, to 0.1 kg.
func notes(out io.Writer, s waste.Statement, l *books, _ usfederal.UnitCode) {
	for _, b := range batches(s, l) {
		code, err := kind(b)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", b.Description, err)
			continue
		}
		line, err := europe.Consign(b, code.Name(), 1)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", b.Description, err)
			continue
		}
		fmt.Fprintf(out, "%s\n\n", line)
	}
}

// overfull names the containers that can't hold what went into them in all months together.
func overfull(out io.Writer, l *books) {
	into := map[string][]waste.Entry{}
	for _, e := range l.Entries() {
		into[e.Container] = append(into[e.Container], e)
	}
	for _, label := range slices.Sorted(maps.Keys(into)) {
		c := l.containers[label]
		if takes, err := c.Takes(into[label]...); err != nil || takes { // all were checked when they were entered
			continue
		}
		masses := make([]drain.Estimate[units.MassUnit], len(into[label]))
		for i, e := range into[label] {
			masses[i] = e.Mass
		}
		total, _ := drain.Sum(units.Kilogram, masses...)
		holds := "holds " + c.Capacity.String()
		if c.MostGross.Sign() > 0 {
			holds = "may weigh " + c.MostGross.String()
		}
		fmt.Fprintf(out, "%s %s and can't hold the %v entered for it: look at labels and weights, or fill in the next one.\n\n", label, holds, total)
	}
}

// ask writes the questions on what is undetermined.
func ask(out io.Writer, s waste.Statement, rules waste.RuleSet) {
	for _, total := range s.Streams {
		if total.Determination != waste.Undetermined {
			continue
		}
		if questions, err := rules.Ask(total.Stream); err == nil { // the rules were checked with the statement
			fmt.Fprintf(out, "%s\n\n", questions)
		}
	}
}
