"""Somebody with the database alone: what is changed in it is caught, and what nothing outside proves is said."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tenthbook.record.bench import Bench
from tenthbook.record.bench.proving import prove_store
from tenthbook.record.ledger import BadEntry, Finding, canonical, read_entry
from tenthbook.record.ledger.verifier import BROKEN, END_UNPROVEN, MATCHES
from tests.builders import STREAM, Workplace, close_database
from tests.signing import SECRETS, enrol, public_keys, sign_as


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


@pytest.fixture
def place(folder: Path) -> Workplace:
    """A job in a database: a shaft (2), two readings (3, 4), a signature (5), and two notes after it (6, 7)."""
    from tenthbook.faces.store.database import open_store

    place = Workplace(open_store(folder)).open()
    enrol(place, "mechanic", "inspector")
    place.remove("part.shaft")
    place.read("P-0001-3", "size.shaft", "0.5110 in")
    place.read("P-0001-3", "size.shaft", "0.5111 in")
    sign_as(place, "mechanic", [3, 4])
    place.record("noted", {"text": "one"})
    place.record("noted", {"text": "two"})
    return place


def edit(folder: Path, *statements: tuple[str, tuple[object, ...]]) -> None:
    """Change the database by hand, its guards taken away."""
    close_database()
    with closing(sqlite3.connect(folder / "shop.sqlite3", isolation_level=None)) as connection:
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            connection.execute(f"DROP TRIGGER {name}")
        for statement, values in statements:
            connection.execute(statement, values)


def rows(folder: Path) -> list[tuple[int, bytes, bytes, str]]:
    """Number, body, signature and hash of the job's entries, as they lie there."""
    close_database()
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as connection:
        question = "SELECT number, body, signature, hash FROM ledger_entry WHERE stream = ? ORDER BY number"
        return [
            (number, bytes(body), bytes(sign), head)
            for number, body, sign, head in connection.execute(question, (STREAM,))
        ]


def rewrite(folder: Path, first: int, old: bytes, new: bytes) -> None:
    """Change an entry and rehash all that follows, as an administrator without keys can."""
    held, previous, edits = rows(folder), "", list[tuple[str, tuple[object, ...]]]()
    for number, body, signature, stated in held:
        if number >= first:
            fields = dict(read_entry(body, signature).draft.data)
            del fields
            changed = body.replace(old, new) if number == first else body
            before = f'"previous":"{previous}"'.encode()
            start = changed.index(b'"previous":"')
            changed = changed[:start] + before + changed[start + len(before) :]
            stated = hashlib.sha256(changed + signature).hexdigest()
            statement = "UPDATE ledger_entry SET body = ?, hash = ? WHERE stream = ? AND number = ?"
            edits.append((statement, (changed, stated, STREAM, number)))
        previous = stated
    edit(folder, *reversed(edits))


def proved(folder: Path, heads: tuple[str, ...] = (), keys: bool = False) -> Finding:
    """What the proof says of the job as it lies there now."""
    from tenthbook.faces.store.database import open_store

    bench = Bench(open_store(folder))
    known = public_keys("mechanic", "inspector") if keys else None
    return next(one.finding for one in prove_store(bench.store, bench.people, heads, known) if one.stream == STREAM)


def test_what_nobody_touched_is_whole(folder: Path, place: Workplace) -> None:
    """And how far what is held outside reaches is said."""
    head = place.state.head
    assert proved(folder, (head,)).answer == MATCHES
    assert proved(folder).answer == END_UNPROVEN


def test_a_changed_entry_is_caught(folder: Path, place: Workplace) -> None:
    """One digit of one reading, and the proof names the entry; reading the job names it too."""
    body = rows(folder)[3][1]
    statement = "UPDATE ledger_entry SET body = ? WHERE stream = ? AND number = 3"
    edit(folder, (statement, (body.replace(b"0.5110 in", b"0.5118 in"), STREAM)))
    found = proved(folder)
    assert (found.answer, "entry 3" in found.where) == (BROKEN, True)


def test_an_entry_taken_out_is_caught(folder: Path, place: Workplace) -> None:
    """The next does not follow."""
    edit(folder, ("DELETE FROM ledger_entry WHERE stream = ? AND number = 4", (STREAM,)))
    assert proved(folder).answer == BROKEN


def test_a_body_that_is_no_entry_is_named(folder: Path, place: Workplace) -> None:
    """Whoever opens the job is told which entry cannot be read."""
    edit(folder, ("UPDATE ledger_entry SET body = ? WHERE stream = ? AND number = 6", (b"{}", STREAM)))
    from tenthbook.faces.store.database import open_store

    with pytest.raises(BadEntry, match="entry 6"):
        open_store(folder).entries(STREAM)


def test_a_rehashed_chain_breaks_at_the_next_signature(folder: Path, place: Workplace) -> None:
    """Everything after is rehashed, but the signature of entry 5 is over what stood before."""
    rewrite(folder, 3, b"0.5110 in", b"0.5118 in")
    found = proved(folder)
    assert (found.answer, "entry 5" in found.where) == (BROKEN, True)


