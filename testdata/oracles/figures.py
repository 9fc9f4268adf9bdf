"""Answers what figures_test.go asks: dates by Python's calendar, sums and orders by fractions, levers, units that were mistaken for
others, and arcs."""
import calendar
from datetime import date, timedelta
from fractions import Fraction as F

import read
from answer import answer
from core import cosine, few, rounded, text, torque
from units import UNITS

def days(q):
    d = date.fromisoformat(q["date"])
    try:
        want = str(d + timedelta(days=q["days"]))
    except OverflowError:
        want = ""
    if q["after"] != want:
        return f"after the days {want!r}"
    month = d.year * 12 + d.month - 1 + q["months"]
    year, month = month // 12, month % 12 + 1
    want = str(date(year, month, min(d.day, calendar.monthrange(year, month)[1]))) if 1 <= year <= 9999 else ""
    if q["later"] != want:
        return f"after the months {want!r}"
    want = (date.fromisoformat(q["other"]) - d).days
    return None if q["between"] == want else f"{want} days"


def size(written, kind):
    value, _, unit = written.partition(" ")
    return F(value) * UNITS[kind][unit]


def sums(q):
    """And of the keys that sort quantities, the order."""
    all = [size(x, "torque") for x in q["quantities"]]
    want = sum(all) / UNITS["torque"][q["unit"]]
    value, places = few(want)
    exact = value == want
    if q["exact"] != exact or q["sum"] != text(value, places, q["unit"]) and (exact is False or size(q["sum"], "torque") != sum(all)):
        return f"{text(value, places, q['unit'])}, exact: {exact}"
    keys = q["keys"]
    for (a, x), (b, y) in zip(zip(all, keys), list(zip(all, keys))[1:]):
        if (a > b) - (a < b) != (x > y) - (x < y):
            return "keys in another order"
    return None


def indicated(q):
    length, offset = F(q["length"]), F(q["offset"])
    lever = 1 + offset * cosine(F(q["angle"])) / length
    wanted, unit = F(q["wanted"].split(" ")[0]), q["wanted"].split(" ")[1]
    for name, want in (("indicated", wanted / lever), ("delivered", wanted * lever)):
        number, of = q[name].split(" ")
        # As many digits as both know: the last of 34 hangs on the cosine.
        if of != unit or abs(F(number) - want) > abs(want) * F(1, 10**32):
            return f"{name} {float(want)!r}"
    return None


def slips(q):
    low, high, reading = torque(q["low"]), torque(q["high"]), torque(q["reading"])
    number = F(q["reading"].split(" ")[0])
    near = F(9, 10) * low <= reading <= F(11, 10) * high
    want = [] if near else [u for u in ("N·m", "in-lb", "ft-lb", "kgf·m") if low <= number * UNITS["torque"][u] <= high]
    return None if q["slips"] == want else want


def arcs(q):
    from mpmath import mp
    mp.dps = 60
    value, unit = q["diameter"].split(" ")
    pi = F(int(mp.floor(mp.pi * mp.mpf(10)**49)), 10**49)
    want = text(rounded(F(value) * F(q["turn"]) * pi, 9, 0), 9, unit)
    return None if q["arc"] == want else want


KINDS = {f.__name__: f for f in (days, sums, indicated, slips, arcs)}


if __name__ == "__main__":
    answer({"TestFigures": lambda q: KINDS[q["asked"]](q)})
