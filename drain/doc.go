// Package drain computes what comes out of a fuel filter, what it weighs, where it may go, and what
// goes back in. It is about the fuel; what leaves the shop on paper is package drain/waste.
//
// # Estimates
//
// Hardly anything at a drain is known exactly. An [Estimate] is three quantities, low, best and
// high, and where they come from: [Weighed], [Measured], [Stated] or [Assumed]. Sums and products of
// estimates keep their order and take the weaker provenance; what has to be rounded is rounded
// outward, low down and high up. The zero Estimate is invalid: a figure that nobody gave stays
// missing, and says so as an [*InputError], rather than count as zero.
//
// A question asked of an estimate has three answers: [Yes], [No] and [Undecided], where low and high
// fall on different sides of the limit.
//
// # Litres, degrees and kilograms
//
// Fuel is sold at 15 °C or 60 °F, drained at 50 °C and weighed in air. [FuelAt] takes its density
// where it is known, from a label or a hydrometer; [Fuel.DensityAt] has it anywhere between -50 and
// 150 °C, [Fuel.VolumeFactor] brings a volume from one temperature to another, and [Fuel.Mass] makes
// kilograms of litres. The temperature is always the one at which the volume was read. 1.5 L read at
// 60 °C, of a fuel of 840 kg/m³ at 15 °C, are 1.2116 kg and not the 1.26 kg that 840 would make.
//
// The equations are those of API MPMS Chapter 11.1-2004 (ASTM D1250-04, IP 200/04) for refined
// products. What they ask for, and what is done where they leave something open:
//
//   - The density at 60 °F decides the group of products, and so the constants. 60 °F are not 15 °C,
//     and EN 590's 820 to 845 kg/m³ lie on both sides of an edge. Where two groups answer, or none
//     does, the heavier is taken.
//   - The standard stops its search for the density at 60 °F at steps of 1e-6 kg/m³; here they go on
//     until twelve places stand. One printed example, 7.1-5, therefore differs in the eleventh place.
//   - Inputs aren't rounded, as in the standard's computational method; [Fuel.VolumeFactor]
//     has eighteen places.
//   - Pressure isn't an input. A drain is at atmospheric pressure.
//   - A hydrometer's glass isn't corrected for: do that before (ASTM D1298).
//   - Biodiesel isn't what the tables were made from: blends were found up to 0.43 % off between 0 and 80 °C
//     (Tat and Van Gerpen, abstract).
//
// All is computed in whole numbers of 2^-160, with no floating point, so that every machine prints
// the same digits; what is computed is off by less than 1e-24, far below the twelve or eighteen places
// that are given. Results are rounded once, half-even.
//
// A mass is not what a scale shows. Air carries 1.2 kg of every cubic metre: [ScaleReading] and
// [MassFromScale] go one way and the other, for the conventional air and weights. For fuel the
// difference is 0.13 %, which is also what makes handbooks' pounds per gallon disagree.
//
// # The filter
//
// A [Cylinder], a [ConeFrustum], a [StatedCapacity] or a [Stack] of them is a [Vessel], with the
// volume below any level. An element and its hardware stand in it ([Displacement]), and some of the
// fuel stays on walls and in the pleats ([RetainedByWeighing]); [Draining] takes both off and refuses
// to come to less than nothing. No figure for retained fuel is built in, since none that was measured
// is published. π is taken at fifty places, cut down for low and up for high.
//
// A separator drains water first. It has equations of its own ([WaterDensityAt]); [Layers] splits a
// bowl at the interface, and [NewWaterTrend] sees a tank going bad from service to service.
//
// # Catching it
//
// [FlashGuard] holds the temperature of the catch against the least flash point of the grade, with a
// margin that the caller chooses. Clear isn't safe: vapour, sparks and hot surfaces are not in it.
//
// [Filling] knows the room left and the services until full. A drum filled cold is fuller when it
// is hot: [FillLimit] is ADR 4.1.1.4 (b), [FullAt55] is where it
// would be full at 55 °C. Limits round inward: down.
//
// # Filling it again
//
// [PrefillPlan] pours a share of what the filter surely holds and leaves the rest as a void.
// [KeyCycles] counts how often the key is turned on, always rounded up; [VoidLeft] is what each
// cycle leaves; [HandStrokes] does it by hand. [Cranking] lays out attempts and rests, and [PrimingChecklist]
// is for when they didn't help. Pump flow, on-time, efficiency, limits and rests are inputs without
// defaults: they differ from engine to engine, and the manufacturer's instructions have them.
//
// # Cautions
//
// Hot fuel burns and scalds, and fuel under pressure goes through gloves and skin. Let it cool, take
// the pressure off, isolate the battery first. Nothing here replaces the manufacturer's instructions, the
// safety data sheet or local codes; where they differ from this package, they govern.
//
// An [Estimate], a [Fuel], a [Vessel] of this package and all else here are values that nothing changes:
// goroutines may share them.
//
// Quantities are those of package [units]. [example.com/snugturn/drain/waste] has the paper, and
// [example.com/snugturn/service] puts a whole job together.
package drain
