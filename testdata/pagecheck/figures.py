"""Quantities, roundings and what a filter job is worked out with, from published definitions, in fractions and in decimals of
50 digits. Nothing here is taken from the library."""
import re
from decimal import Decimal as D, getcontext
from fractions import Fraction as F
from math import ceil, floor

getcontext().prec = 50

# Sources: nist-sp811-b8, api-11-1, water-tanaka, water-kell, oiml-d28, asme-b1-7.

# NIST SP 811 (2008), appendix B, for what isn't exact by the SI: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity
# 9.806 65 m/s², US gallon 231 in³, imperial gallon 4.546 09 L.
INCH, POUND, G = F("0.0254"), F("0.45359237"), F("9.80665")
USGAL, IMPGAL = 231 * INCH**3 * 1000, F("4.54609")  # in litres
LBF = POUND * G
TORQUE = {"N·m": F(1), "in-lb": LBF * INCH, "ft-lb": LBF * INCH * 12, "kgf·m": G, "kgf·cm": G / 100}
LENGTH = {"m": F(1), "cm": F("0.01"), "mm": F("0.001"), "km": F(1000), "in": INCH, "ft": INCH * 12, "mi": INCH * 12 * 5280}
VOLUME = {"L": F(1), "mL": F("0.001"), "cL": F("0.01"), "dL": F("0.1"), "US gal": USGAL, "US qt": USGAL / 4, "US pt": USGAL / 8,
          "US fl oz": USGAL / 128, "imp gal": IMPGAL, "imp qt": IMPGAL / 4, "imp pt": IMPGAL / 8}
MASS = {"kg": F(1), "g": F("0.001"), "lb": POUND, "oz": POUND / 16}
DENSITY = {"kg/m³": F(1), "kg/L": F(1000), "g/cm³": F(1000), "lb/US gal": POUND / USGAL * 1000}
FLOW = {"L/min": F(1), "L/h": F(1, 60), "mL/min": F("0.001"), "US gal/min": USGAL, "US gal/h": USGAL / 60}
DOWN, NEAREST, UP = floor, round, ceil  # round of a fraction: ties to even


class Q:
    """A number of a unit. Where it was written its places are known; slack is how far what was worked out may be off."""

    def __init__(self, v, unit, places=None, slack=F(0)):
        self.v, self.unit, self.places, self.slack = F(v), unit, places, F(slack)

    def to(self, table, unit):
        return self.v * table[self.unit] / table[unit]

    def text(self):
        if self.places is None:
            raise ValueError(f"{float(self.v)} {self.unit} was never written")
        return written(self.v, self.places) + ("" if self.unit == "°" else " ") + self.unit

    def number(self):
        return written(self.v, self.places)


def parse(text):
    """"1.50 L" as it is written."""
    m = re.fullmatch(r"(-?\d+(?:\.(\d+))?)\s*(\D.*)", text.strip())
    if not m:
        raise ValueError(f"no quantity: {text!r}")
    return Q(F(m[1]), m[3].strip(), len(m[2] or ""))


def written(v, places):
    """A number that has so many places at the most, with all of them."""
    n = v * 10**places
    if n.denominator != 1:
        raise ValueError(f"{v} has more than {places} places")
    n = int(n)
    text = str(abs(n)).rjust(places + 1, "0")
    return ("-" if n < 0 else "") + (text[:-places] + "." + text[-places:] if places else text)


def rounded(v, places, mode):
    return F(mode(v * 10**places), 10**places)


def places_of(v):
    """The places of a fraction that ends, None of one that doesn't."""
    d, twos, fives = v.denominator, 0, 0
    while d % 2 == 0:
        d, twos = d // 2, twos + 1
    while d % 5 == 0:
        d, fives = d // 5, fives + 1
    return max(twos, fives) if d == 1 else None


def either(*texts):
    """A text of which any of these will do."""
    texts = list(dict.fromkeys(texts))
    return texts[0] if len(texts) == 1 else "\ue000" + "\ue001".join(texts) + "\ue002"


