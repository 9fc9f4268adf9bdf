package service

import (
	"slices"
	"strings"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// shipped are the rule sets that come with the library, the only place here where jurisdictions are
// named. A job finds any other by its name among those that the caller gives.
func shipped() []waste.RuleSet { return []waste.RuleSet{usfederal.RuleSet(), europe.RuleSet()} }

// fillByDefault is how far a drum may be filled where no rules are named: the closer of those known.
func fillByDefault() waste.FillRule { return europe.RuleSet().Fill }

// ruleSet finds a rule set by its name, among those given and then among those shipped.
func ruleSet(name string, given []waste.RuleSet) (waste.RuleSet, error) {
	var names []string
	for _, r := range append(slices.Clip(given), shipped()...) {
		if r.Name == name {
			return r, r.Check()
		}
		names = append(names, r.Name)
	}
	return waste.RuleSet{}, misread.Error("rule set", name, 0, "not known here", strings.Join(names, " or "), units.ErrSyntax)
}
