// Package units holds quantities as somebody wrote them: an exact number with a unit. 145 in-lb
// stays 145 and in-lb, 12.50 N·m keeps its two places. They are compared exactly whatever their
// units, converted exactly where the result is a decimal, and rounded once, in a stated direction.
//
// # Reading and making
//
// Each kind has a parser, [ParseTorque] and the like; [Parse] is the generic one. A text is a
// number with a point, or a fraction that ends as a decimal, and a unit by any spelling shops and
// manuals use:
//
//	145 in-lb    145 lbf·in    30 Nm    30 newton metres    1½ in    3/4"    1.5 L
//
// What has two readings is refused with both named, not guessed: gal, oz, ton, nm, 1,5. A number
// without a unit is refused. The kind that asks decides: ft·lb is a torque to a torque parser, and
// joules are none to it. Letter case is ignored where it changes nothing: IN-LB is in-lb, but
// mN·m isn't MN·m. In a program, units.InchPound.Of(145) needs no parser, and [New] takes a
// decimal.
//
// # Units
//
// Every factor is a quotient of whole numbers made from four definitions: the inch is 25.4 mm and
// the pound 0.453 592 37 kg (24 FR 5348, 1959), standard gravity is 9.806 65 m/s² and the imperial
// gallon 4.546 09 L (NIST SP 811, App. B); the US gallon is 231 in³ (NIST Handbook 44, App. C).
// So 1 in-lb is 0.1129848290276167 N·m, exactly. [Factor] gives any of them as a fraction, and
// [All] ranges over the units of a kind.
//
// A torque is no energy, a mass is not what a scale shows, and a [Temperature] on a scale is not a
// [TemperatureDifference]: mixing them does not compile. Radians are no unit here, since no
// decimal number of degrees is one of radians. Relative density and API gravity are scales of density:
// [example.com/snugturn/drain] reads them. A percentage is a [Share], never a bare
// number.
//
// # Converting and rounding
//
// [Quantity.In] converts to 34 significant digits, [Quantity.Exact] says whether that lost
// anything, [Quantity.RoundIn] converts and rounds in one step. A limit that must not be passed is
// rounded inward: a low one [ToPositiveInf], a high one [ToNegativeInf]. 190 in-lb is
// 21.467117515247173 N·m; rounded to nearest it becomes 21.47, which is more than 190 in-lb.
// Never round twice: take [Quantity.RatIn] through a calculation and [FromRat] at its end.
//
// # Bounds
//
// A magnitude has at most 34 significant digits and 60 places and is below 10^24 of its kind's
// first unit; a text has at most 128 bytes. Nothing that was let in grows beyond that: a sum too
// large becomes the largest quantity and says that it isn't exact, and a rounding that would lead
// past the bound keeps more places than asked. No input is costly to refuse.
//
// # What other packages do with a quantity
//
//   - == and map keys: don't compile, since 1 ft-lb and 12 in-lb are equal and their fields are
//     not. Two quantities in variables of type any panic under ==, as functions do. Use
//     [Quantity.Equal]; for a key, [Quantity.String] of one agreed unit.
//   - reflect.DeepEqual compares what is written: 12.5 N·m and 12.50 N·m differ.
//   - encoding/json writes {"value":"145","unit":"in-lb"} and also reads "145 in-lb". A bare number
//     is refused. There is no IsZero, so omitzero keeps "0 in-lb" unless it is in N·m: it drops the
//     zero value.
//   - encoding/gob, database/sql, flag.TextVar and log/slog keep the text, 145 in-lb. NULL is
//     refused; sql.Null serves. Gob leaves out a field of the zero value, as it does with any
//     zero: decode into a fresh variable.
//   - fmt prints the text under %v, %s and %q, with width, sign and precision; see
//     [Quantity.Format].
//   - text/template and html/template print the text; their eq refuses quantities, so call
//     .Equal or .Compare.
//   - A failed decoding leaves the variable as it was.
//
// A value of a unit type that is not one of the kind's, such as TorqueUnit(99), prints as that,
// refuses to be encoded, and compares above everything valid; see [Quantity.Valid].
//
// # Codes
//
// Units write and read UCUM and UN/CEFACT Recommendation 20 codes ([FromUCUM], [FromRec20]); they
// are looked up in the units' table, never derived from a spelling. Where a code is deprecated,
// missing, or stands for something else, the error says which.
//
// # Errors
//
// Errors are pointers to [ParseError], and match
// [ErrSyntax], [ErrRange], [ErrAmbiguous] and the others under errors.Is.
//
// Packages [example.com/snugturn/torque], [example.com/snugturn/turn] and [example.com/snugturn/drain] build on it;
// [example.com/snugturn/service] puts a whole job together.
package units
