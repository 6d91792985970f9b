"""A 1.2/50 us impulse of 500 V behind 42 ohm into the guard with 10 nF at the pin, in both polarities.

One state, the pin voltage: C dv/dt = (e(t) - v)/(Rg + R) - i_pin(v). The energies are integrated along with it.
"""

import guard
from reference import DoubleExponential, burst_grid, integrate, write

PEAK, SOURCE_OHMS, RISE, FALL, START = 500.0, 42.0, 0.4074e-6, 68.22e-6, 10e-6
FARADS, UNTIL = 10e-9, 400e-6


def make():
    for polarity, word in ((1, "positive"), (-1, "negative")):
        surge = DoubleExponential(polarity * PEAK, RISE, FALL, START)
        ohms = SOURCE_OHMS + guard.SERIES_OHMS

        def slopes(t, y):
            e, v = surge(t), y[0]
            i = (e - v) / ohms
            out = v / guard.PULLDOWN_OHMS
            powers = [e * i, SOURCE_OHMS * i * i, guard.SERIES_OHMS * i * i, v * v / guard.PULLDOWN_OHMS]
            for name, part, sign, offset in guard.STATIC_DIODES:
                across = sign * v + offset
                a = part.current_across(across)
                out += sign * a
                powers.append(across * a)
            return [(i - out) / FARADS, *powers]

        rest = guard.rest(0.0, ohms, guard.STATIC_DIODES)
        grid = burst_grid(START, UNTIL, 1e-8, 300)
        before = grid < START
        states, last, extremes = integrate(
            slopes, START, UNTIL, [rest] + [0.0] * 8, [1e-13] + [1e-15] * 8, grid[~before], watch=0, longest=5e-6)
        pin = [rest] * int(before.sum()) + list(states[0])
        entry = [surge(t) - SOURCE_OHMS * (surge(t) - v) / ohms for t, v in zip(grid, pin)]
        # The extreme in the impulse's direction.
        when, peak = max(extremes, key=lambda e: polarity * e[1])
        names = ["source", "generator", "series", "pulldown"] + [d[0] for d in guard.STATIC_DIODES]
        results = {"peak_s": when, "peak_V": peak, "pin_end_V": last[0]}
        results |= {f"energy.{name}_J": value for name, value in zip(names, last[1:])}
        # At rest before the start the static currents flow for START seconds: far below the figures given.
        write(f"clamp_surge_{word}", f"Pin guard with 10 nF under a {word} 1.2/50 us impulse, 500 V behind 42 ohm",
              guard.header(guard.STATIC_DIODES) | {
                  "PeakVolts": polarity * PEAK, "SourceOhms": SOURCE_OHMS, "RiseConstant": RISE, "FallConstant": FALL,
                  "Start": START, "ShuntFarads": FARADS, "Until": UNTIL},
              results, {"time_s": grid, "in_V": entry, "pin_V": pin})


if __name__ == "__main__":
    make()
