"""Is the project free of addresses of package servers and of paths of one machine?

Locks and settings must work wherever packages come from, and no file may depend on the folder it was written in.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.tree import project_files, shown

SETTINGS = re.compile(
    r"(\.(lock|toml|cfg|ini|conf)|requirements[^/]*\.txt|\.npmrc|\.editorconfig|package(-lock)?\.json)$"
)
ADDRESS = re.compile(
    r"://|--(extra-)?index-url|--find-links|--trusted-host|\b(?:[a-z0-9-]+\.)+(?:com|dev|io|net|org)\b", re.IGNORECASE
)
MACHINE_PATH = re.compile(r"(?<![\w.~}])/(?:work|root|home|Users|opt)/\w")


def addresses(text: str) -> list[str]:
    """Find addresses in a file of settings.

    Args:
        text: Its text.

    Returns:
        What was found.
    """
    return [hit.group() for hit in ADDRESS.finditer(text)]


def machine_paths(text: str) -> list[str]:
    """Find paths that exist on one machine only.

    Args:
        text: Text of any file.

    Returns:
        What was found.
    """
    return [hit.group() for hit in MACHINE_PATH.finditer(text)]


def text_of(path: Path) -> str:
    """Read a file, or nothing where it is no text.

    Args:
        path: The file.

    Returns:
        Its text, or an empty one.
    """
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_settings_and_locks_hold_no_address() -> None:
    """No lock and no settings file names a server or an option that would."""
    files = [path for path in project_files() if SETTINGS.search(path.name)]
    assert {"pyproject.toml", "requirements.lock", "requirements-dev.lock"} <= {shown(path) for path in files}
    assert {shown(path): found for path in files if (found := addresses(text_of(path)))} == {}


def test_no_file_holds_a_path_of_one_machine() -> None:
    """No file names a folder of a person or a machine."""
    found = {shown(path): hits for path in project_files() if (hits := machine_paths(text_of(path)))}
    found.pop(shown(Path(__file__)), None)  # its own planted samples
    assert found == {}


@pytest.mark.parametrize(
    "planted", ["index = https://a.example", "--find-links wheels", "numpy @ files.example.org", "--index-url x"]
)
def test_the_check_of_addresses_bites(planted: str) -> None:
    """Each planted address is found."""
    assert addresses(planted)


@pytest.mark.parametrize("planted", ["open('/home/me/book')", "see /root/x", '"/work/main"', "file:/Users/me/x"])
def test_the_check_of_paths_bites(planted: str) -> None:
    """Each planted path is found."""
    assert machine_paths(planted)


def test_paths_every_machine_has_pass() -> None:
    """A path of the system or a relative one is no path of one machine."""
    assert not machine_paths("/usr/bin/env sh; src/work/of; ../home/page; a/root/b")
