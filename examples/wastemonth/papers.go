package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// items are the month's streams with the containers they went into. What the generator determined
// not to count is left out: it goes on other papers.
func items(s waste.Statement, l *books) []waste.Item {
	var all []waste.Item
	for i, item := range s.Items() {
		if s.Streams[i].Determination == waste.NotCounted {
			continue
		}
		for _, label := range s.Streams[i].Containers {
			item.Containers = append(item.Containers, l.containers[label])
		}
		all = append(all, item)
	}
	return all
}

// form writes the lines of a manifest. What can't be a line says why.
func form(out io.Writer, s waste.Statement, l *books, unit waste.FormUnit) {
	var lines waste.Form
	for _, item := range items(s, l) {
		line, err := item.Line(unit)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", item.Description, err)
			continue
		}
		lines = append(lines, line)
	}
	fmt.Fprintf(out, "%s\n\n", lines)
}

// notes writes the lines of consignment notes, to 0.1 kg.
func notes(out io.Writer, s waste.Statement, l *books, _ waste.FormUnit) {
	for _, item := range items(s, l) {
		line, err := item.Consign(1)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", item.Description, err)
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
		if c.Code == 0 {
			c.Code = waste.MetalDrums // which kind it is doesn't matter here
		}
		if takes, err := c.Takes(into[label]...); err != nil || takes { // all were checked when they were entered
			continue
		}
		masses := make([]drain.Estimate[units.MassUnit], len(into[label]))
		for i, e := range into[label] {
			masses[i] = e.Mass
		}
		total, _ := drain.Total(units.Kilogram, masses...)
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
