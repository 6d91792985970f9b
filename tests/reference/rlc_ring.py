"""A series RLC circuit of Q = 10 rings after a step: closed form on the grid, with Radau as a check on the form.

v(t) = V (1 - e^(-a t) (cos w t + a/w sin w t)), a = R/(2 L), w = sqrt(1/(L C) - a^2); the first peak is at pi/w.
"""

import math

import numpy as np
from reference import integrate, write

VOLTS, OHMS, HENRIES, FARADS, START, UNTIL = 5.0, 10.0, 10e-6, 1e-9, 1e-6, 16e-6


def make():
    a = OHMS / (2 * HENRIES)
    w = math.sqrt(1 / (HENRIES * FARADS) - a * a)
    grid = np.linspace(0, UNTIL, 401)
    grid[25] = START
    t = np.clip(grid - START, 0, None)
    decay = np.exp(-a * t)
    v = VOLTS * (1 - decay * (np.cos(w * t) + a / w * np.sin(w * t)))
    i = VOLTS / (w * HENRIES) * decay * np.sin(w * t)

    def slopes(_, y):
        return [y[1] / FARADS, (VOLTS - OHMS * y[1] - y[0]) / HENRIES, VOLTS * y[1], OHMS * y[1] ** 2]

    after = grid >= START
    solved, last, _ = integrate(slopes, START, UNTIL, [0.0] * 4, [1e-13, 1e-15, 1e-18, 1e-18], grid[after])
    difference = np.max(np.abs(solved[0] - v[after]))
    if difference > 1e-7:
        raise RuntimeError(f"closed form and Radau differ by {difference} V")
    write("rlc_ring", "Series RLC circuit of Q = 10 after a step",
          {"SourceVolts": VOLTS, "SeriesOhms": OHMS, "Henries": HENRIES, "Farads": FARADS, "Start": START, "Until": UNTIL},
          {"peak_s": START + math.pi / w, "peak_V": VOLTS * (1 + math.exp(-a * math.pi / w)),
           "energy.source_J": last[2], "energy.series_J": last[3]},
          {"time_s": grid, "out_V": v, "coil_A": i})


if __name__ == "__main__":
    make()
