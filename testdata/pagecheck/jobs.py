"""The jobs whose pages are recomputed: all files of jobs in the repository, and what these become by an edit here and there."""
import copy
import glob
import json
import os
import random
import re
from fractions import Fraction as F

from expect import estimate as sheet_estimate
from figures import MASS, Q, Ring, TORQUE, VOLUME, celsius, written
from figures import turn as turn_of

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
AMERICAN = {"volume": "US gal", "mass": "lb", "temperature": "°F", "length": "in"}
METRIC = {"volume": "L", "mass": "kg", "temperature": "°C", "length": "mm", "decimalComma": True}


def load(name):
    with open(os.path.join(ROOT, name), encoding="utf-8") as f:
        return json.load(f)


def estimate(low, best, high, source="measured"):
    return {"low": low, "best": best, "high": high, "from": source}


def wrench(lowest, highest, step, **more):
    unit = lowest.split(" ")[1]
    more = {"id": "W-1", "calibratedUntil": "2027-06-30"} | more
    if "absoluteDeviation" not in more:
        more.setdefault("deviation", "4 %")
    return more | {"lowest": lowest, "highest": f"{highest} {unit}", "step": f"{step} {unit}"}


def turn(text, labels="", **more):
    t = {"turn": text, "thread": more.pop("thread", "right hand")} | {k: more.pop(k) for k in ("contactTurns", "stud", "canister") if k in more}
    if labels:
        t["marks"] = {"labels": labels.split(" "), "order": "clockwise", "index": "the rib on the head", "view": "facing the closed end"} | more
    return t


