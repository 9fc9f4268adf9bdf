"""Answers what printed_test.go asks: whether limits printed in several units can be the same torque. Every number is turned into
all the torques that would be printed as it, in newton metres, and looked for in the others."""
import re
from fractions import Fraction as F
from itertools import combinations
from math import ceil, floor

import read
from answer import answer
from units import UNITS

NM = UNITS["torque"]
# Common practice, no source: 1.356 N·m to a foot-pound and 0.113 N·m to an inch-pound.
SHOP = {"ft-lb": F("1.356"), "in-lb": F("0.113")}
CLOSERS = {"(": ")", "[": "]", "{": "}"}


class Number:
    """What is printed, and between which torques of its unit it stands for."""

    def __init__(self, value, unit, places, doubt):
        self.value, self.unit, self.places = value, unit, places
        self.low, self.high = (value - doubt) * NM[unit], (value + doubt) * NM[unit]

    def __str__(self):
        return f"{read.written(self.value, self.places)} {self.unit}"


class Side:
    def __init__(self, text):
        self.numbers, self.worked_out, self.low, self.high = [], False, None, None
        text = text.strip()
        alone = re.fullmatch(read.limit(0), text)
        if alone:
            if not alone["u0"]:
                raise read.Refused("no unit")
            value, unit, places = F(alone["n0"]), read.SPELLINGS["torque"][alone["u0"]], len(alone["n0"].partition(".")[2])
            self.numbers = [Number(value, unit, places, F(1, 2) / 10**places)]
            self.maximum = False
            return
        band = read.limits(text)
        name, part = next((name, m.groupdict()) for name, pattern in read.BANDS if (m := pattern.fullmatch(text)))
        self.maximum = name == "maximum"
        half = [F(1, 2) / 10**len(part[f"n{i}"].partition(".")[2]) for i in range(3) if part.get(f"n{i}")]
        (low, unit, places), (high, other, last) = band
        if name in ("range", "maximum"):
            doubts = [half[0], half[-1]]
        else:
            self.worked_out = True
            above, below = (1, 2) if part.get("s1", "+") == "+" or part.get("s2") == "-" else (2, 1)
            if name == "tolerance":
                above, below = 1, 1
            figures = [part[f"n{i}"] for i in range(len(half))]
            printed = [len(f.partition(".")[2]) for f in figures]
            if part[f"p{len(half) - 1}"]:  # a percentage is exact, and what it is a part of isn't
                doubts = [half[0] * (1 - F(figures[below]) / 100), half[0] * (1 + F(figures[above]) / 100)]
                printed[1:] = [read.places_of(F(figures[0]) * F(f) / 100) for f in figures[1:]]
            else:
                units = [part.get(f"u{i}") and read.SPELLINGS["torque"][part[f"u{i}"]] for i in range(3)]
                size = lambda i: NM[units[i] or (units[2] if i == 1 else units[1]) or units[0]] / F(NM[unit])
                doubts = [half[0] + half[i] * size(i) for i in (below, above)]
                printed[1:] = [printed[i] if size(i) == 1 else read.places_of(F(figures[i]) * size(i)) for i in range(1, len(half))]
            places, last = max(printed[0], printed[below]), max(printed[0], printed[above])
        self.low, self.high = Number(low, unit, places, doubts[0]), Number(high, other, last, doubts[1])
        self.numbers = ([self.low] if low else []) + [self.high]

    def as_maximum(self):
        if self.high is None and self.numbers[0].value > 0:
            n = self.numbers[0]
            self.low, self.high = Number(F(0), n.unit, 0, F(0)), n

    def text(self):
        if self.high is None:
            return str(self.numbers[0])
        if self.low.unit == self.high.unit:
            return f"{read.written(self.low.value, self.low.places)} to {self.high}"
        return f"{self.low} to {self.high}"


def split(text):
    """The sides, and what is behind the last."""
    text = re.sub(r"\((±[^()]*|\+[^()]*-[^()]*|-[^()]*\+[^()]*)\)", r" \1 ", text)
    opens = re.search(r"[([{]", text)
    if not opens:
        return re.split(r" / (?![+±-])", text), ""
    sides, rest = [text[:opens.start()]], text[opens.start():]
    sides = re.split(r" / (?![+±-])", sides[0])
    while rest and rest[0] in CLOSERS:
        inside, closed, behind = rest[1:].partition(CLOSERS[rest[0]])
        if not closed:
            raise read.Refused("syntax")
        sides += re.split(r"[,;](?! *[+±-])| / (?![+±-])", inside)
        rest = behind.strip()
    return sides, rest


def parse(text):
    sides, rest = split(text)
    if len(sides) < 2:
        raise read.Refused("syntax")
    maximum = rest.lower() in ("max", "max.", "maximum")
    if rest and not maximum:
        raise read.Refused("syntax")
    sides = [Side(s) for s in sides]
    if maximum or sides[0].maximum:
        for s in sides:
            s.as_maximum()
    if sides[0].numbers[-1].value == 0:
        raise read.Refused("syntax")
    for a, b in combinations(sides, 2):
        if (a.high is None, len(a.numbers)) != (b.high is None, len(b.numbers)) or a.numbers[0].unit == b.numbers[0].unit:
            raise read.Refused("syntax")
    return sides