def pattern(text):
    """The regular expression of a text with such choices in it."""
    out = ""
    for i, part in enumerate(re.split("[\ue000\ue002]", text)):
        out += re.escape(part) if i % 2 == 0 else "(?:" + "|".join(re.escape(p) for p in part.split("\ue001")) + ")"
    return out


def shown(q, table, unit, places, mode):
    """A quantity in a unit at so many places; all that its slack makes of it."""
    factor = table[q.unit] / table[unit]
    return either(*(written(rounded((q.v + s) * factor, places, mode), places) for s in (0, -q.slack, q.slack)))


# Temperatures.
def celsius(q):
    return q.v if q.unit == "°C" else (q.v - 32) * F(5, 9) if q.unit == "°F" else q.v - F("273.15")


def in_scale(c, scale):
    return c if scale == "°C" else c * F(9, 5) + 32 if scale == "°F" else c + F("273.15")


# API MPMS 11.1-2004 (ASTM D1250-04), 11.1.5 and 11.1.6: groups by the density at 60 °F, and ITS-90 to IPTS-68.
GROUPS = [(D("610.6"), D("192.4571"), D("0.2438"), D(0)), (D("770.3520"), D("1489.0670"), D(0), D("-0.00186840")),
          (D("787.5195"), D("330.3010"), D(0), D(0)), (D("838.3127"), D("103.8720"), D("0.2701"), D(0)), (D("1163.5"),)]
SHIFT = [D(x) for x in ("-0.148759", "-0.267408", "1.080760", "1.269056", "-4.089591", "-1.871251", "7.438081", "-3.536296")]
DELTA60 = D("0.01374979547")


def dec(x):
    return D(x.numerator) / D(x.denominator)


def frac(x):
    return F(*x.as_integer_ratio())


def fahrenheit68(c):
    tau, shift = c / 630, D(0)
    for a in reversed(SHIFT):
        shift = (shift + a) * tau
    return (c - shift) * D("1.8") + 32


def factor60(group, rho60, c):
    _, k0, k1, k2 = group
    a = DELTA60 / 2 * ((k0 / rho60 + k1) / rho60 + k2)
    b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60)
    star = rho60 * (1 + ((a * (1 + D("0.8") * a)).exp() - 1) / (1 + a * (1 + D("1.6") * a) * b))
    alpha = (k0 / star + k1) / star + k2
    dt = fahrenheit68(c) - D("60.0068749")
    return (-alpha * dt * (1 + D("0.8") * alpha * (dt + DELTA60))).exp()


class Fuel:
    """A fuel of a density at a temperature: by the secant through two guesses, in the heaviest group that answers."""

    def __init__(self, rho, c):
        self.rho, self.c = dec(rho), dec(c)
        for group, above in zip(reversed(GROUPS[:-1]), reversed(GROUPS[1:])):
            f = lambda x: x * factor60(group, x, self.c) - self.rho
            x, y = self.rho, self.rho * D("1.01")
            fx, fy = f(x), f(y)
            for _ in range(30):
                if fx == fy:
                    break
                x, fx, y = y, fy, y - fy * (y - x) / (fy - fx)
                fy = f(y)
                if abs(x - y) < D("1e-30"):
                    break
            if group[0] <= y < above[0]:
                self.group, self.rho60 = group, y
                return
        raise ValueError("no group of products")

    def at(self, c):
        c = dec(c)
        if c == self.c:
            return frac(self.rho)
        return frac(self.rho60 * factor60(self.group, self.rho60, c))


def fuel_of(text, at):
    """Of a density as a delivery note states it. °API and 60/60 °F are defined at 60 °F; water has 999.016 kg/m³ there (API MPMS
    11.1-2004, 11.1.5.1)."""
    if m := re.fullmatch(r"([\d.]+) °API", text):
        return Fuel(F("141.5") / (F(m[1]) + F("131.5")) * F("999.016"), F(60 - 32) * F(5, 9))
    if m := re.fullmatch(r"([\d.]+) \(60/60 °F\)", text):
        return Fuel(F(m[1]) * F("999.016"), F(60 - 32) * F(5, 9))
    q = parse(text)
    return Fuel(q.v * DENSITY[q.unit], celsius(parse(at)))