RULES = load("service/testdata/rules.json")
PAPERS = RULES | {"torque": "simple acceptance", "eye": "5°", "needs": {"part": True, "batch": True}}
BOAT, FIELD, COVER, CARTRIDGE = ("service/testdata/jobs/" + n + ".json" for n in ("three-stations", "two-stations", "cover-and-cap", "cartridge"))
T0, T1 = "stations.0.tighten", "stations.1.tighten"
LEVER = {"name": "claw", "lever": {"offset": "50 mm", "angle": "0°"}}
# A job, what is put where (None: taken out), and by which rules.
EDITS = [
    (BOAT, {"preferences": AMERICAN, "shop.torqueUnit": "in-lb"}, RULES),
    (BOAT, {"fuel.caughtAt": "55 °C", "fuel.measuredAt": "-4 °C", "shop.panHolds": "1 L", "stations.0.drain.waterUnknown": True}, None),
    (BOAT, {"fuel.caughtAt": "101 °F", "shop.panHolds": "1.35 L", "stations.0.drain.water": estimate("0.1 L", "0.2 L", "0.25 L"),
            "preferences": {"temperature": "K"}}, RULES),
    (BOAT, {"stations.0.drain.out": None, "stations.1.element.dry": None, "prime.void": None,
            "interval": {"distance": "12000 km", "distancePerWeek": "350 km"}}, None),
    (BOAT, {T1: turn("1/2 to 5/8 turn after snug", "1 2 3 4 5 6", atContact="2", order="counterclockwise", thread="left hand"),
            "stations.2.tighten.thread": "left hand"}, RULES),
    (BOAT, {T1: turn("1 1/8 turns after gasket contact", "1 2 3 4 5 6 7 8", drawnAt="3"),
            "stations.2.tighten": turn("3/4 turn after finger tight")}, RULES),
    (BOAT, {T1: turn("210° after gasket contact", "A B", view="facing the closed end, in a mirror"),
            "stations.2.tighten": turn("1 to 2 1/6 turns after gasket contact", "1 7 I l", atContact="7")}, RULES),
    (BOAT, {T1: turn("1/4 to 3/4 turn after gasket contact", "O 1 2", stud="M20x1.5", canister="1-16 UN"),
            "stations.2.tighten": turn("1/12 turn after snug")}, RULES),
    (BOAT, {T1: turn("1/2 to 1 1/3 turns after gasket contact", "A B C D E F", view="from beside, closed end up", order="counterclockwise")}, RULES),
    (BOAT, {T0: {"torque": "1.2 to 1.8 kgf·m", "thread": "left hand"}, "shop.wrenches": [wrench("1.0 kgf·m", "3.0", "0.1")],
            "shop.torquePlaces": 2}, None),
    (FIELD, {"preferences": METRIC, "shop.torqueUnit": "N·m", "waste.drum.inside": estimate("52 US gal", "53 US gal", "54 US gal")}, RULES),
    (FIELD, {T0 + ".printed": "26-34 ft-lb (40-50 N·m)", "waste.month.soFar": estimate("99 kg", "99.5 kg", "99.8 kg"),
             "waste.drum.filledAt": "-10 °C", "prime.void": None}, RULES),
    (FIELD, {T0 + ".printed": "18-20 ft-lb (25-27 N·m)", "date": "2027-02-01", "waste.month.soFar": None, "waste.drum.inside": None,
             "fuel.density": "35.2 °API", "fuel.densityAt": None}, None),
    (FIELD, {T0 + ".adapter.lever": {"offset": "3 in", "angle": "142.5°", "offsetTolerance": "0.1 in"},
             "shop.wrenches.0.lengthTolerance": "0.25 in", "fuel.density": "0.845 (60/60 °F)", "fuel.densityAt": None}, RULES),
    (FIELD, {T0 + ".adapter": {"name": "strap", "kind": "strap wrench"}, "stations.0.fill": "prefill", "stations.0.prefillShare": "3/4",
             "prime.pump.flow": None}, RULES),
    (FIELD, {"shop.wrenches": [wrench("30 in-lb", "150", "1"), wrench("5 N·m", "25", "0.5", id="W-2")],
             "waste.drum": {"capacity": "200 L", "filledAt": "60 °C", "inside": estimate("195 L", "196 L", "197 L")}}, None),
    (FIELD, {"shop.wrenches": [wrench("10 ft-lb", "80", "40"), wrench("10 N·m", "80", "1", id="W-2", deviation="20 %"),
                                wrench("10 N·m", "80", "1", id="W-3")], T0 + ".adapter.lever.angle": "45°"}, RULES),
    (FIELD, {"shop.wrenches": [wrench("10 ft-lb", "80", "0.5", deviationBasis=b, id=b, length=f"{mm} mm")
                                for b, mm in (("of dial", 400), ("of reference", 410), ("of full scale", 420))], T0 + ".adapter": LEVER}, RULES),
    (FIELD, {"shop.wrenches": [wrench("10 N·m", "80", "1", absoluteDeviation="1 N·m", deviationBasis="absolute")], T0 + ".adapter": None,
             "stations.0.fill": "prefill", "stations.0.kind": "in-line", "stations.0.prefillWith": "8 US fl oz"}, RULES),
    (COVER, {"preferences": METRIC | {"temperature": "°F"}, "shop.torqueUnit": "N·m", "shop.wrenches": None,
             "waste.drum": {"capacity": "60 L", "filledAt": "15 °C", "inside": estimate("57.6 L", "57.8 L", "58 L")}}, RULES),
    (COVER, {T0 + ".snug": None, T0 + ".within": None, T0 + ".sequence": "40 N·m then 120° + 1/2 turn + 3/4 turn", "date": "2026-10-06",
             T1 + ".seat.torque": "max 12 N·m"}, None),
    (COVER, {T0 + ".within": {"less": "0°", "more": "20°"}, T0 + ".adapter": None, "shop.wrenches.0.step": "1 ft-lb",
             T1 + ".seat": {"gap": "under the cap"}, "shop.gauges.0.calibratedUntil": "2026-01-31"}, RULES),
    (COVER, {T0 + ".snug": None, "shop.wrenches.0.highest": "20 ft-lb", T1 + ".seat.torque": "20 ± 5 N·m",
             "shop.jugDeviation": "20 mL"}, RULES),
    (CARTRIDGE, {"preferences": AMERICAN, "shop.torqueUnit": "ft-lb", "stations.0.drain.water": estimate("0 mL", "20 mL", "60 mL"),
                 "stations.0.seals.0.wet": None, "stations.0.seals.0.dry": True, "stations.0.prefillWith": None,
                 "stations.0.prefillShare": "0.75"}, RULES),
    (CARTRIDGE, {T0 + ".torque": "25 N·m ± 10 %", T0 + ".adapter": LEVER, "shop.localRules": "no. 12, page 3", "isolate.0.forStart": None,
                 "waste.other.0.mass": None, "prime.handPrimer.stroke": None, "interval": {"hours": 250, "distance": "10000 mi"}}, None),
    (CARTRIDGE, {"preferences": {"mass": "g", "volume": "mL"}, "fuel.density": "0.765 kg/L",
                 "isolate.0.how": "turn the selector to OFF, take the key out, keep it and hang the tag on it",
                 "stations.0.drain.housing.displaced": estimate("600 mL", "700 mL", "760 mL"), "prime.crank.rest": "90 s"}, RULES),
    (BOAT, {T1: turn("1/2 to 2/3 turn after gasket contact", "1 2 3 4 5 6", drawnAt="1"),
            "stations.2.tighten": turn("2/3 to 17/24 turn after gasket contact"), "stations.1.name": "word " * 41,
            "fuel.measuredAt": "45 °C", "fuel.leastFlashPoint": "80 °C",
            "stations.0.drain.water": estimate("0.1 L", "0.2 L", "0.3 L")}, RULES),
    (BOAT, {T1: turn("1 2/7 turns after gasket contact", "1 2 3 4 5 6 7", atContact="7"),
            "stations.2.tighten": turn("5/7 to 6/7 turn after snug", "1 2 3 4 5")}, PAPERS),
    (FIELD, {T0 + ".printed": "12-16 ft-lb (17-22 N·m)", "shop.wrenches": [wrench("5 ft-lb", "25", "1", deviation="40 %")],
             "waste.other.0.mass": None}, RULES),
    (FIELD, {T0 + ".printed": "100.00-120.00 ft-lb (135.60-162.72 N·m)", "fuel.density": "775 kg/m³"}, RULES),
    (COVER, {T0 + ".snug": None, "date": "2027-01-01", "preferences": {"mass": "oz", "volume": "imp gal", "length": "cm"}}, RULES),
    (CARTRIDGE, {"waste.other.0.mass": estimate("0.0605 kg", "0.0625 kg", "0.0645 kg"), "date": "2026-08-31", "interval.months": 6}, None),
    (COVER, {T0 + ".snug": None, "shop.wrenches.0.length": None, "shop.torqueUnit": "kgf·cm", "preferences": {"volume": "US qt"}}, PAPERS),
    (CARTRIDGE, {T0 + ".torque": "25 to 26 N·m", "shop.torqueUnit": "ft-lb", "shop.torquePlaces": 0,
                 "stations.0.drain.waterUnknown": True}, None),
]


