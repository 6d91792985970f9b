#!/usr/bin/python3
"""Times whole commands of the native program, in starts of an empty .NET program, all in one run.

    python3 tests/timing/commands.py [--runs N] [--seconds S] [--minutes M] [--processor] [--program PATH] [--circuit NAME] [--verb NAME]

Publishes the native program with the documented command (unless --program names one), builds an empty .NET program, and runs each
verb on each shipped circuit. Shown are medians of N runs (7 if not given) after one that is not counted, of fewer where they would take
more than S seconds (10 if not given); with --minutes of so many that all of them take about M minutes beside one run of each. On a
machine that others use --processor compares the least processor time instead. A verb that a circuit has no use for (exit code 2) is left
out. Nothing is asserted: what is wanted stands beside what was measured.
"""
import argparse
import os
import pathlib
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
# Most starts of an empty .NET program that a verb should take. A check that judges a temperature range may take twice as many.
WANTED = {"check": 3, "bias": 3, "sweep": 3, "events": 3, "explain": 3, "respond": 3, "build": 3, "faults": 6,
          "budget": 8, "design": 20, "report": 15}
EMPTY = """<Project Sdk="Microsoft.NET.Sdk">
  <PropertyGroup>
    <OutputType>Exe</OutputType>
    <TargetFramework>net10.0</TargetFramework>
    <InvariantGlobalization>true</InvariantGlobalization>
  </PropertyGroup>
</Project>
"""


def judges_a_range(file):
    """Whether a circuit's requirements are judged over temperatures."""
    return any(line.startswith("temperature ") and ".." in line for line in file.read_text().splitlines())


def run(words, folder, processor):
    started = time.perf_counter()
    process = subprocess.Popen(words, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return used.ru_utime + used.ru_stime if processor else time.perf_counter() - started, process.returncode


def typical(words, folder, options, runs):
    """The median of the runs, or the least of their processor times; None where there is nothing to do."""
    started = time.perf_counter()
    first, code = run(words, folder, options.processor)
    if code == 2:
        return None
    took = time.perf_counter() - started
    runs = max(1, min(runs, int(options.seconds / took)))
    times = [run(words, folder, options.processor)[0] for _ in range(runs)] if took < options.seconds else [first]
    return min(times) if options.processor else statistics.median(times)


def empty_program(away):
    folder = away / "empty"
    folder.mkdir()
    (folder / "empty.csproj").write_text(EMPTY)
    (folder / "Program.cs").write_text("return;\n")
    subprocess.run(["dotnet", "build", "-c", "Release", "-v", "q", "--nologo", "-o", str(folder / "out")], cwd=folder, check=True)
    return ["dotnet", str(folder / "out" / "empty.dll")]


def native_program(away):
    kind = "linux-arm64" if platform.machine() in ("aarch64", "arm64") else "linux-x64"
    subprocess.run(["dotnet", "publish", "src/FrontEndSim.Cli", "-c", "Release", "-r", kind, "-o", str(away / "native"), "--nologo", "-v", "q"],
                   cwd=TOP, check=True)
    return away / "native" / "frontendsim"


def words_of(verb, program, file, away):
    words = [str(program), verb, str(file)]
    if verb == "report":
        words += ["--out", str(away / "report.html")]
    if verb == "budget":
        words += ["--trials", "10000"]
    return words


def main():
    asked = argparse.ArgumentParser(description="Times whole commands in starts of an empty .NET program.")
    asked.add_argument("--runs", type=int, default=7, help="counted runs of each command")
    asked.add_argument("--seconds", type=float, default=10, help="what the runs of one command may take together")
    asked.add_argument("--processor", action="store_true", help="compare processor time")
    asked.add_argument("--verb", action="append", help="only this verb (may be given several times)")
    asked.add_argument("--program", type=pathlib.Path, help="a program that is there already")
    asked.add_argument("--circuit", action="append", help="only this circuit (may be given several times)")
    asked.add_argument("--minutes", type=float, help="about how long the counted runs may take in all, beside one run of each command")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        away = pathlib.Path(name)
        program = options.program.resolve() if options.program else native_program(away)
        wanted_of = {verb: most for verb, most in WANTED.items() if not options.verb or verb in options.verb}
        start = typical(empty_program(away), away, options, max(options.runs, 11))
        print(f"One start of an empty .NET program: {start * 1e3:.0f} ms. "
              f"Program: {sum(f.stat().st_size for f in program.parent.iterdir() if f.is_file()) / 1e6:.0f} MB in its folder.")
        print(f"\n| circuit | {' | '.join(wanted_of)} |\n|---|{'---|' * len(wanted_of)}")
        print(f"| wanted, at most | {' | '.join(str(w) for w in wanted_of.values())} |")
        files = sorted(f for f in (TOP / "circuits").glob("*.fes") if not options.circuit or f.stem in options.circuit)
        if options.minutes:
            options.seconds = 60 * options.minutes / max(1, len(files) * len(wanted_of))
        over = []
        for file in files:
            cells = []
            for verb, wanted in wanted_of.items():
                wanted *= 2 if verb == "check" and judges_a_range(file) else 1
                seconds = typical(words_of(verb, program, file, away), TOP, options, options.runs)
                cells.append("–" if seconds is None else f"{seconds / start:.1f}")
                if seconds is not None and seconds > wanted * start:
                    over.append(f"{verb} {file.stem}: {seconds / start:.1f} starts, {wanted} wanted")
            if any(c != "–" for c in cells):
                print(f"| {file.stem} | {' | '.join(cells)} |", flush=True)
        print("\nBeyond what is wanted: " + ("; ".join(over) if over else "nothing") + ".")
    return 0


if __name__ == "__main__":
    if shutil.which("dotnet") is None:
        sys.exit("The .NET SDK is not installed.")
    sys.exit(main())