def water(c):
    """Tanaka 2001 (Metrologia 38, 301) up to 40 °C, Kell 1975 (J. Chem. Eng. Data 20, 97) above."""
    t = max(c, F(0))
    if t <= 40:
        return F("999.974950") * (1 - (t - F("3.983035"))**2 * (t + F("301.797")) / (F("522528.9") * (t + F("69.34881"))))
    top = [F(x) for x in ("999.83952", "16.945176", "-7.9870401e-3", "-46.170461e-6", "105.56302e-9", "-280.54253e-12")]
    return sum(a * t**i for i, a in enumerate(top)) / (1 + F("16.879850e-3") * t)


def in_air(rho):
    """What a scale shows for a kilogram: conventional air of 1.2 kg/m³, weights of 8000 kg/m³ (OIML D 28)."""
    return (1 - F("1.2") / rho) / (1 - F("1.2") / 8000)


# Machin's formula.
def pi():
    def arctan(n):
        x, total, k = F(1, n), F(0), 0
        while k < 60:
            total, k = total + (-1)**k * x**(2 * k + 1) / (2 * k + 1), k + 1
        return total
    return 4 * (4 * arctan(5) - arctan(239))


PI = F(round(pi() * 10**60), 10**60)


def cosine(degrees):
    """By its series, to forty places; exact at whole multiples of 60° and 90°."""
    x = degrees % 360
    if x in (0, 60, 90, 120, 180, 240, 270, 300):
        return {0: F(1), 60: F(1, 2), 90: F(0), 120: F(-1, 2), 180: F(-1), 240: F(-1, 2), 270: F(0), 300: F(1, 2)}[int(x)]
    x = (x if x <= 180 else 360 - x) * PI / 180
    total, term, k = F(0), F(1), 0
    while abs(term) > F(1, 10**42):
        total += term
        k += 2
        term = F(round(-term * x * x / (k * (k - 1)) * 10**60), 10**60)
    return F(round(total * 10**45), 10**45)


# Turns.
def turn(text):
    text = text.strip()
    if text.endswith("°"):
        return F(text[:-1].strip()) / 360
    m = re.fullmatch(r"(?:(\d+) )?(\d+)/(\d+)(?: turns?)?|(\d+)(?: turns?)?", text)
    if not m:
        raise ValueError(f"no turn: {text!r}")
    return F(m[4]) if m[4] else F(m[1] or 0) + F(int(m[2]), int(m[3]))


def instruction(text):
    much, datum = text.split(" after ")
    low, _, high = much.rpartition(" to ")
    return turn(low or high), turn(high), datum


def degrees(t):
    """"210°", "about 51.43°"."""
    d = t * 360
    p = places_of(d)
    if p is None or p > 2:
        return "about " + written(rounded(d, 2, NEAREST), 2) + "°"
    return written(d, p) + "°"


def fraction(t):
    whole, part = divmod(t, 1)
    if not part:
        return str(whole)
    return (f"{whole} + " if whole else "") + f"{part.numerator}/{part.denominator}"


def turns(t):
    return fraction(t) + (" turn" if 0 < t <= 1 else " turns")


