"""A 5/50 ns impulse of 1 kV behind 50 ohm into the guard with small capacitances and the charges of its junctions.

The two time constants are found so that the open-circuit impulse rises in 5 ns from 10 % to 90 % and stays 50 ns
above half its peak, the shape that IEC 61000-4-4 names (figures from memory).
"""

import math

import charged_guard
import guard
from reference import DoubleExponential, burst_grid, integrate, write
from scipy.optimize import brentq, fsolve

PEAK, SOURCE_OHMS, START, UNTIL = 1000.0, 50.0, 10e-9, 600e-9
IN_FARADS, PIN_FARADS = 10e-12, 100e-12


def shape(constants):
    """Rise time 10-90 % and width at half value of a double exponential, ns."""
    rise, fall = constants
    pulse = DoubleExponential(1.0, rise, fall, 0.0)
    top = math.log(fall / rise) * rise * fall / (fall - rise)

    def up(level):
        return brentq(lambda t: pulse(t) - level, 0.0, top, xtol=1e-12)

    down = brentq(lambda t: pulse(t) - 0.5, top, 20 * fall, xtol=1e-12)
    return up(0.9) - up(0.1), down - up(0.5)


def make():
    rise, fall = fsolve(lambda c: [shape(c)[0] - 5.0, shape(c)[1] - 50.0], [3.5, 60.0], xtol=1e-13)
    rise, fall = float(f"{rise * 1e-9:.6g}"), float(f"{fall * 1e-9:.6g}")
    pulse = DoubleExponential(PEAK, rise, fall, START)
    states = 2 + len(charged_guard.DIODES)

    def slopes(t, y):
        e = pulse(t)
        i = (e - y[0]) / SOURCE_OHMS
        d, powers = charged_guard.slopes(y, i, IN_FARADS, PIN_FARADS)
        return [*d, e * i, SOURCE_OHMS * i * i, *powers]

    rest = charged_guard.rest()
    grid = burst_grid(START, UNTIL, 1e-10, 300)
    before = grid < START
    tallies = 2 + len(charged_guard.PARTS)
    solved, last, extremes = integrate(
        slopes, START, UNTIL, rest + [0.0] * tallies, [1e-12] * states + [1e-18] * tallies, grid[~before], watch=1)
    columns = {"time_s": grid}
    for k, name in enumerate(("in_V", "pin_V")):
        columns[name] = [rest[k]] * int(before.sum()) + list(solved[k])
    when, peak = max(extremes, key=lambda e: e[1])
    results = {"peak_s": when, "peak_V": peak}
    results |= {f"energy.{name}_J": value for name, value in zip(["source", "generator"] + charged_guard.PARTS, last[states:])}
    write("clamp_fast_transient", "Pin guard under a 5/50 ns impulse, 1 kV behind 50 ohm, with junction charges",
          guard.header(guard.DIODES) | {
              "PeakVolts": PEAK, "SourceOhms": SOURCE_OHMS, "RiseConstant": rise, "FallConstant": fall, "Start": START,
              "InFarads": IN_FARADS, "ShuntFarads": PIN_FARADS, "Until": UNTIL},
          results, columns)


if __name__ == "__main__":
    make()
