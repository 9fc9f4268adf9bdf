"""Answers what core_test.go asks, from published definitions alone, with fractions and, for the normal distribution,
mpmath to fifty digits. It reads a question a line, with the library's answer, and says how many agree."""
from fractions import Fraction as F
from math import ceil, floor

from answer import answer

# Source: nist-sp811-b8. It is for what isn't exact by the SI: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity
# 9.806 65 m/s², US gallon 231 in³, imperial gallon 4.546 09 L, atmosphere 101 325 Pa, conventional mmHg 133.322 387 415 Pa
# (density 13 595.1 kg/m³), inH2O at 1000 kg/m³.
INCH, POUND, G = F("0.0254"), F("0.45359237"), F("9.80665")
USGAL, IMPGAL = 231 * INCH**3, F("0.00454609")
LBF = POUND * G
UNITS = {
    "torque": {"N·m": 1, "dN·m": F("0.1"), "cN·m": F("0.01"), "N·cm": F("0.01"), "mN·m": F("0.001"), "kN·m": 1000, "daN·m": 10,
               "in-lb": LBF * INCH, "ft-lb": LBF * INCH * 12, "in-oz": LBF * INCH / 16, "kgf·m": G, "kgf·cm": G / 100},
    "length": {"m": 1, "cm": F("0.01"), "mm": F("0.001"), "µm": F("0.000001"), "km": 1000, "in": INCH, "ft": INCH * 12, "mi": INCH * 12 * 5280},
    "volume": {"m³": 1, "L": F("0.001"), "mL": F("0.000001"), "cL": F("0.00001"), "dL": F("0.0001"), "hL": F("0.1"), "cm³": F("0.000001"), "in³": INCH**3,
               "US gal": USGAL, "US qt": USGAL / 4, "US pt": USGAL / 8, "US fl oz": USGAL / 128,
               "imp gal": IMPGAL, "imp qt": IMPGAL / 4, "imp pt": IMPGAL / 8, "imp fl oz": IMPGAL / 160},
    "mass": {"kg": 1, "g": F("0.001"), "mg": F("0.000001"), "t": 1000, "lb": POUND, "oz": POUND / 16, "short ton": POUND * 2000, "long ton": POUND * 2240},
    "density": {"kg/m³": 1, "kg/L": 1000, "g/cm³": 1000, "g/mL": 1000, "lb/US gal": POUND / USGAL, "lb/imp gal": POUND / IMPGAL, "lb/ft³": POUND / (INCH * 12)**3},
    "flow": {"m³/h": F(1, 3600), "L/min": F(1, 60000), "L/h": F(1, 3600000), "mL/min": F(1, 60000000), "US gal/min": USGAL / 60, "US gal/h": USGAL / 3600,
             "imp gal/min": IMPGAL / 60, "imp gal/h": IMPGAL / 3600},
    "pressure": {"Pa": 1, "hPa": 100, "kPa": 1000, "MPa": 1000000, "bar": 100000, "mbar": 100, "psi": LBF / INCH**2, "atm": 101325, "kgf/cm²": G * 10000,
                 "mmHg": F("13.5951") * G, "inHg": F("13.5951") * G * F("25.4"), "mmH2O": G, "inH2O": G * F("25.4")},
    "angle": {"°": 1, "rev": 360},
    "difference": {"K": 1, "°C": 1, "°F": F(5, 9)},
}


def rounded(x, places, mode):
    y = x * 10**places
    n = {0: round, 1: ceil, 2: floor}[mode](y)  # Python rounds a Fraction to nearest, ties to even
    return F(n, 10**places)


def conversions(q):
    v = F(q["value"])
    if q["kind"] == "temperature":
        if q["from"] != q["to"]:
            v = (v - 32) * F(5, 9) if q["from"] == "°F" else v * F(9, 5) + 32
    else:
        table = UNITS[q["kind"]]
        v = v * table[q["from"]] / table[q["to"]]
    if F(q["exact"]) != v:
        return f"exact {v}"
    want = rounded(v, q["places"], q["mode"])
    return None if F(q["rounded"]) == want else f"rounded {want}"


def torque(pair):
    return F(pair[0]) * UNITS["torque"][pair[1]]


def bands(q):
    unit, ten = UNITS["torque"][q["unit"]], 10**q["places"]
    low, high = ceil(torque(q["low"]) / unit * ten), floor(torque(q["high"]) / unit * ten)
    if low > high or high == 0:  # a band reaches above zero
        return None if q["refused"] else "there is none"
    if q["refused"]:
        return f"{F(low, ten)} to {F(high, ten)}"
    return None if (F(q["inLow"]) * ten, F(q["inHigh"]) * ten) == (low, high) else f"{F(low, ten)} to {F(high, ten)}"


