// Package service puts a whole fuel-filter service together: a job file in, a plan and its steps
// out. Package sheet under it makes a work sheet of them.
//
// A [Job] holds what the shop knows before the work starts, each figure as its paper prints it.
// [ReadJob] reads it from JSON and refuses what can't be right, with all errors at once, each with
// its path. A range of the zero value is an unknown one, not an amount of nothing: what would need it is
// unknown too, and the plan says why. [NewPlan] works it out with the packages torque, turn and drain and compares the
// figures with each other: what must be known before a housing is opened comes out as a [Finding].
// [Plan.Steps] is the work in its order, as codes and values in no language. After the work [Plan.Review] judges what was written down, and [Review.Record]
// keeps it so that it can be judged again by the same rules: it holds what was agreed on, and the
// whole rule set of package waste that the month is counted by. A shop with rules of its own, such
// as a state's, gives them to [ReadJob] and [NewPlan].
//
// [Plan.Wants] lists what a review will want recorded, for a program that asks for it. A [Plan], [Rules], a
// [turn.Ring] and a [torque.Band] don't change once they are made, and may be shared by goroutines.
//
//	job, err := service.ReadJob(data)
//	plan, err := service.NewPlan(job, rules)
//	for _, phase := range plan.Steps() { ... }
//
// # Four ways to tighten
//
// A station states one of them, and its plan, its part of the sheet and its review follow from it:
// a torque band, which gives way to a stop only where the instruction reads "or until seated"; a turn
// from a datum, read off marks; a snug torque and then turns, counted from a line that is drawn there
// ([SequencePlan]); or a stop that is met, the gap closed all round ([SeatPlan]). Where the job states
// no tolerance of a snug torque or of the turns after it, none is made up: the plan says so, and a
// reading stays undecided.
//
// # Where to stop, and what is written down
//
// [NewPlan] takes the rules that [Plan.Review] judges by, so that a turn has an aim on the sheet: the
// middle of its window, from which a reading passes as far as the eye of the rules goes
// ([TurnPlan]). Where no reading can show that a turn was kept, a finding says so before the work.
// Contact and end are written down as they are seen ([MarkSeen]): at a mark, or between two neighbours,
// half way unless a share of their gap is given. A wrench that was set and clicked is written down as that
// ([TorqueReading]) and stands for all that it may deliver there; one figure off a jug ([VolumeTaken])
// for all that the jug's deviation makes of it, and where that isn't known it passes nothing. Leaks are yes
// or no by station and stage ([LeakCheck]). What else is wanted is for the rules to say ([Needs]). What reads short isn't turned on where contact is in
// doubt, something dragged, a leak was found or the engine has run.
//
// # Records and versions
//
// A record is kept for years and read by later releases. [ReadRecord] takes it in any layout, compares its hash and
// judges it again: it is verified, by another release with the verdicts that this one gives otherwise, or altered
// ([ErrAltered]). The hash shows accidents; a signature over the record's bytes shows forgery (see the example of
// [Review.Record]). Jobs, machine cards, readings, rules, sheets and records have a version each. A file of a newer
// version is refused (ErrNewerVersion); an unknown field is an error in what is read in, and passed over in a record
// or a sheet, where a newer release may have added it.
//
// # What is rounded, and where
//
// A plan keeps what the job states as it is stated, and what it computes to twelve places. What goes on
// a wrench or on the sheet is rounded once, from that: the limits of a band inward, so that what
// the sheet allows the job allows; estimates outward, so that the true value stays inside; all
// else to nearest even. What a number was rounded from is next to it. Nothing is judged by it.
//
// A job's [Preferences] say in which units the sheet prints, and whether with a decimal comma. The
// comma goes into numbers as they are filled in, never into what the job says in words; the values
// in the sheet's JSON and everything in a record keep the point.
//
// # What it doesn't know
//
// Pump flow, key-on time, cranking limits, what an element retains, how hot the fuel is: none of
// these has a default. The manufacturer's instructions, the site's rules and local law govern wherever a
// sheet differs from them, and the sheet says so. Whether waste is hazardous is its generator's
// determination.
//
// The packages it puts together: [units], [torque], [turn], [drain] and [waste].
package service
