"""The pins of shipped circuits over their sensors' spans: node equations of each, written out by hand and solved by SciPy.

Resistors, op amps and sources as linear elements; op amps with the gain, output resistance and bias current of their class; a pin's
leakage flows into it. Clamps and suppressors that do not conduct are left out: what they leak is far below the limit of the comparison.
Resistors that a stage has chosen are those of the parts list (frontendsim build).
"""

import math

import numpy as np
from scipy.linalg import solve
from scipy.optimize import brentq
from reference import write

POINTS = 9
LEAKAGE = 100e-9  # of a pin of the type converter-3v3
ZERO_DRIFT = (1e6, 200.0, 70e-12)  # open-loop gain, output resistance, bias current of the class zero-drift-cmos

# ITS-90, type K above 0 °C (NIST Monograph 175).
K = [-0.176004136860e-1, 0.389212049750e-1, 0.185587700320e-4, -0.994575928740e-7, 0.318409457190e-9, -0.560728448890e-12,
     0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25]


class Nodes:
    """Node equations: conductances, currents, and sources of voltage with a row of their own."""

    def __init__(self):
        self.names, self.conductances, self.currents, self.volts, self.amplifiers = {}, [], [], [], []

    def at(self, name):
        return -1 if name == "GND" else self.names.setdefault(name, len(self.names))

    def resistor(self, a, b, ohms):
        self.conductances.append((self.at(a), self.at(b), 1 / ohms))

    def current(self, out_of, into, amps):
        self.currents.append((self.at(out_of), self.at(into), amps))

    def source(self, plus, minus, volts):
        self.volts.append((self.at(plus), self.at(minus), volts))

    def opamp(self, plus, minus, output, numbers):
        gain, ohms, bias = numbers
        inside = output + " inside"
        self.amplifiers.append((self.at(inside), self.at(plus), self.at(minus), gain))
        self.resistor(inside, output, ohms)
        self.current(plus, "GND", bias)
        self.current(minus, "GND", bias)

    def solve(self, node):
        n, more = len(self.names), len(self.volts) + len(self.amplifiers)
        a, b = np.zeros((n + more, n + more)), np.zeros(n + more)
        for i, j, g in self.conductances:
            for p, q in ((i, j), (j, i)):
                if p >= 0:
                    a[p, p] += g
                    if q >= 0:
                        a[p, q] -= g
        for i, j, amps in self.currents:
            if i >= 0:
                b[i] -= amps
            if j >= 0:
                b[j] += amps
        row = n
        for i, j, v in self.volts:
            for p, sign in ((i, 1), (j, -1)):
                if p >= 0:
                    a[p, row] += sign
                    a[row, p] += sign
            b[row] = v
            row += 1
        for out, plus, minus, gain in self.amplifiers:
            a[out, row] += 1
            a[row, out] += 1
            for p, sign in ((plus, -1), (minus, 1)):
                if p >= 0:
                    a[row, p] += sign * gain
            row += 1
        return solve(a, b)[self.names[node]]


def divided(ohms, upper, series, supply=3.3, leakage=LEAKAGE):
    c = Nodes()
    c.source("VDD", "GND", supply)
    c.resistor("VDD", "SENSE", upper)
    c.resistor("SENSE", "GND", ohms)
    c.resistor("SENSE", "PIN", series)
    c.current("PIN", "GND", leakage)
    return c.solve("PIN")


def thermistor_bath(celsius):
    return divided(10e3 * math.exp(3977 * (1 / (celsius + 273.15) - 1 / 298.15)), 3.3e3, 10e3)


def kiln_platinum(celsius):
    c = Nodes()
    c.source("VDD", "GND", 3.3)
    c.resistor("VDD", "TOP", 2.2e3)
    c.resistor("TOP", "GND", 100 * (1 + 3.9083e-3 * celsius - 5.775e-7 * celsius**2) + 2 * 0.6)
    c.resistor("TOP", "PIN", 100)
    c.current("PIN", "GND", LEAKAGE)
    return c.solve("PIN")


