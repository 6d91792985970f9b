"""Makes every reference file again: /usr/bin/python3 tests/reference/make_all.py (needs SciPy, Debian's python3-scipy).

With --check nothing is kept: the files are made, compared with those committed, and the largest difference is told
relative to its column's largest value; the exit code is 1 if it exceeds 1e-8. With --tighter the same, the transients
solved at a hundredth of the tolerances: how far the committed solutions themselves are from converged.
"""

import sys
import time

import clamp_dc
import clamp_discharge
import clamp_fast_transient
import clamp_surge
import combination_wave
import diode_lambert
import opamp_dc
import rectifier
import reference
import rlc_ring
import sensor_laws
import shipped_circuits
import zener_temperature
from reference import HERE

CASES = [clamp_dc, clamp_surge, clamp_fast_transient, clamp_discharge, combination_wave, rlc_ring, rectifier, diode_lambert, zener_temperature, opamp_dc,
         sensor_laws, shipped_circuits]


def numbers(text):
    """All numbers of a file, by column (header results are columns of their own)."""
    columns = {}
    names = None
    for line in text.splitlines():
        if line.startswith(("# parameter ", "# result ")):
            key, value = line[2:].split(" = ")
            columns[key] = [float(value)]
        elif not line.startswith("#"):
            if names is None:
                names = line.split(",")
                columns |= {name: [] for name in names}
            else:
                for name, value in zip(names, line.split(",")):
                    columns[name].append(float(value))
    return columns


def difference(old, new):
    """The largest difference relative to its column's largest value; infinite if the shapes differ."""
    a, b = numbers(old), numbers(new)
    if a.keys() != b.keys() or any(len(a[k]) != len(b[k]) for k in a):
        return float("inf")
    return max((abs(x - y) / (max(map(abs, a[k])) or 1) for k in a for x, y in zip(a[k], b[k])), default=0.0)


def main():
    options = sys.argv[1:]
    if "--tighter" in options:
        reference.TOLERANCE = 1e-12
    check = "--check" in options or "--tighter" in options
    committed = {path: path.read_text(encoding="utf-8") for path in HERE.glob("*.csv")}
    for case in CASES:
        began = time.perf_counter()
        case.make()
        print(f"{case.__name__}: {time.perf_counter() - began:.1f} s")
    worst = 0.0
    for path in sorted(HERE.glob("*.csv")):
        apart = difference(committed.get(path, ""), path.read_text(encoding="utf-8"))
        print(f"{path.name}: {apart:.1e} from the file that was there")
        worst = max(worst, apart)
    if check:
        for path, text in committed.items():
            path.write_text(text, encoding="utf-8", newline="\n")
        print(f"largest: {worst:.1e}")
        sys.exit(0 if worst <= 1e-8 else 1)


if __name__ == "__main__":
    main()