# Bands.
def band(text):
    """A limit as a sheet prints it, as (low, high)."""
    num = r"(\d+(?:\.\d+)?)"
    if m := re.fullmatch(rf"max {num} (.+)", text):
        high = parse(f"{m[1]} {m[2]}")
        return Q(0, high.unit, 0), high
    if m := re.fullmatch(rf"{num} ± {num} ([^\d]+)", text):
        a, b = parse(f"{m[1]} {m[3]}"), parse(f"{m[2]} {m[3]}")
        p = max(a.places, b.places)
        return Q(a.v - b.v, a.unit, p), Q(a.v + b.v, a.unit, p)
    if m := re.fullmatch(rf"{num} ([^\d]+) ± {num} %", text):
        a, share = parse(f"{m[1]} {m[2]}"), F(m[3]) / 100
        low, high = a.v * (1 - share), a.v * (1 + share)
        return Q(low, a.unit, max(a.places, places_of(low))), Q(high, a.unit, max(a.places, places_of(high)))
    m = re.fullmatch(rf"{num}(?: to |-){num} ([^\d]+)", text)
    if not m:
        raise ValueError(f"no band: {text!r}")
    return parse(f"{m[1]} {m[3]}"), parse(f"{m[2]} {m[3]}")


def inward_at(b, unit, places):
    return rounded(b[0].to(TORQUE, unit), places, UP), rounded(b[1].to(TORQUE, unit), places, DOWN)


def inward(b, unit, places=None):
    """A band in a unit, rounded inward: at so many places, or at the fewest that keep nine tenths of it."""
    full = b[1].to(TORQUE, unit) - b[0].to(TORQUE, unit)
    for p in range(7) if places is None else [places]:
        low, high = inward_at(b, unit, p)
        if low <= high and high > 0 and (places is not None or p == 6 or not full or (high - low) / full >= F(9, 10)):
            return Q(low, unit, p), Q(high, unit, p)
    return None


# Wrenches.
class Wrench:
    def __init__(self, w):
        self.id, self.until = w["id"], w["calibratedUntil"]
        self.lowest, self.highest, self.step = (parse(w[k]) for k in ("lowest", "highest", "step"))
        self.unit = self.lowest.unit
        self.places = max(self.lowest.places, self.step.places)
        basis = w.get("deviationBasis", "either")
        self.off = parse(w["absoluteDeviation"]) if basis == "absolute" else parse(w["deviation"])
        d = self.off.v / 100
        self.delivers = {
            "of dial": lambda x: (x * (1 - d), x * (1 + d)),
            "of reference": lambda x: (x / (1 + d), x / (1 - d)),
            "of full scale": lambda x: (x - d * self.highest.v, x + d * self.highest.v),
            "absolute": lambda x: (x - self.off.to(TORQUE, self.unit), x + self.off.to(TORQUE, self.unit)),
        }.get(basis, lambda x: (x * (1 - d), x / (1 - d)))
        self.length = parse(w["length"]) if "length" in w else None
        self.tolerance = parse(w["lengthTolerance"]) if "lengthTolerance" in w else Q(0, "mm", 0)

    def lever(self, adapter, hand=None):
        """How many times what the drive delivers arrives: as stated, the least and the most; None where nobody can say. The hand may
        be off its place by the wrench's tolerance, or by so many millimetres."""
        lever = (adapter or {}).get("lever")
        if not lever:
            return F(1), F(1), F(1)
        e, cos = parse(lever["offset"]), cosine(parse(lever["angle"]).v)
        tol = parse(lever["offsetTolerance"]) if "offsetTolerance" in lever else Q(0, "mm", 0)
        if (not e.v and not tol.v) or not cos:
            return F(1), F(1), F(1)
        if self.length is None:
            return None
        mm = lambda q: q.to(LENGTH, "mm")
        l, t = mm(self.length), mm(self.tolerance) if hand is None else hand
        if t >= l:
            return None
        corners = [1 + y * cos / x for x in (l - t, l + t) for y in (mm(e) - mm(tol), mm(e) + mm(tol))]
        return None if min(corners) <= 0 else (1 + mm(e) * cos / l, min(corners), max(corners))

    def dials(self):
        n = 0
        while self.lowest.v + n * self.step.v <= self.highest.v:
            yield self.lowest.v + n * self.step.v
            n += 1

    def arrives(self, dial, lever):
        least, most = self.delivers(dial)
        return least * lever[1], most * lever[2]

    def set(self, low, high, adapter, day):
        """By trying every mark of the scale: ("set", dial, margin in N·m), or why there is none. Limits in N·m."""
        if self.until < day:
            return "calibration",
        lever = self.lever(adapter)
        if lever is None:
            return "lever",
        f = TORQUE[self.unit]
        low, high, best = low / f, high / f, None
        for dial in self.dials():
            least, most = self.arrives(dial, lever)
            if (margin := min(least - low, high - most)) >= 0 and (best is None or margin > best[1]):
                best = dial, margin
        if best:
            return "set", best[0], best[1] * f
        # What a scale without ends and steps would have to be set to: both ends rise evenly with the dial.
        at0, at1 = self.arrives(F(0), lever), self.arrives(F(1), lever)
        start, stop = (low - at0[0]) / (at1[0] - at0[0]), (high - at0[1]) / (at1[1] - at0[1])
        if start > stop:
            return "deviation",
        last = max(self.dials())
        return "scale" if stop < self.lowest.v or start > last else "step", start, stop

    def nearest(self, torque, adapter, day):
        """The mark that delivers what is nearest to a torque without tolerance."""
        if self.until < day:
            return "calibration",
        lever = self.lever(adapter)
        if lever is None:
            return "lever",
        f = TORQUE[self.unit]
        want, last = torque / f, max(self.dials())
        exact = want / lever[0]
        if exact < self.lowest.v or exact > last:
            return "scale", exact, exact
        dial = min(self.dials(), key=lambda x: (abs(x - exact), x))
        least, most = self.arrives(dial, lever)
        return "set", dial, min(least - want, want - most) * f


