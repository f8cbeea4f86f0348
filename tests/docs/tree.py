"""Where the files of the project stand, for the checks in this folder.

It reads names and text only and imports nothing of the project. In: nothing. Out: paths and text.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "tenthbook"
RINGS = ("numbers", "trade", "record", "faces")


@cache
def project_files() -> tuple[Path, ...]:
    """List the files that belong to the project: kept ones and new ones, without what .gitignore leaves out.

    Returns:
        Absolute paths, sorted.
    """
    listing = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    )
    paths = (ROOT / name for name in listing.stdout.split("\0") if name)
    return tuple(sorted({path for path in paths if path.is_file()}))


def source_modules(*rings: str) -> Iterator[Path]:
    """Walk the modules of the program, without the generated migrations.

    Args:
        rings: Folders under src/tenthbook to walk; none for all.

    Yields:
        Paths of Python modules, sorted within each ring.
    """
    for folder in [SOURCE / ring for ring in rings] or [SOURCE]:
        for path in sorted(folder.rglob("*.py")):
            if "migrations" not in path.parts:
                yield path


def rooms() -> dict[str, str]:
    """Name the rooms that exist.

    Returns:
        Room name to the ring it lies in; a room is a package right under a ring.
    """
    return {package.parent.name: ring for ring in RINGS for package in sorted((SOURCE / ring).glob("*/__init__.py"))}


def markdown_files() -> list[Path]:
    """List the documents.

    Returns:
        Paths of the Markdown files of the project.
    """
    return [path for path in project_files() if path.suffix == ".md"]


def shown(path: Path) -> str:
    """Shorten a path for a message.

    Args:
        path: A path inside the project.

    Returns:
        The path as seen from the project's folder.
    """
    return path.relative_to(ROOT).as_posix()
