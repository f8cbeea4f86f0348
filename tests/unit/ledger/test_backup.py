"""A whole store carried in one file: written, read back, and the same again."""

from __future__ import annotations

import hashlib
import io
import tracemalloc
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import Draft, Entry, KeyBox, MemoryStore, canonical, commitment, public_key_of, seal, sign
from tenthbook.record.ledger.backup import BrokenBackup, prove, read_backup, write_backup
from tenthbook.record.ledger.stream import Holdings
from tenthbook.record.ledger.verifier import BROKEN, END_UNPROVEN, MATCHES
from tests.builders import NOON, PERSON, chain, noted

SECRET, SALT, GONE = bytes(range(32)), b"\x01" * 32, b"\x02" * 32
KEY, BOOK, PHOTOGRAPH = public_key_of(SECRET), b"a book\n", b"a photograph"
KEPT, SEEN, TAKEN = hashlib.sha256(BOOK).hexdigest(), commitment(SALT, PHOTOGRAPH), commitment(GONE, b"a face")
BOX = KeyBox(PERSON, KEY, bytes(16), bytes(12), bytes(48))
ACCOUNT = canonical({"name": PERSON, "password": "stretched"})


def job(kept: str = KEPT) -> list[Entry]:
    """A job that names a book, a photograph and one that was taken away, and ends with a signed entry."""
    named = {"book_kept": kept, "photograph_detached": SEEN, "face_detached": TAKEN}
    entries = chain(
        Draft("opened", 1, PERSON, "r-1", "", NOON, {"stream": "job-1", "installation": "bench"}),
        Draft("noted", 1, PERSON, "r-2", "", NOON, named),
    )
    signed = Draft("signed", 1, PERSON, "r-3", entries[-1].hash, NOON, {"key": KEY.hex()})
    return [*entries, seal(signed, 2, NOON, entries[-1].hash, lambda body: sign(SECRET, body))]


SHOP = chain(Draft("opened", 1, PERSON, "s-1", "", NOON, {"stream": "shop"}), noted("a face taken away", request="s-2"))
WITHHELD = {TAKEN: SHOP[-1].hash}


def held() -> Holdings:
    """All that a small store holds."""
    streams = [("job-1", job()), ("shop", SHOP)]
    return Holdings(streams, [BOOK], [(SALT, PHOTOGRAPH)], WITHHELD, [BOX], [ACCOUNT])


def written(holdings: Holdings) -> bytes:
    """A backup of it."""
    out = io.BytesIO()
    write_backup(out, holdings)
    return out.getvalue()


def listed(holdings: Holdings) -> tuple[object, ...]:
    """Holdings as values that can be compared."""
    streams = [(name, list(entries)) for name, entries in holdings.streams]
    rest = list(holdings.kept), list(holdings.attached), dict(holdings.withheld)
    return streams, *rest, list(holdings.boxes), list(holdings.accounts)


def test_what_is_read_is_what_was_written() -> None:
    """Everything comes back, counted, and nothing is left to be said about it."""
    out = io.BytesIO()
    summary = write_backup(out, held())
    backup = read_backup(out)
    assert listed(backup.holdings()) == listed(held())
    assert backup.summary == summary
    assert backup.findings == ()
    counted = (summary.streams, summary.entries, summary.kept, summary.attached)
    assert (*counted, summary.withheld, summary.boxes, summary.accounts) == (2, 5, 1, 1, 1, 1, 1)
    assert summary.size == len(out.getvalue())