def choose(answers):
    """The widest margin, the first of equals."""
    best = None
    for i, a in enumerate(answers):
        if a[0] == "set" and (best is None or a[2] > answers[best][2]):
            best = i
    return best


# Marks on a ring, as one looks at the closed end.
class Ring:
    def __init__(self, labels, order, hand):
        self.labels, self.n = labels, len(labels)
        self.way = 1 if order == "clockwise" else -1  # of the labels, clockwise
        self.spin = 1 if hand == "right hand" else -1  # of the part when it is tightened, clockwise

    def seen(self, at, t):
        """Where each mark is, clockwise from the index, when the place that was at the index (in marks, behind the first) has been
        tightened by t."""
        return [(F(i - at) * self.way / self.n + self.spin * t) % 1 for i in range(self.n)]

    def place(self, at, t):
        """What is at the index then: (mark, next, share of the gap, turn past mark)."""
        ahead = [(x * self.spin) % 1 for x in self.seen(at, t)]
        last = min(range(self.n), key=lambda i: ahead[i])
        coming = max(range(self.n), key=lambda i: ahead[i])
        if not ahead[last]:
            return self.labels[last], None, None, None
        if self.n == 2:
            return self.labels[last], None, None, ahead[last]
        return self.labels[last], self.labels[coming], ahead[last] * self.n, None


def place(p, form, rounds=0):
    """Such a place in words: "place", "bare" or "cell"."""
    mark, following, share, past = p
    at = "at " if form == "place" else ""
    if past:
        text = f"{turns(past)} past {mark}"
    elif following is None:
        text = at + mark
    elif share == F(1, 2):
        text = f"{mark} and {following}" if form == "cell" else f"midway between {mark} and {following}"
    elif form == "cell":
        text = f"{fraction(share)} from {mark} to {following}"
    else:
        text = f"{fraction(share)} of the way from {mark} to {following}"
    return text + (" again" if rounds == 1 else f", {rounds} × round" if rounds else "")


def sense(hand, view):
    """Which way tightening goes from there. A right-hand thread turned clockwise goes away from who looks along its axis (ASME
    B1.7). Looking from below at what hangs, clockwise takes its near wall from left to right."""
    way = 1 if hand == "right hand" else -1
    v = view.removesuffix(", in a mirror")
    if v != view:
        way = -way
    if v in ("from the head side", "from beside, closed end up"):
        way = -way
    words = ("left to right", "right to left") if v.startswith("from beside") else ("clockwise", "counterclockwise")
    return words[0 if way > 0 else 1]
