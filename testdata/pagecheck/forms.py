"""Holds the other forms of a sheet against those that are read already: ASCII and JSON against the text, and another language against
the English, whose numbers, units, directions, marks, names and pictures it has to have in the same order."""
import functools
import re
from fractions import Fraction as F

from figures import DENSITY, FLOW, LENGTH, MASS, TORQUE, VOLUME, celsius, in_scale, parse, turn
from pages import DIRECTION, NUMBER, Wrong, equal, plain, text_pages, unlead
from pictures import marks

TABLES = [TORQUE, LENGTH, VOLUME, MASS, DENSITY, FLOW]
UNITS = sorted({u for t in TABLES for u in t} | {"°C", "°F", "K", "°", "%", "s", "min", "h"}, key=len, reverse=True)
SPANISH = {"sentido horario": "clockwise", "sentido antihorario": "counterclockwise", "hacia la izquierda": "to the left", "hacia la derecha": "to the right",
           "de izquierda a derecha": "left to right", "de derecha a izquierda": "right to left", "nota": "note", "atención": "caution", "advertencia": "warning", "alto": "stop"}
SAID = re.compile(r"\b(?:" + "|".join(list(SPANISH)[:6]) + r")\b", re.I)
UNIT = rf"(?:{'|'.join(map(re.escape, UNITS))})(?!\w)"
FIGURE = rf"{NUMBER.pattern}(?:…? ?{UNIT})?|(?i:{DIRECTION.pattern})|\"[^\"]+\""


def figures(text, labels=()):
    """The numbers with their units, the directions, the quotations and the marks of a ring, in their order."""
    text = SAID.sub(lambda m: SPANISH[m[0].lower()], plain(text))
    return [m[0] if m[0] in labels else m[0].lower() for m in finder(tuple(labels)).finditer(text)]


@functools.cache
def finder(labels):
    return re.compile(FIGURE + "".join(rf"|(?<!\w){re.escape(label)}(?!\w)" for label in labels))


def same(where, got, want):
    for i, (a, b) in enumerate(zip(got, want)):
        if a != b:
            raise Wrong(f"{where}: {a!r} where {b!r} is due, after {got[max(0, i - 4):i]}")
    if len(got) != len(want):
        raise Wrong(f"{where}: {got[len(want):]} too many, {want[len(got):]} missing")
    return len(got)


def labels_of(sheet, n):
    """The marks that a page speaks of."""
    page = sheet.pages[n]
    return next((s["tighten"].get("marks", {}).get("labels", ()) for s in sheet.stations if page.code == "card" and s["id"] == page.station), ())


# ASCII.
ASCII = {"°C": "degC", "°F": "degF", " °": " deg", "°": " deg", "·": ".", "×": "x", "µ": "u", "μ": "u", "±": "+/-", "²": "2", "³": "3", "₂": "2", "…": "...",
         "–": "-", "—": "-", "−": "-", "‘": "'", "’": "'", "“": '"', "”": '"'}


def ascii_of(text):
    for character, form in ASCII.items():
        text = text.replace(character, form)
    return re.sub(r"[^\x00-\x7f]", "?", text)


def check_ascii(text, got):
    if not got.isascii():
        raise Wrong(f"ASCII: it has {sorted(set(c for c in got if not c.isascii()))}")
    pages, want = text_pages(got), text_pages(text)
    if len(pages) != len(want):
        raise Wrong(f"ASCII: {len(pages)} pages, not {len(want)}")
    for n, (a, b) in enumerate(zip(pages, want), 1):
        for got_part, due in zip(a, b):
            same(f"ASCII, page {n}", plain(got_part).split(), ascii_of(plain(due)).split())
    return len(NUMBER.findall(got))


# JSON.
def spoken(item):
    """An item as it is in the text."""
    if table := item.get("table"):
        heads = table["heads"]
        return " ".join(f"{heads[0]} {c[0]}: {'; '.join(f'{h} {x}' for h, x in zip(heads[1:], c[1:], strict=True))}" for c in table["columns"])
    lead = item["letter"] + ". " if "letter" in item else item["level"] + ("" if item["kind"] == "finding" else ":") + " " if "level" in item else ""
    return lead + item.get("words", "") + (f" ({item['source']})" if "source" in item else "")


def check_json(sheet, form, data, lang):
    j, number, own = sheet.job, 0, set(texts(sheet.job))
    head = {"version": 1, "lang": lang, "job": j["id"], "revision": j["revision"], "date": j["date"], "machine": j["machine"], "invented": True}
    head |= {k: j[k] for k in ("zone", "place") if j.get(k)}
    if {k: v for k, v in data.items() if k != "pages"} != {k: v for k, v in head.items() if k != "invented" or j.get("invented")}:
        raise Wrong("JSON: another head")
    svgs = [list(node.all("svg")) for node in form["tree"].one("main").all("section", "page")]
    for n, (page, due, (_, body), drawn) in enumerate(zip(data["pages"], sheet.pages, text_pages(form["text"]), svgs, strict=True), 1):
        where = f"JSON, {lang}, page {n}"
        if (page["number"], page["code"], page.get("station")) != (n, due.code, due.station):
            raise Wrong(f"{where}: it is another page")
        after = []  # the turns of a sequence
        for section in page["sections"]:
            for item in section["items"]:
                if lang == "en":  # the other's are the same
                    values(where, item, own, after)
                if item["code"] == "sequence.stage":
                    after.append(item["values"]["angle"])
        items = [i for s in page["sections"] for i in s["items"]]
        shown = [i["picture"] for i in items if "picture" in i]
        if len(shown) != len(drawn) or bool(shown) != bool(due.picture):
            raise Wrong(f"{where}: {len(shown)} pictures, {len(drawn)} drawn")
        for picture, svg in zip(shown, drawn):
            equal(f"{where}, picture, title", picture["title"], svg.one("title").text())
            equal(f"{where}, picture", picture["words"], svg.one("desc").text())
            check_drawn(f"{where}, picture", picture, due.picture)
    return number


