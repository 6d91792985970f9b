"""150 pF charged to 4 kV, discharged through 330 ohm into the guard (the network of IEC 61000-4-2, from memory).

The charged capacitor is an uncharged one in series with a source that steps to 4 kV: outside the pair the two are the
same (Thevenin). Its voltage u follows 150 pF du/dt = i, i = (4 kV - u - v(in))/330 ohm.
"""

import charged_guard
import guard
from reference import burst_grid, integrate, write

VOLTS, STORE_FARADS, DISCHARGE_OHMS, START, UNTIL = 4000.0, 150e-12, 330.0, 100e-9, 6e-6
IN_FARADS, PIN_FARADS = 15e-12, 1e-9


def make():
    states = 2 + len(charged_guard.DIODES)

    def slopes(t, y):
        i = (VOLTS - y[states] - y[0]) / DISCHARGE_OHMS
        d, powers = charged_guard.slopes(y, i, IN_FARADS, PIN_FARADS)
        return [*d, i / STORE_FARADS, VOLTS * i, DISCHARGE_OHMS * i * i, *powers]

    rest = charged_guard.rest()
    grid = burst_grid(START, UNTIL, 1e-10, 300)
    before = grid < START
    tallies = 2 + len(charged_guard.PARTS)
    # Before the step the store holds what the pin's resting voltage puts on it.
    solved, last, extremes = integrate(
        slopes, START, UNTIL, rest + [-rest[0]] + [0.0] * tallies, [1e-12] * (states + 1) + [1e-18] * tallies, grid[~before], watch=1)
    columns = {"time_s": grid}
    for k, name in enumerate(("in_V", "pin_V")):
        columns[name] = [rest[k]] * int(before.sum()) + list(solved[k])
    when, peak = max(extremes, key=lambda e: e[1])
    results = {"peak_s": when, "peak_V": peak}
    results |= {f"energy.{name}_J": value for name, value in zip(["source", "generator"] + charged_guard.PARTS, last[states + 1:])}
    write("clamp_discharge", "Pin guard under the discharge of 150 pF at 4 kV through 330 ohm, with junction charges",
          guard.header(guard.DIODES) | {
              "SourceVolts": VOLTS, "StoreFarads": STORE_FARADS, "SourceOhms": DISCHARGE_OHMS, "Start": START,
              "InFarads": IN_FARADS, "ShuntFarads": PIN_FARADS, "Until": UNTIL},
          results, columns)


if __name__ == "__main__":
    make()
