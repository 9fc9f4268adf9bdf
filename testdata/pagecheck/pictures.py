"""Reads a drawing back from its lines, and holds it against the job: a part as it is when the turn is right, along its axis with the
index at the top or from beside, or a wrench with its adapter. testdata/oracles asks about drawings of all kinds of turns; this is
whether a page shows that of its station."""
import re
from fractions import Fraction as F
from math import atan2, cos, hypot, pi, radians, sin, tau

from figures import sense, turns
from pages import Wrong, equal, follow


class Shapes:
    """The points of each class of lines, in the order drawn, circles as their middles, and words with where they are."""

    def __init__(self, where, svg):
        self.where, self.title, self.desc, self.lines, self.words = where, svg.one("title").text(), svg.one("desc").text(), {}, []
        for s in svg.all():
            if s.tag == "path":
                at = [tuple(map(float, p.split())) for p in re.split("[ML]", s.attrs["d"].strip("MZ")) if " " in p and p.count(" ") == 1 and not re.search("[HV]", p)]
                self.lines.setdefault(s.attrs["class"], []).append(at)
            elif s.tag == "circle":
                self.lines.setdefault("round " + s.attrs["class"], []).append([(float(s.attrs["cx"]), float(s.attrs["cy"]))])
            elif s.tag == "text":
                inside = " inside" if s.attrs["class"] in ("label", "small") and not s.text().strip().startswith("INDEX") else ""
                self.words.append((s.text().strip() + inside, float(s.attrs["x"]), float(s.attrs["y"])))

    def wrong(self, text):
        raise Wrong(f"{self.where}: {text}")

    def take(self, word):
        """Where a word is, which is there once."""
        got = [w for w in self.words if w[0] == word]
        if len(got) != 1:
            self.wrong(f"{word} {len(got)} times")
        self.words.remove(got[0])
        return got[0][1:]

    def near(self, what, got, want, within=0.03):
        if abs(got - want) > within:
            self.wrong(f"{what} is at {got:.3f}, not {want:.3f}")

    def angle(self, what, got, want, within=0.03):
        self.near(what, (got - want + pi) % tau - pi, 0, within)


def check_picture(where, svg, want):
    shapes = Shapes(where, svg)
    if "adapter" in want:
        adapter(shapes, want)
    else:
        words(shapes, want)
        (beside if want["view"].startswith("from beside") else ring)(shapes, want)
    if shapes.words:
        shapes.wrong(f"words that nobody asked for: {shapes.words}")


def marks(want):
    """Where each mark is in the end, as seen, clockwise from the index or to the right of it; that of contact first."""
    as_seen = 1 if sense("right hand", want["view"]) in ("clockwise", "left to right") else -1
    spin = as_seen * (1 if want["hand"] == "right hand" else -1)
    if not want["labels"]:
        return [(None, spin * want["aim"] % 1)]
    n, way = len(want["labels"]), 1 if want["order"] == "clockwise" else -1
    return [(want["labels"][(want["known"] + i) % n], (spin * want["aim"] + as_seen * way * F(i, n)) % 1) for i in range(n)]


def words(shapes, want):
    equal(f"{shapes.where}, title", shapes.title, f"Turn of station {want['station']}, seen {want['view']}")
    places, say = marks(want), [f"{want['sense']} by {turns(want['aim'])}"]
    if want["labels"]:
        spin = 1 if want["sense"] in ("clockwise", "left to right") else -1
        ahead = sorted((at * spin % 1, label) for label, at in places)
        shapes.take("INDEX: STOP " + (f"BETWEEN {ahead[0][1]} AND {ahead[-1][1]}" if ahead[0][0] else f"AT {ahead[0][1]}"))
        say += [f"At contact {places[0][0]} is at the index", f"in the end {ahead[0][1]}" + (f" is past it and {ahead[-1][1]} not yet there" if ahead[0][0] else ".")]
    else:
        shapes.take("INDEX")
    if want["least"] != want["most"]:
        say.append(f"No less than {turns(want['least'])}, never more than {turns(want['most'])}.")
    follow(f"{shapes.where}, in words", shapes.desc, say)


