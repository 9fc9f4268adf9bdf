"""Answers what refusals_test.go asks: which of the sentinels that are documented an input is to be refused with. Where two things
are wrong with it, either will do."""
import re
from fractions import Fraction as F
from math import ceil, floor

import read
from answer import answer
from core import torque
from disc import stage
from units import UNITS


def fraction(m):
    if m["character"]:
        num, den = (int(n) for n in read.unicodedata.normalize("NFKC", m["character"]).split("⁄"))
        whole, joint = m["before"], m["dash"]
    else:
        num, den, whole, joint = int(m["num"]), int(m["den"]), m["whole"], m["joint"]
    wrong = set()
    if den == 0:
        return {"syntax"}
    if whole is not None and num >= den:
        wrong.add("syntax")
    if whole is not None and joint == "-" and int(whole) == 0:
        wrong.add("ambiguous")  # nought to a half
    if max(num, den) > 9999:
        wrong.add("range")
    if not m["character"] and not (den in (2, 4, 8, 16, 32, 64) and num % 2 or den == 3 and num % 3):
        wrong.add("ambiguous")  # 20/25 may be a range
    if read.places_of(F(num, den)) is None:
        wrong.add("range")  # it never ends
    return wrong


def number(text):
    """What is wrong with the number that a text begins with, how large it is and where it ends."""
    m = read.FRACTION.match(text)
    if m:
        wrong = fraction(m)
        return wrong, read.number(text) if not wrong else None
    m = read.DECIMAL.match(text)
    if not m:
        return {"syntax"}, None
    digits, places = m[0].replace(".", "").lstrip("0"), len(m[0].partition(".")[2])
    if len(digits) > 34 or places > 60:
        return {"range"}, None
    behind = text[m.end():]
    if behind.startswith(","):
        return {"ambiguous"}, None
    if re.match(r"[eE][+-]?[0-9]|\.|[_'][0-9]", behind):
        return {"syntax"}, None
    return set(), (F(m[0]), places, m.end())


def quantities(q):
    text = re.sub(f"^{read.BLANK}+|{read.BLANK}+$", "", q["text"])
    m = read.QUANTITY.fullmatch(text)
    wrong, found = number(m["rest"])
    if wrong:
        return wrong
    x, places, end = found
    unit = re.fullmatch(f"(?:-(?!{read.BLANK}|$)|{read.BLANK}*)(.*)", m["rest"][end:], re.S)[1]
    if re.match("[0-9,.]", unit):
        return {"syntax"}
    if unit not in read.SPELLINGS[q["kind"]]:
        return {read.not_one(q["kind"], unit)}
    return set() if read.quantity(q["text"], q["kind"]) else {"range"}


def bands(q):
    text = q["text"]
    if re.search(r"\([0-9.]+ (ft-lb|N·m)\)$", text):
        return {"two units"}
    try:
        read.limits(text)
        return set()
    except read.Refused as why:
        said = str(why)
    if said != "syntax":
        return {said}
    figure = r"[0-9]*\.?[0-9]+"
    if re.match(rf"-{figure}", text):
        return {"range"}
    alone = re.fullmatch(rf"({figure}) *(.*)", text)
    if alone and not re.search(r"[0-9]", alone[2]):
        unit = alone[2]
        if unit in read.SPELLINGS["torque"]:
            return {"no tolerance"}
        return {read.not_one("torque", re.sub(" (min|minimum|nominal)$", "", unit)) if unit else "no unit", "unknown unit"}
    return {"syntax"}


def between(q):
    low, high = torque(q["low"]), torque(q["high"])
    if "places" not in q:
        return ({"range"} if low < 0 or high <= 0 else set()) | ({"order"} if high < low else set())
    unit, ten = UNITS["torque"][q["unit"]], F(10)**q["places"]
    return {"nothing left"} if ceil(low / unit * ten) > floor(high / unit * ten) or floor(high / unit * ten) == 0 else set()


def percents(q):
    nominal, percent = torque(q["nominal"]), F(q["percent"])
    return {"range"} if not 0 <= percent <= 100 or nominal <= 0 else set()


def decisions(q):
    expanded, k = torque(q["expanded"]), F(q["k"])
    wrong = set()
    if expanded < 0 or k and not 1 <= k <= 10 or q["rule"] == "":
        wrong.add("range")
    if expanded == 0 and q["rule"] != "simple acceptance":
        wrong.add("no uncertainty")
    return wrong


def dials(q):
    lowest, highest, step, dial = (F(q[k]) for k in ("lowest", "highest", "step", "dial"))
    marks = range(0, int((highest - lowest) / step) + 1)
    if dial <= 0:
        return {"range"}  # nothing clicks at nothing
    if not lowest <= dial <= lowest + marks[-1] * step:
        return {"out of scale"}
    return set() if any(lowest + n * step == dial for n in marks) else {"too coarse"}


def marks(q):
    return set() if q["label"] in q["labels"] else {"unknown mark"}


def sequences(q):
    first, *turns = [s.strip().removesuffix(",") for s in re.split(r", then | then |,|\+", q["text"])]
    turns = [stage(t) for t in turns]
    return {"range"} if not turns or len(turns) > 12 or min(turns) == 0 or sum(turns) > 100 or read.quantity(first, "torque")[0] <= 0 else set()


def estimates(q):
    low, best, high = (F(q[k]) for k in ("low", "best", "high"))
    return (set() if low <= best <= high else {"drain order"}) | (set() if q["from"] else {"missing"})


def spreads(q):
    return {"negative"} if F(q["spread"]) < 0 else set()


def fuels(q):
    """Source: api-11-1. The range of temperatures, and of densities at 60 °F, which for these is far enough from that at another."""
    wrong, density = set(), F(q["density"])
    if not -50 <= F(q["celsius"]) <= 150:
        wrong.add("temperature")
    if density == 0:
        wrong.add("missing")
    elif not 450 < density < 1300:
        wrong.add("density")
    return wrong


def waters(q):
    return set() if 0 <= F(q["celsius"]) <= 100 else {"temperature"}


def levels(q):
    height, level = F(q["height"]), F(q["level"])
    return {"range"} if level > height else {"negative"} if level < 0 else set()


def pumps(q):
    wrong = set()
    for name in ("flow", "on", "share"):
        if F(q[name]) == 0:
            wrong.add("missing")
        if F(q[name]) < 0:
            wrong.add("negative")
    if F(q["share"]) > 100:
        wrong.add("range")
    if not wrong and F(q["void"]) / (F(q["flow"]) * 1000 * F(q["on"]) / 3600 * F(q["share"]) / 100) > 10**6:
        wrong.add("range")
    return wrong


KINDS = {f.__name__: f for f in (quantities, bands, between, percents, decisions, dials, marks, sequences, estimates, spreads, fuels, waters, levels, pumps)}


def refusals(q):
    want = KINDS[q["asked"]](q)
    return None if q["refused"] in want or not q["refused"] and not want else f"refused: {sorted(want)}"


if __name__ == "__main__":
    answer({"TestRefusals": refusals})
