"""Answers what core_test.go asks, from published definitions alone, with fractions and, for cosines and the normal distribution,
mpmath to fifty digits and more. It reads a question a line, with the library's answer, and says how many agree."""
import re
from fractions import Fraction as F
from math import ceil, floor, lcm

import read
from answer import answer
from units import UNITS


def rounded(x, places, mode):
    y = x * F(10)**places
    n = {0: round, 1: ceil, 2: floor}[mode](y)  # Python rounds a Fraction to nearest, ties to even
    return n / F(10)**places


def text(x, places, unit):
    return read.written(x, max(places, 0)) + ("" if unit == "°" else " ") + unit


def few(x):
    """A number to 34 digits and 60 places, with no zeros behind what counts."""
    places = 60
    while abs(rounded(x, places, 0)) * F(10)**places >= 10**34:
        places -= 1
    x = rounded(x, places, 0)
    return x, read.places_of(x)


def formatted(form, x, unit):
    """What C's printf writes of a number with a unit behind it."""
    flags, width, places = re.fullmatch(r"%([-+ 0]*)([0-9]*)\.([0-9]+)f", form).groups()
    x = rounded(x, int(places), 0)
    out = text(x, int(places), unit)
    if x >= 0:
        out = ("+" if "+" in flags else " " if " " in flags else "") + out
    width = int(width or 0)
    if "-" in flags:
        return out.ljust(width)
    if "0" in flags:
        sign = out[:1] if out[:1] in "+- " else ""
        return sign + out[len(sign):].rjust(width - len(sign), "0")
    return out.rjust(width)


# Source: nist-sp811-b8. t/°C = (t/°F - 32)/1.8, and 0 °C is 273.15 K.
ABSOLUTE = {"°C": (F("273.15"), F(1)), "°F": (F("459.67"), F(5, 9)), "K": (F(0), F(1))}


def temperatures(q):
    zero, size = ABSOLUTE[q["from"]]
    kelvins = (F(q["value"]) + zero) * size
    if kelvins < 0 or q["refused"]:
        return None if (kelvins < 0) == q["refused"] else "it is" if kelvins < 0 else "it isn't below absolute zero"
    zero, size = ABSOLUTE[q["to"]]
    v = kelvins / size - zero
    if F(q["exact"]) != v:
        return f"exact {v}"
    want = rounded(v, q["places"], q["mode"])
    if want < -zero:
        want = rounded(v, q["places"], 1)
    if q["rounded"] != text(want, q["places"], q["to"]):
        return f"rounded {want}"
    zero, size = ABSOLUTE[q["otherScale"]]
    other = (F(q["other"]) + zero) * size
    order = (kelvins > other) - (kelvins < other)
    if q["order"] != order:
        return f"order {order}"
    warmer, places = few((kelvins - other) / ABSOLUTE[q["from"]][1])
    value, unit = q["warmer"].split(" ")
    return None if (F(value), unit) == (warmer, q["from"]) else f"warmer by {warmer}"


def readings(q):
    want = read.quantity(q["text"], q["kind"])
    if want is None or q["refused"]:
        return None if q["refused"] == (want is None) else f"read as {want}"
    return None if q["written"] == text(*want) else f"written {text(*want)}"


def conversions(q):
    if "text" in q:
        return readings(q)
    if q["kind"] == "temperature":
        return temperatures(q)
    v, places = F(q["value"]), q["places"]
    table = UNITS[q["kind"]]
    if q["printed"] != formatted(q["form"], v, q["from"]):
        return f"printed {formatted(q['form'], v, q['from'])!r}"
    v = v * table[q["from"]] / table[q["to"]]
    if F(q["exact"]) != v:
        return f"exact {v}"
    want = rounded(v, places, q["mode"])
    if q["rounded"] != text(want, places, q["to"]):
        return f"rounded {text(want, places, q['to'])}"
    want = text(*few(v), q["to"])
    if q["from"] == q["to"]:  # as it was written
        return None if F(q["in"].removesuffix(q["to"])) == v else f"in {v}"
    return None if q["in"] == want else f"in {want}"


def torque(written):
    """Newton metres of a quantity as it is written."""
    value, unit = written.split(" ")
    return F(value) * UNITS["torque"][unit]


def bandtexts(q):
    want = read.band(q["text"])
    if want is None or q["refused"]:
        return None if q["refused"] == (want is None) else f"read as {want}"
    low, high = q["readLow"].split(" "), q["readHigh"].split(" ")
    for (number, unit), (value, stated, places) in zip((low, high), want):
        if (F(number), unit) != (value, stated) or places is not None and number != read.written(value, places):
            return f"{value} {stated}"
    want = f"{low[0]} to {q['readHigh']}" if low[1] == high[1] else f"{q['readLow']} to {q['readHigh']}"
    return None if q["written"] == want else f"written {want}"


