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
// deviation, delivers what is nearest to wanted, of two equally near the lower, and the one is taken that
// stays nearest at the worst its deviation allows. Least and Most say how far the tool may be out; AboveLow
// and BelowHigh, the margins to wanted itself, aren't above zero. Nothing says whether that is near enough.
// A torque beyond either end of a scale is ErrOutOfScale. Where a tolerance is known, Choose is better.
func ChooseNearest(wrenches []Wrench, wanted units.Torque, a Adapter, job time.Time) (best int, choices []Choice) {
	return choose(wrenches, job, func(w Wrench) (Setting, *big.Rat, error) { return w.nearest(wanted, a) })
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
