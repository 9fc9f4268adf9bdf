"""Reads numbers, units and torque limits as a shop writes them, and writes quantities: with patterns, and with the spellings of
the trade in spellings.json: common practice, no source."""
import json
import os
import re
import unicodedata
from fractions import Fraction as F

from units import UNITS

BLANK = "[ \t\u00a0\u202f]"
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "spellings.json"), encoding="utf-8") as f:
    ALL = json.load(f)
SPELLINGS = {kind: {s: symbol for symbol, all in units.items() if symbol for s in all} for kind, units in ALL.items()}
# What has several readings, and what is nothing known; the rest of what is no unit of a kind is one of another. Common practice, no
# source.
SEVERAL = {"torque": ["nm", "NM", "lb", "lbs", "lbf"], "volume": ["gal", "gallons", "qt", "quart", "pints", "fl oz", "oz", "G"], "mass": ["T", "ton", "tons", "gr"],
           "density": ["lb/gal"], "flow": ["gpm", "gph", "gal/min"], "pressure": ["mpa", "torr", "atmospheres"]}
NOTHING = ["furlong", "yard of ale", "x"]
CHARACTER = "[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]"
JOINT = f"(?P<joint>{BLANK}+|-)"
FRACTION = re.compile(f"(?:(?:(?P<whole>[0-9]+){JOINT})?(?P<num>[0-9]+)[/⁄](?P<den>[0-9]+)"
                      f"|(?:(?P<before>[0-9]+)(?P<dash>{BLANK}+|-)?)?(?P<character>{CHARACTER}))(?![0-9/⁄])")
DECIMAL = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
QUANTITY = re.compile(f"(?P<sign>[+−-]?)(?P<rest>.*)", re.S)


def not_one(kind, unit):
    """Why a text is no unit of a kind."""
    if not unit:
        return "no unit"
    if unit in SEVERAL.get(kind, []):
        return "ambiguous"
    return "other kind" if unit in ALL[kind][""] and unit not in NOTHING else "unknown unit"


def places_of(x):
    """How many places a fraction has as a decimal that ends; None for one that doesn't."""
    twos, fives, d = 0, 0, x.denominator
    while d % 2 == 0:
        d, twos = d // 2, twos + 1
    while d % 5 == 0:
        d, fives = d // 5, fives + 1
    return max(twos, fives) if d == 1 else None


def written(x, places):
    """Plain digits with so many places, and no minus before nothing."""
    n = x * 10**places
    assert n.denominator == 1
    digits = str(abs(n.numerator)).rjust(places + 1, "0")
    return ("-" if n < 0 else "") + digits[:len(digits) - places] + ("." + digits[len(digits) - places:] if places else "")


def number(text):
    """The number that a text begins with, its places and where it ends; None where it is none that a shop would write for one."""
    m = FRACTION.match(text)
    if m:
        if m["character"]:
            num, den = unicodedata.normalize("NFKC", m["character"]).split("⁄")
            whole, joint = m["before"], m["dash"]
        else:
            num, den, whole, joint = m["num"], m["den"], m["whole"], m["joint"]
            # As rules and sockets are marked: in lowest terms over a power of two.
            if int(den) not in (2, 4, 8, 16, 32, 64) or int(num) % 2 == 0 or int(num) > 9999:
                return None
        x = F(int(num), int(den))
        if whole is not None and (x >= 1 or joint == "-" and int(whole) == 0):
            return None  # 0-1/2 may be nought to a half
        places = places_of(x)
        if places is None:
            return None
        return x + int(whole or 0), places, m.end()
    m = DECIMAL.match(text)
    if not m:
        return None
    return F(m[0]), len(m[0].partition(".")[2]), m.end()


def quantity(text, kind):
    """Value, places and unit; None for what is refused."""
    m = QUANTITY.fullmatch(re.sub(f"^{BLANK}+|{BLANK}+$", "", text))
    read = number(m["rest"])
    if read is None:
        return None
    x, places, end = read
    unit = re.fullmatch(f"(?:-(?!{BLANK})|{BLANK}*)(.*)", m["rest"][end:], re.S)[1]
    symbol = SPELLINGS[kind].get(unit)
    if symbol is None or places > 60 or x * 10**places >= 10**34:
        return None
    if kind == "temperature":
        lowest = {"°C": F("-273.15"), "°F": F("-459.67"), "K": 0}[symbol]
        if x >= 10**24 or m["sign"] not in ("", "+") and -x < lowest:
            return None
    elif x * UNITS[kind][symbol] / UNITS[kind]["L/min" if kind == "flow" else next(iter(UNITS[kind]))] >= 10**24:
        return None
    return (x if m["sign"] in ("", "+") else -x), places, symbol


