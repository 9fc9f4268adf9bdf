"""What a record has to hold: the work of a job judged line by line by the rules agreed on, and what became of its waste, worked out
from the job and the readings. Verdicts, figures, reasons and sources are written down here a second time."""
from math import erf, sqrt

from expect import Estimate, duration, estimate, weakest
from figures import *

# Sources: ilac-g8, jcgm-106, 29-cfr-1910, oiml-d28, 40-cfr-260.
PRACTICE = ["common-practice"]
TORQUE_SOURCES = {"simple acceptance": ["ILAC-G8:09/2019, 4.2.1"], "guarded by U": ["ILAC-G8:09/2019, 4.2.2, w = U"],
                  "guarded for 95 %": ["JCGM 106:2012, 8.3.2, 95 %", "from-memory"], "non-binary": ["ILAC-G8:09/2019, 4.2.3"]}
CAUSES = ["no-fuel", "suction-air", "gasket-left", "waxed-fuel", "pump-supply"]
TITLES = {"VSQG": "very small quantity generator", "SQG": "small quantity generator", "LQG": "large quantity generator"}
MARGIN, LIGHTEST, HEAVIEST = Q(30, "°F", 0), Q(500, "kg/m³", 0), Q(9000, "kg/m³", 0)


def msg(code, **values):
    """A message; underscores in names of values are hyphens."""
    code, _, variant = code.partition("/")
    m = {"code": code} | ({"variant": variant} if variant else {})
    return m | ({"values": {k.replace("_", "-"): v for k, v in values.items()}} if values else {})


def normal(x):
    return (1 + erf(x / sqrt(2))) / 2


def contains(b, v):
    return b[0] <= v <= b[1]


def decide(rule, band, v, u):
    """A torque with its U at k = 2 under a rule, all in N·m: (acceptance, whether nothing would pass)."""
    low, high = band
    inside = low <= v <= high
    if rule == "simple acceptance":
        return "accepted" if inside else "rejected", False
    if rule == "guarded for 95 %":
        sigma = float(u) / 2
        p = normal(float(high - v) / sigma) - (normal(float(low - v) / sigma) if low else 0)
        ok = inside and p >= 0.95
        z = float(high - low) / float(u)
        none = normal(float(high) / sigma) < 0.95 if not low else 2 * normal(z) - 1 < 0.95
    else:
        ok = inside and (not low or v - u >= low) and v + u <= high
        none = u > high if not low else 2 * u > high - low
    if ok:
        return "accepted", False
    none = none and inside
    if rule == "non-binary":
        if inside:
            return "conditionally-accepted", none
        return ("conditionally-rejected" if v + u >= low and v - u <= high else "rejected"), False
    return ("inconclusive" if none else "rejected"), none


