"""Inverting and summing stages with finite gain, offset, bias currents, input and output resistance, at rest.

Three node equations, solved by Cramer's rule in rational arithmetic, so exact up to the last rounding:

minus   sum (vk - vm)/Rk + (vo - vm)/Rf - (vm - vp)/Ri - (Ib - Io/2) = 0
plus    -vp/Rc - (vp - vm)/Ri - (Ib + Io/2) = 0
output  (A (vp - vm + Vos) - vo)/Ro - (vo - vm)/Rf - vo/RL = 0
"""

from fractions import Fraction

from reference import write


def determinant(m):
    return (m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
            - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]))


def solve(case):
    c = {key: Fraction(value) for key, value in case.items()}
    g1, g2, gf, gi, gc = (1 / c[k] for k in ("r1", "r2", "rf", "ri", "rc"))
    go, gl, a = 1 / c["ro"], 1 / c["rl"], c["gain"]
    matrix = [
        [-(g1 + g2 + gf + gi), gi, gf],
        [gi, -(gc + gi), Fraction(0)],
        [-a * go + gf, a * go, -(go + gf + gl)],
    ]
    right = [
        -(c["v1"] * g1 + c["v2"] * g2) + c["bias"] - c["offset_current"] / 2,
        c["bias"] + c["offset_current"] / 2,
        -a * c["offset"] * go,
    ]
    full = determinant(matrix)
    return [float(determinant([[right[r] if k == col else matrix[r][k] for k in range(3)] for r in range(3)]) / full)
            for col in range(3)]


def make():
    base = {"v1": 1.2, "v2": -0.35, "r1": 10e3, "r2": 22e3, "rf": 27e3, "rc": 5.6e3, "rl": 10e3,
            "gain": 2e5, "offset": 0.0, "offset_current": 0.0, "bias": 0.0, "ri": 2e6, "ro": 75.0}
    changes = [
        {}, {"gain": 1e6}, {"gain": 5e4}, {"offset": 2e-3}, {"offset": -5e-3}, {"bias": 80e-9}, {"bias": 80e-9, "offset_current": 20e-9},
        {"rc": 1.0, "bias": 500e-9}, {"ri": 2e4}, {"ro": 600.0, "rl": 2e3}, {"v1": -2.0, "v2": 0.0}, {"v1": 0.0, "v2": 0.0, "offset": 1e-3},
        {"rf": 470e3, "v1": 0.1, "v2": 0.02, "offset": 1e-3, "bias": 50e-9}, {"r1": 1e6, "r2": 1e6, "rf": 1e6, "rc": 330e3, "bias": 100e-9},
        {"v1": 1e-3, "v2": 0.0}, {"gain": 1e4}, {"gain": 1e3},
    ]
    rows = [base | change for change in changes]
    solved = [solve(row) for row in rows]
    columns = {key: [row[key] for row in rows] for key in base}
    for k, name in enumerate(("minus_V", "plus_V", "output_V")):
        columns[name] = [s[k] for s in solved]
    write("opamp_dc", "Summing stage with finite gain, offset, bias currents, input and output resistance, on 9 V rails", {}, {}, columns)


if __name__ == "__main__":
    make()
