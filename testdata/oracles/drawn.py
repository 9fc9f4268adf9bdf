"""Reads the drawings that drawn_test.go sends back into marks, arrows and limits, and compares them with a disc that is turned."""
import xml.etree.ElementTree as ET
from fractions import Fraction as F
from math import atan2, hypot, pi

from answer import answer

SVG = "{http://www.w3.org/2000/svg}"


def points(path):
    return [tuple(float(x) for x in p.split()) for p in path.strip("MZ").split("L")]


def pictures(q):
    root = ET.fromstring(q["svg"])
    wall = [c for c in root.iter(SVG + "circle") if c.get("class") == "wall"][0]
    cx, cy, radius = (float(wall.get(k)) for k in ("cx", "cy", "r"))

    def place(x, y):
        """Clockwise from the index, which is at the top, in parts of a turn, and how far out."""
        return (atan2(x - cx, cy - y) / (2 * pi)) % 1, hypot(x - cx, y - cy)

    def near(a, b, within=0.004):
        return min((a - float(b)) % 1, (float(b) - a) % 1) < within

    # The disc facing its closed end, turned until the end; from the head side everything is seen the other way round.
    n = len(q["labels"])
    aim, least, most = F(q["least"] + q["most"], 48), F(q["least"], 24), F(q["most"], 24)
    gap = F(1, n) if q["order"] == "clockwise" else F(-1, n)
    contact = q["at"] * gap + (gap / 2 if q["half"] else 0)
    way = 1 if q["hand"] == "right hand" else -1
    side = 1 if q["view"] == "facing the closed end" else -1
    ends = lambda p: side * (p - contact + way * aim) % 1
    seen = lambda amount: side * way * amount % 1

    labels = {}
    for text in root.iter(SVG + "text"):
        if text.get("class") in ("label", "small"):
            labels[text.text] = place(float(text.get("x")), float(text.get("y")) - 6)
    for i, label in enumerate(q["labels"]):
        if label not in labels or not near(labels[label][0], ends(i * gap)):
            return f"label {label} at {ends(i * gap)}, and not at {labels.get(label)}"
        if labels[label][1] > radius:
            return f"label {label} outside"
    # What is written above the index: the mark there, or the one that passed it last and the next.
    passed = min(q["labels"], key=lambda label: side * way * ends(q["labels"].index(label) * gap) % 1)
    following = min(q["labels"], key=lambda label: -side * way * ends(q["labels"].index(label) * gap) % 1)
    words = f"INDEX: STOP AT {passed}" if passed == following else f"INDEX: STOP BETWEEN {passed} AND {following}"
    if words not in [text.text for text in root.iter(SVG + "text")]:
        return words
    kinds = {}
    for path in root.iter(SVG + "path"):
        kinds.setdefault(path.get("class"), []).append(points(path.get("d")))
    ticks = [place(*p[1])[0] for p in kinds.get("tick", [])]
    touched = [place(*p[1])[0] for p in kinds["contact"]]
    if len(ticks) + len(touched) != n + (1 if q["half"] else 0) or len(touched) != 1 or not near(touched[0], seen(aim)):
        return f"what touched ends at {seen(aim)}, and not at {touched}"
    for i in range(n):
        if not any(near(t, ends(i * gap)) for t in ticks + touched):
            return f"a tick at {ends(i * gap)}"
    if not near(place(*kinds["stem"][0][1])[0], seen(aim)):
        return f"the end at {seen(aim)}"
    if least != most:
        if not near(place(*kinds["bar"][0][1])[0], seen(most)):
            return f"the farthest at {seen(most)}"
        window = [place(*p)[0] for p in kinds["window"][0]]
        if not near(window[0], seen(least)) or not near(window[-1], seen(most)):
            return f"the window from {seen(least)} to {seen(most)}"
    elif "bar" in kinds or "window" in kinds:
        return "no window"
    # The arrow goes the way to turn, from near the index to where the window begins.
    rest = (least if least != most else aim) % 1
    heads = [p for p in kinds["fill"] if abs(place(*p[0])[1] - radius - 13.4) < 0.1]
    if float(rest) * 2 * pi <= 0.5:
        return None if not heads else "no arrow"
    if len(heads) != 1 or not near(place(*heads[0][0])[0], seen(rest), 0.012):
        return f"the arrow's point at {seen(rest)}, and not at {[place(*h[0]) for h in heads]}"
    shaft = [place(*p)[0] for p in kinds["thick"][-1]]
    turned = sum(((b - a + 0.5) % 1) - 0.5 for a, b in zip(shaft, shaft[1:]))
    if (turned > 0) != (side * way > 0) or not near(shaft[0], side * way * 0.2 / (2 * pi), 0.01):
        return "the arrow goes the wrong way round"
    return None


if __name__ == "__main__":
    answer({"TestPictures": pictures})
