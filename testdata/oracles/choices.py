"""Answers what choices_test.go asks: of every mark of every wrench the best, or why a wrench has none."""
from datetime import date
from fractions import Fraction as F
from math import floor, lcm

from answer import answer
from core import levers, rounded, torque
from units import UNITS


class Wrench:
    """What it may deliver at a mark m: from a·m - b to c·m + b of its own unit, times its lever; all in newton metres."""

    def __init__(self, told):
        self.unit = UNITS["torque"][told["dialUnit"]]
        self.name = told["dialUnit"]
        lowest, highest, step, d = F(told["lowest"]), F(told["highest"]), F(told["step"]), F(told["deviation"]) / 100
        self.lowest, self.step = lowest, step
        self.marks = range(0 if lowest else 1, (highest - lowest) // step + 1)  # nothing clicks at nothing
        basis = told["basis"]
        self.less = self.more = F(0)
        if basis in ("of full scale", "absolute"):
            self.less = self.more = d * highest if basis == "of full scale" else torque(told["absolute"]) / self.unit
        self.low = 1 - d if basis.startswith("of dial") else 1 / (1 + d) if basis == "of reference" else F(1)
        self.high = 1 + d if basis == "of dial" else 1 / (1 - d) if basis.endswith("reference") else F(1)
        self.lever = None if F(told["length"]) == 0 and not self.straight(told) else levers(told)
        self.until = told["until"]
        if self.lever:
            # In whole parts of a newton metre: the first mark, and how much more with each.
            low, high = self.delivers(lowest)
            numbers = [low, high, self.low * step * self.unit * self.lever[0], self.high * step * self.unit * self.lever[2]]
            self.common = lcm(*(x.denominator for x in numbers))
            low, high, more, most = (x.numerator * (self.common // x.denominator) for x in numbers)
            self.delivered = [(n, low + n * more, high + n * most) for n in self.marks]

    @staticmethod
    def straight(told):
        return F(told["offset"]) == F(told["doubt"]) == 0 or F(told["angle"]) % 180 == 90

    def mark(self, n):
        return self.lowest + n * self.step

    def delivers(self, mark):
        return (self.low * mark - self.less) * self.unit * self.lever[0], (self.high * mark + self.more) * self.unit * self.lever[2]

    def reaching(self, limit):
        """The mark, if there were one, at which the least is at a limit."""
        return (limit / self.unit / self.lever[0] + self.less) / self.low

    def keeping(self, limit):
        """And at which the most is."""
        return (limit / self.unit / self.lever[2] - self.more) / self.high


def why_not(wrench, job):
    if wrench.until == "" or date.fromisoformat(job) > date.fromisoformat(wrench.until):
        return "calibration"
    return "range" if wrench.lever is None else ""


def in_band(wrench, low, high):
    """The best mark and its margin, or why there is none."""
    parts = lcm(wrench.common, low.denominator, high.denominator)
    bottom, top, times = int(low * parts), int(high * parts), parts // wrench.common
    margin, n = max((min(least * times - bottom, top - most * times), -n) for n, least, most in wrench.delivered)
    if margin >= 0:  # of equally good ones the lower
        return F(margin, parts), wrench.mark(-n)
    first, last = wrench.reaching(low), wrench.keeping(high)
    if first > last:  # where the least is enough the most is too much
        return "not accurate"
    return "out of scale" if last < wrench.lowest or first > wrench.mark(wrench.marks[-1]) else "too coarse"


def nearest(wrench, wanted):
    exact = wanted / wrench.unit / wrench.lever[1]
    if not wrench.lowest <= exact <= wrench.mark(wrench.marks[-1]):
        return "out of scale"
    parts = lcm(exact.denominator, wrench.lowest.denominator, wrench.step.denominator)
    off, step = int((wrench.lowest - exact) * parts), int(wrench.step * parts)
    mark = wrench.mark(min(wrench.marks, key=lambda n: abs(off + n * step)))  # the first of two
    least, most = wrench.delivers(mark)
    return min(least - wanted, wanted - most), mark


def choose(wrenches, job, of):
    """What becomes of each, and which is best."""
    all = [why_not(w, job) or of(w) for w in wrenches]
    good = [i for i, x in enumerate(all) if not isinstance(x, str)]
    return max(good, key=lambda i: all[i][0]) if good else -1, all


def to_stop(wrenches, job, low, high, unit):
    """Without a least torque the upper fifth, or wider by a tenth as long as no wrench will do."""
    for tenths in range(8, 0, -1) if low == 0 else []:
        upper = F(floor(high / unit * tenths / 10 * 10**12), 10**12) * unit
        best, all = choose(wrenches, job, lambda w: in_band(w, upper, high))
        if best >= 0:
            return best, all
    return choose(wrenches, job, lambda w: in_band(w, low, high))


def choices(q):
    wrenches = [Wrench(told) for told in q["wrenches"]]
    if q["asked"] == "nearest":
        wanted = torque(q["wanted"])
        best, all = choose(wrenches, q["job"], lambda w: nearest(w, wanted))
    else:
        low, high = torque(q["low"]), torque(q["high"])
        if q["asked"] == "to stop":
            best, all = to_stop(wrenches, q["job"], low, high, UNITS["torque"][q["high"].split(" ")[1]])
        else:
            best, all = choose(wrenches, q["job"], lambda w: in_band(w, low, high))
    if q["best"] != best:
        return f"the best: {best} of {all}"
    for i, (want, said) in enumerate(zip(all, q["choices"])):
        if said != (want if isinstance(want, str) else ""):
            return f"wrench {i}: {want}"
        number, _, unit = q["dials"][i].partition(" ")
        if isinstance(want, str):
            if number:
                return f"wrench {i} isn't set"
        elif (F(number), unit) != (want[1], wrenches[i].name):
            return f"wrench {i} set to {want[1]}"
    if best >= 0 and q["asked"] == "to stop":  # the margin above nothing is all that it delivers at least
        number, unit = q["aboveLow"].split(" ")
        places = len(number.partition(".")[2])
        want = rounded((wrenches[best].delivers(all[best][1])[0] - low) / UNITS["torque"][unit], places, 2)
        if F(number) != want:
            return f"above the low limit by {want}"
    return None


if __name__ == "__main__":
    answer({"TestChoices": choices})