class Review:
    def __init__(self, sheet, done, sets):
        self.sheet, self.job, self.done, self.rules, self.set = sheet, sheet.job, done, sheet.rules, sets
        self.lines = []
        self.eye, self.count = turn(self.rules["eye"]), turn(self.rules["count"])
        self.needs, self.day = self.rules.get("needs", {}), done["date"]
        self.all_leaks = [leak for s in done["stations"] for leak in s.get("leaks", {}).items()]
        for i, (s, plan) in enumerate(zip(sheet.stations, sheet.plans)):
            self.station(i, s, plan)
        self.priming()
        for s in sheet.stations:
            self.leaks(*self.reading(s["id"]))
        self.papers()
        for step in reversed(self.job["isolate"]):
            at = next((i for i, b in enumerate(done.get("restored", [])) if b["what"] == step["what"]), None)
            back = None if at is None else done["restored"][at]["restored"]
            self.seen("restored" if at is None else f"restored[{at}]", "isolation", back, msg("want.back", what=step["what"]), "back", "pass", "fail", ["job"])
        self.wastes = self.all_wastes()
        self.weights()
        self.totals = [self.total(i, w) for i, w in enumerate(self.wastes)]
        self.month()
        fine = lambda needed: all(line["verdict"] in ("pass", "seated", "unchanged") for line in self.lines if line["needed"] == needed)
        self.complete = fine(True)
        self.as_planned = self.complete and fine(False)

    def reading(self, id_):
        for i, s in enumerate(self.done["stations"]):
            if s["id"] == id_:
                return s, f"stations[{i}]"
        return {"id": id_}, f"stations[id={id_}]"

    def say(self, where, code, want, verdict=None, reasons=(), found=None, sources=PRACTICE, needed=False):
        """A line; one of which nothing was said wasn't recorded."""
        reasons = [r if isinstance(r, dict) else msg(r) for r in reasons]
        if not verdict:
            verdict, reasons = "not recorded", [*reasons, msg("why.not-recorded")]
        self.lines.append({"where": where, "code": code, "needed": needed, "verdict": verdict, "want": want, "reasons": reasons, "sources": list(sources)}
                          | ({"found": found} if found else {}))

    def seen(self, where, code, is_, want, name, yes, no, sources=PRACTICE):
        if is_ is None:
            return self.say(where, code, want, needed=True, sources=sources)
        variant = "/yes" if is_ else "/no"
        self.say(where, code, want, yes if is_ else no, [f"why.{name}{variant}"], msg(f"found.{name}{variant}"), sources, True)

    # A station.
    def station(self, i, s, plan):
        done, path = self.reading(s["id"])
        t = s["tighten"]
        self.seen(path + ".dragged", "run-up", done.get("dragged"), msg("want.run-up"), "run-up", "fail", "pass")
        {"turn": self.turn, "sequence": self.sequence, "seat": self.seat}.get(plan["way"], self.torque)(s, t, plan, done, path)
        out = self.sheet.outs[i]
        self.volume("out", path + ".out", done.get("out"), None if isinstance(out, list) else out, self.sheet.fuel.at)
        self.hot(path + ".out.at", done.get("out"))
        d = s["drain"]
        if "water" in d or d.get("waterUnknown"):
            self.volume("water", path + ".water", done.get("water"), estimate(d.get("water")), water)
        elif taken := done.get("water"):
            found = self.some(taken)
            self.say(path + ".water", "water", msg("want.no-water"), "fail" if found else "pass", [f"why.water/{'found' if found else 'none'}"], self.taken(taken, False))

    def bracket(self, taken):
        """All that a volume may be, and whether that is known."""
        if "volume" in taken:
            return estimate(taken["volume"]), True
        read, off = parse(taken["read"]), taken.get("deviation") or self.job["shop"].get("jugDeviation")
        d = parse(off).to(VOLUME, read.unit) if off else F(0)
        return Estimate(Q(max(read.v - d, 0), read.unit), read, Q(read.v + d, read.unit), "measured"), bool(off)

    @staticmethod
    def some(taken):
        """Whether there was any of it: a figure of nothing is none, however good the jug."""
        return (parse(taken["read"]) if "read" in taken else estimate(taken["volume"]).high).v > 0

    def taken(self, taken, jug=True):
        at = parse(taken["at"])
        if "volume" in taken:
            return msg("found.volume/range", volume=estimate(taken["volume"]), at=at)
        if "deviation" in taken:
            return msg("found.volume/within", volume=parse(taken["read"]), deviation=parse(taken["deviation"]), at=at)
        if jug and "jugDeviation" in self.job["shop"]:
            return msg("found.volume/jug", volume=parse(taken["read"]), deviation=parse(self.job["shop"]["jugDeviation"]), at=at)
        return msg("found.volume", volume=parse(taken["read"]), at=at)

    @staticmethod
    def expected(low, high, least, most):
        if low >= least and high <= most:
            return "pass", "why.expected/within"
        if high < least or low > most:
            return "fail", "why.expected/" + ("less" if high < least else "more")
        return "undecided", "why.expected/partly"

    def volume(self, code, path, taken, plan, density):
        at, more = self.sheet.at, {"sources": ["density"]}
        want = msg("want.volume", volume=plan, at=at) if plan else msg("want.unknown")
        if not taken:
            self.say(path, code, want, **more)
        elif not plan:
            self.say(path, code, want, "undecided", ["why.no-estimate"], self.taken(taken, False), **more)
        else:
            all_, known = self.bracket(taken)
            weigh = lambda q, c: q.to(VOLUME, "L") * density(c)
            then = celsius(parse(taken["at"]))
            verdict, why = self.expected(weigh(all_.low, then), weigh(all_.high, then), weigh(plan.low, celsius(at)), weigh(plan.high, celsius(at)))
            self.say(path, code, want, verdict if known else "undecided", [why] if known else ["why.jug-unknown", why], self.taken(taken), **more)

    def hot(self, path, taken):
        if not taken:
            return
        f, at = self.job["fuel"], parse(taken["at"])
        flash = parse(f["leastFlashPoint"])
        room = celsius(flash) - celsius(at)
        verdict, why = ("fail", "above") if room <= 0 else ("undecided", "near") if room <= F(30) * F(5, 9) else ("pass", "clear")
        self.say(path, "flash", msg("want.flash", margin=MARGIN, grade=f["grade"], flash=flash), verdict, [f"why.flash/{why}"], msg("found.temperature", at=at), [f["flashSource"]])

    # Torque.
    def message(self, r):
        value = parse(r["value"])
        if r.get("clicked"):
            return msg("found.torque/clicked", torque=value, wrench=r["tool"])
        if "expanded" in r:
            return msg("found.torque", torque=value, U=parse(r["expanded"]), k=r.get("k", "2"), wrench=r["tool"])
        return msg("found.torque/no-U", torque=value, wrench=r["tool"])

    def lapsed(self, name, until):
        return msg("why.out-of-calibration", tool=name, until=until) if until and until < self.day else None

    def fastener(self, r, t):
        """What arrived: ((least, most) of a click or else the torque, U), in N·m, how it was found, and why it can't be judged."""
        a, value = t.get("adapter"), parse(r["value"])
        found = self.message(r)
        if a and "kind" in a:
            return None, found, msg("why.no-lever", adapter=a["name"], kind=a["kind"])
        if a and (late := self.lapsed(a["name"], a.get("calibratedUntil"))):
            return None, found, late
        w = next((w for w in self.sheet.wrenches if w.id == r["tool"]), None)
        if not w and self.sheet.wrenches:
            return None, found, msg("why.not-listed/wrench", tool=r["tool"], tools=[w.id for w in self.sheet.wrenches])
        if w and (late := self.lapsed(w.id, w.until)):
            return None, found, late
        u = parse(r["expanded"]).to(TORQUE, "N·m") * 2 / F(r.get("k", "2")) if "expanded" in r else None
        newtons = value.to(TORQUE, "N·m")
        if a and r.get("corrected"):
            return (newtons, u), found, None
        if w:
            if value.unit != w.unit:
                return None, found, msg("why.off-scale/unit", wrench=w.id, shows=w.unit, unit=value.unit)
            for bad, side, end in ((value.v > w.highest.v, "above", w.highest), (value.v < w.lowest.v, "below", w.lowest)):
                if bad:
                    return None, found, msg(f"why.off-scale/{side}", torque=value, wrench=w.id, end=end)
        if r.get("clicked"):
            if not w:
                return None, found, msg("why.no-setting/unlisted", wrench=r["tool"])
            lever = w.lever(a)
            if (value.v - w.lowest.v) % w.step.v:
                return None, found, msg("why.no-setting", set=value, wrench=w.id, lowest=w.lowest, highest=w.highest, step=w.step)
            if not lever:
                return None, found, msg("why.lever-unknown", adapter=a["name"])
            ends = w.arrives(value.v, lever)
            least, most = (Q(rounded(x, 3, mode), w.unit) for x, mode in zip(ends, (DOWN, UP)))
            return tuple(x * TORQUE[w.unit] for x in ends), msg("found.at-fastener", read=found, least=least, most=most), None
        if not a:
            return (newtons, u), found, None
        # A reading is taken where the hand is stated to be.
        e, c = parse(a["lever"]["offset"]).to(LENGTH, "mm"), cosine(parse(a["lever"]["angle"]).v)
        if not e or not c:
            return (newtons, u), found, None
        if not w or not w.length or (factor := 1 + e * c / w.length.to(LENGTH, "mm")) <= 0:
            return None, found, msg("why.lever-unknown", adapter=a["name"])
        about = Q(rounded(value.v * factor, 3, NEAREST), value.unit)
        return (newtons * factor, u and u * factor), msg("found.at-fastener/about", read=found, torque=about), None

    def outside(self, code, b, v, unit):
        """On which side, and in which other unit the number would be in the band."""
        newtons, slips = v * TORQUE[unit], []
        if not F(9, 10) * b[0] <= newtons <= F(11, 10) * b[1]:
            slips = [u for u in ("N·m", "in-lb", "ft-lb", "kgf·m") if contains(b, v * TORQUE[u])]
        return [msg(code + ("/above" if newtons > b[1] else "/below"))] + ([msg("why.unit-slip", units=slips)] if slips else [])

    def decide(self, b, at, r):
        """(verdict, reasons, whether the reading has what the rule needs)."""
        unit, rule = parse(r["value"]).unit, self.rules["torque"]
        if r.get("clicked"):
            least, most = at
            if contains(b, least) and contains(b, most):
                return "pass", [msg("why.click/inside")], True
            if most < b[0] or least > b[1]:
                return "fail", self.outside("why.click", b, self.delivered / TORQUE[unit], unit), True
            return "undecided", [msg("why.click/partly")], True
        v, u = at
        why = lambda name: [msg(f"why.torque/{name}", rule=rule)]
        if u is None and rule != "simple acceptance":
            if rule != "non-binary" and not contains(b, v):
                return "fail", self.outside("why.outside-whatever-U", b, v / TORQUE[unit], unit), True
            return "undecided", why("no-uncertainty"), False
        acceptance, none = decide(rule, b, v, u)
        if acceptance == "rejected" and not contains(b, v):
            return "fail", self.outside("why.outside", b, v / TORQUE[unit], unit), True
        return {"accepted": "pass", "rejected": "fail"}.get(acceptance, "undecided"), why(acceptance) + ([msg("why.no-acceptance-zone")] if none else []), True

    def nominal(self, r, t, at):
        """About what arrived, in N·m."""
        if not r.get("clicked"):
            return at[0]
        w = next(w for w in self.sheet.wrenches if w.id == r["tool"])
        return parse(r["value"]).v * w.lever(t.get("adapter"))[0] * TORQUE[w.unit]

    def judged(self, t, stated, done, path, at_stop):
        """The torque of a band."""
        b, r = tuple(q.to(TORQUE, "N·m") for q in stated), done.get("torque")
        line = {"found": None, "sources": TORQUE_SOURCES[self.rules["torque"]]}
        verdict, why, at, usable, fit = "not recorded", [msg("why.not-recorded")], None, False, True
        if r:
            at, line["found"], unfit = self.fastener(r, t)
            if unfit:
                verdict, why, fit = "undecided", [unfit], False
            else:
                self.delivered = self.nominal(r, t, at)
                verdict, why, usable = self.decide(b, at, r)
                if r.get("clicked"):
                    line["sources"] = PRACTICE
        dragged = done.get("dragged")
        overrule = lambda v, code: (v, [msg(code)], PRACTICE)
        if done.get("pastStop"):
            verdict, why, line["sources"] = overrule("fail", "why.past-stop/torque")
        elif dragged:
            if verdict not in ("fail", "not recorded"):
                verdict, why, line["sources"] = overrule("undecided", "why.dragged/torque")
        elif done.get("seated") is False and verdict == "pass":
            verdict, why, line["sources"] = overrule("undecided", "why.gap-open/torque")
        elif verdict != "pass" and fit and at_stop and self.high_kept(b, at, usable, r):
            why, verdict = [msg("why.seated/torque", verdict=verdict), *why], "seated"
            line["sources"] = PRACTICE + TORQUE_SOURCES[self.rules["torque"]]
        if verdict == "fail" and at and not done.get("pastStop"):
            why = why + self.next(b, self.delivered, done)
        self.say(path + ".torque", "torque", msg("want.torque", band=("band", *stated)), verdict, why, needed=True, **line)

    def high_kept(self, b, at, usable, r):
        if not usable:
            return not at or at[0] <= b[1]
        return self.decide((F(0), b[1]), at, r)[0] == "pass"

    def next(self, b, v, done):
        if v > b[1]:
            return [msg("why.next/over")]
        if v >= b[0]:
            return [msg("why.next/guarded")]
        doubt = self.doubt(done, None)
        return [msg(doubt), msg("why.not-turned-on")] if doubt else [msg("why.next/short")]

    def doubt(self, done, contact):
        """Why what reads short isn't simply turned on."""
        if done.get("dragged"):
            return "why.in-doubt/dragged"
        if contact:
            return contact
        if "dragged" not in done:
            return "why.in-doubt/drag-not-recorded"
        if any(leak for _, leak in self.all_leaks):
            return "why.in-doubt/leak"
        if self.done.get("cranks") or any(stage != "priming" for stage, _ in self.all_leaks):
            return "why.in-doubt/ran"
        return None

    def torque(self, s, t, plan, done, path):
        if plan["way"] == "printed" and not plan["band"]:
            r = done.get("torque")
            self.say(path + ".torque", "torque", msg("want.printed", printed=t["printed"]), r and "undecided", ["why.units-disagree"] if r else [], r and self.message(r), ["job"], True)
        else:
            self.judged(t, plan["band"], done, path, t.get("orSeated") and done.get("seated"))
        self.gap(done, path, None)

    def gap(self, done, path, doubt):
        line = lambda verdict, why, saw: self.say(path + ".seated", "seat", msg("want.seat"), verdict, [why], msg("found.seat/" + saw), needed=True)
        if done.get("pastStop"):
            line("fail", "why.past-stop/seat", "past-stop")
        elif "seated" not in done:
            self.say(path + ".seated", "seat", msg("want.seat"), needed=True)
        elif not done["seated"]:
            line("fail", "why.gap-open/seat", "open")
        elif done.get("dragged"):
            line("undecided", "why.dragged/seat", "closed")
        else:
            line("undecided" if doubt else "seated", doubt or "why.seated/seat", "closed")

    def off(self, counted, due):
        by = counted - due
        return 0 if abs(by) <= self.count else 1 if by > 0 else -1

    def seat(self, s, t, plan, done, path):
        doubt, turns_ = None, None
        if "stopTurns" in t["seat"]:
            due = turn(t["seat"]["stopTurns"])
            want = msg("want.stop-turns", turns=due, count=self.count)
            turns_ = {"where": path + ".stopTurns", "code": "stop-turns", "want": want, "needed": True}
            if "stopTurns" in done:
                off = self.off(turn(done["stopTurns"]), due)
                turns_ |= {"verdict": "fail" if off else "pass", "reasons": ["why.stop-turns/" + ("expected", "late", "early")[off]],
                           "found": msg("found.turn", turn=turn(done["stopTurns"]))}
            if turns_.get("verdict") != "pass":
                doubt = "why.in-doubt/stop-turns"
        if plan["band"]:
            self.judged(t, plan["band"], done, path, done.get("seated") and not doubt)
        if turns_:
            self.say(**turns_)
        self.gap(done, path, doubt)

    def sequence(self, s, t, plan, done, path):
        r, want, sources, found = done.get("torque"), msg("want.snug/open", torque=plan["torque"]), ["job"], None
        if plan["band"]:
            want, sources = msg("want.snug", torque=plan["torque"], band=("band", *plan["band"])), TORQUE_SOURCES[self.rules["torque"]]
        verdict, why = None, []
        if r:
            at, found, unfit = self.fastener(r, t)
            if unfit:
                verdict, why = "undecided", [unfit]
            elif not plan["band"]:
                verdict, why = "undecided", ["why.no-tolerance/torque"]
            else:
                self.delivered = self.nominal(r, t, at)
                verdict, why, _ = self.decide(tuple(q.to(TORQUE, "N·m") for q in plan["band"]), at, r)
        if verdict == "fail":
            why = [*why, "why.next/snug"]
        elif verdict == "pass" and done.get("dragged"):
            verdict, why, sources = "undecided", ["why.dragged/torque"], PRACTICE
        self.say(path + ".torque", "snug", want, verdict, why, found, sources, True)
        w, a, n = t.get("within"), done.get("angle"), len(plan["stages"])
        less, more = (turn(w.get(k, "0 turns")) if w else F(0) for k in ("less", "more"))
        ends = lambda low, high: [low, high] if low != high else low
        low, high = sum(plan["stages"]) - n * less, sum(plan["stages"]) + n * more
        if not a or "total" in a:
            self.angle(path + ".angle" + (".total" if a else ""), "angle", msg("want.angle", angle=ends(low, high)), low, high, a and turn(a["total"]), done)
        else:
            for k, stage in enumerate(plan["stages"]):
                turned = turn(a["stages"][k]) if k < len(a["stages"]) else None
                want = msg("want.angle/stage", stage=k + 1, angle=ends(stage - less, stage + more))
                self.angle(f"{path}.angle.stages[{k}]", "angle.stage", want, stage - less, stage + more, turned, done)

    def angle(self, where, code, want, low, high, turned, done):
        line = {"where": where, "code": code, "want": want, "needed": True}
        if turned is None:
            return self.say(**line, sources=["job"])
        a, out, unfit = done["angle"], self.eye, None
        line["found"] = msg("found.angle", angle=turned)
        if tool := a.get("tool"):
            line["found"] = msg("found.angle/tool", angle=turned, tool=tool)
            out = turn(a["deviation"]) if "deviation" in a else None
            gauges = self.job["shop"].get("gauges", [])
            g = next((g for g in gauges if g["id"] == tool), None) or next(({"calibratedUntil": w.until} for w in self.sheet.wrenches if w.id == tool), None)
            if g:
                unfit = self.lapsed(tool, g["calibratedUntil"])
            elif gauges:
                unfit = msg("why.not-listed/gauge", tool=tool, tools=[g["id"] for g in gauges])
        if unfit or out is None:
            return self.say(**line, verdict="undecided", reasons=[unfit or "why.gauge-unknown"], sources=["job"])
        verdict, why, sources = self.reach(low, high, "snug", self.judge(low, high, turned, out), None, out, done, None)
        self.say(**line, verdict=verdict, reasons=why, sources=sources or ["job"])

    # Turns.
    @staticmethod
    def judge(low, high, turned, out):
        least, most = max(turned - out, 0), turned + out
        return "short" if most < low else "over" if least > high else "in the window" if least >= low and most <= high else "unclear"

    def reach(self, low, high, datum, reach, by_passes, out, done, contact):
        """(verdict, reasons, sources of a rule of the trade)."""
        doubt = self.doubt(done, contact)
        if reach == "short":
            return ("fail", [doubt, "why.not-turned-on"], PRACTICE) if doubt else ("fail", ["why.turn/short"], None)
        if reach == "over":
            return "fail", ["why.turn/over" + ("-gasket" if datum == "gasket contact" else "")], None
        if reach == "in the window":
            if done.get("dragged"):
                return "undecided", ["why.dragged/" + datum.replace(" ", "-")], PRACTICE
            return ("undecided", [contact], None) if contact and "contactTurns" in done else ("pass", ["why.turn/in-the-window"], None)
        if by_passes:
            values = {}
            for k, r in enumerate(by_passes):
                values |= {f"times-{k + 1}": k, f"reach-{k + 1}": r}
            return "undecided", [msg("why.rounds-not-counted", **values)], None
        return "undecided", ["why.no-tolerance/turn" if low == high else msg("why.turn/unclear", out=out)], None

    @staticmethod
    def position(ring, seen):
        """Where on the ring, in marks behind the first."""
        if "between" in seen:
            a, b = (ring.labels.index(x) for x in seen["between"])
            step = 1 if (b - a) % ring.n == 1 else -1
            return a + step * F(seen.get("share", "1/2"))
        at = F(ring.labels.index(seen["mark"]))
        return at - ring.way * ring.spin * turn(seen["past"]) * ring.n if "past" in seen else at

    @staticmethod
    def place(seen):
        """It as a record has it: a share from the first mark that was written."""
        if "between" in seen:
            return {"mark": seen["between"][0], "next": seen["between"][1]} | ({"share": seen["share"]} if F(seen.get("share", "1/2")) != F(1, 2) else {})
        return {"mark": seen["mark"]} | ({"past": turn(seen["past"])} if "past" in seen else {})

    def turn(self, s, t, plan, done, path):
        contact = self.contact(t, done, path)
        low, high, datum = plan["least"], plan["most"], plan["datum"]
        want = msg("want.turn", turn=(low, high, datum))
        sources = ["job"] + ([self.rules["turn"]["source"]] if (low, high) != plan["stated"] else [])
        line, more, passes = {"where": path + ".marks", "code": "turn", "want": want, "needed": True}, [], None
        if seen := done.get("marks"):
            ring = Ring(t["marks"]["labels"], t["marks"]["order"], t["thread"])
            a, b = (self.position(ring, seen[k]) for k in ("before", "after"))
            turned = (a - b) * ring.way * ring.spin / ring.n % 1
            line["found"] = msg("found.marks", before=self.place(seen["before"]), after=self.place(seen["after"]))
            due = t["marks"].get("drawnAt") or t["marks"].get("atContact")
            if due and min((a - ring.labels.index(due)) % ring.n, (ring.labels.index(due) - a) % ring.n) > F(1, 4):
                contact, more = contact or "why.in-doubt/other-mark", [msg("why.other-mark", mark=due)]
            if "passes" in seen:
                reach = self.judge(low, high, turned + seen["passes"], self.eye)
            else:
                passes = [self.judge(low, high, turned, self.eye)]
                while passes[-1] != "over":
                    passes.append(self.judge(low, high, turned + len(passes), self.eye))
                reach, passes = ("over", None) if len(passes) == 1 else ("unclear", passes)
        elif "turned" in done:
            turned = turn(done["turned"])
            line |= {"where": path + ".turned", "found": msg("found.turn", turn=turned)}
            reach = self.judge(low, high, turned, self.eye)
        else:
            return self.say(**line, sources=sources)
        verdict, why, of_trade = self.reach(low, high, datum, reach, passes, self.eye, done, contact)
        self.say(**line, verdict=verdict, reasons=[*why, *more], sources=of_trade or sources)

    def contact(self, t, done, path):
        if "contactTurns" not in t:
            return None
        due, counted, doubt = turn(t["contactTurns"]), done.get("contactTurns"), None
        if not counted:
            doubt = "why.in-doubt/contact-not-counted"
        elif self.off(turn(counted), due):
            doubt = "why.in-doubt/contact"
        thread = t.get("canister") or t.get("stud")
        if thread and "gasket" in t:
            want, name = msg("want.contact", turns=due, count=self.count), None
            if counted:
                metric = re.fullmatch(r"M[\d.]+x([\d.]+)", thread)
                pitch = F(metric[1]) if metric else F("25.4") / int(re.search(r"-(\d+)", thread)[1])  # mm
                by = abs(turn(counted) - due)
                like = abs(by * pitch - parse(t["gasket"]).to(LENGTH, "mm")) <= self.count * pitch
                early = turn(counted) < due
                name = ("as-expected" if by <= self.count else "second-gasket-likely" if early and like else "too-early" if early else "gasket-likely-missing" if like
                        else "contact-likely-missed" if by * pitch < parse(t["gasket"]).to(LENGTH, "mm") else "too-late")
                why = msg(f"why.contact/{name}", turns=by, advance=Q(by * pitch, "mm", None, F(1, 10**11)))
            self.say(path + ".contactTurns", "contact", want, name and ("pass" if name == "as-expected" else "fail"), [why] if name else [],
                     msg("found.turn", turn=turn(counted)) if counted else None, needed=True)
        return doubt

    # The job as a whole.
    def priming(self):
        done, p = self.done, self.job["prime"]
        for key, code, there in (("keyCycles", "key-cycles", "pump" in p), ("strokes", "strokes", "handPrimer" in p)):
            if not there:
                continue
            plan, n = self.sheet.primed[key], done.get(key)
            lacks = isinstance(plan, list)
            want = msg("want.unknown") if lacks else msg("want.count", least=plan[0], most=plan[2])
            verdict, why = None, []
            if n is not None:
                verdict, why = (("undecided", [msg("why.count/unknown", unknown=plan)]) if lacks else
                                ("fail", ["why.count/more", msg("why.look-for", causes=CAUSES)]) if n > plan[2] else
                                ("undecided", ["why.count/less"]) if n < plan[0] else ("pass", ["why.count/within"]))
            self.say(key, code, want, verdict, why, msg("found.count", count=n) if n is not None else None, ["void"])
        c, cranks = p["crank"], done.get("cranks", [])

        def limit(where, code, want, found, ok, otherwise, advice="why.find-cause"):
            if not found:
                return self.say(where, code, want, sources=["job"])
            self.say(where, code, want, "pass" if ok else "fail", ["why.within-limit"] if ok else [otherwise, advice], found, ["job"])
        limit("cranks", "crank.attempts", msg("want.most", most=c["attempts"]), cranks and msg("found.count", count=len(cranks)), len(cranks) <= c["attempts"], "why.crank/often")
        for i, crank in enumerate(cranks):
            time = lambda key: msg("found.time", time=("time", duration(crank[key]))) if key in crank else None
            limit(f"cranks[{i}].crank", "crank.time", msg("want.most", most=("time", duration(c["limit"]))), time("crank"), duration(crank["crank"]) <= duration(c["limit"]), "why.crank/long")
            if i:
                limit(f"cranks[{i}].rest", "crank.rest", msg("want.least", least=("time", duration(c["rest"]))), time("rest"),
                      "rest" in crank and duration(crank["rest"]) >= duration(c["rest"]), "why.crank/rest", "why.look-at-starter")

    def leaks(self, done, path):
        for stage, asked in (("priming", True), ("running", self.needs.get("leakRunning")), ("hot", True)):
            leak = done.get("leaks", {}).get(stage)
            if leak is not None or asked:
                self.seen(f"{path}.leaks.{stage}", f"leak.{stage}", leak, msg("want.no-leak"), "leak", "fail", "pass")

    def papers(self):
        done = self.done

        def paper(needed, where, code, found, doubt=None, **values):
            if needed:
                verdict = found and ("undecided" if doubt else "pass")
                self.say(where, f"paper.{code}", msg(f"want.paper/{code}", **values), verdict, [doubt or "why.recorded"] if found else [], found,
                         ["job"] if doubt == "why.other-part" else ["rules"], True)
        note = lambda text: msg("found.text", text=text) if text else None
        m = done.get("meter", {})
        values = {k: m[k] for k in ("hours",) if k in m} | ({"distance": parse(m["distance"])} if "distance" in m else {})
        name = "found.meter" + ("" if len(values) == 2 else "/" + next(iter(values), ""))
        paper(self.needs.get("meter"), "meter", "meter", msg(name, **values) if values else None)
        paper(self.needs.get("checkedBy"), "checkedBy", "checkedBy", note(done.get("checkedBy")), "why.same-person" if done.get("checkedBy") == done["by"] else None)
        for s in self.sheet.stations:
            station, path = self.reading(s["id"])
            fitted, part = station.get("fitted", {}), s["element"]["part"]
            other = fitted.get("part") and not (part + " ").startswith(fitted["part"] + " ")
            paper(self.needs.get("part") or other, path + ".fitted.part", "part", note(fitted.get("part")), "why.other-part" if other else None, part=part)
            paper(self.needs.get("batch"), path + ".fitted.batch", "batch", note(fitted.get("batch")))

    # Waste.
    def all_wastes(self):
        """Those of the plan, and the water found where none was expected."""
        stations, wastes = self.sheet.stations, []
        kinds = [("drained fuel", "")] + [("fuel-water mix", s["id"]) for s in stations if "water" in s["drain"] or s["drain"].get("waterUnknown")]
        kinds += [("wet element", s["id"]) for s in stations] + [(o.get("stream", "other waste"), "", o["what"]) for o in self.job["waste"].get("other", [])]
        for (stream, station, *what), (_, mass, _, scale) in zip(kinds, self.sheet.wastes, strict=True):
            unknown = mass if isinstance(mass, list) else None
            wastes.append({"stream": stream, "station": station, "what": what[0] if what else "", "mass": None if unknown else mass, "scale": scale, "unknown": unknown,
                           "liquid": stream in ("drained fuel", "fuel-water mix") and not what})
        for s in stations:
            taken = self.reading(s["id"])[0].get("water")
            if taken and "water" not in s["drain"] and not s["drain"].get("waterUnknown") and self.some(taken):
                mass, scale = self.sheet.weigh(self.bracket(taken)[0], water(celsius(parse(taken["at"]))))
                wastes.append({"stream": "fuel-water mix", "station": s["id"], "what": "", "mass": mass, "scale": scale, "unknown": None, "liquid": True})
        for w in wastes:
            known = w["what"] or w["stream"]
            w["at"] = next((i for i, x in enumerate(self.done.get("weights", [])) if (x["stream"], x.get("station", "")) == (w["stream"], w["station"]) and x.get("what", known) == known), None)
            variant = {"drained fuel": "fuel", "fuel-water mix": "water", "wet element": "element"}
            w["name"] = w["what"] or msg("waste.name/" + variant[w["stream"]], stream=w["stream"], station=w["station"])
        return wastes

    @staticmethod
    def from_scale(e, low, best=None, high=None):
        """The mass of which a scale shows that, by the density of what is on it."""
        return Estimate(*(Q(q.v / in_air(d), q.unit, None, F(1, 10**11) * (1 + q.v)) for q, d in zip(e.all, (low, best or low, high or low))), e.source)

    def weights(self):
        for w in self.wastes:
            line = {"where": "weights", "code": "weight", "sources": ["like-with-like"]}
            want = msg("want.mass", waste=w["name"], mass=w["mass"]) if w["mass"] else msg("want.mass/unknown", waste=w["name"])
            if w["at"] is None:
                self.say(**line, want=want)
                continue
            x, plan, lift = self.done["weights"][w["at"]], w["mass"], False
            if "mass" in x:
                found, mass = msg("found.mass", mass=estimate(x["mass"])), estimate(x["mass"])
            else:
                shown = mass = estimate(x["scale"])
                if "density" in x:
                    density = parse(x["density"])
                    found, mass = msg("found.scale/corrected", mass=shown, density=density), self.from_scale(shown, density.v * DENSITY[density.unit])
                elif w["liquid"]:
                    found, plan = msg("found.scale", mass=shown), w["scale"]
                    if plan:
                        want = msg("want.scale", waste=w["name"], mass=plan)
                else:
                    mass, lift = self.from_scale(shown, HEAVIEST.v, F(1000), LIGHTEST.v), True
                    found = msg("found.scale/any", mass=shown, low=LIGHTEST, high=HEAVIEST, is_=mass)
                    found["values"]["is"] = found["values"].pop("is-")
            verdict, why = "undecided", "why.no-estimate"
            if plan:
                kg = lambda q: q.to(MASS, "kg")
                verdict, why = self.expected(kg(mass.low), kg(mass.high), kg(plan.low), kg(plan.high))
            line["where"] = f"weights[{w['at']}]"
            self.say(**line, want=want, verdict=verdict, reasons=[why] + (["why.lift-unknown"] if lift and verdict == "undecided" else []), found=found)

    def total(self, i, w):
        t = {"line": i + 1, "stream": w["stream"]} | {k: w[k] for k in ("what", "station") if w[k]}
        mass, basis, notes = w["mass"], "planned", []
        if w["unknown"]:
            mass, basis, notes = None, "not stated", [msg("total.unknown", unknown=w["unknown"])]
        if w["liquid"] and (by := self.by_volume(w)):
            mass, basis, notes = by
        if w["at"] is not None:
            x, notes = self.done["weights"][w["at"]], []
            if "mass" in x:
                mass, basis = estimate(x["mass"]), "mass"
            else:
                shown, basis = estimate(x["scale"]), "scale, corrected"
                liquid = {"drained fuel": self.sheet.rho, "fuel-water mix": water(celsius(self.sheet.at))}.get(w["stream"])
                if "density" in x:
                    density = parse(x["density"])
                    mass, notes = self.from_scale(shown, density.v * DENSITY[density.unit]), [msg("total.air/given", density=density)]
                elif liquid:
                    mass, notes = self.from_scale(shown, liquid), [msg("total.air/liquid", at=self.sheet.at)]
                else:
                    mass, notes = self.from_scale(shown, HEAVIEST.v, F(1000), LIGHTEST.v), [msg("total.air/any", low=LIGHTEST, high=HEAVIEST)]
        return t | {"basis": basis} | ({"mass": mass} if mass else {}) | ({"notes": notes} if notes else {})

    def by_volume(self, w):
        parts, read, loose = [], 0, 0
        for s, out in zip(self.sheet.stations, self.sheet.outs):
            done, key, density = self.reading(s["id"])[0], "out", self.sheet.fuel.at
            planned = None if isinstance(out, list) else self.sheet.weigh(out, self.sheet.rho)[0]
            if w["stream"] == "fuel-water mix":
                if w["station"] != s["id"] or "water" not in done:
                    continue
                key, planned, density = "water", w["mass"], water
            taken = done.get(key)
            if not taken:
                if not planned:
                    return None
                parts.append(planned)
                continue
            all_, known = self.bracket(taken)
            if not known and not planned:
                return None
            mass = self.sheet.weigh(all_, density(celsius(parse(taken["at"]))))[0]
            if not known:
                loose += 1
                mass = Estimate(min(mass.low, planned.low, key=lambda q: q.v), mass.best, max(mass.high, planned.high, key=lambda q: q.v), mass.source)
            parts.append(mass)
            read += 1
        if not read:
            return None
        notes = ([msg("total.part", read=read, all=len(parts))] if read < len(parts) else []) + ([msg("total.jug", count=loose)] if loose else [])
        return self.sum(parts), "partly planned" if read < len(parts) else "volume", notes

    @staticmethod
    def sum(parts):
        kg = lambda q: Q(q.to(MASS, "kg"), "kg", None, q.slack)
        ends = [[kg(p.all[k]) for p in parts] for k in range(3)]
        return Estimate(*(Q(sum(q.v for q in qs), "kg", None, sum(q.slack for q in qs) + F(1, 10**11)) for qs in ends), weakest(*(p.source for p in parts)))

    def month(self):
        m = self.job["waste"].get("month")
        if not m or m["rules"] != "US federal":
            return
        unknown = []
        for w, t in zip(self.wastes, self.totals):
            unknown += [u for u in (w["unknown"] or []) if t["basis"] == "not stated" and u not in unknown]
        if "soFar" not in m:
            unknown.append("waste.month.soFar")
        as_of = {"rules": m["rules"], "as_of": self.set["asOf"]}
        if unknown:
            return self.say("totals", "month.category", msg("want.month/unknown", **as_of), "undecided", [msg("why.month/unknown", unknown=unknown)], msg("found.month/unknown"), [])
        so_far = estimate(m["soFar"])
        mass = self.sum([so_far] + [t["mass"] for t in self.totals])
        category = lambda kg: "VSQG" if kg <= 100 else "SQG" if kg < 1000 else "LQG"  # 40 CFR 260.10
        before, after = category(so_far.low.to(MASS, "kg")), category(mass.high.v)
        planned, all_, why = sum(t["basis"] == "planned" for t in self.totals), len(self.totals), []
        if planned:
            why.append(msg("why.month-planned" + ("/all" if planned == all_ else ""), planned=planned, all=all_))
        why.append(msg("why.month/stays", rules=m["rules"], category=before, title=TITLES[before]) if before == after else
                   msg("why.month/moves", rules=m["rules"], before=before, after=after, title=TITLES[after]))
        verdict = "not recorded" if planned == all_ else "undecided" if planned or before != after else "unchanged"
        source = next(c for c in self.set["categories"] if c["name"] == after)["source"]
        self.say("totals", "month.category", msg("want.month", category=before, **as_of), verdict, why, msg("found.month", mass=mass),
                 [source["cite"], {"S": "text-seen", "S2": "copy-seen", "D": "by-arithmetic", "M": "from-memory"}[source["grade"]]])

    def clauses(self):
        r = self.rules
        tolerance = (msg("turn.tolerance", less=turn(r["turn"]["less"]), more=turn(r["turn"]["more"])), [r["turn"]["source"]]) if "turn" in r else (msg("turn.tolerance/none"), ["job"])
        return [c | {"sources": list(s)} for c, s in [
            (msg("torque/" + r["torque"].removesuffix(" %").replace(" ", "-")), TORQUE_SOURCES[r["torque"]]),
            (msg("torque.unknown-uncertainty"), ["ILAC-G8:09/2019", "from-memory"]), (msg("torque.click"), PRACTICE), (msg("torque.tool"), PRACTICE),
            (msg("turn", eye=self.eye), ["rules"]), (msg("turn.short"), PRACTICE), tolerance, (msg("contact", count=self.count), PRACTICE), (msg("turn.over"), PRACTICE),
            (msg("sequence"), ["job"]), (msg("seat"), PRACTICE), (msg("seat.turns", count=self.count), PRACTICE), (msg("run-up"), PRACTICE), (msg("leak"), PRACTICE),
            (msg("paper"), ["rules"]), (msg("isolation"), PRACTICE), (msg("expected"), ["plan"]), (msg("volume"), PRACTICE),
            (msg("flash", margin=MARGIN), ["29 CFR 1910.106(a)(19)"]), (msg("weight", least=LIGHTEST, most=HEAVIEST), ["OIML D 28", "from-memory"]),
            (msg("month"), ["month"]), (msg("not-recorded"), PRACTICE)]]
