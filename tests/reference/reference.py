"""What the reference cases share: physical constants, the diode's law, tight solvers and the form of the CSV files.

Nothing here comes from the engine: the laws are written out again from their definitions, so that a slip on either
side shows as a difference.
"""

import math
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

HERE = Path(__file__).resolve().parent

# CODATA 2018, exact in the SI of 2019.
BOLTZMANN = 1.380649e-23
ELEMENTARY_CHARGE = 1.602176634e-19
ZERO_CELSIUS = 273.15
REFERENCE_KELVIN = ZERO_CELSIUS + 25

# Relative tolerance of the transients; absolute tolerances are stated for this one and follow it.
TOLERANCE = 1e-10


class Diode:
    """A junction with series resistance, charge, breakdown and leakage, at one temperature.

    i = Is (e^(vj/(n Vt)) - 1) - Ib (e^(-(vj + Vb)/Vs) - e^(-Vb/Vs)) + Gl vj,   v = vj + Rs i
    """

    def __init__(self, numbers, celsius=25.0):
        self.numbers = dict(numbers)
        get = self.numbers.get
        kelvin = celsius + ZERO_CELSIUS
        n = get("EmissionCoefficient", 1.0)
        activation_kelvin = get("ActivationVolts", 0.0) * ELEMENTARY_CHARGE / BOLTZMANN
        self.n_vt = n * BOLTZMANN * kelvin / ELEMENTARY_CHARGE
        self.i_s = (
            self.numbers["SaturationAmps"]
            * (kelvin / REFERENCE_KELVIN) ** get("TemperatureExponent", 0.0)
            * math.exp(activation_kelvin * (1 / REFERENCE_KELVIN - 1 / kelvin))
        )
        self.r_s = get("SeriesOhms", 0.0)
        self.v_b = get("BreakdownVolts", math.inf) * (1 + get("BreakdownTempCo", 0.0) * (celsius - 25))
        self.i_b = get("BreakdownAmps", math.nan)
        self.v_s = get("BreakdownSlopeVolts", math.nan)
        self.g_l = get("LeakageSiemens", 0.0)
        self.c_0 = get("JunctionFarads", 0.0)
        self.v_0 = get("JunctionVolts", 0.7)
        self.m = get("Grading", 0.5)
        self.transit = get("TransitSeconds", 0.0)

    def current(self, vj):
        """Current at a junction voltage, A."""
        i = self.i_s * math.expm1(vj / self.n_vt) + self.g_l * vj
        if math.isfinite(self.v_b):
            # e^(-(v+Vb)/Vs) - e^(-Vb/Vs), without the cancellation near zero volts.
            i -= self.i_b * math.exp(-self.v_b / self.v_s) * math.expm1(-vj / self.v_s)
        return i

    def farads(self, vj):
        """Depletion capacitance, never more than twice that at zero bias, plus diffusion capacitance, F."""
        most = self.v_0 * (1 - 2 ** (-1 / self.m))
        c = self.c_0 * (1 - min(vj, most) / self.v_0) ** -self.m
        return c + self.transit * self.i_s * math.exp(vj / self.n_vt) / self.n_vt

    def junction_volts(self, v):
        """The junction voltage when v lies across junction and series resistance: root of vj + Rs i(vj) - v."""
        if self.r_s == 0 or v == 0:
            return v
        if v > 0:
            end = min(v, self.n_vt * math.log1p(v / (self.r_s * self.i_s)))
        elif math.isfinite(self.v_b):
            end = -min(-v, self.v_b + self.v_s * math.log(math.exp(-self.v_b / self.v_s) - v / (self.r_s * self.i_b)))
        else:
            end = v
        # The end is a bound only up to rounding.
        end *= 1 + 1e-12
        return brentq(lambda vj: vj + self.r_s * self.current(vj) - v, *sorted((0.0, end)), xtol=1e-18, rtol=1e-15)

    def current_across(self, v):
        """Current when v lies across junction and series resistance, A."""
        return self.current(self.junction_volts(v))

    def header(self, prefix):
        """Its numbers for a file's header."""
        return {f"{prefix}.{key}": value for key, value in self.numbers.items()}


class DoubleExponential:
    """peak (e^(-t/fall) - e^(-t/rise)) / n from its start, n such that the largest value is the peak."""

    def __init__(self, peak, rise, fall, start):
        self.rise, self.fall, self.start = rise, fall, start
        top = math.log(fall / rise) * rise * fall / (fall - rise)
        self.scale = peak / (math.exp(-top / fall) - math.exp(-top / rise))

    def __call__(self, t):
        t -= self.start
        return 0.0 if t <= 0 else self.scale * (math.exp(-t / self.fall) - math.exp(-t / self.rise))


def integrate(slopes, start, stop, state, atol, grid, watch=None, longest=math.inf):
    """Radau at a tight tolerance. Returns the states on the grid, the last state, and the extremes of one state.

    Extremes are where the watched state's own slope passes zero, located by a root finder, or the ends.
    """
    def turning(t, y):
        return slopes(t, y)[watch]

    solution = solve_ivp(slopes, (start, stop), state, method="Radau", rtol=TOLERANCE,
                         atol=np.asarray(atol) * (TOLERANCE / 1e-10), dense_output=True,
                         events=None if watch is None else turning, max_step=longest)
    if not solution.success:
        raise RuntimeError(solution.message)
    inside = np.asarray([t for t in grid if start <= t <= stop])
    extremes = []
    if watch is not None:
        extremes = [(start, state[watch]), (stop, solution.y[watch, -1])]
        extremes += [(t, y[watch]) for t, y in zip(solution.t_events[0], solution.y_events[0])]
    return (solution.sol(inside) if len(inside) else np.empty((len(state), 0))), solution.y[:, -1], extremes


def burst_grid(start, until, first, count):
    """Times from zero: a few before the start, then closer together just after it."""
    after = start + np.geomspace(first, until - start, count - 3)
    after[-1] = until
    return np.concatenate([[0, 0.5 * start, start], after])


def write(name, title, parameters, results, columns):
    """Writes NAME.csv: a header of parameters (given) and results (computed) in SI units, then the columns.

    Twelve digits: finer than any comparison, coarser than what differs from one machine to the next.
    """
    lines = [f"# {title}"]
    lines += [f"# parameter {key} = {value!r}" for key, value in parameters.items()]
    lines += [f"# result {key} = {float(value):.12g}" for key, value in results.items()]
    lines.append(",".join(columns))
    for row in zip(*columns.values()):
        lines.append(",".join(f"{float(value):.12g}" for value in row))
    (HERE / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
