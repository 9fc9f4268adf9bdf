"""Answers what threads_test.go asks: designations of threads read with one pattern, named by published tables, and screws turned."""
import re
import unicodedata
from fractions import Fraction as F

import read
from answer import answer

# Source: thread-tables. Coarse pitches of ISO 261, in millimetres.
COARSE = {F(d): F(p) for p, sizes in {"0.25": "1 1.1 1.2", "0.3": "1.4", "0.35": "1.6 1.8", "0.4": "2", "0.45": "2.2 2.5", "0.5": "3", "0.6": "3.5",
          "0.7": "4", "0.75": "4.5", "0.8": "5", "1": "6 7", "1.25": "8 9", "1.5": "10 11", "1.75": "12", "2": "14 16", "2.5": "18 20 22", "3": "24 27",
          "3.5": "30 33", "4": "36 39", "4.5": "42 45", "5": "48 52", "5.5": "56 60", "6": "64 68"}.items() for d in sizes.split()}


def table(text):
    """Threads to the inch by size, from lines of threads and sizes; + joins a whole number and a fraction."""
    return {size.replace("+", " "): F(line.split()[0]) for line in text.splitlines() for size in line.split()[1:]}


# Source: thread-tables. ASME B1.1.
SERIES = {
    "UNC": table("""64 #1
56 #2
48 #3
40 #4 #5
32 #6 #8
24 #10 #12
20 1/4
18 5/16
16 3/8
14 7/16
13 1/2
12 9/16
11 5/8
10 3/4
9 7/8
8 1
7 1+1/8 1+1/4
6 1+3/8 1+1/2
5 1+3/4
4.5 2 2+1/4
4 2+1/2 2+3/4 3 3+1/4 3+1/2 3+3/4 4"""),
    "UNF": table("""80 #0
72 #1
64 #2
56 #3
48 #4
44 #5
40 #6
36 #8
32 #10
28 #12 1/4
24 5/16 3/8
20 7/16 1/2
18 9/16 5/8
16 3/4
14 7/8
12 1 1+1/8 1+1/4 1+3/8 1+1/2"""),
    "UNEF": table("""32 #12 1/4 5/16 3/8
28 7/16 1/2
24 9/16 5/8 11/16
20 3/4 13/16 7/8 15/16 1
18 1+1/16 1+1/8 1+1/4 1+5/16 1+3/8 1+7/16 1+1/2 1+9/16 1+5/8 1+11/16"""),
}
# Source: asme-b1-1. Sizes of canisters and their studs in the other series.
OTHERS = {("1", 14): "UNS", ("1", 16): "UN", ("13/16", 12): "UN", ("13/16", 16): "UN"}
# Source: thread-tables. ASME B1.20.1 and ISO 228, to 2 in.
PIPES = {"NPT": table("27 1/16 1/8\n18 1/4 3/8\n14 1/2 3/4\n11.5 1 1+1/4 1+1/2 2"),
         "BSP": table("28 1/16 1/8\n19 1/4 3/8\n14 1/2 5/8 3/4 7/8\n11 1 1+1/8 1+1/4 1+1/2 1+3/4 2")}
PIPE = "(?:npt|nptf|nps|npsm|npsf|bsp|bspp|bspt|g|r|rc|rp)(?![a-z])"

AMOUNT = r"(?:\d+(?:[ -]\d+/\d+|[ -]?[¼½¾⅛⅜⅝⅞]|/\d+|\.\d+)?|[¼½¾⅛⅜⅝⅞])"
# One after the other, so that what was read as an amount stays one.
INCH = [re.compile(p) for p in ("(?P<mark>#|no\\.?)? *", f"(?P<size>{AMOUNT})", ' *(?:"|″|in(?![a-z]))? *[-–x×] *', f"(?P<per>{AMOUNT})", "(?P<tail>.*)")]
METRIC = [re.compile(r"m *(?P<size>\d+(?:\.\d+)?)(?: *(?:x|×|\*|-(?!\d[a-z])) *(?P<pitch>\d+(?:\.\d+)?))?(?P<tail>.*)")]
TAIL = re.compile(r"[ ()-]*(?:(?P<series>unc|unf|unef|uns|un)|(?P<lh>lh|left)(?:[ -]*hand)?|(?P<rh>rh|right)(?:[ -]*hand)?|(?P<class>\d[a-z]))(?![a-z])")


class Refused(Exception):
    pass


def amount(text):
    text = re.sub("[¼½¾⅛⅜⅝⅞]", lambda m: " " + unicodedata.normalize("NFKC", m[0]).replace("⁄", "/"), text).replace("-", " ").strip()
    return sum(F(part) for part in text.split())


def size(x):
    """1 1/8, as the tables write it."""
    whole, part = divmod(x, 1)
    return f"{whole} {part}" if whole and part else str(x)


def parts(patterns, text):
    """What the patterns match, one behind the other; None where one doesn't."""
    at, found = 0, {}
    for p in patterns:
        m = p.match(text, at)
        if not m:
            return None
        at = m.end()
        found.update(m.groupdict())
    return found