def settings(q):
    unit, d = UNITS["torque"][q["unit"]], F(q["deviation"]) / 100
    lowest, highest, step = F(q["lowest"]), F(q["highest"]), F(q["step"])
    lever = F(1)
    if q["offset"]:
        lever = F(q["length"] + {0: 1, 90: 0, 180: -1}[q["angle"]] * q["offset"], q["length"])
    low, high = torque(q["low"]), torque(q["high"])
    best, marks = None, {}
    n = 0
    while lowest + n * step <= highest:
        dial = lowest + n * step
        n += 1
        if q["basis"] == "of dial":
            least, most = dial * (1 - d), dial * (1 + d)
        elif q["basis"] == "of reference":
            least, most = dial / (1 + d), dial / (1 - d)
        elif q["basis"] == "of full scale":
            least, most = dial - d * highest, dial + d * highest
        else:
            least, most = dial * (1 - d), dial / (1 - d)
        least, most = least * lever * unit, most * lever * unit
        if low <= least and most <= high and dial > 0:
            margin = min(least - low, high - most)
            marks[dial] = (margin, least, most)
            if best is None or margin > best:
                best = margin
    if best is None:
        return None if q["refused"] else "no mark serves"
    if q["refused"]:
        return f"{[str(m) for m in marks]} serve"
    dial = F(q["dial"])
    if dial not in marks or marks[dial][0] != best:
        return f"not the best mark: {max(marks, key=lambda m: marks[m][0])}"
    if torque(q["least"]) > marks[dial][1] or torque(q["most"]) < marks[dial][2]:
        return "what it may deliver is narrower than it is"
    return None


def rings(q):
    # The disc as one looks at its closed end: a mark's place is clockwise from the one called first, as parts of a turn.
    n = len(q["labels"])
    clockwise = {i: (F(i, n) if q["order"] == "clockwise" else F(-i, n)) % 1 for i in range(n)}
    gap = F(1, n) if q["order"] == "clockwise" else F(-1, n)
    contact = clockwise[q["at"]] + F(*q["share"]) * gap  # the place of the disc that is at the index
    spin = F(*q["turn"]) if q["hand"] == "right hand" else -F(*q["turn"])  # clockwise
    # Turned clockwise by spin, every place p of the disc is seen at p - contact + spin clockwise from the index.
    seen = {i: (p - contact + spin) % 1 for i, p in clockwise.items()}
    at = [i for i, p in seen.items() if p == 0]
    passes = floor(F(*q["turn"]))
    if at:
        want = (q["labels"][at[0]], "", "", passes)
    else:
        # Which mark came to the index last: the nearest beyond it in the way of the turn.
        ahead = lambda i: seen[i] if q["hand"] == "right hand" else (-seen[i]) % 1
        last = min(seen, key=ahead)
        coming = max(seen, key=ahead)
        share = ahead(last) * n
        want = (q["labels"][last], q["labels"][coming], str(share), passes)
    got = (q["mark"], q["next"], q["part"], q["passes"])
    return None if got == want else f"{want}"


def verdicts(q):
    from mpmath import mp, mpf, ncdf
    mp.dps = 50
    low, high, y, U = (F(q[k]) for k in ("low", "high", "value", "expanded"))
    if q["refused"]:
        return "refused"
    u = U / 2
    big = lambda x: mpf(x.numerator) / mpf(x.denominator)
    a, b = big((low - y) / u), big((high - y) / u)
    if a > 0:  # mirrored, so that small probabilities keep their digits
        a, b = -b, -a
    p = ncdf(b) - ncdf(a)
    inside = low <= y <= high
    rule, zone = q["rule"], high - low >= 2 * U
    if rule == "simple acceptance":
        want = "accepted" if inside else "rejected"
    elif rule == "guarded by U":
        want = "accepted" if low + U <= y <= high - U else "rejected"
        if not zone:
            want = "inconclusive" if inside else "rejected"
    elif rule == "guarded 95 %" or rule.startswith("guarded") and "95" in rule:
        want = "accepted" if p >= mpf("0.95") else "rejected"
        middle = ncdf(big((high - low) / 2 / u)) - ncdf(big((low - high) / 2 / u))
        zone = middle >= mpf("0.95")
        if not zone:
            want = "inconclusive" if inside else "rejected"
    else:
        if low + U <= y <= high - U:
            want = "accepted"
        elif inside:
            want = "conditionally accepted"
        elif low - U <= y <= high + U:
            want = "conditionally rejected"
        else:
            want = "rejected"
    conformance = min(F(int(mp.floor(p * 10000)), 10000), F("0.9999"))
    if y in (low, high) and p == mpf("0.5"):  # less than a half by what fifty digits don't show
        conformance = F("0.4999")
    if q["acceptance"] != want:
        return f"{want}, with {mp.nstr(p, 12)}"
    return None if F(q["conformance"]) == conformance else f"conformance {mp.nstr(p, 12)}"


if __name__ == "__main__":
    answer({"TestConversions": conversions, "TestBands": bands, "TestSettings": settings, "TestRings": rings, "TestVerdicts": verdicts})
