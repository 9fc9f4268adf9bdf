// Package waste takes what a fuel-filter service leaves behind from the bench to the paper: what
// it weighs, how it goes on a form, and what a month of it makes of the shop.
//
// It weighs, adds and rounds; it never decides what is hazardous. That is the generator's
// determination, and the rules of the state, the country and the place may ask for more than those
// known here. Everything the package puts out says so ([Caveat]), and there is no word in it that
// calls a waste harmless.
//
// # Streams and what they weigh
//
// A service leaves several wastes, and they are kept apart as a [Stream] each, since the questions
// differ: drained fuel is judged by its flash point, an element, which is no liquid, is not.
//
// The best figure comes from a scale. Where there is none, a wet thing weighs what it weighs dry
// plus what it holds ([drain.WetMass]):
//
//	wet = dry + retained volume × density
//
// with the density at the temperature at which the volume was measured, which package drain gives.
// Each figure is a [drain.Estimate]: low, best, high, and whether it was weighed, measured, stated
// or assumed. How much fuel a drained element keeps isn't published anywhere we know of, so there
// is no default for it. When a weighing comes later it takes the estimate's place; where the two
// don't agree ([drain.Estimate.Agrees]), look for a slip first.
//
// A [Container] has a tare, and the tare is an estimate too: drums of one pattern differ by
// kilograms. [Container.Net] takes the heaviest tare from the lightest reading for its low end.
// Masses here are masses; a scale in air shows diesel fuel about 0.13 % lighter than it is
// ([drain.ScaleReading]).
//
// # Papers
//
// A [Batch] is one waste in its containers as it is to go on a paper; [Batch.Check] refuses what no
// paper takes, such as more than the containers hold, or their size as an estimate of what is in
// them. What a jurisdiction's form makes of a batch is in a package of its own, as its rules are:
// [example.com/snugturn/drain/waste/usfederal] and [example.com/snugturn/drain/waste/europe]. This one
// knows neither, and another one needs nothing of it but what it exports.
//
// # The ledger
//
// A [Ledger] is a set of postings: who put down what, when. A [Posting] is an [Entry] (a job sheet's number, its
// revision, a line, the day the waste arose), a [Withdrawal] of a job, or a [DrumEvent]. Postings are added and
// never changed; a correction is a posting of a higher revision, which takes the place of all that the lower ones
// said, also where it moves the job to another month. So it doesn't matter in which order postings arrive, whether
// two vans send theirs separately, whether something is sent again, or how often the program was started in
// between: the same postings are the same ledger, and the same bytes.
//
// The form that lasts is a file to which lines are appended, a posting each as its JSON: what [Ledger.Add] calls new
// is what to append. Files may be joined one after the other. Reading is strict, a later version is refused, and
// what couldn't be read back isn't written.
//
// What contradicts itself is kept all the same. Of two entries for one line that differ the higher mass counts.
// [Ledger.Changes] is what doesn't count and what took its place, [Ledger.ToDo] what has to be done, asked and
// looked into, by when: each a [Notice], a code with what it is about and no words.
//
// [Ledger.Statement] adds up what was generated in a period, by most rules a calendar month. Sums are exact: pounds
// and kilograms mix without rounding, and a category is found on the exact sum, not on a printed one.
// Only what the generator determined to be hazardous counts. What is undetermined may turn out
// either way, and so does the answer: a lowest and a highest category, and what to determine or to
// weigh to bring them together.
//
// # Drums
//
// A [Drum] is what the ledger knows of a container: what was put into it, by mass or by volume at a temperature, how
// much room is left, since when it has been there, when it was weighed, closed and shipped. What may be mixed isn't
// known here: where more than one stream went into a drum, a notice asks the site.
//
// # Rules
//
// A [RuleSet] is data: limits, days, questions, candidate codes, each with its [Source] and how well
// that source is known. The packages of the jurisdictions have one each. A statement names the
// set it was judged by, its date and its [RuleSet.Hash], so that it can be judged again. For a state,
// derive a set and change what differs:
//
//	state, err := usfederal.RuleSet().Derive("Some State", asOf)
//	state.Categories = ... // each with its Source
//	state.Period = waste.Period{Months: 3} // what it counts by, where that isn't a month
//	err = state.Check()
//
// or keep it as JSON and read it with [ParseRuleSet], which refuses what it doesn't know.
//
// Hints of a hazard are questions ([RuleSet.Ask]). A rule set is plain data that no method changes:
// goroutines may share one. A Ledger is for one at a time.
//
// # Clocks
//
// Waste may stay on site for so many days. [RuleSet.OffSiteBy], and with it [Ledger.ToDo],
// counts them on civil dates, the first day included, so that an error would be on the early side. The time at which
// something was put down decides nothing: clocks differ between shops.
// Today is an argument: nothing here looks at a clock. [DateIn] makes a date of an instant and the
// zone of the site, which can decide the month.
//
// # What it doesn't know
//
// Acute hazardous waste; transport (shipping names, labels, segregation); land disposal notices;
// whether fuel that was drained is waste at all. Legal texts change: look at the sources before
// relying on a rule, and look up those of M in any case.
//
// Quantities are those of package [units], ranges those of package [drain];
// [example.com/snugturn/service] computes what a job adds to the month.
package waste
