"""Holds a record against the review of its readings: every line, figure and total of it, its hash, and what it says in words."""
import hashlib
import json
import re

from expect import Estimate, duration, spoken
from figures import LENGTH, NEAREST, VOLUME, F, Q, band, degrees, fraction, instruction, parse, place, rounded, turn, turns, written
from forms import amount, figures, same
from pages import NUMBER, Wrong, follow, plain


def canonical(x):
    """RFC 8785, for what has no numbers but whole ones. Source: rfc-8785."""
    return json.dumps(x, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def is_(want, got):
    """Whether a record has a value, in whatever form its kind is written."""
    try:
        if isinstance(want, Q):
            return got.keys() == {"value", "unit"} and got["unit"] == want.unit and abs(F(got["value"]) - want.v) <= want.slack
        if isinstance(want, Estimate):
            return got.keys() == {"low", "best", "high", "from"} and got["from"] == want.source and all(is_(q, got[k]) for q, k in zip(want.all, ("low", "best", "high")))
        if isinstance(want, F):
            return abs(F(got["value"]) / 360 - want) < F(1, 10**15) if isinstance(got, dict) else turn(got) == want
        if isinstance(want, tuple) and want[0] == "band":
            return all((a.v, a.unit) == (b.v, b.unit) for a, b in zip(band(got), want[1:]))
        if isinstance(want, tuple) and want[0] == "time":
            return duration(got) == want[1]
        if isinstance(want, tuple):
            return instruction(got) == want
        if isinstance(want, dict):
            return want.keys() == got.keys() and all(is_(v, got[k]) for k, v in want.items())
        if isinstance(want, list):
            return len(want) == len(got) and all(map(is_, want, got))
        return type(want) is type(got) and want == got
    except (AttributeError, KeyError, TypeError, ValueError):
        return False


def plainly(x):
    """An expectation for people."""
    if isinstance(x, Q):
        return f"{float(x.v)} {x.unit}"
    if isinstance(x, Estimate):
        return [plainly(q) for q in x.all] + [x.source]
    if isinstance(x, dict):
        return {k: plainly(v) for k, v in x.items()}
    return [plainly(v) for v in x] if isinstance(x, (list, tuple)) else str(x) if isinstance(x, F) else x


def hold(where, got, want):
    if not is_(want, got):
        raise Wrong(f"{where}: it has {got}, not {plainly(want)}")
    return len(NUMBER.findall(json.dumps(got)))


def kept(where, file, record):
    """What went in is what came from the file, each leaf as it was written."""
    if isinstance(file, dict):
        for k, v in file.items():
            if k in record or v:
                kept(f"{where}.{k}", v, record.get(k))
        if more := record.keys() - file.keys():
            raise Wrong(f"{where}: it has {more}, and the file hasn't")
    elif isinstance(file, list):
        if len(file) != len(record):
            raise Wrong(f"{where}: {len(record)} of {len(file)}")
        for i, (a, b) in enumerate(zip(file, record)):
            kept(f"{where}[{i}]", a, b)
    elif file != record and not any(alike(read, file, record) for read in READERS):
        raise Wrong(f"{where}: it has {record}, and the file {file}")


def sequence(text):
    torque, stages = text.split(" then ")
    return torque, [turn(t) for t in stages.split(" + ")]


# How a text of a file may be meant. A record has turns as fractions, quantities as objects.
READERS = [F, turn, instruction, sequence, lambda t: [(q.v, q.unit) for q in band(t)], lambda t: duration(t) or t,
           lambda t: (lambda q: (q.v, q.unit))(parse(amount(t) if isinstance(t, dict) else t))]


def alike(read, file, record):
    try:
        return read(file) == read(record)
    except (AttributeError, KeyError, TypeError, ValueError):
        return False


def check_record(sheet, review, done, data):
    record = json.loads(data)
    if data != canonical(record):
        raise Wrong("record: its bytes aren't canonical")
    rest = {k: v for k, v in record.items() if k != "sha256"}
    if record["sha256"] != hashlib.sha256(canonical(rest).encode()).hexdigest():
        raise Wrong("record: its hash isn't that of the rest")
    for part, file in (("job", sheet.job), ("asDone", done), ("rules", sheet.rules)):
        kept(f"record, {part}", file, record[part])
    n = 0
    for i, (got, want) in enumerate(zip(record["lines"], review.lines)):
        where = f"record, line {i}, {want['where']}, {want['code']}"
        for key in want.keys() | got.keys():
            if key != "sources" or want["sources"] or key in got:
                n += hold(f"{where}, {key}", got.get(key), want.get(key))
    if len(record["lines"]) != len(review.lines):
        raise Wrong(f"record: {len(record['lines'])} lines, not {len(review.lines)}")
    for i, (got, want) in enumerate(zip(record["totals"], review.totals, strict=True)):
        n += hold(f"record, total {i}", got, want)
    for i, (got, want) in enumerate(zip(record["clauses"], review.clauses(), strict=True)):
        n += hold(f"record, clause {i}", got, want)
    hold("record, complete and as planned", [record["complete"], record["asPlanned"]], [review.complete, review.as_planned])
    return n, record


# What a message says around its values, as far as it has any.
SAYS = {
    "want.torque": "{band}", "want.printed": "{printed}", "want.snug": "{torque}, within {band}", "want.snug/open": "{torque}, no tolerance", "want.turn": "{turn}",
    "want.angle": "{angle} in all", "want.angle/stage": "stage {stage}: {angle}", "want.contact": "{turns} from first thread to contact, give or take {count}",
    "want.stop-turns": "{turns} from first thread to stop, give or take {count}", "want.back": "{what}", "want.volume": "{volume} at {at}",
    "want.flash": "more than {margin} below the least flash point of {grade}, {flash}", "want.paper/part": "{part}", "want.mass": "{waste}: mass {mass}",
    "want.mass/unknown": "{waste}: mass unknown", "want.scale": "{waste}: a scale shows {mass}", "want.most": "at most {most}", "want.least": "at least {least}",
    "want.count": "{least} to {most}", "want.month": "{category} under {rules}, as of {as-of}", "want.month/unknown": "under {rules}, as of {as-of}",
    "found.torque": "{torque}, U = {U} at k = {k}, with {wrench}", "found.torque/no-U": "{torque}, uncertainty not known, with {wrench}",
    "found.torque/clicked": "set to {torque}, clicked, with {wrench}", "found.at-fastener": "{read}: {least} to {most} at the fastener",
    "found.at-fastener/about": "{read}: about {torque} at the fastener", "found.turn": "{turn}", "found.marks": "before: {before}; after: {after}",
    "found.angle": "{angle}, read by eye", "found.angle/tool": "{angle}, with {tool}", "found.volume": "{volume} at {at}", "found.volume/range": "{volume} at {at}",
    "found.volume/within": "{volume} ± {deviation} at {at}", "found.volume/jug": "{volume} at {at}, the jug good to ± {deviation}", "found.temperature": "{at}",
    "found.text": "{text}", "found.meter": "{hours} h, {distance}", "found.meter/hours": "{hours} h", "found.meter/distance": "{distance}", "found.count": "{count}",
    "found.time": "{time}", "found.mass": "mass {mass}", "found.scale": "the scale shows {mass}",
    "found.scale/corrected": "the scale shows {mass}, corrected for the air with {density}",
    "found.scale/any": "the scale shows {mass}: for any density from {low} to {high} a mass of {is}", "found.month": "this job: {mass}", "found.month/unknown": "",
    "why.torque": "rule ({rule})", "why.unit-slip": "{units}", "why.lever-unknown": "with {adapter}", "why.no-lever": "with {adapter}, a {kind}",
    "why.no-setting": "{set} is no setting of {wrench}, which has {lowest} to {highest} in steps of {step}", "why.no-setting/unlisted": "no wrench {wrench}",
    "why.off-scale/unit": "{wrench} shows {shows} and no {unit}", "why.off-scale/above": "{torque} is above the scale of {wrench}, which ends at {end}",
    "why.off-scale/below": "{torque} is below the scale of {wrench}, which begins at {end}", "why.not-listed/wrench": "{tool} isn't one of the job's wrenches ({tools})",
    "why.not-listed/gauge": "{tool} isn't one of the job's gauges ({tools})", "why.out-of-calibration": "{tool} was calibrated until {until}",
    "why.turn/unclear": "within {out} of the reading", "why.other-mark": "expects {mark} at the index", "why.contact/as-expected": "",
    "why.contact": "by {turns}, {advance}", "why.seated/torque": "it would be {verdict}", "why.count/unknown": "{unknown}", "why.look-for": "",
    "why.month-planned": "{planned} of {all}", "why.month-planned/all": "", "why.month/stays": "under {rules}, the site stays {category}, {title}",
    "why.month/moves": "under {rules}, the site may move from {before} to {after}, {title}", "why.month/unknown": "{unknown}",
    "waste.name/fuel": "drained fuel", "waste.name/water": "water and fuel drained at station {station}", "waste.name/element": "used element of station {station}, wet",
    "total.unknown": "{unknown}", "total.air/given": "with {density}, as given", "total.air/liquid": "density at {at}", "total.air/any": "density from {low} to {high}",
    "total.part": "{read} of {all} stations read", "total.jug": "{count} read with a jug",
    # Rules.
    "torque/simple-acceptance": "", "torque/guarded-by-U": "by U at k = 2 or more", "torque/guarded-for-95": "95 % or more, U at k = 2",
    "torque/non-binary": "by U at k = 2 or more", "turn": "{eye} either way", "turn.tolerance": "{less} less to {more} more", "contact": "within {count} of those",
    "seat.turns": "within {count} of those", "flash": "within {margin} of its", "weight": "from {least} to {most}",
}


def say(sheet, m):
    """What a message has to say; "" where it has no figures."""
    code, variant = m["code"], m.get("variant", "")
    values = m.get("values", {})
    if code == "why.rounds-not-counted":
        return " ".join(f"{values[f'times-{k}']} ×: {values[f'reach-{k}']}." for k in range(1, len(values) // 2 + 1))
    form = SAYS.get(f"{code}/{variant}" if variant else code, SAYS.get(code))
    if form is None:
        if values:
            raise Wrong(f"nobody knows what {m} says")
        return ""
    if lacks := [k for k in re.findall(r"\{([^}]+)\}", form) if k not in values]:
        raise Wrong(f"{m} has no {lacks}")
    return re.sub(r"\{([^}]+)\}", lambda x: printed_(sheet, x[1], values[x[1]]), form)


def printed_(sheet, name, v):
    """A value of a record in words."""
    if isinstance(v, dict) and v.keys() == {"value", "unit"}:
        q = parse(amount(v))
        if name == "margin":
            return sheet.mark(f"{q.text()} ({written(rounded(q.v * 5 / 9, 1, NEAREST), 1)} °C)")
        if name == "advance":
            q = Q(rounded(q.v, min(3, q.places), NEAREST), q.unit, min(3, q.places))
        if q.unit == "°":
            return sheet.mark(degrees(q.v / 360))
        if q.unit in ("°C", "°F", "K"):
            return sheet.temperature(q)
        return sheet.quantity(q, VOLUME, "volume") if q.unit in VOLUME else sheet.length(q) if q.unit in LENGTH else sheet.mark(q.text())
    if isinstance(v, dict) and "low" in v:
        e = Estimate(*(parse(amount(v[k])) for k in ("low", "best", "high")), v["from"])
        return sheet.volumes(e) if e.best.unit in VOLUME else sheet.masses(e)
    if isinstance(v, dict) and "code" in v:
        return say(sheet, v)
    if isinstance(v, dict):
        half = F(v.get("share", "1/2")) if "next" in v else None
        return place((v["mark"], v.get("next"), half, turn(v["past"]) if "past" in v else None), "bare")
    if isinstance(v, list):
        return (" to " if name == "angle" else "; " if name == "tools" else ", ").join(printed_(sheet, "", x) for x in v)
    if name == "band":
        return sheet.band_text(band(v))
    if " after " in str(v) and name == "turn":
        low, high, datum = instruction(v)
        return (f"{fraction(low)} to " if low != high else "") + f"{turns(high)} after {datum}"
    if re.fullmatch(r"(?:\d+ )?\d+/\d+ turns?|\d+ turns?", str(v)):
        return turns(turn(v))
    if name in ("time", "most", "least") and isinstance(v, str):
        return sheet.mark(spoken(duration(v)))
    return str(v)


def check_words(sheet, record, words):
    """Each line, total and rule says its figures; in Spanish the same in that order."""
    head, *blocks = re.split(r"(?m)^   -   ", words["en"])
    lines, totals, rules = record["lines"], record["totals"], record["clauses"]
    done = record["asDone"]
    state = "NOT COMPLETE" if not record["complete"] else "complete, as planned" if record["asPlanned"] else "complete, NOT AS PLANNED"
    zone = f" ({done['zone']})" if "zone" in done else ""
    follow("record in words", plain(head), [f"VERIFIED: release {record['release']}", f"Job {done['job']}, revision {done['revision']}, done {done['date']}{zone}: {state}"])
    due = [[f"{x['where']}: {x['verdict']}:", *(say(sheet, r) for r in x["reasons"]), say(sheet, x["found"]) if "found" in x else "", say(sheet, x["want"])] for x in lines]
    for t in totals:
        mass = printed_(sheet, "mass", t["mass"]) if "mass" in t else "not stated"
        name = t["what"] if "what" in t else t["stream"] + (f", station {t['station']}" if "station" in t else "")
        due.append([f"{name}: {mass} ({t['basis']}).", *(say(sheet, n) for n in t.get("notes", []))])
    due += [[say(sheet, c), "; ".join(s if NUMBER.search(s) else s.replace("-", " ") for s in c["sources"] if NUMBER.search(s))] for c in rules]
    if len(blocks) != len(due):
        raise Wrong(f"record in words: {len(blocks)} lines, not {len(due)}")
    for i, (block, items) in enumerate(zip(blocks, due)):
        if i == len(lines) + len(totals) - 1 or not totals and i == len(lines) - 1:
            items.append(f"By the rules named {record['rules']['name']}:")
        follow(f"record in words, line {i}", plain(block), [x for x in items if x])
    labels = [label for s in sheet.stations for label in s["tighten"].get("marks", {}).get("labels", [])]
    spanish = re.split(r"(?m)^   -   ", words["es"])
    if len(spanish) != len(blocks) + 1:
        raise Wrong(f"record in Spanish words: {len(spanish) - 1} lines, not {len(blocks)}")
    for i, (es, en) in enumerate(zip(spanish, [head, *blocks])):
        parts = [re.split(r"\n {7}(?=(?:found|hallado): )", x) for x in (es, en)]
        for a, b in zip(*parts, strict=True):
            among = labels if b.startswith("found: at the index") else ()
            same(f"record in Spanish words, line {i}", figures(a, among), figures(b, among))
    return len(NUMBER.findall(words["en"])) + len(NUMBER.findall(words["es"]))
