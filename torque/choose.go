package torque

import (
	"math/big"
	"time"

	"example.com/snugturn/units"
)

// Choice is what became of one wrench of a list.
type Choice struct {
	Wrench  Wrench
	Setting Setting // where Err is nil
	Err     error   // why the wrench won't do
}

// Choose tries every wrench of a list for a band on the day of a job, and gives the position of the
// one whose setting has the largest smaller margin; of equally good ones the first, and -1 where
// none will do. Every wrench has its choice in the list's order: a setting, or the reason it was
// refused. A calibration counts through its last day, by the calendar of its own time zone and of
// the job's.
func Choose(wrenches []Wrench, b Band, a Adapter, job time.Time) (best int, choices []Choice) {
	return choose(wrenches, job, func(w Wrench) (Setting, *big.Rat, error) { return w.set(b, a) })
}

// ChooseNearest is [Choose] for a torque without a tolerance: each wrench is set where it, free of its
// deviation, delivers what is nearest to wanted, of two equally near the lower and never zero, and the one is taken that
// stays nearest at the worst its deviation allows. Least and Most say how far the tool may be out; AboveLow
// and BelowHigh, the margins to wanted itself, aren't above zero. Nothing says whether that is near enough.
// A torque beyond either end of a scale is ErrOutOfScale. Where a tolerance is known, Choose is better.
func ChooseNearest(wrenches []Wrench, wanted units.Torque, a Adapter, job time.Time) (best int, choices []Choice) {
	return choose(wrenches, job, func(w Wrench) (Setting, *big.Rat, error) { return w.nearest(wanted, a) })
}

// ChooseToStop is [Choose] for a part that is tightened until it meets its stop, within a band. Where that has no least
// torque the wrench is set for the upper fifth, or as near to that as a wrench can be, tenth by tenth: one that clicks halfway to the
// most would have parts taken off that were on their way to the stop, and one set to the very most leaves no room for
// the uncertainty of what it shows. Common practice, no source. AboveLow is then the margin above nothing.
func ChooseToStop(wrenches []Wrench, b Band, a Adapter, job time.Time) (best int, choices []Choice) {
	for tenths := int64(8); tenths > 0 && b.low.Sign() == 0; tenths-- {
		part := big.NewRat(tenths, 10)
		low, err := units.FromRat(part.Mul(part, b.high.RatIn(b.high.Unit())), b.high.Unit(), 12, units.ToNegativeInf)
		if err != nil {
			continue
		}
		upper, err := Between(low, b.high)
		if err != nil {
			continue
		}
		if best, choices = Choose(wrenches, upper, a, job); best >= 0 {
			choices[best].Setting.AboveLow = choices[best].Setting.Least
			return best, choices
		}
	}
	return Choose(wrenches, b, a, job)
}

// choose takes the wrench whose setting has the largest margin.
func choose(wrenches []Wrench, job time.Time, set func(Wrench) (Setting, *big.Rat, error)) (best int, choices []Choice) {
	best = -1
	var widest *big.Rat
	choices = make([]Choice, len(wrenches))
	for i, w := range wrenches {
		c := &choices[i]
		c.Wrench = w
		if w.CalibratedUntil.IsZero() || dayAfter(job, w.CalibratedUntil) {
			c.Err = w.outOfCalibration(job)
			continue
		}
		var margin *big.Rat
		if c.Setting, margin, c.Err = set(w); c.Err != nil {
			continue
		}
		if best < 0 || margin.Cmp(widest) > 0 {
			best, widest = i, margin
		}
	}
	return best, choices
}

func (w Wrench) outOfCalibration(job time.Time) error {
	problem := "no calibration date"
	if until := w.CalibratedUntil; !until.IsZero() {
		problem = "calibrated until " + until.Format(time.DateOnly) + ", the job is on " + job.Format(time.DateOnly)
	}
	return refuse("wrench", w.Name, problem, "a calibration that covers the job", ErrCalibration)
}

// dayAfter reports whether a's calendar day is later than b's.
func dayAfter(a, b time.Time) bool {
	day := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return day(a).After(day(b))
}