def edited(job, edits):
    job = copy.deepcopy(job)
    for path, value in edits.items():
        *way, last = path.split(".")
        at = job
        for key in way:
            at = at[int(key)] if isinstance(at, list) else at[key]
        if value is None:
            del at[last]
        else:
            at[int(last) if isinstance(at, list) else last] = value
    return job


QUANTITY = re.compile(r"(\d+(?:\.\d+)?)( (?!turn)(?:[^\d]+))$")
VIEWS = ["facing the closed end", "from the head side", "from beside, closed end down", "from beside, closed end up"]
VIEWS += [v + ", in a mirror" for v in VIEWS]


def varied(job, chance):
    """A job with other figures of the same kinds, by chance; the library may refuse it."""
    odds = chance.choice([0.1, 0.4, 0.8])

    def figure(text):
        m = QUANTITY.match(text)
        if not m or chance.random() > odds:
            return text
        places = max(0, len(m[1].partition(".")[2]) + chance.choice([0, 0, 0, 1, 2, -1]))
        return f"{float(m[1]) * chance.choice([1, chance.uniform(0.8, 1.25), chance.uniform(0.97, 1.03)]):.{places}f}{m[2]}"

    def walk(x):
        if isinstance(x, list):
            return [walk(v) for v in x]
        if not isinstance(x, dict):
            return figure(x) if isinstance(x, str) else x
        x = {k: walk(v) for k, v in x.items()}
        if {"low", "best", "high"} <= set(x):
            x["low"], x["best"], x["high"] = sorted((x["low"], x["best"], x["high"]), key=lambda text: float(text.split()[0]))
        return x
    job = walk(job)
    if chance.random() < 0.5:
        job["shop"]["torqueUnit"] = chance.choice(["N·m", "ft-lb", "in-lb", "kgf·m"])
        job["preferences"] = chance.choice([AMERICAN, METRIC, {"mass": "lb"}, {"volume": "mL"}, {}])
    for t in [s["tighten"] for s in job["stations"] if chance.random() < 0.7]:
        t["thread"] = "right hand"
        if "torque" in t:
            v = chance.uniform(5, 60)
            t["torque"] = chance.choice([f"{v:.1f} to {v * chance.uniform(1.05, 1.5):.1f} N·m", f"{v:.0f} ± {v / 10:.1f} ft-lb", f"{v:.1f} N·m ± 7.5 %", f"max {v:.1f} ft-lb"])
        if "turn" in t:
            parts = chance.choice([2, 3, 4, 6, 8, 12, 24])
            least = chance.randint(1, 2 * parts)
            low, high = (f"{n // parts} {n % parts}/{parts}".removeprefix("0 ").removesuffix(f" 0/{parts}") for n in (least, least + chance.randint(0, 3)))
            t["turn"] = f"{low} to {high} turns after gasket contact" if low != high else f"{low} turns after gasket contact"
            t.pop("stud", None), t.pop("canister", None)
            t["thread"] = chance.choice(["right hand", "left hand"])
        if marks := t.get("marks"):
            marks["labels"] = list("ABCDEFGHJ")[:chance.randint(2, 9)]
            marks.pop("atContact", None), marks.pop("drawnAt", None)
            marks |= chance.choice([{}, {"atContact": chance.choice(marks["labels"])}, {"drawnAt": chance.choice(marks["labels"])}])
            marks |= {"order": chance.choice(["clockwise", "counterclockwise"]), "view": chance.choice(VIEWS)}
    return job


