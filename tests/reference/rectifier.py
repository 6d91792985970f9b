"""A half-wave rectifier: 50 Hz behind 2 ohm, diode, 470 uF and 1 kohm, over ten cycles from rest.

One state: C dv/dt = i - v/R, with i the root of the diode's law behind 2 ohm and its own resistance.
Ten segments of one cycle, so that no charging pulse is stepped over.
"""

import math

import numpy as np
from reference import Diode, integrate, write

AMPLITUDE, HERTZ, SOURCE_OHMS, FARADS, LOAD_OHMS, CYCLES = 17.0, 50.0, 2.0, 470e-6, 1000.0, 10
DIODE = {"SaturationAmps": 5e-9, "EmissionCoefficient": 1.9, "SeriesOhms": 0.05}


def make():
    behind = Diode(DIODE | {"SeriesOhms": DIODE["SeriesOhms"] + SOURCE_OHMS})

    def slopes(t, y):
        e, v = AMPLITUDE * math.sin(2 * math.pi * HERTZ * t), y[0]
        i = behind.current_across(e - v)
        return [(i - v / LOAD_OHMS) / FARADS, e * i, SOURCE_OHMS * i * i, (e - SOURCE_OHMS * i - v) * i, v * v / LOAD_OHMS]

    until = CYCLES / HERTZ
    grid = np.linspace(0, until, 801)
    state, v, extremes = [0.0] * 5, [0.0], []
    for cycle in range(CYCLES):
        start, stop = cycle / HERTZ, (cycle + 1) / HERTZ
        inside = grid[cycle * 80 + 1:(cycle + 1) * 80 + 1].clip(start, stop)
        solved, state, turns = integrate(slopes, start, stop, state, [1e-12] + [1e-13] * 4, inside, watch=0, longest=2e-4)
        v += list(solved[0])
        extremes += turns
    when, peak = max(extremes, key=lambda e: e[1])
    anode = [AMPLITUDE * math.sin(2 * math.pi * HERTZ * t) for t in grid]
    anode = [e - SOURCE_OHMS * behind.current_across(e - x) for e, x in zip(anode, v)]
    write("rectifier", "Half-wave rectifier with reservoir capacitor over ten cycles of 50 Hz",
          {"Amplitude": AMPLITUDE, "Frequency": HERTZ, "SourceOhms": SOURCE_OHMS, "Farads": FARADS, "LoadOhms": LOAD_OHMS,
           "Until": until} | {f"diode.{key}": value for key, value in DIODE.items()},
          {"peak_s": when, "peak_V": peak} | {f"energy.{name}_J": value for name, value in
                                              zip(("source", "generator", "diode", "load"), state[1:])},
          {"time_s": grid, "anode_V": anode, "out_V": v})


if __name__ == "__main__":
    make()