def motor_hall(millitesla):
    return divided(3.3e6 + (40 - 3.3e6) * (millitesla + 6) / 12, 10e3, 4.7e3, leakage=1e-6)


def leaking(volts):
    """What a pin leaks to ground: a junction's current, which ends within kT/q (25 mV) below it."""
    x = min(1.0, max(0.0, 1 + volts / 25e-3))
    return LEAKAGE * x * x * (3 - 2 * x)


def light_meter(lux):
    def pin(leakage):
        c = Nodes()
        c.current("GND", "SENSE", 20e-6 * lux / 2000)
        c.resistor("SENSE", "GND", 120e3)
        c.resistor("SENSE", "PIN", 15e3)
        c.current("PIN", "GND", leakage)
        return c.solve("PIN")

    return brentq(lambda volts: pin(leaking(volts)) - volts, -1, 4, xtol=1e-12)


def mains_current(amps):
    c = Nodes()
    c.source("VDD", "GND", 3.3)
    c.resistor("VDD", "MID", 10e3)
    c.resistor("MID", "GND", 10e3)
    c.current("MID", "CT", amps / 2000)
    c.resistor("CT", "MID", 150)
    c.resistor("CT", "PIN", 1e3)
    c.current("PIN", "GND", LEAKAGE)
    return c.solve("PIN")


def three_opamps(c, plus, minus, gain_ohms, feedback, upper, lower):
    """The stage's circuit: two amplifiers at the inputs, one that takes their difference, a follower that makes the level."""
    c.opamp(plus, "NA", "A", ZERO_DRIFT)
    c.opamp(minus, "NB", "B", ZERO_DRIFT)
    c.resistor("A", "NA", feedback)
    c.resistor("B", "NB", feedback)
    c.resistor("NA", "NB", gain_ohms)
    c.resistor("A", "P", 10e3)
    c.resistor("P", "REF", 10e3)
    c.resistor("B", "M", 10e3)
    c.resistor("M", "OUT", 10e3)
    c.opamp("P", "M", "OUT", ZERO_DRIFT)
    c.resistor("VDD", "DIV", upper)
    c.resistor("DIV", "GND", lower)
    c.opamp("DIV", "REF", "REF", ZERO_DRIFT)
    c.resistor("OUT", "PIN", 10e3)
    c.current("PIN", "GND", LEAKAGE)
    c.source("VDD", "GND", 3.3)
    return c.solve("PIN")


def load_cell(kilograms):
    c = Nodes()
    share = 2e-3 * kilograms / 20
    c.resistor("VDD", "SP", 350 * (1 - share))
    c.resistor("SP", "GND", 350 * (1 + share))
    c.resistor("VDD", "SN", 350 * (1 + share))
    c.resistor("SN", "GND", 350 * (1 - share))
    c.resistor("SP", "AP", 2.2e3)
    c.resistor("SN", "AN", 2.2e3)
    return three_opamps(c, "AP", "AN", 113, 21.5e3, 17.8e3, 1.15e3)


def couple(celsius):
    return sum(c * celsius**k for k, c in enumerate(K)) + 0.118597600000 * math.exp(-0.118343200000e-3 * (celsius - 126.9686) ** 2)


def thermocouple(celsius):
    c = Nodes()
    c.source("VREF", "GND", 2.048)
    c.source("HOT", "VREF", 1e-3 * (couple(celsius) - couple(25)))
    c.resistor("HOT", "TC", 10)
    return three_opamps(c, "TC", "VREF", 158, 10.2e3, 11.5e3, 1.58e3)


def make():
    cases = [(thermistor_bath, 5, 95), (kiln_platinum, 0, 400), (thermocouple, 20, 420), (load_cell, 0, 20), (light_meter, 0, 2000),
             (mains_current, -20, 20), (motor_hall, -6, 6)]
    columns = {}
    for case, low, high in cases:
        values = np.linspace(low, high, POINTS)
        columns[case.__name__ + "_value"] = values
        columns[case.__name__ + "_volts"] = [case(value) for value in values]
    write("shipped_circuits", "Pins of shipped circuits over their sensors' spans", {}, {}, columns)


if __name__ == "__main__":
    make()