def laid(card, over):
    """A job over its machine's card: objects merge, all else replaces; stations are named by their ID."""
    def lay(a, b):
        if not isinstance(a, dict) or not isinstance(b, dict):
            return b
        return {k: lay(a[k], b[k]) if k in a and k in b else (a | b)[k] for k in a | b}
    job = lay(card, over)
    job["stations"] = [dict(s, id=i) for i, s in job["stations"].items()]
    return job


def every():
    """All of them, as (name, job, rules, machine card, job over it)."""
    found = []
    for name in sorted(glob.glob(os.path.join(ROOT, "**", "*.json"), recursive=True)):
        name = os.path.relpath(name, ROOT)
        job = load(name)
        if isinstance(job, dict) and isinstance(job.get("stations"), list) and "prime" in job:
            found += [(name, job, rules, None, job) for rules in (None, RULES)]
    assert len(found) >= 26, "most files of jobs are gone"
    for card, over in (("service/testdata/machine.json", "service/testdata/job-on-machine.json"),
                       ("examples/servicesheet/demo-machine.json", "examples/servicesheet/demo-job.json")):
        found.append((over, laid(load(card), load(over)), RULES, load(card), load(over)))
    for i, (name, edits, rules) in enumerate(EDITS):
        job = edited(load(name), edits)
        found.append((f"edit {i} of {name}", job, rules, None, job))
    return found


def by_chance(found, seed, n):
    """So many of them varied; the library may refuse some."""
    for i in range(n):
        chance = random.Random(f"{seed}/{i}")
        name, job, rules, _, _ = chance.choice([f for f in found if not f[3]])
        job = varied(job, chance)
        yield f"{i} by chance, {name}", job, rules, None, job


