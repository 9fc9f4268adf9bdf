package sheet

import (
	"example.com/snugturn/internal/wrap"
	"example.com/snugturn/service"
)

// Record puts a record into words, for a terminal: first whether it is verified, and where another release wrote it
// which verdicts this one gives otherwise; then every line, total and rule of it as this release judges it again.
//
// Errors: as [service.Record.Review].
func (w *Words) Record(r service.Record) (string, error) {
	review, err := r.Review()
	if err != nil {
		return "", err
	}
	var t wrap.Text
	p := w.printer(r.Job.Preferences)
	outcome := map[bool]string{true: "kept/verified", false: "kept/other-release"}[r.Verified]
	t.Line("", p.code(outcome, "release", r.Release, "this", service.Release))
	for _, d := range r.Differences {
		t.Line("   -   ", p.differing(d))
	}
	p.state(&t, review)
	p.lines(&t, "kept/lines", review.Lines)
	if len(review.Totals) > 0 {
		t.Line("", p.code("kept/totals"))
	}
	for _, total := range review.Totals {
		t.Line("   -   ", p.total(total))
	}
	t.Line("", p.code("kept/rules", "rules", r.Rules.Name))
	for _, c := range review.Clauses {
		rule := c.Message
		rule.Code = "rule/" + rule.Code
		t.Line("   -   ", withSource(Item{Words: p.say(rule), Source: p.sources(c.Sources)}))
	}
	return t.String(), nil
}

// total is what one stream of waste came to, and on what that rests.
func (p printer) total(total service.WasteTotal) string {
	code, name := "kept/total", any(total.Stream)
	if total.What != "" {
		name = total.What
	} else if total.Station != "" {
		code = "kept/total/station"
	}
	mass := printed(p.word(service.NotStated.String()))
	if total.Basis != service.NotStated {
		mass = printed(p.print(service.Value{Value: total.Mass}, ""))
	}
	said := p.code(code, "waste", name, "station", total.Station, "mass", mass, "basis", total.Basis)
	for _, note := range total.Notes {
		said += " " + p.say(note)
	}
	return said
}

// difference is a verdict that came out otherwise.
func (p printer) differing(d service.Difference) string {
	verdict := func(v service.Verdict) any {
		if v == 0 {
			return printed(p.code("kept/no-line"))
		}
		return v
	}
	return p.code("kept/difference", "where", d.Where, "code", d.Code, "old", verdict(d.Old), "new", verdict(d.New))
}