def test_any_reader_of_archives_opens_it() -> None:
    """It is a plain ZIP, stored, with one fixed date; its manifest lists every member and ends with their count."""
    with zipfile.ZipFile(io.BytesIO(written(held()))) as opened:
        assert opened.testzip() is None
        assert {(entry.compress_type, entry.date_time) for entry in opened.infolist()} == {(0, (1980, 1, 1, 0, 0, 0))}
        *before, last = opened.namelist()
        lines = opened.read(last).decode().splitlines()
        assert lines[-1] == f"end {len(before)}"
        assert [line.split(" ") for line in lines[:-1]] == [
            [hashlib.sha256(opened.read(name)).hexdigest(), str(len(opened.read(name))), name] for name in before
        ]
        assert before == [
            *("format.txt", "README.txt"),
            *("streams/1-entries.jsonl", "streams/1-seals.txt", "streams/2-entries.jsonl", "streams/2-seals.txt"),
            *("streams.txt", f"kept/{KEPT}", f"beside/{SEEN}", "withheld.txt", "boxes.jsonl", "accounts.jsonl"),
        ]
        assert opened.read("streams.txt").decode() == f'1 {job()[-1].hash} 3 "job-1"\n2 {SHOP[-1].hash} 2 "shop"\n'


Words = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)


@st.composite
def stores(draw: st.DrawFn) -> MemoryStore:
    """Whatever a store may hold."""
    store = MemoryStore(lambda: NOON)
    drafts = st.lists(st.dictionaries(st.sampled_from(["text", "value"]), Words), min_size=1, max_size=3)
    streams = {
        name: chain(*(Draft("noted", 1, "m", f"r-{at}", "", NOON, data) for at, data in enumerate(facts)))
        for name, facts in draw(st.dictionaries(Words, drafts, max_size=3)).items()
    }
    beside = [(hashlib.sha256(content).digest(), content) for content in draw(st.lists(st.binary(), max_size=3))]
    gone = st.binary(min_size=32, max_size=32).map(bytes.hex)
    boxes = st.builds(KeyBox, Words, *(st.binary(min_size=size, max_size=size) for size in (32, 16, 12, 48)))
    accounts = st.dictionaries(st.sampled_from(["name", "password"]), Words | st.integers(-5, 5)).map(canonical)
    store.load(
        Holdings(
            sorted(streams.items()),
            draw(st.lists(st.binary(), max_size=3)),
            beside,
            draw(st.dictionaries(gone, gone, max_size=2)),
            draw(st.lists(boxes, max_size=2)),
            draw(st.lists(accounts, max_size=2)),
        )
    )
    return store


@given(stores())
def test_from_store_to_store_nothing_changes(store: MemoryStore) -> None:
    """A store loaded from a backup holds the same, and its own backup is the same bytes."""
    with store.holdings() as before:
        expected = listed(before)
    with store.holdings() as before:
        first = written(before)
    other = MemoryStore(lambda: NOON)
    other.load(read_backup(io.BytesIO(first)).holdings())
    with other.holdings() as after:
        assert listed(after) == expected
    with other.holdings() as after:
        assert written(after) == first


def test_the_file_is_written_from_front_to_back() -> None:
    """A pipe will do: nothing is moved back, and bytes given twice are written once."""

    class Pipe(io.BytesIO):
        def seek(self, *_: int) -> int:
            raise AssertionError

    pipe = Pipe()
    write_backup(pipe, held())
    assert pipe.getvalue() == written(held())
    twice = Holdings(held().streams, [BOOK, BOOK], [(SALT, PHOTOGRAPH)] * 2, WITHHELD, [BOX], [ACCOUNT])
    assert written(twice) == written(held())


def test_what_was_withheld_does_not_leave_with_a_backup() -> None:
    """Bytes that a store still has at hand are left out where word says that they were taken away."""
    both = Holdings(held().streams, [BOOK], [(SALT, PHOTOGRAPH), (GONE, b"a face")], WITHHELD, [BOX], [ACCOUNT])
    assert GONE not in written(both)
    assert written(both) == written(held())