def apart(a, b):
    """Newton metres between the torques of two numbers; nothing where some are of both."""
    return max(a.low - b.high, b.low - a.high, F(0))


def by_the_shop(a, b):
    """Whether the one may have been made from the other with the shop's factor."""
    pounds = [x for x in (a, b) if x.unit in SHOP]
    others = [x for x in (a, b) if x.unit not in SHOP]
    if len(pounds) != 1:
        return False
    return pounds[0].low <= others[0].high and others[0].low <= pounds[0].high / NM[pounds[0].unit] * SHOP[pounds[0].unit]


def nearest(x, places):
    return F(round(x * F(10)**places)) / F(10)**places


def is_rounded(a, b):
    """Whether b is what a comes to, rounded to b's places."""
    return nearest(a.value * NM[a.unit] / NM[b.unit], b.places) == b.value


def is_inward(side, first):
    """Whether a band is the first one rounded inward; zeros at its end may be the rounding's."""
    if side.high is None or first.high is None:
        return False
    low = first.low.value * NM[first.low.unit] / NM[side.low.unit]
    high = first.high.value * NM[first.high.unit] / NM[side.high.unit]
    places = max(side.low.places, side.high.places)
    for p in [places] if places else range(0, -30, -1):
        ten = F(10)**p
        if ceil(low * ten) / ten == side.low.value and floor(high * ten) / ten == side.high.value:
            return True
    return False


def of_two_digits(low, high, unit):
    """A value of at most two digits in a unit, between two torques, where such values are rarer than these are apart."""
    low, high = low / NM[unit], high / NM[unit]
    if low <= 0 or low > high:
        return None
    for e in range(-12, 13):
        step = F(10)**e
        digits = ceil(low / step)
        if 1 <= digits <= 99 and digits * step <= high and step > high - low:
            return digits * step
    return None


def third_unit(a, b):
    here = {a[0].unit, b[0].unit}
    for unit in ("kgf·m", "kgf·cm", "N·m", "ft-lb", "in-lb"):
        if unit in here or unit in SHOP and here & set(SHOP):
            continue
        values = [of_two_digits(max(x.low, y.low), min(x.high, y.high), unit) for x, y in zip(a, b)]
        if None not in values:
            return unit, [f"{read.written(v, read.places_of(v))} {unit}" for v in values]
    return None


def compare(first, second):
    """The verdict's rank, how far apart, the two numbers, and the values of a third unit."""
    a, b = first.numbers, second.numbers
    if is_inward(second, first):
        return 1, False, F(0), a[0], b[0], None
    gaps = [F(0) if by_the_shop(x, y) else apart(x, y) for x, y in zip(a, b)]
    shop = any(apart(x, y) for x, y in zip(a, b)) and not any(gaps)
    if any(gaps):
        # Of a low and a high pair that are apart, the one that is farther in the second one's unit.
        widest = max(range(len(gaps)), key=lambda i: gaps[i] / NM[b[i].unit])
        return 3, False, gaps[widest], a[widest], b[widest], None
    conversions = all(is_rounded(x, y) or is_rounded(y, x) for x, y in zip(a, b))
    third = None if conversions or first.worked_out or second.worked_out or shop else third_unit(a, b)
    return (2 if third else 1), shop, F(0), a[0], b[0], third


def prints(q):
    try:
        sides = parse(q["text"])
    except read.Refused as why:
        return None if q["refused"] == str(why) else f"refused: {why}"
    if q["refused"]:
        return "it is a print"
    want = f"{sides[0].text()} ({', '.join(s.text() for s in sides[1:])})"
    if q["printed"] != want:
        return f"printed {want}"
    found = [compare(sides[0], s) for s in sides[1:]]
    worst = max(found, key=lambda f: f[:3])  # the first of several
    if worst[0] != 3:
        more = [compare(a, b) for b, a in ((b, a) for i, b in enumerate(sides[1:]) for a in sides[1:i + 1])
                if not is_inward(a, sides[0]) and not is_inward(b, sides[0])]
        worst = max([worst] + [f for f in more if f[0] == 3], key=lambda f: f[:3])
    rank, shop, gap, a, b, third = worst
    if q["agreement"] != rank or q["shop"] != shop:
        return f"agreement {rank}, by the shop's factor: {shop}"
    if (q["first"], q["second"]) != (str(a), str(b)):
        return f"it rests on {a} and {b}"
    want = f"{read.written(nearest(a.value * NM[a.unit] / NM[b.unit], b.places + 1), b.places + 1)} {b.unit}"
    if q["converted"] != want:
        return f"converted {want}"
    if rank == 3:
        ten = 10**(b.places + 2)
        want = f"{read.written(F(ceil(gap / NM[b.unit] * ten), ten), b.places + 2)} {b.unit}"
        if q["gap"] != want:
            return f"apart by {want}"
    elif F(q["gap"].split(" ")[0]):
        return "not apart"
    if q["thirds"] != (third[1] if third else []):
        return f"a third unit: {third}"
    why = "disagree" if rank == 3 else "no tolerance" if sides[0].high is None else ""
    if q["noBand"] != why:
        return f"no band: {why}"
    want = "invalid band" if why else sides[0].text()
    return None if q["band"] == want else f"band {want}"


if __name__ == "__main__":
    answer({"TestPrints": prints})
