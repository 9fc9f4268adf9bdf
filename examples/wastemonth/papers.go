package main

import (
	"fmt"
	"io"

	"example.com/snugturn/drain/waste"
)

// items are the month's streams with the containers they went into. What the generator determined
// not to count is left out: it goes on other papers.
func items(s waste.Statement) []waste.Item {
	var all []waste.Item
	for i, item := range s.Items() {
		if s.Streams[i].Determination == waste.NotCounted {
			continue
		}
		for _, label := range s.Streams[i].Containers { // labels such as "DM 3"; what begins otherwise is refused with the line
			code, _ := waste.ParseContainerCode(label[:min(2, len(label))])
			item.Containers = append(item.Containers, waste.Container{ID: label, Code: code})
		}
		all = append(all, item)
	}
	return all
}

// form writes the lines of a manifest. What can't be a line says why.
func form(out io.Writer, s waste.Statement, unit waste.FormUnit) {
	var lines waste.Form
	for _, item := range items(s) {
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
func notes(out io.Writer, s waste.Statement, _ waste.FormUnit) {
	for _, item := range items(s) {
		line, err := item.Consign(1)
		if err != nil {
			fmt.Fprintf(out, "No line for %s: %v\n", item.Description, err)
			continue
		}
		fmt.Fprintf(out, "%s\n\n", line)
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
