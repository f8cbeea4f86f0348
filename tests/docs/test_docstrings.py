"""Is everything public described, and does each description name the arguments that are really there?

It reads the syntax tree of each module; it does not judge whether a description is true. In: the source text. Out:
place and fault.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.docs.tree import shown, source_modules

Function = ast.FunctionDef | ast.AsyncFunctionDef

SECTION = re.compile(r"^(Args|Attributes|Returns|Yields|Raises|Valid for|Source|Example|Note)s?:")
NOTHING = {"None", "NoReturn", "Never"}
# The description of these is shown to someone who knows no Python: help of a command, page of an address.
SHOWN_TO_PEOPLE = {"command", "group", "get", "post", "put", "patch", "delete"}
NOTE_LINES = range(10, 41)


def sections(doc: str) -> dict[str, list[str]]:
    """Cut a description into its sections.

    Args:
        doc: A docstring, its indentation removed.

    Returns:
        Section name to its lines.
    """
    found: dict[str, list[str]] = {}
    current: list[str] = []
    for line in doc.splitlines():
        head = SECTION.match(line)
        if head:
            current = found.setdefault(head.group(1), [])
            current.append(line[head.end() :])
        else:
            current.append(line)
    return found


def described_names(lines: list[str]) -> list[str]:
    """Read the names of a section of arguments or attributes.

    Args:
        lines: The lines of the section.

    Returns:
        Names in their order, stars removed.
    """
    heads = [re.match(r" {4}\*{0,2}(\w+(?:, \w+)*)(?: \([^)]*\))?:", line) for line in lines]
    return [name for head in heads if head for name in head.group(1).split(", ")]


def arguments(function: Function, *, method: bool) -> list[str]:
    """Read the names of a signature.

    Args:
        function: A function or method.
        method: Whether the first argument is the object or class itself.

    Returns:
        Names in their order.
    """
    given = function.args
    names = [argument.arg for argument in given.posonlyargs + given.args]
    if method and "staticmethod" not in decorators(function):
        names = names[1:]
    names += [given.vararg.arg] if given.vararg else []
    names += [argument.arg for argument in given.kwonlyargs]
    return names + ([given.kwarg.arg] if given.kwarg else [])


def decorators(node: Function | ast.ClassDef) -> set[str]:
    """Name the decorators, the last word of each.

    Args:
        node: A function or class.

    Returns:
        Words such as `property`, `setter`, `command`.
    """
    words = set()
    for decorator in node.decorator_list:
        target = decorator.func if isinstance(decorator, ast.Call) else decorator
        words.add(target.attr if isinstance(target, ast.Attribute) else getattr(target, "id", ""))
    return words


def faults_of_function(function: Function, name: str, *, method: bool) -> Iterator[str]:
    """Find what the description of a function lacks.

    Args:
        function: A function or method.
        name: Its name, with that of its class.
        method: Whether it is a method.

    Yields:
        Faults, a line of text each.
    """
    marks = decorators(function)
    if "overload" in marks or "setter" in marks:
        return
    doc = ast.get_docstring(function)
    if not doc:
        yield f"{name}: no description"
        return
    if marks & SHOWN_TO_PEOPLE:
        return
    parts = sections(doc)
    expected, found = arguments(function, method=method), described_names(parts.get("Args", []))
    if found != expected:
        yield f"{name}: describes the arguments {found}; its signature has {expected}"
    if marks & {"property", "cached_property"}:
        return
    returns = ast.unparse(function.returns) if function.returns else "None"
    answers = bool({"Returns", "Yields"} & parts.keys())
    if returns not in NOTHING and not answers:
        yield f"{name}: returns {returns} and does not say what that is"
    if returns in NOTHING and answers:
        yield f"{name}: describes an answer and returns none"


def faults_of_class(node: ast.ClassDef) -> Iterator[str]:
    """Find what the description of a class and of its public methods lacks.

    Args:
        node: A class.

    Yields:
        Faults, a line of text each.
    """
    doc = ast.get_docstring(node)
    if not doc:
        yield f"{node.name}: no description"
    fields = [
        item.target.id
        for item in node.body
        if isinstance(item, ast.AnnAssign) and isinstance(item.target, ast.Name) and item.target.id[0] != "_"
        if "ClassVar" not in ast.unparse(item.annotation)
    ]
    described = described_names(sections(doc or "").get("Attributes", []))
    if described and fields and described != fields:
        yield f"{node.name}: describes the attributes {described}; it has {fields}"
    for item in node.body:
        if isinstance(item, Function) and (item.name[0] != "_" or item.name == "__init__"):
            yield from faults_of_function(item, f"{node.name}.{item.name}", method=True)


def faults_of_module(source: str) -> Iterator[str]:
    """Find what a module leaves undescribed.

    Args:
        source: Its text.

    Yields:
        Faults, a line of text each.
    """
    tree = ast.parse(source)
    if not ast.get_docstring(tree):
        yield "no description of the module"
    for node in tree.body:
        if isinstance(node, Function) and node.name[0] != "_":
            yield from faults_of_function(node, node.name, method=False)
        elif isinstance(node, ast.ClassDef) and node.name[0] != "_":
            yield from faults_of_class(node)


def test_everything_public_is_described() -> None:
    """Modules, classes, functions and methods are described, with the arguments of their signature and their answer."""
    found = [
        f"{shown(path)}: {fault}"
        for path in source_modules()
        for fault in faults_of_module(path.read_text(encoding="utf-8"))
    ]
    assert not found, "\n".join(found)


def test_each_package_opens_with_a_note() -> None:
    """The note at the head of a package has 10 to 40 lines."""
    notes = {
        shown(path): len((ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "").splitlines())
        for path in source_modules()
        if path.name == "__init__.py"
    }
    assert {place: lines for place, lines in notes.items() if lines not in NOTE_LINES} == {}


DESCRIBED = '''"""What is it?"""
class Size:
    """A size.

    Attributes:
        value: The value [mm].
    """
    value: float

    @property
    def half(self) -> float:
        """Half of it [mm]."""

def sum_up(first: float, *more: float, unit: str, **rest: float) -> float:
    """Add.

    Args:
        first: One [mm].
        *more: Others [mm].
        unit: Unit of
            all: of them.
        **rest: Others by name [mm].

    Returns:
        The sum [mm].

    Source: common practice, no source.
    """
'''


def test_a_full_description_passes() -> None:
    """A module whose description agrees with its signatures has no fault."""
    assert list(faults_of_module(DESCRIBED)) == []


@pytest.mark.parametrize(
    ("was", "planted"),
    [
        ('"""What is it?"""', ""),
        ('    """A size.', '    b"""A size.'),
        ("        value: The", "        size: The"),
        ('        """Half of it [mm]."""', "        return 1.0"),
        ("        first: One [mm].\n", ""),
        ("        unit: Unit", "        units: Unit"),
        ("    Returns:\n        The sum [mm].\n", ""),
        ("**rest: float) -> float:", "**rest: float) -> None:"),
        ("first: float, *more", "more_first: float, *more"),
    ],
)
def test_the_check_bites(was: str, planted: str) -> None:
    """Each planted fault is found."""
    assert was in DESCRIBED
    assert list(faults_of_module(DESCRIBED.replace(was, planted)))
