"""The same proof over rows as they lie in a store, and against what the shop's stream anchored."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tenthbook.record.ledger import Draft, Entry, MemoryStore, examine, pack, public_key_of, seal, sign
from tenthbook.record.ledger.proof import prove_stream
from tenthbook.record.ledger.verifier import BROKEN, END_UNPROVEN, MATCHES
from tests.builders import NOON, PERSON, STREAM, noted

SECRET = bytes(range(32))
KEY = public_key_of(SECRET)
Row = tuple[bytes, bytes, str]


def recorded() -> list[Entry]:
    """A job of six entries as a store recorded it: opened, a note, a signature, three notes."""
    store = MemoryStore(lambda: NOON)
    store.append(STREAM, Draft("opened", 1, PERSON, "r", "", NOON, {"stream": STREAM}), lambda _: None)
    for number in range(1, 6):
        draft = noted(request=f"r-{number}")
        if number == 2:
            draft = Draft("signed", 1, "inspector", "r-2", "", NOON, {"key": KEY.hex()})
        by = (lambda body: sign(SECRET, body)) if number == 2 else None
        store.append(STREAM, draft, lambda _: None, sign=by)
    return store.entries(STREAM)


ENTRIES = recorded()
ROWS: list[Row] = [(entry.body, entry.signature, entry.hash) for entry in ENTRIES]
HEAD = ENTRIES[-1].hash


def anchors(*numbers: int) -> list[tuple[int, str]]:
    """What the shop's stream holds of these entries."""
    return [(number, ENTRIES[number].hash) for number in numbers]


def one_by_one(rows: list[Row]) -> Iterator[Row]:
    """Rows as a database gives them, each once."""
    yield from rows


@pytest.mark.parametrize("head", [None, HEAD, ENTRIES[3].hash[:8], "0" * 64])
@pytest.mark.parametrize("keys", [None, {}, {"inspector": [KEY]}, {"inspector": [b"\x01" * 32]}])
def test_it_answers_as_for_the_archive(head: str | None, keys: dict[str, list[bytes]] | None) -> None:
    """Rows and archive of one stream are proved alike."""
    archive = pack(ENTRIES, [], [], {}, b"# v\n")
    assert prove_stream(one_by_one(ROWS), STREAM, head, keys) == examine(archive, head, keys)


def test_the_shop_proves_up_to_its_last_anchor() -> None:
    """Each anchor agrees, the furthest is told, and so is what came after."""
    found = prove_stream(ROWS, STREAM, anchors=anchors(4, 1))
    words = "anchored in the shop up to entry 4; nothing outside proves the entry after it"
    assert (found.answer, found.where) == (END_UNPROVEN, words)
    found = prove_stream(ROWS, STREAM, ENTRIES[1].hash, {"inspector": [KEY]}, anchors(3))
    assert found.where == (
        "matches the paper up to entry 1, signed up to entry 2 by inspector, anchored in the shop up to entry 3; "
        "nothing outside proves the 2 entries after it"
    )
    found = prove_stream(ROWS, STREAM, HEAD, anchors=anchors(4))
    assert (found.answer, found.where) == (MATCHES, f"entry 5, head {HEAD}, anchored in the shop up to entry 4")


def test_an_anchor_that_does_not_agree_is_a_break() -> None:
    """A stream made anew from before a release, or cut off before it, is not the one the shop released."""
    found = prove_stream(ROWS, STREAM, HEAD, anchors=[(4, "ab" * 32), *anchors(1)])
    here = ENTRIES[4].hash[:16]
    assert str(found) == f"broken at entry 4: the shop anchored abababababababab, here it is {here}"
    found = prove_stream(ROWS[:3], STREAM, anchors=anchors(1, 4))
    assert str(found) == f"broken at entry 4: the shop anchored {here}, here it is missing"
    assert prove_stream(ROWS, STREAM, anchors=[(-1, HEAD)]).answer == BROKEN


def test_another_stream_in_its_place() -> None:
    """Entry 0 says which stream it opens; one that says nothing, as in older jobs, is no break."""
    assert str(prove_stream(ROWS, "job-2")) == f"broken at entry 0: it opens '{STREAM}', not 'job-2'"
    older = seal(noted(), 0, NOON, "")
    assert prove_stream([(older.body, b"", older.hash)], "job-2").whole


def test_a_stream_without_rows() -> None:
    """Nothing there is broken, not whole."""
    assert str(prove_stream([], STREAM)) == "broken at entry 0: there is none"


@pytest.mark.parametrize("place", range(6))
def test_a_row_altered_left_out_or_doubled(place: int) -> None:
    """An administrator with the database alone is found, wherever it was and whichever column."""
    body, signature, stated = ROWS[place]
    for row in (
        (body.replace(NOON.encode(), b"2026-10-02T12:00:01Z"), signature, stated),
        (body, signature, "0" * 64),
        (body, sign(b"\x01" * 32, body), stated),
    ):
        found = prove_stream([*ROWS[:place], row, *ROWS[place + 1 :]], STREAM)
        assert str(found).startswith(f"broken at entry {place}: its hash is ")
    for rows in ([*ROWS[:place], *ROWS[place + 1 :]], [*ROWS[: place + 1], *ROWS[place:]]):
        assert prove_stream(rows, STREAM, HEAD).answer == BROKEN