class Thread:
    def __init__(self, text):
        low = text.lower()
        self.metric = low.startswith("m")
        self.series = self.misnamed = self.cls = ""
        self.left, self.number = False, None
        m = parts(METRIC if self.metric else INCH, low)
        if not m:
            raise Refused("unknown unit" if re.match(rf'(?:{AMOUNT} *"? *)?{PIPE}', low) else "syntax")
        if self.metric:
            self.read_metric(m)
        else:
            self.read_inch(m)
        self.read_tail(m["tail"], text[len(text) - len(m["tail"]):])
        if not self.metric:
            self.name()

    def read_metric(self, m):
        d = F(m["size"])
        if not 0 < d <= 150:
            raise Refused("range")
        if m["pitch"] is None and d not in COARSE:
            raise Refused("unknown unit")
        p = COARSE[d] if m["pitch"] is None else F(m["pitch"])
        if not F("0.2") <= p <= 8 or p >= d:
            raise Refused("range")
        self.diameter, self.pitch = d, p
        self.size = f"M{read.written(d, read.places_of(d))}x{read.written(p, read.places_of(p))}"

    def read_inch(self, m):
        d, per = amount(m["size"]), amount(m["per"])
        if not 3 <= per <= 80:
            raise Refused("range")
        self.known_as = f"#{size(d)}"
        numbered = bool(m["mark"]) or any(t.get(self.known_as) == per for t in SERIES.values())
        if numbered and d not in (0, 1, 2, 3, 4, 5, 6, 8, 10, 12) or not numbered and not 0 < d <= 6:
            raise Refused("range")
        self.diameter, self.per = d * 254 / 10, per
        if numbered:  # 0.060 in and 0.013 in more with each number
            self.diameter = (60 + 13 * d) * F("0.0254")
        else:
            self.known_as = size(d)
        self.pitch = F("25.4") / per
        self.size = f"{self.known_as}-{read.written(per, read.places_of(per)) if read.places_of(per) is not None else size(per)}"

    def read_tail(self, tail, written):
        at = 0
        while at < len(tail):
            m = TAIL.match(tail, at)
            if not m:
                break
            if m["series"] and (self.metric or self.series) or m["class"] and self.cls:
                raise Refused("syntax")
            self.series = (m["series"] or self.series).upper()
            self.left = self.left or bool(m["lh"])
            if m["class"]:
                self.cls = written[m.start("class"):m.end("class")]
                self.cls = self.cls if self.metric else self.cls.upper()
            at = m.end()
        rest = tail[at:].strip(" ()")
        if re.match(PIPE, rest.strip("-")):
            raise Refused("unknown unit")
        if rest:
            raise Refused("syntax")

    def name(self):
        key, per = self.known_as, self.per
        known = next((name for name, t in SERIES.items() if t.get(key) == per), OTHERS.get((key, per), ""))
        if not self.series:
            if not known and any(t.get(key) == per for t in PIPES.values()):
                raise Refused("ambiguous")
            self.series = known
        elif self.series in SERIES and key in SERIES[self.series] and SERIES[self.series][key] != per:
            if (key, per, self.series) != ("1", 14, "UNF"):  # as everybody says
                raise Refused("ambiguous")
            self.series, self.misnamed = known, self.series
        elif known and known != self.series:
            self.series, self.misnamed = known, self.series

    def __str__(self):
        return self.size + (f" {self.series}" if self.series else "") + (f"-{self.cls}" if self.cls else "") + ("-LH" if self.left else "")


def millimetres(x):
    places = read.places_of(x)
    if places is None:
        places, x = 12, F(round(x * 10**12), 10**12)
    return f"{read.written(x, places)} mm"


def match(a, b):
    """What a canister does on a stud."""
    if (a.diameter, a.pitch, a.left) == (b.diameter, b.pitch, b.left):
        return "fits"
    if a.diameter - F("1.0825") * a.pitch >= b.diameter:
        return "does not engage"
    alike = a.left == b.left and F(9, 10) * b.pitch <= a.pitch <= F(11, 10) * b.pitch
    if alike and a.diameter > b.diameter:
        return "spins home"
    return "should bind" if alike and a.diameter >= F(9, 10) * b.diameter else "other thread"


def contact(thread, q):
    expected, counted, within, gasket = (F(q[k]) for k in ("expected", "counted", "within", "gasket"))
    late = counted - expected
    off, slack = abs(late) * thread.pitch, within * thread.pitch
    if abs(late) <= within:
        return "expected"
    if gasket - slack <= off <= gasket + slack:
        return "second gasket" if late < 0 else "missing gasket"
    return "early" if late < 0 else "missed" if off < gasket else "late"


def threads(q):
    try:
        thread = Thread(q["text"])
    except Refused as why:
        return None if q["refused"] == str(why) else f"refused: {why}"
    if q["refused"]:
        return f"{thread}"
    if (q["name"], q["misnamed"], q["left"]) != (str(thread), thread.misnamed, thread.left):
        return f"{thread}, misnamed {thread.misnamed!r}"
    if F(q["lead"]) != thread.pitch or F(q["diameter"]) != thread.diameter:
        return f"lead {thread.pitch}, diameter {thread.diameter}"
    if q["advance"] != millimetres(thread.pitch * F(q["turn"])):
        return f"advance {millimetres(thread.pitch * F(q['turn']))}"
    want = match(thread, Thread(q["stud"]))
    if q["match"] != want:
        return want
    want = contact(thread, q)
    return None if q["contact"] == want else want


if __name__ == "__main__":
    answer({"TestThreads": threads})