def test_large_pieces_pass_one_by_one(tmp_path: Path) -> None:
    """Thirty photographs of a megabyte are written, proved and read back in the memory of a few."""

    def photographs() -> Iterator[bytes]:
        return (bytes([number]) * 1_000_000 for number in range(30))

    tracemalloc.start()
    try:
        with (tmp_path / "backup.zip").open("w+b") as file:
            write_backup(file, Holdings([("job-1", job())], photographs(), [], {}, [], []))
            assert sum(map(len, read_backup(file).holdings().kept)) == 30_000_000
        assert tracemalloc.get_traced_memory()[1] < 5_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(
    ("holdings", "words"),
    [
        (Holdings([("job-1", [])], [], [], {}, [], []), "without entries"),
        (Holdings([("shop", SHOP), ("shop", SHOP)], [], [], {}, [], []), "twice"),
        (Holdings([], [], [], {"a": "b"}, [], []), "in the store"),
        (Holdings([], [], [], {}, [KeyBox("m", b"short", b"", b"", b"")], []), "in the store"),
        (Holdings([], [], [], {}, [], [b'{"b":1, "a":2}']), "in the store"),
        (Holdings([], [], [], {}, [], [b"[1.5]"]), "in the store"),
        (Holdings([], [], [], {}, [], [b"\xff"]), "in the store"),
        (Holdings([], [], [], {}, [], [b"1\n2"]), "could not be read back"),
    ],
)
def test_what_could_not_be_read_back_is_not_written(holdings: Holdings, words: str) -> None:
    """It is refused when the backup is made, not when it is needed."""
    with pytest.raises(TenthbookError, match=words) as refused:
        written(holdings)
    assert not isinstance(refused.value, BrokenBackup)


def test_a_file_that_changes_after_its_proof_is_not_taken_over() -> None:
    """What is handed to a store is compared with what was proved."""
    source = io.BytesIO(written(held()))
    holdings = read_backup(source).holdings()
    source.seek(source.getvalue().index(PHOTOGRAPH))
    source.write(b"A photograph"[:1])
    with pytest.raises(BrokenBackup, match="changed while it was read"):
        listed(holdings)


def test_what_is_no_break_is_told() -> None:
    """A clock that ran backward, bytes that are named and not there, a removal by an entry nobody has."""
    late = chain(noted("a", request="r-1"))
    late.append(seal(noted("b", request="r-2"), 1, "2026-10-02T11:00:00Z", late[-1].hash))
    backup = read_backup(
        io.BytesIO(written(Holdings([("job-1", job()), ("late\x1b", late)], [], [], {TAKEN: "0" * 64}, [], [])))
    )
    assert backup.findings == (
        "late?: entry 1: recorded at 2026-10-02T11:00:00Z before entry 0 at 2026-10-02T12:00:00Z",
        f"job-1, entry 1: it names kept/{KEPT}, and nothing lies there",
        f"job-1, entry 1: it names beside/{SEEN}, and nothing lies there",
        f"withheld.txt: {TAKEN} by entry {'0' * 16}, which no stream holds",
    )


def test_what_is_known_from_outside_is_held_against_it() -> None:
    """The head on a paper, the key of a person and an anchor of the shop prove a stream, or show that it is another."""
    backup = read_backup(io.BytesIO(written(held())))
    heads, keys = {"job-1": job()[-1].hash[:12], "shop": SHOP[-1].hash}, {PERSON: [KEY]}
    assert [finding.answer for finding in prove(backup).values()] == [END_UNPROVEN, END_UNPROVEN]
    assert [finding.answer for finding in prove(backup, heads, keys).values()] == [MATCHES, MATCHES]
    assert prove(backup, {"job-1": "0" * 64})["job-1"].answer == BROKEN
    assert prove(backup, heads, {PERSON: [bytes(32)]})["job-1"].answer == BROKEN
    assert prove(backup, anchors={"shop": [(1, SHOP[0].hash)]})["shop"].answer == BROKEN
    assert "anchored in the shop" in prove(backup, anchors={"job-1": [(1, job()[1].hash)]})["job-1"].where