def check_drawn(where, picture, want):
    if "adapter" in want:
        lever = picture["adapter"]
        if parse(amount(lever["angle"])).v != want["angle"]:
            raise Wrong(f"{where}: an adapter at {lever['angle']}, not {want['angle']}")
        return
    ring = picture["ring"]
    got = (ring["view"], ring["sense"], *(turn(ring[k]) for k in ("least", "aim", "most")))
    if got != (want["view"], want["sense"], want["least"], want["aim"], want["most"]):
        raise Wrong(f"{where}: {got}, not {want}")
    due, got = marks(want), [(m.get("label"), turn(m["at"])) for m in ring["marks"]]
    if got[0] != due[0] or sorted(got[1:]) != sorted(due[1:]):
        raise Wrong(f"{where}: its marks are {ring['marks']}, not {due}")


def texts(x):
    """All texts of a job."""
    if isinstance(x, (dict, list)):
        for v in x.values() if isinstance(x, dict) else x:
            yield from texts(v)
    else:
        yield str(x)


def amount(v):
    return f"{v['value']} {v['unit']}"


def values(where, item, own, before):
    """What a program reads is what the words say, as it is or rounded, or else the job's own; for a turn of a sequence also which it
    is and what it comes to with those before."""
    words = plain(item.get("words", "") + " " + item.get("source", "")).replace(" + ", " ")
    numbers = [(F(m.replace(",", ".")), len(m.replace(",", ".").partition(".")[2])) for m in NUMBER.findall(words) if re.fullmatch(r"\d+(?:[.,]\d+)?", m)]

    def said(v):
        q = parse(amount(v))
        if q.unit in ("°C", "°F", "K"):
            shown = [in_scale(celsius(q), u) for u in ("°C", "°F", "K") if u in words]
        else:
            table = next((t for t in TABLES if q.unit in t), None)
            shown = [q.to(table, u) for u in table if u in words] if table else [q.v]
        return any(abs(abs(v) - n) * 10**p < 1 for v in shown for n, p in numbers)

    def check(name, v):
        if isinstance(v, dict) and {"value", "unit"} == v.keys():
            ok = said(v) or not F(v["value"]) or amount(v) in own
        elif isinstance(v, (dict, list)):
            for part in v.values() if isinstance(v, dict) else v:
                check(name, part)
            return
        else:
            ok = str(v) in own or all(m in words or m.replace(".", ",") in words or not F(m) for m in NUMBER.findall(str(v)))
        if not ok:
            raise Wrong(f"{where}, {item['code']}: its {name} is {v}, and it says {words!r}")
    if item["code"] == "sequence.stage":
        v, turns_ = dict(item["values"]), [*before, item["values"]["angle"]]
        count, all_, total = (v.pop(k) for k in ("stage", "stages", "total"))
        off = parse(amount(total)).v - sum(parse(amount(t)).v for t in turns_)
        if count != len(turns_) or not count <= all_ <= 9 or abs(off) > F(1, 10**9):
            raise Wrong(f"{where}: it says {item['values']} after {before}")
        item = item | {"values": v}
    if "words" in item:
        check("values", item.get("values", {}))


# Another language.
def check_spanish(sheet, english, spanish):
    """The text and the HTML have the figures of the English in the same order, the HTML its names and drawings, the JSON its values."""
    said = 0
    for n, (a, b) in enumerate(zip(text_pages(spanish["text"]), text_pages(english["text"]), strict=True)):
        said += same(f"Spanish text, page {n + 1}", figures(" ".join(a), labels_of(sheet, n)), figures(" ".join(b), labels_of(sheet, n)))
    pages = [list(form["tree"].one("main").all("section", "page")) for form in (spanish, english)]
    for n, (a, b) in enumerate(zip(*pages, strict=True)):
        said += same(f"Spanish HTML, page {n + 1}", blocks(a, labels_of(sheet, n)), blocks(b, labels_of(sheet, n)))
    same("Spanish JSON", codes(spanish["json"]), codes(english["json"]))
    return said


def blocks(page, labels):
    """All that a page of HTML has but words: its elements, the figures in their words, the job's own texts, and what is drawn."""
    found = []
    for node in page.all():
        where = (node.tag, *(c for c in node.classes() if c not in ("dense", "long")))
        if node.tag in ("p", "h2", "h3", "th", "td", "title", "desc"):
            found += [where, *figures(node.text(), labels)]
        elif node.tag in ("path", "circle", "text"):
            words = figures(node.text(), labels) if node.tag == "text" else []
            found += [where, *(node.attrs.get(k) for k in ("d", "x", "y", "cx", "cy", "r")), *words]
        elif node.attrs.get("translate") == "no":
            found.append(node.text())
        elif node.tag not in ("span", "b", "footer"):
            found.append(where)
    return found


def codes(data):
    """A sheet as data, without its words."""
    found = []
    def walk(x, name=""):
        if isinstance(x, dict):
            for k, v in x.items():
                if k not in ("lang", "title", "words", "heads", "source", "columns", "own"):
                    walk(v, k)
        elif isinstance(x, list):
            for v in x:
                walk(v, name)
        else:
            found.append((name, x))
    walk(data)
    return found