def done(sheet, seed):
    """Readings of a job by chance, most of them as they should be; the library may refuse some."""
    chance, job = random.Random(seed), sheet.job
    odds = lambda p: chance.random() < p
    spread = chance.choice([0.02, 0.1, 0.3])
    about = lambda v: v * chance.uniform(1 - spread, 1 + spread)
    turned = lambda t: f"{F(max(t, 0)).limit_denominator(360)} turns"

    def torque(s, plan):
        t, band = s["tighten"], plan.get("band")
        low, high = (q.to(TORQUE, "N·m") for q in band or (plan["torque"],) * 2) if band or "torque" in plan else (20, 25)
        unit, tool, value = chance.choice(["N·m", "ft-lb", "in-lb"]), "TW-X", about(float(low + high) / 2)
        r = {}
        if sheet.wrenches and odds(0.9):
            w = plan["set"][0] if "set" in plan else chance.choice(sheet.wrenches)
            unit, tool = (unit if odds(0.05) else w.unit), w.id
            if odds(0.5):
                dial = plan["set"][1] if "set" in plan and odds(0.6) else w.lowest.v + chance.randint(0, int((w.highest.v - w.lowest.v) / w.step.v)) * w.step.v
                return {"value": f"{written(dial, w.places)} {w.unit}", "tool": tool, "clicked": True}
        value /= float(TORQUE[unit])
        if odds(0.7):
            r["expanded"] = f"{value * chance.choice([0.02, 0.05, 0.4]) + 0.01:.2f} {unit}"
            if odds(0.3):
                r["k"] = chance.choice(["1", "2.5", "3"])
        if "adapter" in t and odds(0.3):
            r["corrected"] = True
        return r | {"value": f"{value:.{chance.randint(0, 2)}f} {unit}", "tool": tool}

    def volume(e):
        best = e.best if e else Q(F(1, 2), "L", 1)
        unit = "L" if best.slack or odds(0.2) else best.unit
        read = float(best.to(VOLUME, unit)) * chance.uniform(0.8, 1.2)
        at = f"{float(celsius(sheet.at)) + chance.choice([0, 0, 3, -4.5, 20]):.1f} °C"
        if odds(0.5):
            return {"read": f"{read:.2f} {unit}", "at": at} | ({"deviation": f"0.05 {unit}"} if odds(0.5) else {})
        return {"volume": estimate(*(f"{read * f:.3f} {unit}" for f in (0.95, 1, 1.04))), "at": at}

    def seen(place):
        mark, following, share, past = place
        if past:
            return {"mark": mark, "past": turned(past)}
        if not following:
            return {"mark": mark}
        return {"between": [mark, following]} | ({} if share == F(1, 2) else {"share": str(share)}) if odds(0.5) else {"between": [following, mark], "share": str(1 - share)}

    def station(s, plan, out):
        t, r = s["tighten"], {"id": s["id"]}
        if odds(0.93):
            r["dragged"] = odds(0.06)
        if (plan["way"] in ("torque", "printed", "sequence") or plan["band" if plan["way"] == "seat" else "way"] and plan["way"] == "seat") and odds(0.9):
            r["torque"] = torque(s, plan)
        if plan["way"] in ("torque", "printed", "seat"):
            if odds(0.8):
                r["seated"] = odds(0.85)
            if odds(0.05):
                r["pastStop"] = True
        if "stopTurns" in t.get("seat", {}) and odds(0.8):
            r["stopTurns"] = turned(turn_of(t["seat"]["stopTurns"]) + chance.choice([0, 0, F(1, 8), F(1, 2), F(-3, 4)]))
        if "contactTurns" in t and odds(0.8):
            r["contactTurns"] = turned(turn_of(t["contactTurns"]) + chance.choice([0, 0, F(1, 8), 2, -2, F(-3, 4)]))
        if plan["way"] == "turn" and odds(0.95):
            by = plan["aim"] + chance.choice([0, 0, 0, F(1, 36), F(-1, 12), F(1, 4), F(-1, 4), 1])
            if "marks" in t:
                ring, n = Ring(t["marks"]["labels"], t["marks"]["order"], t["thread"]), len(t["marks"]["labels"])
                known = t["marks"].get("drawnAt") or t["marks"].get("atContact")
                at = F(ring.labels.index(known)) if known and odds(0.8) else F(chance.randint(0, 2 * n - 1), 2) if n > 2 else F(chance.randint(0, 1))
                r["marks"] = {"before": seen(ring.place(at, F(0))), "after": seen(ring.place(at, max(by, F(0))))} | ({"passes": int(max(by, 0))} if odds(0.7) else {})
            else:
                r["turned"] = turned(by)
        if plan["way"] == "sequence" and odds(0.9):
            near = lambda x: turned(x + chance.choice([0, 0, F(1, 72), F(-1, 24)]))
            r["angle"] = {"total": near(sum(plan["stages"]))} if odds(0.4) else {"stages": [near(x) for x in plan["stages"]][:chance.choice([9, 9, 1])]}
            if odds(0.6):
                tools = [g["id"] for g in job["shop"].get("gauges", [])] + ["AG-X"]
                r["angle"] |= {"tool": chance.choice(tools)} | ({"deviation": "2°"} if odds(0.7) else {})
        if odds(0.9):
            r["out"] = volume(None if isinstance(out, list) else out)
        if odds(0.8 if "water" in s["drain"] else 0.2):
            r["water"] = volume(sheet_estimate(s["drain"].get("water"))) if odds(0.8) else {"read": "0 L", "at": "20 °C"}
        if leaks := {stage: odds(0.05) for stage in ("priming", "running", "hot") if odds(0.85)}:
            r["leaks"] = leaks
        if odds(0.4):
            r["fitted"] = {"part": chance.choice([s["element"]["part"], "another"])} | ({"batch": "B 7"} if odds(0.5) else {})
        return r
    d = {"version": 1, "job": job["id"], "revision": job["revision"], "date": job["date"], "by": "A. B.", "source": "by chance", "invented": True,
         "stations": [station(*x) for x in zip(sheet.stations, sheet.plans, sheet.outs) if odds(0.95)],
         "restored": [{"what": s["what"], "restored": odds(0.95)} for s in job["isolate"] if odds(0.95)], "weights": []}
    for key, plan in sheet.primed.items():
        if odds(0.8):
            d[key] = chance.randint(0, 12) if isinstance(plan, list) or odds(0.2) else chance.randint(plan[0], plan[2])
    d["cranks"] = [{"crank": f"{chance.choice([5, 8, 12, 40])} s"} | ({"rest": f"{chance.choice([20, 90, 300])} s"} if i and odds(0.8) else {}) for i in range(chance.choice([0, 1, 1, 2, 4]))]
    if odds(0.5):
        d["meter"] = chance.choice([{"hours": 1234}, {"distance": "5678 km"}, {"hours": 12, "distance": "10 mi"}])
    if odds(0.5):
        d["checkedBy"] = chance.choice(["C. D.", "A. B."])
    names = [("drained fuel", {})] + [("wet element", {"station": s["id"]}) for s in sheet.stations] + [(o["stream"], {"what": o["what"]}) for o in job["waste"].get("other", []) if "stream" in o]
    for (stream, more), (_, mass, _, _) in zip(names, [w for w in sheet.wastes if not w[0].startswith("water and")]):
        if odds(0.6):
            best = (float(mass.best.to(MASS, "kg")) if not isinstance(mass, list) else 1) * chance.uniform(0.9, 1.1)
            w = {chance.choice(["mass", "scale"]): estimate(*(f"{best * f:.3f} kg" for f in (0.98, 1, 1.02)), "weighed")}
            d["weights"].append({"stream": stream} | more | w | ({"density": "850 kg/m³"} if "scale" in w and odds(0.3) else {}))
    return d
