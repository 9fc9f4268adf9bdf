// Package europe has a [waste.RuleSet] for countries that class waste by the European List of Waste, and
// the line of a consignment note. The list has codes to choose from and no generator categories: those,
// and the terms of storage, are each country's own. Package waste knows neither.
//
// Legal texts change: look at the sources before relying on a rule, and look up those of grade M in
// any case.
package europe
