"""The guard with the charges of its junctions: the equations that the fast-transient and the discharge case share.

States: v(in), v(pin), then the junction voltage of each diode. With u the voltage across a diode and vj its junction's,
C(vj) dvj/dt = (u - vj)/Rs - i(vj), so no equation is implicit.
"""

import guard
from scipy.optimize import brentq

DIODES = guard.DIODES
PARTS = ["series", "pulldown"] + [d[0] for d in DIODES]


def rest():
    """All states at rest with nothing driven: only what leaks from the supply through the upper clamp."""
    v = brentq(lambda x: guard.static_pin_current(x, DIODES), -1.0, 1.0, xtol=1e-16, rtol=1e-15)
    return [v, v] + [part.junction_volts(sign * v + offset) for _, part, sign, offset in DIODES]


def slopes(state, in_amps, in_farads, pin_farads):
    """Slopes of the states for a current into the entry node, and the power into each of PARTS, W."""
    v_in, v_pin, junctions = state[0], state[1], state[2:2 + len(DIODES)]
    i = (v_in - v_pin) / guard.SERIES_OHMS
    into_pin = i - v_pin / guard.PULLDOWN_OHMS
    powers = [guard.SERIES_OHMS * i * i, v_pin * v_pin / guard.PULLDOWN_OHMS]
    d_junctions = []
    for (_, part, sign, offset), vj in zip(DIODES, junctions):
        across = sign * v_pin + offset
        a = (across - vj) / part.r_s
        into_pin -= sign * a
        d_junctions.append((a - part.current(vj)) / part.farads(vj))
        powers.append(across * a)
    return [(in_amps - i) / in_farads, into_pin / pin_farads, *d_junctions], powers
