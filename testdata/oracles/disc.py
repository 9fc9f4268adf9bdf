"""Answers what disc_test.go asks: a disc with marks that is turned, seen by eyes in space, and sums of turns."""
import re
from fractions import Fraction as F

import read
from answer import answer


def shown(x):
    return f"{x.numerator}/{x.denominator}"


class Disc:
    """Places are clockwise as one looks at the closed end, in parts of a turn, from the mark called first."""

    def __init__(self, q):
        sign = 1 if q["order"] == "clockwise" else -1
        self.places = [sign * F(p) % 1 for p in q["places"]]
        self.labels, self.onhead = q["labels"], q["onHead"]
        self.sign, self.clockwise = sign, 1 if q["hand"] == "right hand" else -1

    def start(self, at):
        """The place at the index: a share of the way from one label to the next that is read, or what was turned past one."""
        i, share, past = at["at"], F(at["share"]), F(at["past"])
        gap = self.sign * (self.places[(i + 1) % len(self.places)] - self.places[i]) % 1
        return self.tightened(self.places[i] + self.sign * share * gap, past)

    def tightened(self, index, t):
        """What is at the index after t more: the canister turns under it, or carries it past marks that stay."""
        spin = self.clockwise * t
        return (index + spin if self.onhead else index - spin) % 1

    def gone(self, i, index):
        """How far the canister was tightened since a mark was at the index, less than a turn."""
        spin = index - self.places[i] if self.onhead else self.places[i] - index
        return self.clockwise * spin % 1

    def last(self, index):
        return min(range(len(self.labels)), key=lambda i: self.gone(i, index))

    def position(self, index, turned):
        last = self.last(index)
        return [self.labels[last], shown(self.gone(last, index)), str(int(turned))]

    def place(self, index, turned):
        last = self.last(index)
        past = self.gone(last, index)
        if past == 0:
            return [self.labels[last], "", "", "", str(int(turned))]
        if len(self.labels) == 2:
            return [self.labels[last], "", "", shown(past), str(int(turned))]
        following = max(range(len(self.labels)), key=lambda i: self.gone(i, index))  # it left the longest ago
        gap = past + 1 - self.gone(following, index)
        return [self.labels[last], self.labels[following], shown(past / gap), "", str(int(turned))]


def moves(disc, q):
    index, net = disc.start(q["from"]), F(0)
    for move in q["moves"]:
        t = F(move["turn"]) * (-1 if move["loosen"] else 1)
        index, net = disc.tightened(index, t), net + t
    want = disc.place(index, net)
    return None if q["place"] == want else want


def turned(disc, q):
    start, end = disc.start(q["from"]), disc.start(q["to"])
    seen = disc.clockwise * (end - start if disc.onhead else start - end) % 1
    if q["turned"] != shown(seen):
        return shown(seen)
    least, most, eye = F(q["least"]), F(q["most"]), F(q["eye"])

    def reach(passes):
        low, high = max(F(0), seen + passes - eye), seen + passes + eye
        return "short" if high < least else "over" if low > most else "in the window" if least <= low and high <= most else "unclear"
    if q["counted"]:
        want = [reach(q["passes"])]
    else:
        want = [reach(0)]
        while want[-1] != "over":
            want.append(reach(len(want)))
        if len(want) > 1:
            want = ["unclear"] + want
    return None if q["reach"] == want else want


def around(disc, q):
    index = disc.tightened(disc.start(q["from"]), F(q["turn"]))
    side = -1 if (q["view"].startswith("from the head side")) != q["view"].endswith("mirror") else 1
    order = sorted(range(len(disc.labels)), key=lambda i: (disc.places[i] - disc.places[0]) % 1)
    want = [f"{disc.labels[i]} {shown(side * (disc.places[i] - index) % 1)}" for i in order]
    return None if q["seen"] == want else want


def passing(disc, q):
    index, turn = disc.start(q["from"]), F(q["turn"])
    want = []
    for i, label in enumerate(disc.labels):
        at = 1 - disc.gone(i, index)
        while at <= turn:
            want.append((at, label))
            at += 1
    want = [f"{label} {shown(at)}" for at, label in sorted(want)]
    return None if q["passing"] == want else want


def window(disc, q):
    index, least, most = disc.start(q["from"]), F(q["least"]), F(q["most"])
    for name, t in (("leastAt", least), ("aimAt", (least + most) / 2), ("mostAt", most)):
        want = disc.position(disc.tightened(index, t), t)
        if q[name] != want:
            return f"{name} {want}"
    return None


def cross(a, b):
    return tuple(a[(i + 1) % 3] * b[(i + 2) % 3] - a[(i + 2) % 3] * b[(i + 1) % 3] for i in range(3))


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def sense(q):
    """The head is above, z up. What turns about z by the right-hand rule screws a right-hand thread upwards, into the head."""
    spin = 1 if (q["thread"] == "right hand") == (q["action"] == "tightening") else -1
    axis = (0, 0, spin)
    view, mirror = q["view"].removesuffix(", in a mirror"), q["view"].endswith("mirror")
    if view.startswith("from beside"):
        look, up = (0, 1, 0), (0, 0, 1 if view.endswith("down") else -1)
        right = cross(look, up)
        wall = cross(axis, (0, -1, 0))  # how the nearest part of the wall moves
        want = ["right to left", "left to right"][(dot(wall, right) > 0) != mirror]
    else:
        look = (0, 0, 1 if view == "facing the closed end" else -1)
        want = ["counterclockwise", "clockwise"][(dot(axis, look) > 0) != mirror]  # a clock's hands turn about the way one looks
    return None if q["sense"] == want else want


def stage(text):
    """A turn of a sequence, in turns."""
    text = text.strip()
    m = re.fullmatch(r"([0-9.]+) ?(?:°|degrees|deg)", text)
    if m:
        return F(m[1]) / 360
    m = re.fullmatch(r"(?:([0-9]+) )?(?:([0-9]+)/([0-9]+) )?turns?", text)
    return F(int(m[1] or 0)) + (F(int(m[2]), int(m[3])) if m[2] else 0)


def sequences(q):
    first, *turns = [s.strip().removesuffix(",") for s in re.split(r", then | then |,|\+", q["text"])]
    snug = read.quantity(first, "torque")
    turns = [stage(t) for t in turns]
    if not turns or len(turns) > 12 or min(turns) == 0 or sum(turns) > 100 or snug is None or snug[0] <= 0:
        return None if q["refused"] else "it is none"
    if q["refused"]:
        return f"{snug} {turns}"
    if q["torque"] != f"{read.written(snug[0], snug[1])} {snug[2]}":
        return snug
    sums = [shown(sum(turns[:i + 1])) for i in range(len(turns))]
    if q["sums"] != sums:
        return sums
    each = [(max(F(0), t - F(q["less"])), t + F(q["more"])) for t in turns]
    least, most = sum(t[0] for t in each), sum(t[1] for t in each)
    want = [f"{shown(a)} {shown(b)}" for a, b in each + [(least, most)]] if most <= 100 else []
    return None if q["widened"] == want else want


def rings(q):
    if "action" in q:
        return sense(q)
    if "text" in q:
        return sequences(q)
    kinds = {"moves": moves, "to": turned, "seen": around, "passing": passing, "leastAt": window}
    return next(check for name, check in kinds.items() if name in q)(Disc(q), q)


if __name__ == "__main__":
    answer({"TestRings": rings})