SPELT = "|".join(sorted((re.escape(s) for all in ALL["torque"].values() for s in all if s), key=len, reverse=True))
TO = r"to|through|thru|-|–|—|~|\.\.\.|…"
PLUSMINUS = r"±|\+/-|\+-"
PERCENT = "%|percent|pct"


def figure(i):
    return f"(?P<n{i}>[0-9]+(?:\\.[0-9]+)?|\\.[0-9]+)(?!\\.?[0-9])"


def limit(i):
    return f"{figure(i)} *(?P<u{i}>{SPELT})?"


def tolerance(i):
    return f"{figure(i)} *(?P<p{i}>{PERCENT})? *(?P<u{i}>{SPELT})?"


BANDS = [(name, re.compile(pattern)) for name, pattern in (
    ("range", f"(?i:from +)?{limit(0)} *(?i:{TO}) *{limit(1)}"),
    ("range", f"(?i:between) +{limit(0)} +(?i:and) +{limit(1)}"),
    ("maximum", f"(?i:max\\.?|maximum|up to|at most|not more than|≤) *{limit(0)}"),
    ("maximum", f"{limit(0)} *(?i:max\\.?|maximum)"),
    ("tolerance", f"{limit(0)} *(?:{PLUSMINUS}) *{tolerance(1)}"),
    ("tolerances", f"{limit(0)} *(?P<s1>[+-]?) *{tolerance(1)} *[/,]? *(?P<s2>[+-]?) *{tolerance(2)}"),
)]


class Refused(Exception):
    """With the name of what is wrong."""


def band(text):
    """The limits, as value and unit, with the places of those that are printed and not worked out; None for what is refused."""
    try:
        return limits(text)
    except Refused:
        return None


def limits(text):
    text = re.sub(r"\((±[^()]*|\+[^()]*-[^()]*|-[^()]*\+[^()]*)\)", r"\1", text).strip()
    for name, pattern in BANDS:
        m = pattern.fullmatch(text)
        if m:
            break
    else:
        raise Refused("syntax")
    part = m.groupdict()
    for i in range(3):
        if part.get(f"u{i}") and part[f"u{i}"] not in SPELLINGS["torque"]:
            raise Refused(not_one("torque", part[f"u{i}"]))
    x = [F(part[f"n{i}"]) for i in range(3) if part.get(f"n{i}")]
    places = [len(part[f"n{i}"].partition(".")[2]) for i in range(len(x))]
    unit = [part.get(f"u{i}") and SPELLINGS["torque"][part[f"u{i}"]] for i in range(3)]
    factor = UNITS["torque"]
    if name == "maximum":
        if not unit[0] or x[0] == 0:
            raise Refused("range" if unit[0] else "no unit")
        return (F(0), unit[0], 0), (x[0], unit[0], places[0])
    if not any(unit):
        raise Refused("no unit")
    if name == "range":
        low, high = unit[0] or unit[1], unit[1] or unit[0]
        if x[0] * factor[low] > x[1] * factor[high] or x[1] == 0:
            raise Refused("order" if x[0] else "range")
        return (x[0], low, places[0]), (x[1], high, places[1])
    if name == "tolerance":
        x.append(x[1])
        unit[0], unit[1], percents = unit[0] or unit[1], unit[1] or unit[0], [part["p1"]]
        unit[2], above, below = unit[1], 1, 2
    else:
        signs = [part["s1"], part["s2"]]
        for i in (0, 1):  # a tolerance of nothing needs no sign
            if not signs[i] and x[i + 1] == 0 and signs[1 - i]:
                signs[i] = "-" if signs[1 - i] == "+" else "+"
        if sorted(signs) != ["+", "-"]:
            raise Refused("syntax")
        above, below = (1, 2) if signs[0] == "+" else (2, 1)
        unit = [unit[0] or unit[2] or unit[1], unit[1] or unit[2] or unit[0], unit[2] or unit[0] or unit[1]]
        percents = [part["p1"], part["p2"]]
        if percents[0] and not percents[1]:
            raise Refused("syntax")
    if percents[-1]:
        if max(x[1], x[2]) > 100:
            raise Refused("range")
        sizes = [None, x[0] * x[1] / 100, x[0] * x[2] / 100]
    else:
        sizes = [None] + [x[i] * factor[unit[i]] / factor[unit[0]] for i in (1, 2)]
        if None in map(places_of, sizes[1:]):
            raise Refused("range")  # it has no exact value in the nominal unit
    low, high = x[0] - sizes[below], x[0] + sizes[above]
    if low < 0 or high == 0:
        raise Refused("range")
    return (low, unit[0], None), (high, unit[0], None)
