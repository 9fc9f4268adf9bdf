"""What the pages of a job have to say wherever they say a number, a direction or a word of the job's own, worked out from the
job file. Every sentence is written down here a second time; those of the library aren't looked at."""
import datetime
import re
from fractions import Fraction as F
from math import ceil, floor

from figures import *

# Rules that are applied here, beyond what pages cite. Sources: 29-cfr-1910, 40-cfr-260.

FIRMNESS = ["weighed", "measured", "stated", "assumed"]


class Estimate:
    """Low, best and high, and the weakest of where they come from."""

    def __init__(self, low, best, high, source):
        self.all, self.source = [low, best, high], source
        self.low, self.best, self.high = self.all


def estimate(e):
    return e and Estimate(*(parse(e[k]) for k in ("low", "best", "high")), e["from"])


def weakest(*sources):
    return max(sources, key=FIRMNESS.index)


class Page:
    def __init__(self, code, title, station=None, name=""):
        self.code, self.title, self.station, self.name = code, title, station, name
        self.items, self.figures = [], []  # of a card: what decides
        self.picture, self.table = None, None


def next_letters(i):
    return chr(65 + i) if i < 26 else next_letters(i // 26 - 1) + next_letters(i % 26)


class Sheet:
    def __init__(self, job, rules):
        self.job, self.rules = job, rules
        self.pref = job.get("preferences", {})
        self.comma = self.pref.get("decimalComma", False)
        self.unit = job["shop"].get("torqueUnit", "N·m")
        self.day = job["date"]
        self.wrenches = [Wrench(w) for w in job["shop"].get("wrenches", [])]
        fuel = job["fuel"]
        self.at = parse(fuel["measuredAt"])
        self.fuel = fuel_of(fuel["density"], fuel.get("densityAt"))
        self.rho = self.fuel.at(celsius(self.at))
        self.scale = self.pref.get("temperature", self.at.unit)
        self.eye = turn(rules["eye"]) if rules else F(15, 360)
        self.pages, self.numbers, self.findings, self.primed = [], {}, [], {}
        self.work()

    # How numbers are written.
    def mark(self, text):
        return re.sub(r"(?<=\d)\.(?=\d)", ",", text) if self.comma else text

    def say(self, *parts):
        """What follows on the page; of a sentence the parts with figures and names will do."""
        self.page.items += parts

    def figure(self, text, shown=True):
        self.page.items.append(text)
        if shown:
            self.page.figures.append(text)

    def why(self, *parts):
        self.numbers.setdefault(self.part, []).extend(parts)

    def find(self, level, *parts):
        """What figures say of each other, as far as it has figures and names in it: parts that follow each other."""
        self.findings.append((level, f"{level} {parts[0]}", *parts[1:]))

    def temperature(self, q, mode=NEAREST):
        unit = self.pref.get("temperature", q.unit)
        if unit == q.unit:
            return self.mark(q.text())
        v = in_scale(celsius(q), unit)
        if rounded(v, 0, NEAREST) == v:
            return f"{v} {unit}"
        text = self.mark(written(rounded(v, 1, mode), 1)) + " " + unit
        return text if rounded(v, 1, NEAREST) == v else f"{text} (rounded from {self.mark(q.text())})"

    @staticmethod
    def coarse(table, unit):
        """The places that are printed at least."""
        if table is VOLUME:
            return 0 if VOLUME[unit] < F(1, 10) else 2
        if table is MASS:
            return 3 if MASS[unit] >= 1 else 2 if MASS[unit] >= F(1, 10) else 0
        return 1

    @staticmethod
    def fine(q, table, unit, places):
        """The fewest places from there to six that move it by no more than a hundredth."""
        v = q.to(table, unit)
        while places < 6 and v and abs(rounded(v, places, NEAREST) - v) / abs(v) > F(1, 100):
            places += 1
        return places

    def quantity(self, q, table, kind, mode=NEAREST):
        """A value of the job's in the unit asked for, and what it was rounded from."""
        unit = self.pref.get(kind, q.unit)
        if unit == q.unit:
            return self.mark(q.text())
        places = self.fine(q, table, unit, self.coarse(table, unit))
        text = self.mark(shown(q, table, unit, places, mode)) + " " + unit
        exact = rounded(q.to(table, unit), places, mode) == q.to(table, unit)
        return text if exact else f"{text} (rounded from {self.mark(q.text())})"

    def length(self, q):
        return self.mark(q.text()) if LENGTH[q.unit] > 100 else self.quantity(q, LENGTH, "length")

    def computed(self, q, table, unit, kind, places, mode):
        if kind in self.pref:
            unit = self.pref[kind]
            places = self.fine(q, table, unit, places)
        return self.mark(shown(q, table, unit, places, mode)) + " " + unit

    def outward(self, e, table, unit, places):
        return [self.mark(shown(q, table, unit, places, mode)) for q, mode in zip(e.all, (DOWN, NEAREST, UP))]

    @staticmethod
    def unrounded(q):
        """All digits, or eight of them and an ellipsis."""
        if q.slack:
            cut = [written(rounded(q.v + s, 8, DOWN), 8) for s in (0, -q.slack, q.slack)]
            return either(*(c + "… " + q.unit for c in cut))
        return q.text() if q.places <= 8 else f"{written(rounded(q.v, 8, DOWN), 8)}… {q.unit}"

    def triple(self, e, table, kind, usual, other, places):
        """"1 / 2 / 3 L (measured); rounded from that, …"."""
        asked = self.pref.get(kind)
        unit = asked or usual
        fine = self.coarse(table, unit)
        if asked:
            fine = self.fine(e.best, table, unit, fine)
        few = all(not q.slack and q.unit == unit and q.places <= 3 for q in e.all)
        exact = all(not q.slack and rounded(q.to(table, unit), fine, NEAREST) == q.to(table, unit) for q in e.all)
        if few:
            text = " / ".join(self.mark(q.number()) for q in e.all) + " " + unit
        else:
            text = " / ".join(self.outward(e, table, unit, fine)) + " " + unit
            if not exact:
                text += ", rounded from " + self.mark(self.unrounded(e.best))
        text += f" ({e.source})"
        if not asked:
            text += "; rounded from that, " + " / ".join(self.outward(e, table, other, places)) + " " + other
        return text

    def volumes(self, e):
        usual = e.best.unit
        other, places = {"US gal": ("L", 2), "US qt": ("L", 2), "US pt": ("L", 2), "US fl oz": ("mL", 0), "mL": ("US fl oz", 1)}.get(usual, ("US gal", 2))
        return self.triple(e, VOLUME, "volume", usual, other, places)

    def masses(self, e):
        return self.triple(e, MASS, "mass", "kg", "lb", 2)

    def briefly(self, e):
        unit = self.pref.get("mass", "kg")
        places = self.fine(e.best, MASS, unit, max(self.coarse(MASS, unit), 1) - 1)
        low, best, high = self.outward(e, MASS, unit, places)
        return f"{best} ({low} to {high}) {unit}"

    def band_text(self, b):
        return self.mark(f"{b[0].number()} to {b[1].text()}")

    # The pages.
    def begin(self, code, title, **more):
        self.page = Page(code, title, **more)
        self.pages.append(self.page)

    def work(self):
        j = self.job
        self.stations = j["stations"]
        self.outs = [self.out(i, s) for i, s in enumerate(self.stations)]
        self.totals()
        self.plans = [self.plan(s) for s in self.stations]
        self.look_for()
        self.start()
        for i, s in enumerate(self.stations):
            self.card(i, s)
        self.prime()
        self.office()
        self.sources()

    def start(self):
        j, shop = self.job, self.job["shop"]
        self.begin("start", "Before you start")
        self.say(f"Figures from: {j['source']}. The manufacturer's")
        for wanted in ("STOP", "WARNING", "CAUTION"):
            self.found(wanted)
        for text in j.get("cautions", []):
            self.say(text)
        if rules := shop.get("localRules"):
            self.say(f"Local rules that apply here: {rules}")
        self.steps = [dict(step, letter=next_letters(i)) for i, step in enumerate(j["isolate"])]
        pump = "pump" in j["prime"]
        for step in self.steps:
            back = " (back for priming)" if step.get("forPriming") and pump else " (back for the start)" if step.get("forPriming") or step.get("forStart") else ""
            self.say(f"{step['letter']}. {step['what']}: {step['how']}{back}")
        for s in self.stations:
            self.say(f"station {s['id']}: {self.numbered(s['element'])}")
            for seal in s["seals"]:
                if not seal.get("withElement"):
                    self.say(f"station {s['id']}: {self.numbered(seal)}")
        for s, plan in zip(self.stations, self.plans):
            if plan.get("set"):
                w, dial = plan["set"]
                self.say(f"station {s['id']}: wrench {w.id}, set to {self.dial(w, dial)}; calibrated until {w.until}")
            elif plan["way"] != "turn":
                self.say(f"station {s['id']}: a torque wrench that reads {self.unit}, calibrated")
            if a := s["tighten"].get("adapter"):
                until = f", calibrated until {a['calibratedUntil']}" if "calibratedUntil" in a else ""
                self.say(f"station {s['id']}: {a['name']}{until}")
        for g in shop.get("gauges", []):
            self.say(f"angle gauge {g['id']}, calibrated until {g['calibratedUntil']}; how far may it be out?")
        self.say(f"catch pan that holds {self.quantity(parse(shop['panHolds']), VOLUME, 'volume', DOWN)}, absorbent")

    @staticmethod
    def numbered(part):
        return f"{part['partNo']}, {part['part']}" if part.get("partNo") else part["part"]

    def dial(self, w, dial):
        return self.mark(written(dial, w.places)) + " " + w.unit

    # How much comes out.
    def out(self, i, s):
        d = s["drain"]
        if "housing" not in d:
            return estimate(d["out"]) if "out" in d else [f"stations[{i}].drain.out"]
        if d.get("waterUnknown"):
            return [f"stations[{i}].drain.water"]
        h = {k: estimate(v) for k, v in d["housing"].items()}
        litres = [PI / 4 * a.to(LENGTH, "m")**2 * b.to(LENGTH, "m") * 1000 for a, b in zip(h["diameter"].all, h["height"].all)]
        off = [h["displaced"], h["retained"]]
        water = [estimate(d["water"])] if "water" in d else []
        less = lambda k, es: sum(e.all[k].to(VOLUME, "L") for e in es)
        # The most that may be left behind goes with the least that may come out. What is below nothing is nothing, before the water.
        low = max(litres[0] - less(2, off), 0) - less(2, water)
        best, high = litres[1] - less(1, off) - less(1, water), litres[2] - less(0, off) - less(0, water)
        source = weakest(*(e.source for e in list(h.values()) + water))
        slack = F(1, 10**11)
        return Estimate(Q(low, "L", 12, slack if low else 0), Q(best, "L", 12, slack), Q(high, "L", 12, slack), source)

    def weigh(self, e, rho):
        """The mass of a volume, and what a scale shows of it."""
        mass = [q.to(VOLUME, "L") * rho / 1000 for q in e.all]
        slack = [F(1, 10**11) * (1 + abs(m)) if m else F(0) for m in mass]
        make = lambda f: Estimate(*(Q(m * f, "kg", 12, s) for m, s in zip(mass, slack)), e.source)
        return make(F(1)), make(in_air(rho))

    def totals(self):
        self.unknown = []
        for o in self.outs:
            if isinstance(o, list):
                self.unknown += [u for u in o if u not in self.unknown]
        self.total = None
        if not self.unknown:
            places = max(q.places for o in self.outs for q in o.all)
            sums = []
            for k in range(3):
                qs = [o.all[k] for o in self.outs]
                v, slack = sum(q.to(VOLUME, "L") for q in qs), sum(q.slack for q in qs)
                sums.append(Q(v, "L", self.sum_places(qs, v), slack))
            self.total = Estimate(*sums, weakest(*(o.source for o in self.outs)))
            self.total_mass, self.total_scale = self.weigh(self.total, self.rho)
        self.wastes = []  # name, mass or unknown, volume, scale reading
        if self.total:
            self.wastes.append(("drained fuel", self.total_mass, self.total, self.total_scale))
        else:
            self.wastes.append(("drained fuel", self.unknown, None, None))
        for i, s in enumerate(self.stations):
            name = f"water and fuel drained at station {s['id']}"
            if s["drain"].get("waterUnknown"):
                self.wastes.append((name, [f"stations[{i}].drain.water"], None, None))
            elif "water" in s["drain"]:
                e = estimate(s["drain"]["water"])
                mass, scale = self.weigh(e, water(celsius(self.at)))
                self.wastes.append((name, mass, e, scale))
        for i, s in enumerate(self.stations):
            el, name = s["element"], f"used element of station {s['id']}, wet"
            lacks = [f"stations[{i}].element.{k}" for k in ("dry", "retains") if k not in el]
            if lacks:
                self.wastes.append((name, lacks, None, None))
                continue
            dry, retains = estimate(el["dry"]), estimate(el["retains"])
            mass = [Q(a.to(MASS, "kg") + b.to(VOLUME, "L") * self.rho / 1000, "kg", 12, F(1, 10**11) if b.v else 0) for a, b in zip(dry.all, retains.all)]
            self.wastes.append((name, Estimate(*mass, weakest(dry.source, retains.source)), None, None))
        for i, o in enumerate(self.job["waste"].get("other", [])):
            self.wastes.append((o["what"], estimate(o["mass"]) if "mass" in o else [f"waste.other[{i}].mass"], None, None))

    @staticmethod
    def sum_places(qs, v):
        if any(q.slack for q in qs):
            return 12
        if all(q.unit == "L" for q in qs):
            return max(q.places for q in qs)
        return places_of(v)

    # How each station is tightened.
    def plan(self, s):
        t = s["tighten"]
        way = next(k for k in ("torque", "printed", "turn", "sequence", "seat") if k in t)
        plan = {"way": way}
        if way == "torque":
            plan["band"] = band(t["torque"])
        elif way == "printed":
            plan["first"], plan["second"] = printed(t["printed"])
            plan["band"], plan["compare"] = plan["first"], compare(plan["first"], plan["second"])
            if plan["compare"][0] == "disagree":
                plan["band"] = None
        elif way == "seat":
            plan["band"] = band(t["seat"]["torque"]) if "torque" in t["seat"] else None
        elif way == "sequence":
            torque, stages = t["sequence"].split(" then ")
            plan["torque"], plan["stages"] = parse(torque), [turn(x) for x in stages.split(" + ")]
            plan["band"] = band(t["snug"]) if "snug" in t else None
        if way == "turn":
            plan["least"], plan["most"], plan["datum"] = instruction(t["turn"])
            plan["stated"] = plan["least"], plan["most"]
            within = self.rules and self.rules.get("turn")
            if plan["least"] == plan["most"] and within and turn(within["less"]) < plan["least"]:  # or no turn at all would pass
                plan["least"] -= turn(within["less"])
                plan["most"] += turn(within["more"])
            plan["aim"] = (plan["least"] + plan["most"]) / 2
        return plan

    def allows(self, plan, out):
        return 2 * out <= plan["most"] - plan["least"]

    # What the figures say of each other: findings.
    def found(self, wanted):
        for level, *parts in self.findings:
            for part in parts if level == wanted else ():
                self.say(part)

    def look_for(self):
        j = self.job
        self.flash()
        for step in j["isolate"]:
            if step.get("stopsStart") and not step.get("forPriming") and not step.get("forStart"):
                self.find("STOP", f"Cranking is planned, but nobody can crank while {step['what']} is out of service")
        self.containers()
        if celsius(self.at) < 0:
            for s in self.stations:
                if "water" in s["drain"] or s["drain"].get("waterUnknown"):
                    self.find("CAUTION", f"The water of station {s['id']} is to be measured at {self.temperature(self.at)}, where water freezes",
                              f"counted as at {self.temperature(Q(0, '°C', 0))}.")
        self.month()
        self.wordy()
        for i, s in enumerate(self.stations):
            self.look_at(s, self.plans[i])
        for kind, tools in (("Wrench", j["shop"].get("wrenches", [])), ("Angle gauge", j["shop"].get("gauges", []))):
            for tool in tools:
                self.late(kind, tool["id"], tool["calibratedUntil"])
        for s in self.stations:
            a = s["tighten"].get("adapter", {})
            if "calibratedUntil" in a:
                self.late("Adapter", a["name"], a["calibratedUntil"])
        for s, plan in zip(self.stations, self.plans):
            self.choose(s, plan)

    def late(self, kind, name, until):
        if until < self.day:
            self.find("CAUTION", f"{kind} {name} is calibrated until {until}; the job is planned for {self.day}. Don't use it.")

    def flash(self):
        f = self.job["fuel"]
        least = parse(f["leastFlashPoint"])
        for key, word in (("caughtAt", "caught"), ("measuredAt", "measured")):
            at = parse(f[key])
            room = celsius(least) - celsius(at)
            a, b = self.temperature(at, UP), self.temperature(least, DOWN)
            if room <= 0:
                self.find("STOP", f"The fuel is to be {word} at {a}; the least flash point of {f['grade']} is {b}.", f["flashSource"])
            elif room <= F(30) * F(5, 9):  # 30 °F, 29 CFR 1910.106(a)(19)
                self.find("WARNING", f"The fuel is to be {word} at {a}, within {self.mark('30 °F (16.7 °C)')} of the least flash point of {f['grade']}, {b}.",
                          "29 CFR 1910.106(a)(19)", f["flashSource"])

    def volume_up(self, q, unit=None):
        return self.computed(q, VOLUME, unit or q.unit, "volume", 2, UP)

    def containers(self):
        j = self.job
        pan = parse(j["shop"]["panHolds"])
        holds = self.quantity(pan, VOLUME, "volume", DOWN)
        all_out, known = F(0), True
        for i, (s, o) in enumerate(zip(self.stations, self.outs)):
            d = s["drain"]
            lacks = list(o) if isinstance(o, list) else []
            if "housing" not in d and d.get("waterUnknown"):
                lacks.append(f"stations[{i}].drain.water")
            if lacks:
                known = False
                self.find("CAUTION", f"How much comes out of station {s['id']} is unknown: the job doesn't state {', '.join(lacks)}. The pan holds {holds}.")
                continue
            high = Q(o.high.to(VOLUME, "L"), "L", None, o.high.slack)
            if "water" in d:
                high.v += parse(d["water"]["high"]).to(VOLUME, "L")
            all_out += high.v
            if high.v > pan.to(VOLUME, "L"):
                self.find("STOP", f"Up to {self.volume_up(high, o.high.unit)} may come out of station {s['id']}; the pan holds {holds}.")
        if known and all_out > pan.to(VOLUME, "L"):
            self.find("CAUTION", f"Up to {self.volume_up(Q(all_out, 'L', None, F(1, 10**10)))} may come out in all; the pan holds {holds}.")
        if not (drum := j["waste"].get("drum")):
            return
        capacity, filled = parse(drum["capacity"]), celsius(parse(drum["filledAt"]))
        if j["waste"].get("month", {}).get("rules") == "US federal":
            # Not full of liquid at 55 °C.
            limit = capacity.v * (self.fuel.at(F(55)) / self.fuel.at(filled) if filled < 55 else 1)
            source = "49 CFR 173.24a(d)"
        else:
            d15, d50 = self.fuel.at(F(15)), self.fuel.at(F(50))
            limit = capacity.v * F(98, 100) / (1 + (d15 - d50) / (35 * d50) * max(50 - filled, 0))
            source = "ADR 2013, 4.1.1.4 (b)"
        exact = Q(limit, capacity.unit)
        limit = Q(rounded(limit, 6, DOWN), capacity.unit, 6)
        of = f"{self.computed(limit, VOLUME, limit.unit, 'volume', 1, DOWN)} of {self.quantity(capacity, VOLUME, 'volume', DOWN)}"
        unknown = list(self.unknown) + ([] if "inside" in drum else ["waste.drum.inside"])
        if unknown:
            self.find("CAUTION", f"Whether the drum takes the drained fuel is unknown: the job doesn't state {', '.join(unknown)}. Its fill limit is {of}.", source)
            return
        inside = estimate(drum["inside"])
        factor = self.rho / self.fuel.at(filled)
        low, high = (inside.all[k].to(VOLUME, "L") + self.total.all[k].to(VOLUME, "L") * factor for k in (0, 2))
        most = exact.to(VOLUME, "L")
        if high > most:
            level, word = ("STOP", "would") if low > most else ("CAUTION", "may")
            self.find(level, f"The drained fuel {word} exceed the drum's fill limit, {of}", source)

    def month(self):
        m = self.job["waste"].get("month")
        if not m or m["rules"] != "US federal":  # no other has categories
            return
        unknown = []
        for _, mass, _, _ in self.wastes:
            if isinstance(mass, list):
                unknown += [u for u in mass if u not in unknown]
        if "soFar" not in m:
            unknown.append("waste.month.soFar")
        if unknown:
            self.find("CAUTION", f"What the month comes to with this job, and the category under {m['rules']}, is unknown: the job doesn't state {', '.join(unknown)}.")
            return
        # 40 CFR 260.10: 100 kg or less, more than that and less than 1000 kg, 1000 kg or more.
        category = lambda kg: "VSQG" if kg <= 100 else "SQG" if kg < 1000 else "LQG"
        so_far = estimate(m["soFar"])
        high = so_far.high.to(MASS, "kg") + sum(w[1].high.to(MASS, "kg") for w in self.wastes)
        before, after = category(so_far.low.to(MASS, "kg")), category(high)
        if before != after:
            mass = self.computed(Q(high, "kg", None, F(1, 10**9)), MASS, "kg", "mass", 1, UP)
            self.find("CAUTION", f"With this job the month may come to {mass}. By what is entered here, under {m['rules']}, the site may move from {before} to {after}",
                      "40 CFR 260.10")

    def wordy(self):
        count = lambda text: len([w for w in text.split() if any(c.isalnum() for c in w)])

        def step(text):
            if (n := count(text)) > 12:
                cut = text
                if len(text.encode()) > 48:
                    cut = text.encode()[:48].decode(errors="ignore") + "…"
                self.find("NOTE", f"A step of {n} words; nobody reads more than 12 with a part in hand: {cut}")
        for out in self.job["isolate"]:
            step(out["how"])
            step(out.get("forStart", ""))
        for s in self.stations:
            t = s["tighten"]
            steps = s.get("connectors", []) + s["drain"]["steps"] + s.get("connectorsAfterDrain", [])
            for text in steps:
                step(text)
            own = steps + [s["name"]]
            for seal in s["seals"]:
                own += [seal["where"], seal.get("wet", "")] + ([] if seal.get("partNo") else [seal["part"]])
            own += [t.get("marks", {}).get("index", ""), t.get("seat", {}).get("gap", ""), t.get("adapter", {}).get("name", "")]
            if (n := sum(map(count, own))) > 40:
                self.find("NOTE", f"Station {s['id']}: {n} words of the job's own are on its card; more than 40 hide what matters")

    def look_at(self, s, plan):
        t, at = s["tighten"], f"Station {s['id']}: "
        if "stud" in t and "canister" in t and t["stud"] != t["canister"]:
            self.find("STOP", f"{at}a canister of {t['canister']} on a stud of {t['stud']}")
        if plan["way"] == "turn":
            self.look_at_turn(t, plan, at)
        elif plan["way"] == "printed":
            verdict, *more = plan["compare"]
            if verdict == "disagree":
                first, converted, second, gap = (self.mark(q.text()) for q in more)
                self.find("STOP", f"{at}the units of \"{t['printed']}\" disagree: {first} is {converted}, not {second}; they differ by {gap}.")
            elif verdict == "third":
                self.find("NOTE", f"{at}the units of \"{t['printed']}\" were rounded from a third: {', '.join(self.mark(x) for x in more[0])}.", "16 CFR 1211.3")
        elif plan["way"] == "sequence":
            w = t.get("within")
            if "snug" not in t:
                self.find("CAUTION", f"{at}nothing says how close to {self.mark(plan['torque'].text())} the snug torque has to be")
            less, more = (turn(w.get(k, "0 turns")) if w else F(0) for k in ("less", "more"))
            if w and (not less or not more):
                self.find("CAUTION", f"{at}each turn may be {self.mark(degrees(less))} less or {self.mark(degrees(more))} more. One limit is the turn itself")
            elif not w:
                self.find("CAUTION", f"{at}nothing says how close the turns after the snug torque have to be")
            if sum(plan["stages"]) + more * len(plan["stages"]) >= 1:
                self.find("NOTE", f"{at}after the snug torque it turns a full turn or more, so the line comes round again")
        if s["fill"] == "prefill" and "pump" in self.job["prime"]:
            self.find("CAUTION", f"Station {s['id']} is filled before it is fitted although a lift pump primes the system")

    def look_at_turn(self, t, plan, at):
        least, most, marks = plan["least"], plan["most"], t.get("marks")
        if not self.allows(plan, self.eye):
            if least == most:
                self.find("CAUTION", f"{at}nothing says how close to {turns(most)} after {plan['datum']} the turn has to be")
            else:
                self.find("CAUTION", f"{at}{fraction(least)} to {turns(most)} after {plan['datum']} is narrower than twice the eye's error, {self.mark(degrees(self.eye))} either way.")
        if not marks:
            self.find("NOTE", at.replace(": ", "") + " has no printed marks")
        if plan["datum"] == "finger tight":
            self.find("CAUTION", f"{at}the turn is counted from finger tight")
        if most >= 1 and not marks:
            self.find("NOTE", f"{at}it turns a full turn or more, so the starting mark comes round again")
        elif most >= 1 and most - least >= 1:
            self.find("CAUTION", f"{at}from {turns(least)} to {turns(most)} is a whole turn or more")
        elif most >= 1:
            self.find("CAUTION", f"{at}the mark that is at the index after {turns(most)} is there after {turns(most - 1)} too: the mark alone can't tell the two apart")
        if marks:
            same, seen = str.maketrans("OoIli|SsZz", "0011115522"), {}
            for label in marks["labels"]:
                key = label.translate(same)
                key = {"9": "6", "W": "M", "w": "M", "m": "M"}.get(key, key)
                if key in seen:
                    self.find("NOTE", f'{at}the labels "{seen[key]}" and "{label}" are easily confused')
                    break
                seen[key] = label

    # Which wrench.
    def choose(self, s, plan):
        t = s["tighten"]
        adapter, level = t.get("adapter"), "CAUTION" if plan["way"] == "seat" else "STOP"
        if plan["way"] == "turn" or plan["way"] == "printed" and not plan["band"] or plan["way"] == "seat" and not plan["band"]:
            return
        at = f"Station {s['id']}: "
        if adapter and "kind" in adapter:
            self.find(level, f"{at}{adapter['name']} is a {adapter['kind']} and has no fixed lever")
            return
        if not self.wrenches:
            return
        newtons = lambda q: q.to(TORQUE, "N·m")
        if plan["band"]:
            low, high = map(newtons, plan["band"])
            answers, best = None, None
            if plan["way"] == "seat" and not low:
                for tenths in range(8, 0, -1):  # the upper fifth, or as near to it as a wrench can be set
                    answers = [w.set(high * tenths / 10, high, adapter, self.day) for w in self.wrenches]
                    if (best := choose(answers)) is not None:
                        break
            if best is None:
                answers = [w.set(low, high, adapter, self.day) for w in self.wrenches]
                best = choose(answers)
            ends = plan["band"]
        else:
            answers = [w.nearest(newtons(plan["torque"]), adapter, self.day) for w in self.wrenches]
            best = choose(answers)
            ends = plan["torque"], plan["torque"]
        if best is not None:
            plan["set"] = self.wrenches[best], answers[best][1]
            return
        text = f"No wrench of the shop serves station {s['id']}."
        for w, answer in zip(self.wrenches, answers):
            text += f" {w.id}: {self.refused(w, answer, plan['band'] is None)}"
        self.find(level, text)
        if any(a[0] == "scale" for a in answers):
            self.slip(at, ends, adapter)

    def refused(self, w, answer, one):
        scale = f"{self.mark(w.lowest.text())} to {self.mark(w.highest.text())}"
        if answer[0] == "calibration":
            return f"calibrated until {w.until} only."
        if answer[0] == "deviation":
            return f"with its deviation of {self.mark(w.off.text())} it can't stay in the band at any setting."
        if answer[0] == "lever":
            return "through this adapter its torque can't be computed; is its length stated?"
        places = w.step.places + 2
        a, b = (rounded(x, places, NEAREST if one else mode) for x, mode in zip(answer[1:], (UP, DOWN)))
        a, b = (self.mark(written(x, places)) + " " + w.unit for x in (a, b))
        steps = f" in steps of {self.mark(w.step.text())}" if answer[0] == "step" else ""
        return (f"set to {a}" if a == b else f"set between {a} and {b}") + f" it would serve; it has {scale}{steps}."

    def slip(self, at, ends, adapter):
        low, high = ends
        for unit in ("N·m", "ft-lb", "in-lb"):
            if unit == low.unit:
                continue
            a, b = low.v * TORQUE[unit], high.v * TORQUE[unit]
            one = a == b
            best = choose([w.nearest(b, adapter, self.day) if one else w.set(a, b, adapter, self.day) for w in self.wrenches])
            if best is not None:
                self.find("CAUTION", f"{at}no wrench reaches {self.mark(high.text())}, but wrench {self.wrenches[best].id} would if it were in {unit}.")
                return

    # A card.
    def card(self, i, s):
        self.begin("card", f"Station {s['id']}: {s['name']}", station=s["id"], name=s["name"])
        self.part = ("station", i, f"Station {s['id']}: {s['name']}")
        t, d, plan = s["tighten"], s["drain"], self.plans[i]
        right, left = ("clockwise", "counterclockwise")
        if t["thread"] == "left hand":
            self.say(f"LEFT-HAND THREAD: off {right}, on {left}, facing the closed end")
        before, after = s.get("connectors", []), s.get("connectorsAfterDrain", [])
        for c in before:
            self.say(f"off, before draining: {c}")
        limit = in_scale(celsius(parse(self.job["fuel"]["leastFlashPoint"])) - 30 * F(5, 9), self.scale)
        self.say(f"fuel cool: below {floor(limit)} {self.scale}")
        self.say(self.scale)
        for step in d["steps"]:
            self.say(step)
        if d.get("waterUnknown"):
            self.say(f"water {self.pref.get('volume', 'L')}")
            self.why("Water comes first. How much is unknown: the job doesn't state it.")
        elif "water" in d:
            e = estimate(d["water"])
            self.say(f"water {self.pref.get('volume', e.best.unit)}")
            self.why(f"Water comes first, low / best / high: {self.volumes(e)}. More than last time? Have the tank checked.")
        out = self.outs[i]
        unit = "L" if isinstance(out, list) else out.best.unit
        if isinstance(out, list):
            self.why(f"How much fuel comes out is unknown: the job doesn't state {', '.join(out)}. Watch the pan, and record how much.")
        else:
            self.why(f"Fuel out, low / best / high: {self.volumes(out)}.")
        self.say(f"fuel {'' if 'jugDeviation' in self.job['shop'] else '± '}{self.pref.get('volume', unit)} at {self.scale}")
        for c in after:
            self.say(f"off, after draining: {c}")
        if s["seals"]:
            self.say(f"old seals out: {len(s['seals'])}")
        for seal in s["seals"]:
            part = seal.get("partNo") or seal["part"]
            self.say(f"{seal['where']}: {part}, " + ("dry" if seal.get("dry") else f"wet with {seal['wet']}"))
        self.prefill(s)
        if plan["way"] == "turn":
            self.run_turn(t, plan)
        elif plan["way"] == "seat" and "stopTurns" in t["seat"]:
            self.say(f"count turns from first thread to stop: expect {turns(turn(t['seat']['stopTurns']))}")
            self.count()
        if plan["way"] == "printed" and not plan["band"]:
            self.say(f"STOP: how far is unknown. The units of \"{t['printed']}\" disagree; get the right limit first.")
        else:
            view = t.get("marks", {}).get("view") if plan["way"] == "turn" else t.get("view") if plan["way"] in ("sequence", "seat") else None
            view = view or "facing the closed end"
            way = sense(t["thread"], view)
            self.figure({"left to right": "TO THE RIGHT", "right to left": "TO THE LEFT"}.get(way, way.upper()), shown=False)
            self.say(f"seen {view}")
            self.why(f"Tightening goes {sense(t['thread'], 'facing the closed end')} as seen facing the closed end, "
                     f"{sense(t['thread'], 'from the head side')} as seen from the head side.")
            {"turn": self.card_turn, "sequence": self.card_sequence, "seat": self.card_seat}.get(plan["way"], self.card_torque)(s, t, plan)
        for c in reversed(after):
            self.say(f"back on: {c}")
        for c in reversed(before):
            self.say(f"back on: {c}")

    def prefill(self, s):
        if s["fill"] != "prefill":
            return
        into = {"screw-on bowl": "the bowl", "drop-in element": "the housing"}.get(s["kind"])
        if "prefillWith" in s:
            much = self.quantity(parse(s["prefillWith"]), VOLUME, "volume", DOWN)
            self.say(f"{much} of clean fuel into {into}" if into else f"fill with {much} of clean fuel, through the dirty side")
        else:
            share = fraction(F(s["prefillShare"]))
            self.say(f"clean fuel up to {share} of what it holds into {into}" if into else f"fill with clean fuel up to {share} of what it holds, through the dirty side")

    def count(self):
        if self.rules:
            self.say(f"More than {turns(turn(self.rules['count']))} early or late: stop, take it off and look.")

    def run_turn(self, t, plan):
        if "contactTurns" in t:
            self.say(f"count turns from first thread to touch: expect {turns(turn(t['contactTurns']))}")
            self.count()
        marks = t.get("marks")
        if not marks:
            return
        n = len(marks["labels"])
        plan["drawn"] = marks.get("drawnAt")
        if not plan["drawn"] and "atContact" not in marks:
            # A table holds where its nearest row, right to a quarter of a gap, and the eye stay in the window.
            if not (2 < n <= 6 and self.allows(plan, self.eye + F(1, 4 * n))):
                plan["drawn"] = marks["labels"][0]
        if plan["drawn"]:
            self.say(f"there draw a line on the head exactly at {plan['drawn']}: your index")
        elif "atContact" in marks:
            self.say(f"{marks['atContact']} must be dead on the index: {marks['index']}")
        else:
            self.say(f"which mark is at the index ({marks['index']})?")

    def card_turn(self, s, t, plan):
        least, most, aim, marks = plan["least"], plan["most"], plan["aim"], t.get("marks")
        stated = plan["stated"]
        angle = degrees(stated[0]) if stated[0] == stated[1] else f"{self.mark(degrees(stated[0]))} to {self.mark(degrees(stated[1]))}"
        much = (fraction(stated[0]) + " to " if stated[0] != stated[1] else "") + turns(stated[1])
        self.why(f"Stated: {much} after {plan['datum']} ({self.mark(angle)}).")
        known = None
        if marks:
            ring = Ring(marks["labels"], marks["order"], t["thread"])
            if label := plan["drawn"] or marks.get("atContact"):
                known = marks["labels"].index(label)
        if known is not None:
            stop, never = ring.place(known, aim), ring.place(known, most)
            if stop[3] or stop[2] not in (None, F(1, 2)):
                self.figure(turns(aim))
                self.say(f"Stop {place(stop, 'place')}.")
            elif stop[1] is None:
                self.figure(stop[0])
                self.say("Stop with it dead on the index.")
            else:
                self.figure(f"{stop[0]} and {stop[1]}")
                self.say("Stop midway between them.")
            if aim >= 1:
                self.say(f"Count: {ring.labels[known]} passes the index {floor(aim)} × first.")
            if least != most:
                self.say(f"Never past {place(never, 'bare')}" + (", that round." if most >= 1 else "."))
        else:
            if not marks and most > 1:
                self.figure(turns(aim))
                self.say(f"The lines meet {floor(aim)} ×, then on.")
            else:
                self.figure(turns(most) if least == most else f"{fraction(least)} to {turns(most)}")
            self.say({"gasket contact": "more, from where it touched", "finger tight": "more, from finger tight", "snug": "more, from firm contact"}[plan["datum"]])
        if least != most:
            if not marks:
                self.say(f"Stop at {turns(aim)}; never past {turns(most)}.")
            self.why(f"From {turns(least)} to {turns(most)} ({self.mark(degrees(most))}); aim {turns(aim)} ({self.mark(degrees(aim))}), the middle.")
        if (least, most) != stated:
            self.why(f"The job gives a single figure; its tolerance is that of the rules: {self.rules['turn']['source']}.")
        if not self.rules:
            self.why(f"Written for an eye good to {self.mark(degrees(self.eye))} either way")
        elif self.allows(plan, self.eye):
            self.why(f"If it stops there and is read to {self.mark(degrees(self.eye))} either way, it passes by the rules named {self.rules['name']}.")
        if marks and known is None:
            self.page.table = []
            for i in range(ring.n):
                for at in (F(i), i + F(1, 2)):
                    self.page.table.append(tuple(place(ring.place(at, much), "cell", floor(much)) for much in (F(0), aim, most)))
            for touched, stop, never in self.page.table:
                self.say(("table", f"touched {touched}: stop at {stop}; never past {never}"))
        else:
            self.page.picture = self.ring_picture(s, t, plan, ring if marks else None, known)

    def ring_picture(self, s, t, plan, ring, known):
        view = t["marks"]["view"] if ring else "facing the closed end"
        return {"station": s["id"], "view": view, "sense": sense(t["thread"], view), "least": plan["least"], "aim": plan["aim"], "most": plan["most"],
                "labels": ring.labels if ring else None, "order": t["marks"]["order"] if ring else None, "known": known, "hand": t["thread"]}

    def setting(self, s, t, plan):
        """What to set on which wrench."""
        w, dial = plan["set"]
        self.figure(f"SET {self.dial(w, dial)}")
        self.pull(s, t, True)
        least, most = w.arrives(dial, w.lever(t.get("adapter")))
        least, most = written(rounded(least, 3, DOWN), 3), written(rounded(most, 3, UP), 3)
        self.why(f"Wrench {w.id} set to {self.dial(w, dial)} delivers {self.mark(least)} {w.unit} to {self.mark(most)} {w.unit} at the fastener "
                 "within its deviation, rounded outward", f"Calibrated until {w.until}.")

    def pull(self, s, t, set_):
        a = t.get("adapter")
        if not a:
            return
        if "kind" in a:
            self.say(f"With {a['name']}, a {a['kind']}, no torque can be set or read: its lever isn't fixed.")
        elif set_:
            offset, angle = parse(a["lever"]["offset"]), parse(a["lever"]["angle"])
            degrees_ = self.mark(angle.text() if angle.places <= 2 else "about " + Q(rounded(angle.v, 2, NEAREST), "°", 2).text())
            straight = not angle.v
            self.say(f"{a['name']} " + ("straight on" if straight else f"at {degrees_}") + ", hand on the middle of the grip; pull once to the click")
            self.why(f"With {a['name']}, {self.length(offset)} from drive to fastener, at {degrees_} to the wrench, and the hand on the middle of the grip")
            if offset.v:
                self.page.picture = {"station": s["id"], "adapter": a["name"], "offset": self.length(offset), "angle": angle.v, "angle-text": degrees_}
        else:
            self.say(f"The torque is at the fastener. {a['name']} changes the lever and so the reading")

    def lever_known(self, a):
        if not self.wrenches:
            lever = a["lever"]
            return not (parse(lever["offset"]).v or parse(lever.get("offsetTolerance", "0 mm")).v) or not cosine(parse(lever["angle"]).v)
        return all(w.lever(a, hand=F(0)) for w in self.wrenches)  # a reading is taken where the hand is stated to be

    def blank_torque(self, t, plan, unit):
        """Room for what is read: its unit is the dial's."""
        a = t.get("adapter")
        if a and "kind" in a:
            return
        if plan.get("set"):
            self.say(f"wrench set to {plan['set'][0].unit} clicked")
            return
        as_ = "at the fastener" if a and not self.lever_known(a) else "read"
        alone = self.rules and self.rules["torque"] == "simple acceptance" and as_ == "read"
        self.say(f"wrench {as_} {unit}" + ("" if alone else " U"))

    def band(self, s, t, plan):
        b = plan["in"] = inward(plan["band"], self.unit, self.job["shop"].get("torquePlaces"))
        if plan.get("set"):
            self.setting(s, t, plan)
            return
        low, high = b
        if low.v == high.v:
            self.figure(self.mark(high.text()))
        elif not low.v:
            self.figure(f"at most {self.mark(high.text())}")
        else:
            self.figure(f"{self.mark(low.number())} to {self.mark(high.text())}")
        self.pull(s, t, False)
        if 0 < low.v < high.v:
            middle = rounded((low.v + high.v) / 2, max(low.places, high.places), NEAREST)
            self.say(f"Aim for {self.mark(written(middle, max(low.places, high.places)))} {high.unit}: the wrench's error")

    def from_where(self, t, plan):
        """What a band was rounded from, and what it is on another wrench."""
        b, stated, fastener = plan["in"], plan["band"], "adapter" in t
        text = ("At the fastener: " if fastener else "") + self.band_text(b)
        exact = [self.all_digits(q, self.unit) for q in stated]
        self.why(f"{text}{',' if fastener else ' is'} rounded inward from {self.band_text(stated)}, which is {self.mark(exact[0])} to {self.mark(exact[1])}.")
        other = "N·m" if self.unit == "ft-lb" else "ft-lb"
        lead = "At the fastener in" if fastener else "On a wrench that reads"
        self.why(f"{lead} {other}: {self.band_text(inward(stated, other))}, rounded inward from {self.band_text(stated)}.")

    @staticmethod
    def all_digits(q, unit):
        """A torque in another unit, with all its digits, or eight of them and an ellipsis."""
        if q.unit == unit:
            return q.text()
        v = q.to(TORQUE, unit)
        p = places_of(v)
        if p is not None and len(str(abs(v.numerator * 10**p // v.denominator))) <= 34:
            return either(*(written(v, n) + " " + unit for n in range(p, max(p, q.places + 16) + 1)))
        return written(rounded(v, 8, DOWN), 8) + "… " + unit

    def card_torque(self, s, t, plan):
        self.band(s, t, plan)
        self.blank_torque(t, plan, self.unit)
        self.from_where(t, plan)

    def card_seat(self, s, t, plan):
        self.figure("GAP CLOSED")
        self.say(f"{t['seat']['gap']}, all round, and no further")
        if plan["band"]:
            self.band(s, t, plan)
            self.blank_torque(t, plan, self.unit)
            self.from_where(t, plan)

    def nearest(self, q, unit, places=None):
        """A torque without a tolerance in another unit: at the fewest places that move it by less than half a per cent."""
        if q.unit == unit:
            return q
        v = q.to(TORQUE, unit)
        for p in range(7) if places is None else [places]:
            r = rounded(v, p, NEAREST)
            if places is not None or p == 6 or abs(r - v) * 200 < v:
                return Q(r, unit, p)

    def card_sequence(self, s, t, plan):
        torque, stages, within = plan["torque"], plan["stages"], t.get("within")
        places = self.job["shop"].get("torquePlaces")
        snug = self.nearest(torque, self.unit, places)
        if plan["band"]:
            plan["in"] = inward(plan["band"], self.unit, places)
            snug = min(max(snug, plan["in"][0], key=lambda q: q.v), plan["in"][1], key=lambda q: q.v)
        if plan.get("set"):
            self.setting(s, t, plan)
        else:
            self.figure(self.mark(snug.text()))
            self.pull(s, t, False)
        self.blank_torque(t, plan, snug.unit)
        self.why(f"Snug torque {self.mark(snug.text())} at the fastener: to nearest, from {self.mark(torque.text())}, which is {self.mark(self.all_digits(torque, snug.unit))}.")
        other = "N·m" if self.unit == "ft-lb" else "ft-lb"
        self.why(f"On a wrench that reads {other}: {self.mark(self.nearest(torque, other).text())}.")
        if plan["band"]:
            self.why(f"The snug torque may be {self.band_text(plan['in'])} at the fastener, rounded inward from {self.band_text(plan['band'])}.")
        less, more = (turn(within.get(k, "0 turns")) if within else F(0) for k in ("less", "more"))
        total, n = sum(stages), len(stages)
        if self.eye > less * n or self.eye > more * n:
            self.say("With an angle gauge: too fine to judge by eye.")
        for k, stage in enumerate(stages):
            self.figure(self.mark(degrees(stage)), shown=not k and len(self.page.figures) == 0)
        if within:
            self.say(f"Each from where the last ended, {self.mark(degrees(less))} less to {self.mark(degrees(more))} more; "
                     f"in all {self.mark(degrees(total - less * n))} to {self.mark(degrees(total + more * n))}.")
        self.say("in all ° gauge good to ± °")

    # From priming until all is back.
    def back(self, step, lead):
        self.say(f"{step['letter']}. {lead}: {step['what']}" + (f": {step['forStart']}" if step.get("forStart") else ""))

    def prime(self):
        p = self.job["prime"]
        self.begin("prime", "Prime, start, leaks, back into service")
        self.part = "PRIME",
        early = [s for s in reversed(self.steps) if s.get("forPriming")]
        pump, hand, void = p.get("pump"), p.get("handPrimer"), estimate(p.get("void"))
        if pump:
            for step in early:
                self.back(step, "back for priming")
        self.why(f"To fill, low / best / high: {self.volumes(void)}." if void else "How much there is to fill is unknown: the job doesn't state prime.void.")
        if pump:
            lacks = ([] if void else ["prime.void"]) + ([] if "flow" in pump else ["prime.pump.flow"])
            time = duration(pump["onTime"])
            self.primed["keyCycles"] = lacks
            if lacks:
                self.say(f"key on for {self.mark(spoken(time))}, off, wait for the pump to stop; repeat", f"the job doesn't state {', '.join(lacks)}.")
            else:
                flow = estimate(pump["flow"])
                share = parse(pump["efficiency"]).v / 100
                # Litres a cycle; the strongest flow goes with the smallest void.
                each = [q.to(FLOW, "L/min") * time / 60 * share for q in flow.all]
                least, best, most = (ceil(v.to(VOLUME, "L") / e) for v, e in zip(void.all, reversed(each)))
                best = ceil(void.best.to(VOLUME, "L") / each[1])
                self.primed["keyCycles"] = least, best, most
                self.say(f"key on for {self.mark(spoken(time))}, off, wait for the pump to stop: {best} {'time' if best == 1 else 'times'}")
                self.say("times")
                self.say(f"Still air after {most}? Stop and look for the cause.")
                self.why(f"Cycles {self.counts(least, best, most)}: rounded up to whole ones from what is to fill / (flow × time × share): "
                         f"{self.mark(flow.low.text())} to {self.mark(flow.high.text())}, at {self.mark(parse(pump['efficiency']).text())} efficiency.")
        if hand:
            lacks = ([] if void else ["prime.void"]) + ([] if "stroke" in hand else ["prime.handPrimer.stroke"])
            self.primed["strokes"] = lacks
            if lacks:
                self.say(f"hand primer: until it feels firm and no air comes. Record how many strokes: the job doesn't state {', '.join(lacks)}.")
            else:
                stroke, share = estimate(hand["stroke"]), parse(hand["efficiency"]).v / 100
                each = [q.to(VOLUME, "L") * share for q in stroke.all]
                least, best, most = (ceil(v.to(VOLUME, "L") / e) for v, e in zip(void.all, reversed(each)))
                best = ceil(void.best.to(VOLUME, "L") / each[1])
                self.primed["strokes"] = least, best, most
                self.say(f"hand primer: {best} {'stroke' if best == 1 else 'strokes'}, until it feels firm")
                self.say(f"Not firm after {most}? Stop and look for the cause.")
                self.why(f"Strokes {self.counts(least, best, most)}: rounded up from what is to fill / (stroke × share): {self.quantity(stroke.low, VOLUME, 'volume', DOWN)} to "
                         f"{self.quantity(stroke.high, VOLUME, 'volume', UP)} a stroke, at {self.mark(parse(hand['efficiency']).text())} efficiency.")
        self.part = "START",
        if not pump:
            for step in early:
                self.back(step, "for the start")
        for step in reversed(self.steps):
            if step.get("forStart") and not step.get("forPriming"):
                self.back(step, "for the start")
        crank = p["crank"]
        limit, rest, n = duration(crank["limit"]), duration(crank["rest"]), crank["attempts"]
        self.say(f"crank for at most {self.mark(spoken(limit))}, then rest {self.mark(spoken(rest))}", f"at most {n} {'attempt' if n == 1 else 'attempts'}")
        self.why(f"With the rests that is {self.mark(spoken(limit * n))} of cranking in {self.mark(spoken(limit * n + rest * (n - 1)))}.")
        for side in ("pressure", "suction"):
            for s in self.stations:
                if s["side"] == side:
                    self.say(f"station {s['id']}, {side}" + {"pressure": " side: dry paper to the joint", "suction": " side: a leak stays dry"}[side])
        for step in reversed(self.steps):
            self.say(f"{step['letter']}. {step['what']}" + (" (back already: check)" if step.get("forPriming") else ""))

    @staticmethod
    def counts(least, best, most):
        return str(best) if least == most else f"{best} ({least} to {most})"

    def office(self):
        j = self.job
        self.begin("office", "For the office")
        self.part = "WASTE",
        self.say(f"Into: {j['waste']['into']}.")
        for name, mass, volume, scale in self.wastes:
            if isinstance(mass, list):
                self.say(f"{name}: unknown, since the job doesn't state {', '.join(mass)}. Weigh it.")
                self.say("weighed " + self.pref.get("mass", "kg"))
                continue
            self.say(f"{name}: {self.briefly(mass)}")
            self.say("weighed " + self.pref.get("mass", "kg"))
            if volume:
                self.why(f"{name}, in volume, at {self.temperature(self.at)}, low / best / high: {self.volumes(volume)}.")
                self.why(f"{name}: scale reading in air {self.masses(scale)}, low / best / high.")
            self.why(f"{name}: mass, low / best / high: {self.masses(mass)}.")
        self.due()
        parts = []
        for s in self.stations:
            parts.append(self.numbered(s["element"]))
            parts += [self.numbered(seal) for seal in s["seals"] if not seal.get("withElement")]
        self.say("reorder: " + "; ".join(parts))
        needs = (self.rules or {}).get("needs", {})
        for s in self.stations:
            if needs.get("part") or needs.get("batch"):
                self.say(f"station {s['id']}: part fitted batch")
            if "water" in s["drain"] or s["drain"].get("waterUnknown"):
                self.say(f"station {s['id']}: water now last time")
        self.found("NOTE")

    def due(self):
        n = self.job.get("interval")
        if not n:
            return
        day = datetime.date.fromisoformat(self.day)
        calendar, uses = None, []
        if n.get("months"):
            total = day.year * 12 + day.month - 1 + n["months"]
            y, m = divmod(total, 12)
            last = (datetime.date(y + (m == 11), (m + 1) % 12 + 1, 1) - datetime.timedelta(1)).day
            calendar = datetime.date(y, m + 1, min(day.day, last))
        if n.get("hours") and n.get("hoursPerWeek"):
            uses.append(day + datetime.timedelta(n["hours"] * 7 // n["hoursPerWeek"]))
        if "distance" in n and "distancePerWeek" in n:
            days = floor(parse(n["distance"]).to(LENGTH, "m") / parse(n["distancePerWeek"]).to(LENGTH, "m") * 7)
            if days <= 300 * 365:
                uses.append(day + datetime.timedelta(days))
        use = min(uses) if uses else None
        if calendar or use:
            self.say(f"Due by {min(d for d in (calendar, use) if d)}, if this one is done on the planned day.")
        if calendar and use:
            self.say(f"That is the earlier of {calendar} by the calendar and {use} by use.")
        if n.get("hours"):
            self.say(f"Due after {n['hours']} h more on the meter, if that comes first.")
        if "distance" in n:
            self.say(f"Due after {self.length(parse(n['distance']))} more on the meter, if that comes first.")

    def sources(self):
        j, f, r = self.job, self.job["fuel"], self.rules
        self.begin("numbers", "Where the numbers come from")
        for part, lines in self.numbers.items():
            self.say(part[2] if part[0] == "station" else either(part[0], part[0].capitalize()))
            for line in lines:
                self.say(line)
        if j.get("card"):
            self.say(f"Machine card: {j['card']}.")
        eye = self.mark(degrees(self.eye))
        if r:
            self.say(f"Judged by the rules named {r['name']}: torque {r['torque']}; a turn read to {eye} either way; turns counted to {turns(turn(r['count']))}.")
        else:
            self.say(f"No rules were agreed by which to judge the work: the aim is for an eye good to {eye} either way")
        at = parse(f["densityAt"]) if "densityAt" in f else Q(60, "°F", 0)
        self.say(f"Fuel: {f['grade']}, {self.mark(f['density'])} at {self.temperature(at)}.",
                 f"Volume is read at {self.temperature(self.at)}; density there by API MPMS 11.1-2004 (ASTM D1250-04)")
        self.say(self.mark("A scale in air shows less than the mass: air 1.2 kg/m³, weights of 8000 kg/m³."))
        self.say(f"Least flash point {self.temperature(parse(f['leastFlashPoint']), DOWN)}: {f['flashSource']}.")


def duration(text):
    """Seconds of "1 min 30 s"."""
    return sum(F(n) * {"s": 1, "min": 60, "h": 3600}[unit] for n, unit in re.findall(r"([\d.]+) ?(min|s|h)", text))


def spoken(seconds):
    minutes, rest = divmod(seconds, 60)
    words = [f"{minutes} min"] if minutes else []
    if rest or not minutes:
        words.append(written(rest, places_of(rest)) + " s")
    return " ".join(words)


# Limits printed in two units.
def printed(text):
    first, second = re.fullmatch(r"(.+) \((.+)\)", text).groups()
    return band(first), band(second)


def compare(first, second):
    """A printed number stands for all within half of its last place. Where the two can't be one torque they disagree; where neither
    is the other one converted, both may come from a round number of a third unit."""
    unit, half = second[0].unit, lambda q: F(1, 2 * 10**q.places)
    span = lambda q, u: tuple((q.v + s * half(q)) * TORQUE[q.unit] / TORQUE[u] for s in (-1, 1))
    pounds = ("ft-lb", "in-lb")
    too_high = F("1.356") / TORQUE["ft-lb"]  # as shops round it
    for p in range(max(second[0].places, second[1].places), -1, -1):
        if inward_at(first, unit, p) == (second[0].v, second[1].v):
            return "agree",
        if p > 0 and not second[0].v % F(1, 10**(p - 1)) and not second[1].v % F(1, 10**(p - 1)):
            continue
        break
    gap, pair, shop, same = F(0), None, False, True
    for a, b in zip(first, second):
        x, y = span(a, unit), span(b, unit)
        apart = max(x[0] - y[1], y[0] - x[1])
        if apart > 0 and (a.unit in pounds) != (b.unit in pounds):
            lb, other = (a, b) if a.unit in pounds else (b, a)
            u, v = span(lb, other.unit), span(other, other.unit)
            if max(u[0] - v[1], v[0] - u[1] * too_high) <= 0:
                apart, shop = F(0), True
        if apart > gap:
            gap, pair = apart, (a, b)
        to = lambda p, q: rounded(p.to(TORQUE, q.unit), q.places, NEAREST) == q.v
        same = same and (to(a, b) or to(b, a))
    if pair:
        a, b = pair
        converted = Q(rounded(a.to(TORQUE, b.unit), b.places + 1, NEAREST), b.unit, b.places + 1)
        return "disagree", a, converted, b, Q(rounded(gap, b.places + 2, UP), b.unit, b.places + 2)
    if same or shop:
        return "agree",
    for third in ("kgf·m", "kgf·cm", "N·m", "ft-lb", "in-lb"):
        if third in (first[0].unit, unit) or third in pounds and (first[0].unit in pounds or unit in pounds):
            continue
        values = [two_digits(max(span(a, third)[0], span(b, third)[0]), min(span(a, third)[1], span(b, third)[1])) for a, b in zip(first, second)]
        if all(values):
            return "third", [v + " " + third for v in values]
    return "agree",


def two_digits(low, high):
    """The round number of two digits between, if there is one, and if such numbers are farther apart than the two."""
    if low <= 0:
        return None
    for places in range(12, -13, -1):
        step = F(10)**-places
        v = ceil(low / step) * step
        if v <= high and step > high - low and v / step < 100:
            return either(*(written(v, n) for n in range(places_of(v), max(places, places_of(v)) + 1)))
    return None
