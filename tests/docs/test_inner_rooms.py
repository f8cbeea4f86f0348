"""Do the inner rooms keep to values and bytes: no file, no clock, no printing?

The import rules in pyproject.toml see imports only. This check reads the syntax tree, so that it also sees built-in
names, methods of a clock, files opened through numpy, and imports hidden in a function. In: the source text. Out:
place and name of each breach.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator

import pytest

from tests.docs.tree import ROOT, shown, source_modules

BUILTINS = {"open", "print", "input", "eval", "exec", "compile", "breakpoint", "__import__"}
CLOCKS = {
    f"datetime.{kind}.{call}" for kind in ("datetime", "date") for call in ("now", "utcnow", "today", "fromtimestamp")
}
FILES = {
    f"numpy.{call}"
    for call in ("load", "loadtxt", "genfromtxt", "fromfile", "memmap", "save", "savez", "savez_compressed", "savetxt")
} | {"io.open", "io.FileIO"}
PROCESS = {f"sys.{name}" for name in ("argv", "exit", "stderr", "stdin", "stdout")}
# The verifier is put into each archive and is then a program by itself, run on what stands on its standard input.
ALONE = {"src/tenthbook/record/ledger/verifier.py": PROCESS | {"open"}}  # and the file of keys that is named to it
CHANCE = {
    "numpy.random.seed",
    "numpy.random.rand",
    "numpy.random.randn",
    "numpy.random.normal",
    "uuid.uuid1",
    "uuid.uuid4",
}


def forbidden_modules() -> frozenset[str]:
    """Read the modules that the import rule keeps out of the inner rooms.

    Returns:
        Top-level module names.
    """
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = settings["tool"]["importlinter"]["contracts"]
    [rule] = [contract for contract in contracts if contract["id"] == "inner-rooms"]
    return frozenset(rule["forbidden_modules"])


def names_of_imports(tree: ast.AST) -> dict[str, str]:
    """Say what each imported name stands for, wherever in the module it is imported.

    Args:
        tree: A parsed module.

    Returns:
        Name as used to the full dotted name.
    """
    names: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                names[alias.asname or alias.name.split(".")[0]] = (
                    alias.name if alias.asname else alias.name.split(".")[0]
                )
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for alias in node.names:
                names[alias.asname or alias.name] = f"{node.module}.{alias.name}"
    return names


def dotted(node: ast.expr, imports: dict[str, str]) -> str:
    """Spell out a name or an attribute of a module.

    Args:
        node: An expression.
        imports: What the imported names stand for.

    Returns:
        The full dotted name, or an empty text where the expression is something else.
    """
    if isinstance(node, ast.Name):
        return imports.get(node.id, node.id)
    if isinstance(node, ast.Attribute):
        owner = dotted(node.value, imports)
        return f"{owner}.{node.attr}" if owner else ""
    return ""


def breaches(source: str) -> Iterator[str]:
    """Find what an inner room must not do.

    Args:
        source: Text of a module.

    Yields:
        Line and name, a line of text each.
    """
    tree = ast.parse(source)
    imports = names_of_imports(tree)
    outside = forbidden_modules()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name.split(".")[0] in outside:
                    yield f"line {node.lineno}: imports {alias.name}"
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] in outside:
            yield f"line {node.lineno}: imports from {node.module}"
        elif isinstance(node, ast.Name) and node.id in BUILTINS and node.id not in imports:
            yield f"line {node.lineno}: uses {node.id}"
        elif isinstance(node, ast.Attribute | ast.Name):
            name = dotted(node, imports)
            if name in CLOCKS | FILES | CHANCE | PROCESS or name.endswith((".tofile", ".read_text", ".write_text")):
                yield f"line {node.lineno}: uses {name}"


def test_inner_rooms_touch_nothing_outside() -> None:
    """Rooms of numbers, trade and record open no file, read no clock and print nothing."""
    found = [
        f"{shown(path)}, {breach}"
        for path in source_modules("numbers", "trade", "record")
        for breach in breaches(path.read_text(encoding="utf-8"))
        if breach.split()[-1] not in ALONE.get(shown(path), set())
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "planted",
    [
        "text = open('limits.csv').read()",
        "def show(value):\n    print(value)",
        "answer = eval('1 + 1')",
        "reader = open",
        "def place():\n    from pathlib import Path\n    return Path('.')",
        "def place():\n    import os.path\n    return os.path.sep",
        "import time as clock",
        "from datetime import datetime\nnow = datetime.now()",
        "import datetime as calendar\ntoday = calendar.date.today()",
        "from datetime import datetime as moment\nstamp = moment.utcnow",
        "import numpy as np\ntable = np.loadtxt('limits.txt')",
        "def draw():\n    import numpy\n    return numpy.random.normal()",
        "from django.db import models",
        "import sys\nsys.stdout.write('1')",
    ],
)
def test_the_check_bites(planted: str) -> None:
    """Each planted breach is found."""
    assert list(breaches(planted))


@pytest.mark.parametrize(
    "allowed",
    [
        "from datetime import date\nday = date.fromisoformat('2026-10-01')",
        "import io\nbuffer = io.BytesIO(b'')",
        "import numpy as np\ndraws = np.random.default_rng(7).normal()",
        "class Door:\n    def open(self):\n        return self.opened\nDoor().open()",
        "def reopen(print_unit):\n    return print_unit",
    ],
)
def test_the_check_lets_values_and_bytes_pass(allowed: str) -> None:
    """What only handles values, bytes and given dates is let through."""
    assert not list(breaches(allowed))
