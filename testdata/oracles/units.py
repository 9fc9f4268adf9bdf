"""The units, from published definitions."""
from fractions import Fraction as F

# Source: nist-sp811-b8. It is for what isn't exact by the SI: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity
# 9.806 65 m/s², US gallon 231 in³, imperial gallon 4.546 09 L, atmosphere 101 325 Pa, conventional mmHg 133.322 387 415 Pa
# (density 13 595.1 kg/m³), inH2O at 1000 kg/m³.
INCH, POUND, G = F("0.0254"), F("0.45359237"), F("9.80665")
USGAL, IMPGAL = 231 * INCH**3, F("0.00454609")
LBF = POUND * G
UNITS = {
    "torque": {"N·m": 1, "dN·m": F("0.1"), "cN·m": F("0.01"), "N·cm": F("0.01"), "mN·m": F("0.001"), "kN·m": 1000, "daN·m": 10,
               "in-lb": LBF * INCH, "ft-lb": LBF * INCH * 12, "in-oz": LBF * INCH / 16, "kgf·m": G, "kgf·cm": G / 100},
    "length": {"m": 1, "cm": F("0.01"), "mm": F("0.001"), "µm": F("0.000001"), "km": 1000, "in": INCH, "ft": INCH * 12, "mi": INCH * 12 * 5280},
    "volume": {"m³": 1, "L": F("0.001"), "mL": F("0.000001"), "cL": F("0.00001"), "dL": F("0.0001"), "hL": F("0.1"), "cm³": F("0.000001"), "in³": INCH**3,
               "US gal": USGAL, "US qt": USGAL / 4, "US pt": USGAL / 8, "US fl oz": USGAL / 128,
               "imp gal": IMPGAL, "imp qt": IMPGAL / 4, "imp pt": IMPGAL / 8, "imp fl oz": IMPGAL / 160},
    "mass": {"kg": 1, "g": F("0.001"), "mg": F("0.000001"), "t": 1000, "lb": POUND, "oz": POUND / 16, "short ton": POUND * 2000, "long ton": POUND * 2240},
    "density": {"kg/m³": 1, "kg/L": 1000, "g/cm³": 1000, "g/mL": 1000, "lb/US gal": POUND / USGAL, "lb/imp gal": POUND / IMPGAL, "lb/ft³": POUND / (INCH * 12)**3},
    "flow": {"m³/h": F(1, 3600), "L/min": F(1, 60000), "L/h": F(1, 3600000), "mL/min": F(1, 60000000), "US gal/min": USGAL / 60, "US gal/h": USGAL / 3600,
             "imp gal/min": IMPGAL / 60, "imp gal/h": IMPGAL / 3600},
    "pressure": {"Pa": 1, "hPa": 100, "kPa": 1000, "MPa": 1000000, "bar": 100000, "mbar": 100, "psi": LBF / INCH**2, "atm": 101325, "kgf/cm²": G * 10000,
                 "mmHg": F("13.5951") * G, "inHg": F("13.5951") * G * F("25.4"), "mmH2O": G, "inH2O": G * F("25.4")},
    "angle": {"°": 1, "rev": 360},
    "difference": {"K": 1, "°C": 1, "°F": F(5, 9)},
}
