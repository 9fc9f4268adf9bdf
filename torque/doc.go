// Package torque goes from a printed torque limit to a dial setting that can be defended, and
// judges a reading, so that rounding never turns a fail into a pass.
//
// # The limit
//
// A sheet gives a [Band]: from a low limit to a high one, both of which pass. [ParseBand] reads
// it in the forms sheets use, and keeps number and unit as printed: "145 to 190 in-lb",
// "30 N·m ± 10 %", "30 +5/-0 N·m", "max 40 N·m". A nominal value alone is no limit, and is
// refused; whoever knows the tolerance gives it to [PlusMinusPercent].
//
// [Band.Contains] compares a reading with the limits exactly, in whatever unit it was taken: no
// number is rounded on the way. Where a band has to be written in another unit, [Band.Inward]
// rounds the low limit up and the high limit down. 145 to 190 in-lb becomes 16.39 to 21.46 N·m,
// or 13 to 15 ft-lb, and every value of the new band passes the old one. Nearest rounding would
// widen some bands, and two sheets would then disagree about one reading.
//
// # Two units on one sheet
//
// "145-190 in-lb (16-21 N·m)" states one limit twice, "190 in-lb (21 N·m, 16 ft-lb)" three times.
// [ParsePrintedLimit] reads them all and [PrintedLimit.Compare] compares each with each: a printed number
// stands for everything within half of its last place, and two have to overlap. That finds the slip
// of a row, and lets pass what was only rounded. The first stated governs (by analogy with 16 CFR
// 1211.3), so [PrintedLimit.Band] gives that one, and gives none where any two disagree.
//
// "25 N·m (±3)" isn't printed in two units: the sign says that 3 is the tolerance. "25 N·m (3)" could be
// either, and is refused.
//
// # The dial
//
// A [Wrench] has a scale with a lowest and a highest value and a step, and a deviation that its
// calibration permits. [Wrench.Set] takes the dial value at which everything the tool may
// deliver stays inside the band, with as much room as there is on the narrower side. If there
// is none it says which dial values would do, and never takes the end of the scale for them.
//
// What the percentage on a certificate is a part of changes the answer: of the dial, of the torque
// delivered, or of full scale. [DeviationBasis] names it; left at zero, the wrench has to be good by
// either of the first two.
//
// An [Adapter] makes the lever longer, shorter or neither, by its length and the cosine of its
// angle: S = T·L/(L + E·cos θ), where L reaches from the middle of the grip to the drive and E from
// there to the fastener. The hand has to pull where L was measured to; LengthTolerance says
// how well it does. A strap or chain wrench has no lever that holds still, and no setting.
//
// [Choose] asks every wrench of a shop's list, leaves out those whose calibration doesn't cover the
// day of the job, and gives the reason for each that was left out.
//
// A snug torque before an angle is often stated without a tolerance. There is nothing to stay inside
// then: [ChooseNearest] takes what is nearest, and says how far the tool may be
// out.
//
// # The reading
//
// A measured torque has an uncertainty, and [Band.Decide] judges it by a named [Rule]. Which rule
// holds is to be agreed on before anything is measured, so there is no default. With each, the
// limit of acceptance itself passes.
//
//	rule              passes                                source
//	SimpleAcceptance  a value in the band                   ILAC-G8:09/2019, 4.2.1
//	Guarded95         the torque is in the band with 95 %   JCGM 106:2012, 7, from memory
//	GuardedByU        a value in the band by U or more      ILAC-G8:09/2019, 4.2.2
//	NonBinary         as GuardedByU, and tells apart what   ILAC-G8:09/2019, 4.2.3
//	                  is near a limit on either side
//
// An unknown uncertainty is not zero: all but the first refuse it. Where the uncertainty is too
// large for the band no value could pass, and a value inside is Inconclusive, not Rejected.
// [Band.AcceptanceZone] gives the values that pass.
//
// [Band.UnitSlips] names the units in which a reading outside the band would fit. It is a
// suspicion to ask about, never a correction.
//
// # Exactness
//
// Every verdict is taken on exact fractions. At whole multiples of 60° and 90° a cosine is rational;
// elsewhere it is irrational, and an interval proven to hold it, narrower than 1e-55, stands in, of
// which the worse end counts. Conformance probabilities are worked out as floats with a known
// bound; within 1e-7 of 95 % or of a printed digit they are worked out again as proven
// intervals. What is printed is rounded once, to the safe side: the least a tool may deliver
// down, the most up, a margin and a probability down.
//
// # Sharing
//
// No method changes a band, a wrench, a setting or a printed limit: goroutines may share them.
//
// # Errors
//
// Errors are *units.ParseError, which says what, where, why and what would do; that a wrench has no
// setting is a [SettingError], which holds one and the dial values that would do. errors.Is finds the
// sentinels of this package and of package units in them.
//
// Nothing here replaces the instructions of the manufacturer of a machine or a tool, which govern.
//
// Quantities are those of package [units]. A turn from gasket contact or after a snug torque is for
// package [example.com/snugturn/turn]; [example.com/snugturn/service] puts a whole job together.
package torque
