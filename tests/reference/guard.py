"""The pin guard that the clamp cases share: 4.7 kohm into a pin with zener, Schottky, pull-down and two pin clamps.

Values are our own, of the size that data sheets of such parts give (from memory).
"""

from scipy.optimize import brentq

from reference import Diode

SERIES_OHMS = 4700.0
PULLDOWN_OHMS = 470e3
SUPPLY_VOLTS = 3.3

ZENER = Diode({
    "SaturationAmps": 2e-14, "EmissionCoefficient": 1.05, "SeriesOhms": 6.0, "BreakdownVolts": 3.6, "BreakdownAmps": 5e-3,
    "BreakdownSlopeVolts": 0.11, "LeakageSiemens": 2e-9, "JunctionFarads": 180e-12, "JunctionVolts": 0.75, "Grading": 0.4,
    "TransitSeconds": 50e-9,
})
SCHOTTKY = Diode({
    "SaturationAmps": 1.5e-6, "EmissionCoefficient": 1.04, "SeriesOhms": 0.05, "BreakdownVolts": 25.0, "BreakdownAmps": 1e-3,
    "BreakdownSlopeVolts": 0.05, "JunctionFarads": 190e-12, "JunctionVolts": 0.4, "Grading": 0.45,
})
CLAMP = Diode({
    "SaturationAmps": 1e-15, "EmissionCoefficient": 1.0, "SeriesOhms": 20.0, "JunctionFarads": 1.5e-12, "JunctionVolts": 0.7,
    "Grading": 0.33, "TransitSeconds": 4e-9,
})

# Each diode as (name, part, sign, offset): its voltage is sign * v(pin) + offset, its current leaves the pin times sign.
# The zener, the Schottky and the lower clamp have their anode at ground; the upper clamp goes from the pin to the supply.
DIODES = [
    ("zener", ZENER, -1, 0.0),
    ("schottky", SCHOTTKY, -1, 0.0),
    ("upper", CLAMP, 1, -SUPPLY_VOLTS),
    ("lower", CLAMP, -1, 0.0),
]

# Without the charges, for the cases where the pin's capacitor is far larger.
STATIC_DIODES = [
    (name, Diode({key: value for key, value in part.numbers.items()
                  if key not in ("JunctionFarads", "JunctionVolts", "Grading", "TransitSeconds")}), sign, offset)
    for name, part, sign, offset in DIODES
]


def header(diodes):
    """The guard's numbers for a file's header."""
    numbers = {"SeriesOhms": SERIES_OHMS, "PulldownOhms": PULLDOWN_OHMS, "SupplyVolts": SUPPLY_VOLTS}
    for name, part, _, _ in diodes:
        numbers |= part.header(name)
    return numbers


def static_pin_current(v, diodes):
    """Current that leaves the pin through pull-down and diodes at rest, A."""
    return v / PULLDOWN_OHMS + sum(sign * part.current_across(sign * v + offset) for _, part, sign, offset in diodes)


def rest(volts, ohms, diodes):
    """The pin voltage at rest with a source behind a resistance."""
    reach = abs(volts) + 1
    return brentq(lambda v: (v - volts) / ohms + static_pin_current(v, diodes), -reach, reach, xtol=1e-16, rtol=1e-15)
