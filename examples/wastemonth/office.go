package main

import (
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

// office is what the ledger comes to on a day. It is what -format json prints: codes and values, no sentence.
type office struct {
	Invented  bool              `json:"invented"`
	On        waste.Date        `json:"on"`
	ToDo      []waste.Notice    `json:"toDo"`
	Period    waste.Statement   `json:"period"` // that the day is in, or the last before it
	Periods   []waste.Statement `json:"periods"`
	Changes   []waste.Notice    `json:"changes"`
	Drums     []waste.Drum      `json:"drums"`
	Shipments []shipment        `json:"shipments"`
	Read      int               `json:"read"`
	Again     int               `json:"sentAgain"`

	rules waste.RuleSet
	where func(row int) string
}

// shipment is what left the site on a day with one paper.
type shipment struct {
	Date    waste.Date               `json:"date"`
	Paper   string                   `json:"paper,omitempty"`
	Form    []usfederal.ManifestLine `json:"manifest,omitempty"`
	Notes   []europe.Consignment     `json:"consignment,omitempty"`
	NotOnIt []apart                  `json:"notOnIt,omitempty"`

	drums, kinds []string // of each line
	unit         string
}

// apart are drums of a shipment that can't be a line of its paper, and why.
type apart struct {
	Code   string                         `json:"code"`
	Drums  []string                       `json:"drums"`
	Stream waste.Stream                   `json:"stream,omitzero"`
	Mass   drain.Estimate[units.MassUnit] `json:"mass,omitzero"`
}

// look works out what the books come to. European says that papers are consignment notes.
func look(b *books, rules waste.RuleSet, on waste.Date, unit usfederal.UnitCode, european bool) (o *office, err error) {
	o = &office{Invented: b.invented, On: on, Changes: b.Changes(), Drums: b.Drums(), Read: b.read, Again: b.again, rules: rules, where: b.where}
	if o.ToDo, err = b.ToDo(rules, on); err != nil {
		return nil, err
	}
	firsts, err := b.Periods(rules)
	if err != nil {
		return nil, err
	}
	day := on
	for _, first := range firsts {
		s, err := b.Statement(first, rules)
		if err != nil {
			return nil, err
		}
		o.Periods = append(o.Periods, s)
		if first.Compare(on) <= 0 {
			day = first
		}
	}
	if o.Period, err = b.Statement(day, rules); err != nil {
		return nil, err
	}
	o.ship(unit, european)
	return o, nil
}

// ship puts the drums that left together on one paper.
func (o *office) ship(unit usfederal.UnitCode, european bool) {
	var left []waste.Drum
	for _, d := range o.Drums {
		if d.Shipped != (waste.Date{}) {
			left = append(left, d)
		}
	}
	slices.SortStableFunc(left, func(a, b waste.Drum) int {
		if order := a.Shipped.Compare(b.Shipped); order != 0 {
			return order
		}
		return strings.Compare(a.Paper, b.Paper)
	})
	for len(left) > 0 {
		n := 1
		for n < len(left) && left[n].Shipped == left[0].Shipped && left[n].Paper == left[0].Paper {
			n++
		}
		s := shipment{Date: left[0].Shipped, Paper: left[0].Paper, unit: unit.String()}
		if european {
			s.unit = usfederal.Kilograms.String()
		}
		s.lines(left[:n], unit, european)
		o.Shipments, left = append(o.Shipments, s), left[n:]
	}
}

// lines makes a line of the drums of one kind with one stream in them.
func (s *shipment) lines(drums []waste.Drum, unit usfederal.UnitCode, european bool) {
	for len(drums) > 0 {
		first := drums[0]
		var together, rest []waste.Drum
		for _, d := range drums {
			if same(d, first) {
				together = append(together, d)
			} else {
				rest = append(rest, d)
			}
		}
		s.line(together, unit, european)
		drums = rest
	}
}

// same reports whether two drums go on one line.
func same(d, e waste.Drum) bool {
	return d.Container.ID == e.Container.ID || d.Container.Kind == e.Container.Kind && apartFor(d) == "" && apartFor(e) == "" && d.Contents[0].Stream == e.Contents[0].Stream
}

// apartFor is why a drum's content can't be on the paper, "" where it can: that it is hazardous waste is for its generator
// to determine, and what is mixed is a waste of its own.
func apartFor(d waste.Drum) string {
	undetermined := slices.ContainsFunc(d.Contents, func(t waste.StreamTotal) bool { return t.Determination == waste.Undetermined })
	switch {
	case len(d.Contents) == 0:
		return "ship.cannot"
	case undetermined:
		return "ship.undetermined"
	case slices.ContainsFunc(d.Contents, func(t waste.StreamTotal) bool { return t.Stream != d.Contents[0].Stream }):
		return "ship.mixed"
	case !slices.ContainsFunc(d.Contents, func(t waste.StreamTotal) bool { return t.Determination == waste.Hazardous }):
		return "ship.other"
	}
	return ""
}

func (s *shipment) line(drums []waste.Drum, unit usfederal.UnitCode, european bool) {
	batch := waste.Batch{}
	var masses []drain.Estimate[units.MassUnit]
	var labels []string
	for _, d := range drums {
		masses, labels = append(masses, d.Mass), append(labels, d.Container.ID)
		batch.Containers = append(batch.Containers, d.Container)
	}
	mass, err := drain.Sum(units.Kilogram, masses...)
	not := apart{Code: apartFor(drums[0]), Drums: labels, Mass: mass}
	if len(drums[0].Contents) > 0 {
		not.Stream = drums[0].Contents[0].Stream
	}
	batch.Mass, batch.Stream, batch.Description = mass, not.Stream, not.Stream.String()
	var kind usfederal.ContainerCode
	if not.Code == "" && kind.UnmarshalText([]byte(drums[0].Container.Kind)) != nil {
		not.Code = "ship.kind"
	}
	switch {
	case not.Code != "":
	case err != nil:
		not.Code = "ship.cannot"
	case european:
		line, err := europe.Consign(batch, kind.String(), 1)
		if not.Code = because(line.Zero, err); not.Code == "" {
			s.Notes, s.drums, s.kinds = append(s.Notes, line), append(s.drums, strings.Join(labels, ", ")), append(s.kinds, kind.String())
		}
	default:
		line, err := usfederal.NewManifestLine(batch, kind, unit)
		if not.Code = because(line.Zero, err); not.Code == "" {
			s.Form, s.drums, s.kinds = append(s.Form, line), append(s.drums, strings.Join(labels, ", ")), append(s.kinds, kind.String())
		}
	}
	if not.Code != "" {
		s.NotOnIt = append(s.NotOnIt, not)
	}
}

// because is why a line isn't printed: it would say 0 of what is there, or the form refuses it.
func because(zero bool, err error) string {
	switch {
	case err != nil:
		return "ship.cannot"
	case zero:
		return "ship.small"
	}
	return ""
}
