"""Prints drain/testdata/factors.tsv: what a fuel's volume and density come to at another temperature, by the published equations
with fifty digits and the density at 60 °F found by bisection."""
# Sources: api-11-1, mpmath.
import sys
from mpmath import mp, mpf, exp

mp.dps = 50
GROUPS = [(610.6, 770.3520, "192.4571", "0.2438", "0"), (770.3520, 787.5195, "1489.0670", "0", "-0.00186840"),
          (787.5195, 838.3127, "330.3010", "0", "0"), (838.3127, 1163.5, "103.8720", "0.2701", "0")]
SHIFT = [mpf(a) for a in "-0.148759 -0.267408 1.080760 1.269056 -4.089591 -1.871251 7.438081 -3.536296".split()]
DELTA60, EIGHT = mpf("0.01374979547"), mpf("0.8")


def celsius(text):
    degrees, scale = text.split(" ")
    return mpf(degrees) if scale == "°C" else (mpf(degrees) - 32) / mpf("1.8")


def factor60(rho60, at, group):
    """The density at a temperature as a part of that at 60 °F, in which the equations are: there it is all of it."""
    if at == celsius("60 °F"):
        return mpf(1)
    k0, k1, k2 = (mpf(k) for k in group[2:])
    tau, shift = at / 630, mpf(0)
    for a in reversed(SHIFT):
        shift = (shift + a) * tau
    dt = (at - shift) * mpf("1.8") + 32 - mpf("60.0068749")
    a = DELTA60 / 2 * ((k0 / rho60 + k1) / rho60 + k2)
    b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60)
    star = rho60 * (1 + (exp(a * (1 + EIGHT * a)) - 1) / (1 + a * (1 + 2 * EIGHT * a) * b))
    alpha = (k0 / star + k1) / star + k2
    return exp(-alpha * dt * (1 + EIGHT * alpha * (dt + DELTA60)))


def at60(rho, at):
    """The density at 60 °F, and its group."""
    found = []
    for group in GROUPS:
        low, high = mpf(str(group[0])), mpf(str(group[1]))
        if low * factor60(low, at, group) <= rho < high * factor60(high, at, group):
            for _ in range(170):
                middle = (low + high) / 2
                if middle * factor60(middle, at, group) < rho:
                    low = middle
                else:
                    high = middle
            found.append((low, group))
    assert len(found) == 1, f"{rho} at {at} is in {len(found)} groups"
    return found[0]


def places(x, n):
    digits = str(int(mp.nint(x * mpf(10)**n))).rjust(n + 1, "0")
    return digits[:-n] + "." + digits[-n:]


ROWS = [("865.6", "15 °C", "87.32 °C"), ("772.3", "20 °C", "-36 °C"), ("740", "15 °C", "-50 °C"), ("820", "15 °C", "150 °C")]
ROWS += [(rho, "15 °C", t + " °C") for rho in "820 832 835 840 845 860".split() for t in "-20 -10 0 20 25 40 50 55 60 80".split()]
ROWS += [(rho, "60 °F", t + " °F") for rho in "875.3 849.01 838.94 834.01 824.26".split() for t in "0 32 77 131 180".split()]
print("kg/m³\tat\tto\tfactor\tkg/m³ at 60 °F\tkg/m³ there")
for rho, at, to in ROWS:
    rho60, group = at60(mpf(rho), celsius(at))
    factor = factor60(rho60, celsius(to), group) / factor60(rho60, celsius(at), group)
    print(rho, at, to, places(factor, 18), places(rho60, 12), places(mpf(rho) * factor, 12), sep="\t")