def ring(shapes, want):
    ((cx, cy),), = shapes.lines["round wall"]
    place = lambda p: atan2(p[0] - cx, cy - p[1])  # clockwise from the top
    way = 1 if want["sense"] == "clockwise" else -1
    least, aim, most = (way * float(want[k]) * tau for k in ("least", "aim", "most"))
    places = marks(want)
    shapes.angle("the tick of contact", place(shapes.lines["contact"][0][1]), float(places[0][1]) * tau)
    ticks = [place(t[0]) % tau for t in shapes.lines.get("tick", [])]
    for tick, due in zip(sorted(ticks), sorted(float(at) * tau for _, at in places[1:]), strict=True):
        shapes.angle("a tick", tick, due)
    for label, at in places if want["labels"] else ():
        x, y = shapes.take(label + " inside")
        shapes.angle(f"the label {label}", place((x, y - 6)), float(at) * tau)
    if want["labels"]:
        shapes.angle("the circle of what touched", place(shapes.lines["round line"][0][0]), float(places[0][1]) * tau)
    else:
        shapes.take("mark of contact"), shapes.take("ends at STOP")
    shapes.angle("the stem of the end", place(shapes.lines["stem"][0][1]), aim)
    window = least != most
    if want["labels"]:
        if sum(w[0] == places[0][0] for w in shapes.words) != 1 + window:
            shapes.wrong(f"not {places[0][0]} ENDS" + (f" and {places[0][0]} MAX" if window else ""))
        shapes.words = [w for w in shapes.words if w[0] != places[0][0]]
    shapes.angle("the word at the end", place(shapes.take("ENDS" if want["labels"] else "STOP")), aim, 1)
    if window:
        shapes.angle("the bar of the most", place(shapes.lines["bar"][0][1]), most)
        for word in ("MAX",) if want["labels"] else ("NEVER", "PAST"):
            shapes.take(word)
        arc = shapes.lines["window"][0]
        shapes.angle("the window", place(arc[0]), least), shapes.angle("the window's end", place(arc[-1]), least + way * min(abs(most - least), tau))
    elif "bar" in shapes.lines or "window" in shapes.lines:
        shapes.wrong("a window, and the turn has none")
    # The arrow: in the way of the turn, from near the index to where the window begins.
    turned = abs(least if window else aim) % tau
    heads = [h for h in shapes.lines["fill"] if h[0][0] != cx or h[0][1] > cy]
    if turned > 0.5:
        (tip, *_), shaft = heads[0], shapes.lines["thick"][-1]
        shapes.angle("the tip of the arrow", place(tip), way * turned, 0.09)
        shapes.angle("the tail of the arrow", place(shaft[0]), way * 0.2)
        if sum((place(q) - place(p) + pi) % tau - pi for p, q in zip(shaft, shaft[1:])) * way <= 0:
            shapes.wrong("the arrow turns the wrong way")


def beside(shapes, want):
    middle, half = 140.0, 112.0  # where the index is, and half the part's width
    way = 1 if want["sense"] == "left to right" else -1
    for label, at in marks(want):
        x = float(at if at <= F(1, 2) else at - 1) * tau
        if abs(x) <= radians(84):  # seen from there
            shapes.near(f"the label {label}", shapes.take(label + " inside")[0], middle + half * sin(x))
    head, tail = shapes.lines["fill"][-1][0][0], shapes.lines["fill"][-1][1][0]
    if (head - tail) * way <= 0:
        shapes.wrong("the arrow points the wrong way")


def adapter(shapes, want):
    equal(f"{shapes.where}, title", shapes.title, f"Wrench and adapter of station {want['station']}")
    equal(f"{shapes.where}, in words", shapes.desc, f"A wrench with the hand on the middle of its grip. On its drive is {want['adapter']}, {want['offset']} to the fastener, "
          f"at {want['angle-text']} to the wrench. Not to scale.")
    (a, b), = shapes.lines["adapter"]
    shapes.angle("the adapter", atan2(a[1] - b[1], b[0] - a[0]), radians(float(want["angle"])))
    if shapes.lines["round contact"][0][0] != b:
        shapes.wrong("the fastener isn't at the end of the adapter")
    shapes.take("HAND")
