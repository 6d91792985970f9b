"""The guard at rest: source, 4.7 kohm, pin. One node equation, solved by Brent's method at each source voltage.

(v - vs)/R + v/Rp + i_upper(v - Vdd) - i_zener(-v) - i_schottky(-v) - i_lower(-v) = 0
"""

import numpy as np

import guard
from reference import write


def make():
    source = [round(float(v), 12) for v in np.linspace(-10, 10, 201)] + [24.0]
    pin = [guard.rest(v, guard.SERIES_OHMS, guard.STATIC_DIODES) for v in source]
    columns = {"source_V": source, "pin_V": pin}
    for name, part, sign, offset in guard.STATIC_DIODES:
        columns[f"{name}_A"] = [part.current_across(sign * v + offset) for v in pin]
    write("clamp_dc", "Pin guard at rest, source swept from -10 V to 10 V and at 24 V", guard.header(guard.STATIC_DIODES), {}, columns)


if __name__ == "__main__":
    make()
