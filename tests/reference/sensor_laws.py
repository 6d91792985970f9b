"""Sensors' laws from other code and from root finding: a thermistor by Steinhart-Hart solved for its resistance with Brent's method, a
table interpolated by SciPy's PCHIP."""

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq
from reference import write

A, B, C = 1.129148e-3, 2.34125e-4, 8.76741e-8
TABLE = [(-20.0, 96360.0), (0.0, 32555.0), (25.0, 10000.0), (50.0, 3605.0), (85.0, 1070.0), (100.0, 677.0)]


def steinhart_hart(celsius):
    """The resistance whose temperature by the published equation is the one asked for."""
    kelvin = celsius + 273.15
    return np.exp(brentq(lambda y: A + B * y + C * y**3 - 1 / kelvin, 0.0, 30.0, xtol=1e-14, rtol=1e-15))


def make():
    grid = np.linspace(-20, 100, 25)
    table = PchipInterpolator([t for t, _ in TABLE], [r for _, r in TABLE])
    write("sensor_laws", "Resistance by temperature", {"a": A, "b": B, "c": C}, {},
          {"celsius": grid, "steinhart_ohm": [steinhart_hart(t) for t in grid], "table_ohm": table(grid)})


if __name__ == "__main__":
    make()
