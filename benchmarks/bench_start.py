"""How long a command takes to start: against the libraries it loads, and against a bare interpreter.

Prints times and ratios; asserts nothing. Run it as `python benchmarks/bench_start.py` with the package importable.
`calc fit` is held against a process that imports the same modules of other packages and does nothing else; `--help`
and `calc --list` compute nothing and are held against `python -c pass`. All are started in turns, so that a busy
moment of the machine meets all alike.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import tenthbook
from tenthbook.faces.calculators import load

TURNS = 15
OWN = str(Path(tenthbook.__file__).parents[1])
QUESTION = json.dumps(load("fit").example.input).encode()

NAME_MODULES = """
import atexit, runpy, sys
listed = sys.argv.pop()
atexit.register(lambda: open(listed, "w").write("\\n".join(sys.modules)))
runpy.run_module("tenthbook", run_name="__main__", alter_sys=False)
"""


def seconds(command: list[str]) -> float:
    """Start a process, feed it the question and wait for its end.

    Args:
        command: The command line.

    Returns:
        Wall time [s].
    """
    start = time.perf_counter()
    subprocess.run(command, input=QUESTION, stdout=subprocess.DEVNULL, check=True, env={"PYTHONPATH": OWN})
    return time.perf_counter() - start


def libraries_of(*words: str) -> list[str]:
    """Find the modules of other packages that a command of this project loads.

    Args:
        words: The command's words.

    Returns:
        Names of modules, in the order they were loaded; none of the standard library.
    """
    with tempfile.NamedTemporaryFile("r") as listed:
        seconds([sys.executable, "-c", NAME_MODULES, *words, "-", listed.name])
        names = listed.read().split()
    foreign = [name for name in names if name.partition(".")[0] not in {*sys.stdlib_module_names, "tenthbook"}]
    return [name for name in foreign if not name.startswith("_") and "cython" not in name.lower()]


def main() -> None:
    """Time all starts in turns and print medians and ratios."""
    python = [sys.executable, "-c"]
    modules = libraries_of("calc", "fit")
    packages = sorted({name.partition(".")[0] for name in modules})
    ours = [sys.executable, "-m", "tenthbook"]
    starts = {
        "bare interpreter": [*python, "pass"],
        "only the libraries": [*python, "import " + ", ".join(modules)],
        "calc fit": [*ours, "calc", "fit"],
        "--help": [*ours, "--help"],
        "calc --list": [*ours, "calc", "--list"],
    }
    spent: dict[str, list[float]] = {name: [] for name in starts}
    for _ in range(TURNS):
        for name, command in starts.items():
            spent[name].append(seconds(command))
    median = {name: statistics.median(times) for name, times in spent.items()}
    print(f"calc fit loads {len(modules)} modules of {len(packages)} packages: {', '.join(packages)}")
    for name, took in median.items():
        print(f"{name:<20} {1e3 * took:7.1f} ms")
    bare, least = median["bare interpreter"], median["only the libraries"]
    print(f"calc fit over its libraries: {median['calc fit'] / least:.2f} (aim 1.3)")
    for name in ("--help", "calc --list"):
        print(f"{name} over a bare interpreter: {median[name] / bare:.1f} (aim 8)")


if __name__ == "__main__":
    main()