def bands(q):
    if "text" in q:
        return bandtexts(q)
    low, high = torque(q["low"]), torque(q["high"])
    if q["contains"] != (low <= torque(q["reading"]) <= high):
        return "the other way round"
    unit, ten = UNITS["torque"][q["unit"]], 10**q["places"]
    low, high = ceil(low / unit * ten), floor(high / unit * ten)
    if low > high or high == 0:  # a band reaches above zero
        return None if q["none"] else f"{F(low, ten)} to {F(high, ten)}"
    want = f"{read.written(F(low, ten), q['places'])} to {text(F(high, ten), q['places'], q['unit'])}"
    return None if not q["none"] and q["inward"] == want else want


def cosine(degrees):
    """Exactly where that is a fraction, else to seventy digits."""
    degrees %= 360
    if degrees % 90 == 0 or degrees % 60 == 0:
        return {0: F(1), 60: F(1, 2), 90: F(0), 120: F(-1, 2), 180: F(-1), 240: F(-1, 2), 270: F(0), 300: F(1, 2)}[int(degrees)]
    from mpmath import mp
    mp.dps = 80
    return F(int(mp.floor(mp.cospi(mp.mpf(degrees.numerator) / degrees.denominator / 180) * mp.mpf(10)**70)), 10**70)


def levers(q):
    """How many times the torque of the drive comes to the fastener: least, as stated, most."""
    length, hand, offset, doubt = (F(q[k]) for k in ("length", "hand", "offset", "doubt"))
    cos = cosine(F(q["angle"]))
    if offset == 0 and doubt == 0 or cos == 0:
        return F(1), F(1), F(1)
    if hand >= length:
        return None
    corners = [1 + e * cos / l for l in (length - hand, length + hand) for e in (offset - doubt, offset + doubt)]
    return (min(corners), 1 + offset * cos / length, max(corners)) if min(corners) > 0 else None


def settings(q):
    scale = q["dialUnit"]
    unit, d = UNITS["torque"][scale], F(q["deviation"]) / 100
    lowest, highest, step = F(q["lowest"]), F(q["highest"]), F(q["step"])
    lever = levers(q)
    if lever is None:
        return None if q["refused"] else "the lever vanishes"
    marks = range(0 if lowest > 0 else 1, int((highest - lowest) / step) + 1)  # nothing clicks at nothing
    if "wanted" in q:
        dial = torque(q["wanted"]) / unit / lever[1]
        if dial == 0 or not marks or not lowest <= dial <= lowest + marks[-1] * step:
            return None if q["refused"] else "it is nothing, or off the scale"
        want = min((lowest + n * step for n in marks), key=lambda mark: abs(mark - dial))  # the first of two
        return None if not q["refused"] and q["dial"] == f"{read.written(want, len(q['dial'].split(' ')[0].partition('.')[2]))} {scale}" else f"{want}"
    # At a mark m of the scale it delivers from a·m - b to c·m + b.
    shift = torque(q["absolute"]) / unit if q["basis"] == "absolute" else d * highest
    a, b, c = {"of dial": (1 - d, F(0), 1 + d), "of reference": (1 / (1 + d), F(0), 1 / (1 - d)), "of full scale": (F(1), shift, F(1)),
               "absolute": (F(1), shift, F(1)), "of dial or reference": (1 - d, F(0), 1 / (1 - d))}[q["basis"]]
    low, high = torque(q["low"]) / unit, torque(q["high"]) / unit
    numbers = [lowest * a * lever[0], step * a * lever[0], b * lever[0], lowest * c * lever[2], step * c * lever[2], b * lever[2], low, high]
    common = lcm(*(x.denominator for x in numbers))  # whole numbers from here on
    least0, least1, less, most0, most1, more, bottom, top = (int(x * common) for x in numbers)
    best, mark = -1, None
    for n in marks:
        margin = min(least0 + n * least1 - less - bottom, top - most0 - n * most1 - more)
        if margin > best:  # of equally good ones the lower
            best, mark = margin, n
    if mark is None:
        return None if q["refused"] else "no mark serves"
    dial = lowest + mark * step
    if q["refused"]:
        return f"{dial} serves"
    if F(q["dial"].split(" ")[0]) != dial or q["dial"].split(" ")[1] != scale:
        return f"the best mark: {dial}"
    least, most = (a * dial - b) * lever[0], (c * dial + b) * lever[2]
    inlow, inhigh = q["low"].split(" ")[1], q["high"].split(" ")[1]
    for name, value, of, mode in (("delivered", dial * lever[1], inlow, 0), ("least", least, inlow, 2), ("most", most, inhigh, 1),
                                  ("aboveLow", least - low, inlow, 2), ("belowHigh", high - most, inhigh, 2)):
        number, got = q[name].split(" ")
        places = len(number.partition(".")[2])
        want = rounded(value * unit / UNITS["torque"][of], places, mode)
        if got != of or F(number) != want or places < len(q["low"].split(" ")[0].partition(".")[2]):
            return f"{name} {want} {of}"
    low, high = (torque(x) / unit for x in q["stated"])
    accepted = "accepted" if low <= least and most <= high else "rejected" if most < low or least > high else "inconclusive"
    return None if q["accepts"] == accepted else accepted


