"""Answers what fuel_test.go asks, from the published equations alone, in other arithmetic and by other ways: bisection, slices, a
pump that runs, a ledger that is read from the first line to the last."""
from fractions import Fraction as F
from math import exp, pi

from answer import answer

# Source: api-11-1. From 11.1.5 and 11.1.6: groups by the density at 60 °F, and ITS-90 to IPTS-68.
GROUPS = [(610.6, 192.4571, 0.2438, 0.0), (770.3520, 1489.0670, 0.0, -0.00186840), (787.5195, 330.3010, 0.0, 0.0), (838.3127, 103.8720, 0.2701, 0.0)]
SHIFT = [-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296]
DELTA60 = 0.01374979547


def fahrenheit68(celsius):
    tau = celsius / 630
    shift = 0.0
    for a in reversed(SHIFT):
        shift = (shift + a) * tau
    return (celsius - shift) * 1.8 + 32


def factor60(rho60, celsius):
    """The density at a temperature as a part of that at 60 °F."""
    _, k0, k1, k2 = [g for g in GROUPS if rho60 >= g[0]][-1]
    a = DELTA60 / 2 * ((k0 / rho60 + k1) / rho60 + k2)
    b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60)
    star = rho60 * (1 + (exp(a * (1 + 0.8 * a)) - 1) / (1 + a * (1 + 1.6 * a) * b))
    alpha = (k0 / star + k1) / star + k2
    dt = fahrenheit68(celsius) - 60.0068749
    return exp(-alpha * dt * (1 + 0.8 * alpha * (dt + DELTA60)))


def fuel(q):
    rho, at, to = float(q["density"]), float(q["at"]), float(q["to"])
    low, high = 610.6, 1163.5
    for _ in range(80):
        middle = (low + high) / 2
        if middle * factor60(middle, at) < rho:
            low = middle
        else:
            high = middle
    factor = factor60(low, to) / factor60(low, at)
    want = rho * factor
    if abs(want - float(q["there"])) > 3e-10 * want:  # floats here, twelve places there
        return f"{want!r}"
    got = float(q["factor"])  # volume at the base for one at the temperature
    return None if abs(1 / factor - got) < 3e-10 else f"factor {1 / factor!r}"


def water(q):
    # Sources: water-kell, water-tanaka. They agree to ten parts in a million.
    t = float(q["at"])
    want = (999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t))))) / (1 + 16.879850e-3 * t)
    return None if abs(float(q["density"]) - want) < 1e-5 * want else f"{want!r}"


def slices(bottom, top, height, level, n=4):
    """Millilitres below the level by Simpson's rule, which is exact for slices whose area is a quadratic of the height."""
    level = min(level, height)
    width = lambda h: bottom + (top - bottom) * h / height
    total = 0.0
    for i in range(n):
        a, b = level * i / n, level * (i + 1) / n
        total += (width(a)**2 + 4 * width((a + b) / 2)**2 + width(b)**2) / 6 * (b - a)
    return total * pi / 4 / 1000


def vessels(q):
    b, t, h, l = ([float(x) for x in q[k]] for k in ("bottom", "top", "height", "level"))
    corners = [slices(x, y, z, w, 1) for x in b for y in t for z in h + [w for w in l if h[0] < w < h[2]] for w in l]
    want = [min(corners), slices(b[1], t[1], h[1], l[1]), max(corners)]
    got = [float(x) for x in q["filled"]]
    if any(abs(w - g) > 1e-6 * w for w, g in zip(want, got)):
        return f"{want}"
    return None if got[0] <= want[0] * (1 + 1e-12) and got[2] >= want[2] * (1 - 1e-12) else "it is narrower than it may be"


def keycycles(q):
    void, flow = [F(x) for x in q["void"]], [F(x) for x in q["flow"]]

    def run(to_fill, litres_per_hour):
        cycles = 0
        while to_fill > 0:
            to_fill -= litres_per_hour * 1000 / 3600 * F(q["on"]) * F(q["share"], 100)
            cycles += 1
        return cycles
    want = [run(void[0], flow[2]), run(void[1], flow[1]), run(void[2], flow[0])]
    return None if want == q["cycles"] else f"{want}"


def ledgers(q):
    # Source: 40-cfr-260. 100 kg or less, more than that and less than 1000 kg, 1000 kg or more.
    newest = {}
    for line in q["lines"]:
        newest[line["job"]] = max(line["revision"], newest.get(line["job"], 0))
    sums = {"hazardous": [F(0)] * 3, "undetermined": [F(0)] * 3, "not counted": [F(0)] * 3}
    for line in q["lines"]:
        if line["revision"] == newest[line["job"]] and not line.get("withdrawn") and line["month"] == q["month"]:
            of = sums[line["determination"]]
            for i in range(3):
                of[i] += F(line["mass"][i])
    got = {"hazardous": q["hazardous"], "undetermined": q["undetermined"], "not counted": q["notCounted"]}
    for name, want in sums.items():
        if [F(x) for x in got[name]] != want:
            return f"{name} {[str(w) for w in want]}"
    category = lambda kg: "VSQG" if kg <= 100 else "SQG" if kg < 1000 else "LQG"
    want = category(sums["hazardous"][0]), category(sums["hazardous"][2] + sums["undetermined"][2])
    return None if (q["lowest"], q["highest"]) == want else f"{want}"


if __name__ == "__main__":
    answer({"TestFuel": fuel, "TestWater": water, "TestVessels": vessels, "TestKeyCycles": keycycles, "TestLedgers": ledgers})
