"""What every store must do beside entries: signatures, tables, bytes that may be withheld, keys, and being carried."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.packing import named_by
from tenthbook.record.ledger import (
    BadEntry,
    Draft,
    Entry,
    KeyBox,
    MemoryStore,
    NoSuchStream,
    Projected,
    Store,
    Withheld,
    commitment,
    public_key_of,
    sign,
)
from tenthbook.record.ledger.stream import NotEmpty
from tests.builders import NOON, STREAM, Workplace, close_database, noted
from tests.contract.stores import CLOCK, admit_all, django_store
from tests.signing import SECRETS, enrol, sign_as

SALT = b"s" * 32
MARK = b"MARK-OF-A-PHOTOGRAPH" * 50
SECRET = SECRETS["mechanic"]


def signed(request: str = "r-1") -> Draft:
    """An act that is signed, as far as a store looks at it."""
    return Draft("signed", 1, "mechanic", request, "", NOON, {"key": public_key_of(SECRET).hex()})


def row(entry: int, value: str = "0.5110 in", stream: str = STREAM, size: int | None = 12_979_400_000) -> Projected:
    """A row of the table of readings."""
    words = {"tag": "P-0001-3", "part": "part.shaft", "row": "size.shaft", "row_digest": "a" * 64, "value": value}
    places = {"station": "", "direction": "", "gauge": "M1", "person": "mechanic", "acted_at": NOON}
    return Projected("reading", stream, entry, {**words, **places, "size_pm": size, "counts": True})


def test_a_signed_act_is_signed_inside_the_lock(store: Store) -> None:
    """The signature is over the body with its number and the hash before it."""
    store.append(STREAM, noted(), admit_all)
    entry = store.append(STREAM, signed("r-2"), admit_all, sign=lambda body: sign(SECRET, body))
    assert (entry.number, len(entry.signature)) == (1, 64)
    assert store.entries(STREAM)[1] == entry


@pytest.mark.parametrize("secret", [None, SECRETS["helper"]])
def test_a_signed_act_without_its_signature_is_not_recorded(store: Store, secret: bytes | None) -> None:
    """Neither without one nor with one by another key than it names."""
    signing = None if secret is None else (lambda body: sign(secret, body))
    with pytest.raises(BadEntry, match="signature"):
        store.append(STREAM, signed(), admit_all, sign=signing)
    assert store.streams() == []


def test_an_entry_and_its_rows_are_written_together(store: Store) -> None:
    """A row written for an entry is there with it; a later entry puts another in its place."""
    store.append(STREAM, noted(), admit_all, project=lambda entry: [row(entry.number)])
    assert store.projected("reading") == [row(0)]
    store.append(STREAM, noted(request="r-2"), admit_all, project=lambda _entry: [row(0, "0.5111 in", size=None)])
    assert store.projected("reading", STREAM) == [row(0, "0.5111 in", size=None)]
    assert store.projected("reading", "another") == []


def test_rows_that_cannot_be_written_leave_no_entry(store: Store) -> None:
    """Both or neither."""

    def fail(_entry: Entry) -> Iterator[Projected]:
        yield row(0)
        raise TenthbookError(found="a row that cannot be", expected="one that can")

    with pytest.raises(TenthbookError, match="cannot be"):
        store.append(STREAM, noted(), admit_all, project=fail)
    assert (store.streams(), store.projected("reading")) == ([], [])


def test_the_tables_are_dropped_and_written_anew(store: Store) -> None:
    """What stood in them before is gone; rows come by stream and entry."""
    store.append(STREAM, noted(), admit_all, project=lambda entry: [row(entry.number)])
    fresh = [row(4), row(2), row(1, stream="a-job")]
    store.project_anew(fresh)
    assert store.projected("reading") == [fresh[2], fresh[1], fresh[0]]
    assert store.projected("disposition") == store.projected("tool use") == []


def test_the_largest_size_fits(store: Store) -> None:
    """Picometres up to the largest whole number of 64 bits, negative ones too [pm]."""
    for size in (2**63 - 1, -(2**63) + 1, 0):
        store.project_anew([row(0, size=size)])
        assert store.projected("reading")[0].cells["size_pm"] == size


def test_bytes_beside_the_entries_come_back(store: Store) -> None:
    """With their salt, under the commitment to both; laid down twice they lie there once."""
    named = store.attach(SALT, MARK)
    assert named == commitment(SALT, MARK) == store.attach(SALT, MARK)
    assert store.attached(named) == (SALT, MARK)
    with pytest.raises(NoSuchStream):
        store.attached("0" * 64)


def test_what_was_withheld_is_gone_and_said(store: Store) -> None:
    """The bytes are taken away, word of it stays, and doing it twice changes nothing."""
    named = store.attach(SALT, MARK)
    assert store.withheld() == {}
    for _ in range(2):
        store.withhold(named, "e" * 64)
    with pytest.raises(Withheld, match="eeee"):
        store.attached(named)
    assert store.withheld() == {named: "e" * 64}


def test_withheld_bytes_are_gone_from_the_files(folder: Path) -> None:
    """Not only from the table: no file of the data folder holds them any more."""
    store = django_store(folder)
    named = store.attach(SALT, MARK)
    close_database()

    def held() -> list[str]:
        return [file.name for file in folder.iterdir() if MARK[:20] in file.read_bytes()]

    assert held()
    store.withhold(named, "e" * 64)
    assert held() == []


def test_closed_keys_are_kept_by_person(store: Store) -> None:
    """In the order they came; another person has none."""
    boxes = [KeyBox("mechanic", bytes([n]) * 32, b"s" * 16, b"n" * 12, bytes([n]) * 48) for n in (1, 2)]
    for box in boxes:
        store.put_box(box)
    assert store.boxes("mechanic") == boxes
    assert store.boxes("inspector") == []


def test_a_stream_is_read_as_it_lies_there(store: Store) -> None:
    """Body, signature and stated hash, for whoever proves it."""
    entry = store.append(STREAM, noted(), admit_all)
    assert list(store.rows(STREAM)) == [(entry.body, b"", entry.hash)]
    assert list(store.rows("another")) == []


def furnished(store: Store) -> Store:
    """A shop with people, a signed job, a photograph, one that was withheld, and a closed key."""
    CLOCK.now = NOON
    place = Workplace(store).open()
    enrol(place, "mechanic", "inspector")
    place.remove("part.shaft")
    place.read("P-0001-3", "size.shaft", "0.5110 in")
    sign_as(place, "mechanic", [2, 3])
    shot = {"says": "the slot", "media_type": "image/jpeg"}
    place.bench.photograph(STREAM, SALT, MARK, shot, place.act())
    taken = place.bench.photograph(STREAM, b"t" * 32, MARK, shot, place.act())
    place.bench.people.withhold(taken, STREAM, "asked by the person", "data protection act", place.act())
    store.put_box(KeyBox("mechanic", public_key_of(SECRET), b"s" * 16, b"n" * 12, b"c" * 48))
    return store


def all_of(store: Store) -> tuple[object, ...]:
    """Everything a store holds, as values."""
    with store.holdings() as held:
        streams = [(name, list(entries)) for name, entries in held.streams]
        kept, attached, boxes = list(held.kept), list(held.attached), list(held.boxes)
        return streams, kept, attached, dict(held.withheld), boxes, list(held.accounts)


def test_all_that_is_held_is_carried_from_one_store_to_another(folder: Path, setting: str) -> None:
    """From memory into a database and back, everything is the same; the entries keep numbers, times and hashes."""
    source = furnished(MemoryStore(CLOCK))
    target = django_store(folder, setting)
    with source.holdings() as held:
        target.load(held)
    assert all_of(target) == all_of(source)
    third = MemoryStore(CLOCK)
    with target.holdings() as held:
        third.load(held)
    assert all_of(third) == all_of(source)
    assert list(named_by(third.entries(STREAM), "_detached"))


def test_nothing_is_loaded_into_a_store_that_holds_something(store: Store) -> None:
    """An empty one is needed, and nothing of what was to be loaded is left."""
    store.append("other", noted(), admit_all)
    with furnished(MemoryStore(CLOCK)).holdings() as held, pytest.raises(NotEmpty):
        store.load(held)
    assert store.streams() == ["other"]


def test_a_loading_that_breaks_off_leaves_nothing(folder: Path, setting: str) -> None:
    """All at once or not at all."""
    import dataclasses

    target = django_store(folder, setting)

    def torn() -> Iterator[bytes]:
        yield b"a book"
        raise TenthbookError(found="a torn file", expected="a whole one")

    with furnished(MemoryStore(CLOCK)).holdings() as held, pytest.raises(TenthbookError, match="torn"):
        target.load(dataclasses.replace(held, kept=torn()))
    assert target.streams() == []


def test_what_is_given_is_of_one_moment(folder: Path, setting: str) -> None:
    """While it is read another writes on, and what that one wrote is not among it; nor does it wait."""
    store = django_store(folder, setting)
    for number in range(3):
        store.append(STREAM, noted(request=f"r-{number}"), admit_all)
    written = threading.Event()

    def write_on() -> None:
        for number in range(3, 8):
            store.append(STREAM, noted(request=f"r-{number}"), admit_all)
        written.set()
        close_database()

    with store.holdings() as held:
        other = threading.Thread(target=write_on)
        other.start()
        assert written.wait(20), "a writer waited for a reader"
        other.join()
        ((_, entries),) = list(held.streams)
    assert len(entries) == 3
    assert len(store.entries(STREAM)) == 8
