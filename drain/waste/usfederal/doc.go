// Package usfederal has the United States' federal rules for who generates hazardous waste, as a
// [waste.RuleSet], and the lines of their form, the hazardous waste manifest. Package waste knows
// neither; a state's rules are derived from these, and a state may ask for more.
//
// # Lines of the manifest
//
// The uniform hazardous waste manifest, EPA Form 8700-22, wants whole units, the nearest, with a
// letter for the unit ([UnitCode]) and two for the container ([ContainerCode]). [NewManifestLine]
// makes such a line of a [waste.Batch]:
//
//   - A tie goes up: the instructions say "nearest" and no more.
//   - The size of a container is no estimate of what is in it, and is refused as one.
//   - G and L are for liquids, and M, T, N and Y for very large bulk.
//   - Nothing passes from mass to volume unasked: give what the unit needs.
//   - A line that rounds to 0 although it isn't zero is flagged. 0.20 kg is 0 in kilograms and in
//     pounds, and the form has nothing finer: combine it, or ask.
//
// A line never serves to add up: it keeps the estimate it was rounded from, and totals are taken over
// those.
//
// Hints of a hazard are questions. The exclusion for used oil filters in 40 CFR 261.4(b)(13) names oil
// filters; it is never applied to fuel filters here. Legal texts change: look at the sources before
// relying on a rule, and look up those of grade M in any case.
package usfederal