def verdicts(q):
    """Newton metres and standard deviations; no low limit where it is zero."""
    from mpmath import erfinv, findroot, mp, mpf, ncdf, sqrt
    mp.dps = 50
    big = lambda x: mpf(x.numerator) / mpf(x.denominator)
    low, high, U = torque(q["low"]), torque(q["high"]), torque(q["expanded"])
    rule = q["rule"]
    percent = rule == "guarded for 95 %"
    k = F(q["k"]) if "k" in q else F(2)
    if not 1 <= k <= 10 or U == 0 and rule != "simple acceptance":
        return None if q["refused"] else "refused"
    U = U * 2 / k
    u = U / 2
    # Whether the middle of the band passes, or zero itself where there is no low limit.
    if U == 0 or rule == "simple acceptance":
        zone = True
    elif percent:
        half = big((high - low) / 2 / u) if low else big(high / u)
        zone = ncdf(half) - (ncdf(-half) if low else 0) >= mpf("0.95")
    else:
        zone = high - low >= 2 * U if low else high >= U
    if "unit" in q:
        unit, ten = UNITS["torque"][q["unit"]], 10**q["places"]
        guard = F(0) if rule == "simple acceptance" else U
        if percent and zone:
            g = big(u) * sqrt(2) * erfinv(mpf("0.9"))
            if low:
                g = findroot(lambda g: ncdf(g / big(u)) + ncdf((big(high - low) - g) / big(u)) - mpf("1.95"), g)
                g = min(g, big(high - low) - g)  # as far from the other limit is another root
            guard = F(int(mp.floor(g * mpf(10)**45)), 10**45)
        first, last = ceil((low + guard if low else low) / unit * ten), floor((high - guard) / unit * ten)
        if not zone or first > last or last <= 0:
            return None if q["refused"] else "no zone"
        want = f"{read.written(F(first, ten), q['places'])} to {text(F(last, ten), q['places'], q['unit'])}"
        return None if not q["refused"] and q["zone"] == want else want
    if q["refused"]:
        return "it can be decided"
    y = torque(q["value"])
    inside = low <= y <= high
    clear = (low == 0 or low + U <= y) and y <= high - U
    conformance = ""
    if U:
        a, b = big((low - y) / u) if low else -mp.inf, big((high - y) / u)
        if a > 0:  # mirrored, so that small probabilities keep their digits
            a, b = -b, -a
        p = ncdf(b) - ncdf(a)
        conformance = min(F(int(mp.floor(p * 10000)), 10000), F("0.9999"))
        if low and y in (low, high) and p == mpf("0.5"):  # less than a half by what fifty digits don't show
            conformance = F("0.4999")
    if rule == "simple acceptance":
        want = "accepted" if inside else "rejected"
    elif percent:
        want = "accepted" if inside and p >= mpf("0.95") else "rejected"
    else:
        want = "accepted" if inside and clear else "rejected"
    nozone = not zone and inside and want != "accepted"
    if rule == "non-binary" and want == "rejected":
        want = "conditionally accepted" if inside else "conditionally rejected" if low - U <= y <= high + U else "rejected"
    elif nozone:
        want = "inconclusive"
    if (q["acceptance"], q["noZone"]) != (want, nozone):
        return f"{want}, {'no zone' if nozone else 'a zone'}"
    return None if (F(q["conformance"]) if q["conformance"] else "") == conformance else f"conformance {conformance}"


if __name__ == "__main__":
    answer({"TestConversions": conversions, "TestBands": bands, "TestSettings": settings, "TestVerdicts": verdicts})
