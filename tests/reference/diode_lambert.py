"""A source, a resistance and an ideal junction: the current in closed form.

i = n Vt / R * W(Is R / (n Vt) * e^((v + R Is) / (n Vt))) - Is, Lambert's W (Banwell and Jayakumar, Electronics Letters
36(4), 2000; Corless et al., Adv. Comput. Math. 5, 1996). Where the argument overflows, w + ln w = ln(argument) is
solved instead.
"""

import math

from reference import Diode, write
from scipy.optimize import brentq
from scipy.special import lambertw

CELSIUS = (-40.0, 25.0, 85.0)


def lambert_of_exponential(logarithm):
    """W(e^logarithm), the logarithm of any size; brought to full precision by one Newton step on w + ln w."""
    if logarithm < 300:
        w = float(lambertw(math.exp(logarithm)).real)
    else:
        w = brentq(lambda x: x + math.log(x) - logarithm, 1.0, logarithm, xtol=1e-13, rtol=1e-15)
    return w - (w + math.log(w) - logarithm) * w / (1 + w) if w > 0 else w


def make():
    rows = []
    for celsius in CELSIUS:
        # Diffusion, mostly recombination, and a Schottky barrier.
        for i_s, n, activation, exponent in ((1e-15, 1.0, 1.12, 3.0), (4e-9, 1.9, 0.59, 1.6), (2e-6, 1.05, 0.69, 2.0)):
            junction = Diode({"SaturationAmps": i_s, "EmissionCoefficient": n, "ActivationVolts": activation,
                              "TemperatureExponent": exponent}, celsius)
            for ohms in (0.05, 10.0, 4.7e3, 1e6):
                for volts in (0.02, 0.1, 0.3, 0.5, 0.7, 1.0, 2.0, 5.0, 24.0):
                    scale = junction.n_vt / ohms
                    # The current is the root's excess over Is: from the difference of logarithms where the two are close.
                    w = lambert_of_exponential(math.log(junction.i_s / scale) + (volts + ohms * junction.i_s) / junction.n_vt)
                    amps = scale * w - junction.i_s
                    # Is (e^(vj/nVt) - 1) = i with vj = v - R i: the same root without the cancellation.
                    for _ in range(3):
                        vj = volts - ohms * amps
                        miss = junction.i_s * math.expm1(vj / junction.n_vt) - amps
                        amps += miss / (1 + ohms * junction.i_s * math.exp(vj / junction.n_vt) / junction.n_vt)
                    rows.append((celsius, i_s, n, activation, exponent, ohms, volts, amps))
    names = ("celsius_C", "SaturationAmps", "EmissionCoefficient", "ActivationVolts", "TemperatureExponent", "ohms", "volts_V", "amps_A")
    write("diode_lambert", "Junction behind a resistance by Lambert's W at three temperatures", {}, {}, dict(zip(names, zip(*rows))))


if __name__ == "__main__":
    make()