def test_a_rewritten_tail_is_unproven(folder: Path, place: Workplace) -> None:
    """What follows the last signature can be rewritten by whoever has the database: it is not called proved."""
    rewrite(folder, 6, b'"text":"one"', b'"text":"eno"')
    found = proved(folder, keys=True)
    assert found.answer == END_UNPROVEN
    assert "nothing outside proves" in found.answer + found.where
    assert "5" in found.where, "up to the signature it is proved"


def test_a_rewritten_tail_does_not_match_the_paper(folder: Path, place: Workplace) -> None:
    """A head on a paper catches it."""
    head = place.state.head
    rewrite(folder, 6, b'"text":"one"', b'"text":"eno"')
    from tenthbook.faces.store.database import open_store

    bench = Bench(open_store(folder))
    found = prove_store(bench.store, bench.people, (head,))
    assert [one.finding.answer for one in found if one.stream == ""] == [BROKEN]


def test_a_head_anchored_in_the_shop_catches_a_cut_tail(folder: Path, place: Workplace) -> None:
    """The signature's head lies in the shop's stream: a job cut before it is broken."""
    edit(folder, ("DELETE FROM ledger_entry WHERE stream = ? AND number >= 5", (STREAM,)))
    assert proved(folder).answer == BROKEN


def test_kept_bytes_taken_away_are_missed(folder: Path, place: Workplace) -> None:
    """The statement that was signed, and the book that was pinned, are part of the record."""
    edit(folder, ("DELETE FROM kept_bytes", ()))
    found = proved(folder)
    assert (found.answer, "missing" in found.where) == (BROKEN, True)


def test_the_form_of_a_body_is_what_is_compared() -> None:
    """The helper of this page writes what the ledger writes."""
    assert canonical({"previous": "", "a": "b"}) == b'{"a":"b","previous":""}'
    assert set(SECRETS) >= {"mechanic", "inspector"}


def other(folder: Path, stream: str) -> list[Finding]:
    """What the proof says of another stream, or of none."""
    from tenthbook.faces.store.database import open_store

    bench = Bench(open_store(folder))
    return [one.finding for one in prove_store(bench.store, bench.people) if one.stream == stream]


def test_a_whole_job_taken_out_is_missed(folder: Path, place: Workplace) -> None:
    """The shop holds the head of a signed job: where no entry of that job is left, it is broken, not forgotten."""
    edit(folder, ("DELETE FROM ledger_entry WHERE stream = ?", (STREAM,)))
    found = proved(folder)
    assert (found.answer, "the whole stream is missing" in found.where) == (BROKEN, True)


def test_a_mark_that_no_entry_of_the_shop_made_withholds_nothing(folder: Path, place: Workplace) -> None:
    """A photograph that was deleted is missing, whatever mark was laid in its place."""
    shot = {"tag": "", "row": "", "says": "the slot", "media_type": "image/jpeg", "taken_at": ""}
    entry = place.bench.photograph(STREAM, b"s" * 32, b"a photograph", shot, place.act())
    named = entry.data["photograph_detached"]
    edit(
        folder,
        ("INSERT INTO withheld_mark (commitment, entry) VALUES (?, ?)", (named, place.state.head)),
        ("DELETE FROM attached_bytes", ()),
    )
    found = proved(folder)
    assert (found.answer, named[:16] in found.where) == (BROKEN, True)


def test_what_the_shop_withheld_is_not_missed(folder: Path, place: Workplace) -> None:
    """An entry of the shop that says by whom and why is word enough."""
    shot = {"tag": "", "row": "", "says": "the slot", "media_type": "image/jpeg", "taken_at": ""}
    entry = place.bench.photograph(STREAM, b"s" * 32, b"a photograph", shot, place.act())
    place.bench.people.withhold(entry, STREAM, "asked by the owner", "an order", place.act())
    assert proved(folder).whole


def test_a_signature_by_a_key_the_shop_never_saw_is_caught(folder: Path, place: Workplace) -> None:
    """Who rewrites a job and signs it anew with a key of their own is not given that key by the shop."""
    edit(folder, ("DELETE FROM ledger_entry WHERE stream = 'shop'", ()))
    found = proved(folder)
    assert (found.answer, "entry 5: signed with key" in found.where) == (BROKEN, True)
    assert other(folder, "shop") == []


@pytest.mark.parametrize("change", ["number = 70", "request = 'another'", "kind = 'another'", "request = ''"])
def test_what_a_row_is_found_by_is_compared_with_its_entry(folder: Path, place: Workplace, change: str) -> None:
    """Number, request and kind stand beside the body: one that says otherwise is found, though the chain holds."""
    edit(folder, (f"UPDATE ledger_entry SET {change} WHERE stream = ? AND number = 7", (STREAM,)))
    found = proved(folder)
    assert (found.answer, "changed by hand" in found.where) == (BROKEN, True)


def test_kept_bytes_that_became_text_are_found_broken(folder: Path, place: Workplace) -> None:
    """Text where bytes belong is another content, and no stack trace."""
    edit(folder, ("UPDATE kept_bytes SET content = 'text'", ()))
    assert proved(folder).answer == BROKEN
