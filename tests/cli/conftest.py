"""How the command line is asked here: in this process, in a folder of its own, with the database closed afterwards."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from tests.builders import book_files, close_database

Ask = Callable[..., Result]
PHRASES = {"mechanic": "oil on the bench at noon", "inspector": "a gauge in the drawer", "wrong": "neither of the two"}


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Ask]:
    """Ask the command line: `ask("job", "list")`; standard input as `typed`. The shop's data lie in `shop`."""
    from tenthbook.faces.cli.root import command

    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path / "shop"))
    monkeypatch.setenv("TENTHBOOK_PERSON", "mechanic")

    def run(*words: str, typed: str | bytes = "") -> Result:
        monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path / "shop"))
        return CliRunner().invoke(command, list(words), input=typed, prog_name="tenthbook")

    yield run
    close_database()


@pytest.fixture
def book_folder(tmp_path: Path) -> Path:
    """The small book as files."""
    folder = tmp_path / "book"
    folder.mkdir()
    for name, content in book_files().items():
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def job(ask: Ask, book_folder: Path) -> str:
    """A job that was opened."""
    words = ["--engine", "Test engine 1", "--reason", "low oil pressure", "--scope", "repair, to service limits"]
    assert ask("job", "new", "0417", "--book", str(book_folder), *words).exit_code == 0
    return "0417"


def _phrase_files(folder: Path) -> None:
    for name, phrase in PHRASES.items():
        (folder / name).write_text(f"{phrase}\n")


@contextmanager
def _preparing(folder: Path, of: Path | None = None) -> Iterator[Ask]:
    """Ask in a shop that is being prepared in `folder`, begun as a copy of another."""
    from tenthbook.faces.cli.root import command

    if of is not None:
        shutil.copytree(of, folder / "shop")
    _phrase_files(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setenv("TENTHBOOK_PERSON", "mechanic")

        def run(*words: str, typed: str = "") -> Result:
            patch.setenv("TENTHBOOK_DATA", str(folder / "shop"))
            result = CliRunner().invoke(command, list(words), input=typed, prog_name="tenthbook")
            assert result.exit_code == 0, result.stderr
            return result

        yield run
        close_database()


@pytest.fixture(scope="session")
def first_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop of one mechanic, who is its administrator and has no key; it is copied, never used."""
    with _preparing(folder := tmp_path_factory.mktemp("first")) as run:
        run("user", "add", "mechanic", "--role", "mechanic", "--role", "administrator")
    return folder / "shop"


@pytest.fixture(scope="session")
def signing_shop(first_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop of a mechanic and an inspector whose keys are endorsed; it is copied, never used."""
    with _preparing(folder := tmp_path_factory.mktemp("signing"), first_shop) as run:
        run("user", "add", "inspector", "--role", "inspector", "--name", "An Inspector")
        for person in ("mechanic", "inspector"):
            run("--person", person, "key", "make", "--phrase-file", person)
            run("key", "endorse", person, "--says", "compared it", "--phrase-file", "mechanic")
    return folder / "shop"


@pytest.fixture(scope="session")
def full_shop(signing_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That shop with something of everything a store can hold, in the jobs 0417 and 0418; it is copied, never used."""
    with _preparing(folder := tmp_path_factory.mktemp("full"), signing_shop) as run:
        for name, content in book_files().items():
            (folder / name).write_bytes(content)
        Image.new("RGB", (64, 48), (180, 60, 20)).save(folder / "shaft.jpg")
        Image.new("RGB", (48, 64), (20, 60, 180)).save(folder / "person.jpg")
        run("user", "password", "mechanic", "--password-file", "-", typed="a word for the pages\n")
        run("tool", "register", "M1", "--name", "micrometer", "--measures", "outside")
        for job in ("0417", "0418"):
            run("job", "new", job, "--book", ".", "--engine", "Test engine 1", "--reason", "x", "--scope", "repair")
            run("job", "record", job, "part removed", "part=part.shaft")
        run("job", "record", "0417", "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5110 in")
        for file in ("shaft.jpg", "person.jpg"):
            run("job", "photograph", "0417", file, "--says", file)
        run("job", "withhold", "0417", "5", "--reason", "asked", "--ground", "act, section 4")
        digest = run("job", "review", "0417", "--entries", "3").stdout.split()[-1]
        run("job", "sign", "0417", "--entries", "3", "--shown", digest, "--phrase-file", "mechanic")
    return folder / "shop"


def _copied(prepared: Path, ask: Ask, folder: Path) -> Ask:
    shutil.copytree(prepared, folder / "shop")
    _phrase_files(folder)
    return ask


@pytest.fixture
def first(ask: Ask, first_shop: Path, tmp_path: Path) -> Ask:
    """Ask in a copy of the shop of one mechanic; the files `mechanic`, `inspector` and `wrong` hold phrases."""
    return _copied(first_shop, ask, tmp_path)


@pytest.fixture
def shop(ask: Ask, signing_shop: Path, tmp_path: Path) -> Ask:
    """Ask in a copy of the shop of two who can sign; the files `mechanic`, `inspector` and `wrong` hold phrases."""
    return _copied(signing_shop, ask, tmp_path)


@pytest.fixture
def full(ask: Ask, full_shop: Path, tmp_path: Path) -> Ask:
    """Ask in a copy of the shop with something of everything; the files `mechanic` and `inspector` hold phrases."""
    return _copied(full_shop, ask, tmp_path)
