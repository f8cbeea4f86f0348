"""An archive of each released format is read for ever, and the present story makes the same bytes every time.

Each `archive.zip` was made once by the story as it then stood, and is never made again; `expected.json` holds what was
seen in it on that day.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tenthbook.faces.store.verifier_text import verifier_text
from tenthbook.faces.story import StoryClock
from tenthbook.record.bench import Bench
from tenthbook.record.book import book_digest, book_from_bytes
from tenthbook.record.job import JobState, fold
from tenthbook.record.ledger import MemoryStore, Store, examine, pack
from tenthbook.record.ledger.verifier import FORMAT_1, MATCHES
from tenthbook.record.workup import WorkUp, headline, work_up
from tests.builders import close_database, entries_of, members_of
from tests.first_format import pack_first
from tests.told import played as tell
from tests.told import script

HERE = Path(__file__).parent
FOLDERS = ("blobs/", "kept/", "beside/")
FORMATS = sorted(path for path in HERE.glob("format-*") if path.is_dir())


@pytest.fixture(params=FORMATS, ids=lambda path: path.name)
def kept(request: pytest.FixtureRequest) -> tuple[bytes, dict[str, Any]]:
    """A kept archive and what is expected of it."""
    folder: Path = request.param
    return (folder / "archive.zip").read_bytes(), json.loads((folder / "expected.json").read_text(encoding="utf-8"))


def worked_up(archive: bytes) -> tuple[JobState, WorkUp]:
    """The job of an archive, folded and worked up by the rooms as they now stand."""
    state = fold(entries_of(archive))
    members = members_of(archive)
    (name,) = [name for name in members if name.partition("/")[2] == state.book]
    book = book_from_bytes(members[name])
    assert book_digest(book) == state.book
    return state, work_up(book, state)


def verdict_lines(work: WorkUp) -> list[str]:
    """Every verdict in one line: row or tag, value, verdict."""
    lines = [f"{size.part.tag} {size.size.id} {size.text}: {headline(size.verdict)}" for size in work.sizes]
    lines += [f"{fit.fit.id} {fit.text}: {headline(fit.verdict)}" for fit in work.fits]
    return lines + [f"{part.part.tag}: {part.grade.word}" for part in work.parts]


def played(store: Store, clock: StoryClock) -> bytes:
    """The present story, played and packed."""
    told = script()
    bench = Bench(store)
    tell(told, bench, clock)
    return bench.archive(told.job, verifier_text())


@pytest.fixture
def database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder for a database, whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


def test_there_is_an_archive_of_each_format() -> None:
    """Both formats are kept."""
    assert [path.name for path in FORMATS] == ["format-1", "format-2"]


def test_a_kept_archive_is_whole_and_matches_its_head(kept: tuple[bytes, dict[str, Any]]) -> None:
    """Every byte is as it was."""
    archive, expected = kept
    found = examine(archive, expected["head"])
    assert (found.answer, found.entries) == (MATCHES, expected["entries"])


def test_a_kept_archive_proves_itself(kept: tuple[bytes, dict[str, Any]], tmp_path: Path) -> None:
    """The verifier that was packed into it answers with a plain Python, isolated from every installed package."""
    archive, expected = kept
    script = tmp_path / "verify.py"
    script.write_bytes(members_of(archive)["verify.py"])
    command = [sys.executable, "-I", "-S", str(script), expected["head"]]
    result = subprocess.run(command, input=archive, capture_output=True, check=False, timeout=60)
    assert (result.returncode, result.stdout.decode().partition(":")[0]) == (0, MATCHES)


def test_a_kept_archive_folds_to_the_same_verdicts(kept: tuple[bytes, dict[str, Any]]) -> None:
    """Whatever the rooms have become, an old job is judged as it was."""
    archive, expected = kept
    state, work = worked_up(archive)
    assert (state.number + 1, state.head, state.unknown) == (expected["entries"], expected["head"], [])
    assert verdict_lines(work) == expected["verdicts"]


def test_the_archive_of_format_1_holds_gauges_doubt_and_a_question() -> None:
    """What the format can hold is in the one that is kept: each kind of the story, an answer, doubt in its verdicts."""
    archive = (HERE / "format-1" / "archive.zip").read_bytes()
    assert {entry.kind for entry in entries_of(archive)} == {
        "opened",
        "book pinned",
        "part removed",
        "gauge set",
        "reading taken",
        "question asked",
        "question answered",
    }
    state, work = worked_up(archive)
    assert (len(state.gauges), state.questions) == (6, {})
    assert all(size.verdict.standard_uncertainty for size in work.sizes)
    assert any(size.verdict.grade.word == "undecided" for size in work.sizes)
    assert all(len(fit.forecasts) == 3 for fit in work.fits)


def test_the_archive_of_format_2_holds_signatures_and_what_lies_beside() -> None:
    """What the second format adds is in the one that is kept: two signatures, their statements, a photograph."""
    archive = (HERE / "format-2" / "archive.zip").read_bytes()
    members, kinds = members_of(archive), [entry.kind for entry in entries_of(archive)]
    assert {"signed", "photographed", "corrected", "handed over", "hand-over received"} <= set(kinds)
    assert kinds.count("signed") == 4
    assert [line.split()[0] for line in members["keys.txt"].decode().splitlines()] == ["inspector", "mechanic"]
    assert any(name.startswith("beside/") for name in members)


def test_a_kept_archive_packs_into_its_own_bytes(kept: tuple[bytes, dict[str, Any]]) -> None:
    """Entries and book of an old job, packed today beside their own verifier, are the same file."""
    archive, _ = kept
    members, entries = members_of(archive), entries_of(archive)
    lying = {folder: [content for name, content in members.items() if name.startswith(folder)] for folder in FOLDERS}
    if members["format.txt"] == FORMAT_1.encode():
        assert pack_first(entries, lying["blobs/"], members["verify.py"]) == archive
        return
    beside = [(content[:32], content[32:]) for content in lying["beside/"]]
    withheld = dict(line.split() for line in members["withheld.txt"].decode().splitlines())
    assert pack(entries, lying["kept/"], beside, withheld, members["verify.py"]) == archive


def test_the_present_story_makes_the_same_bytes_every_time(database: Path) -> None:
    """Played in memory twice and on a database once, the story packs into one file."""
    from tenthbook.faces.store.database import open_store

    archives = []
    for _ in range(2):
        clock = StoryClock()
        archives.append(played(MemoryStore(clock), clock))
    clock = StoryClock()
    archives.append(played(open_store(database, clock=clock), clock))
    assert archives[0] == archives[1] == archives[2]
