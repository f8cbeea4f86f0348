"""What every store must do: one test of the contract, run on the store in memory and on the database."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench import Bench
from tenthbook.record.ledger import Entry, MemoryStore, NoSuchStream, RequestReused, Store
from tests.builders import STREAM, Workplace, close_database, noted
from tests.contract.stores import CLOCK, Since, admit_all, django_store


@pytest.fixture
def database(folder: Path) -> Iterator[sqlite3.Connection]:
    """A second, plain connection to a database with two entries and a piece of kept bytes."""
    store = django_store(folder)
    for number in range(2):
        store.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all)
    store.keep(b"a book")
    close_database()
    with closing(sqlite3.connect(folder / "shop.sqlite3", isolation_level=None, timeout=0.1)) as connection:
        yield connection


class TestEveryStore:
    """The contract of `tenthbook.record.ledger.Store`."""

    def test_an_entry_is_recorded_in_order_and_chained(self, store: Store) -> None:
        """Numbers run from 0, each entry holds the hash of the one before."""
        entries = [
            store.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all) for number in range(5)
        ]
        assert [entry.number for entry in entries] == [0, 1, 2, 3, 4]
        assert [entry.previous for entry in entries] == ["", *(entry.hash for entry in entries[:-1])]
        assert store.entries(STREAM) == entries

    def test_the_time_of_recording_is_the_stores(self, store: Store) -> None:
        """Whatever the device claims, the store's clock is on the entry; one that ran backward is kept as it was."""
        times = ["2026-10-02T12:00:00Z", "2026-10-01T08:00:00Z"]
        for number, time in enumerate(times):
            CLOCK.now = time
            store.append(STREAM, noted(request=f"r-{number}"), admit_all)
        assert [entry.recorded_at for entry in store.entries(STREAM)] == times

    def test_entries_after_a_number(self, store: Store) -> None:
        """Who knows a stream up to a number reads what follows it."""
        entries = [
            store.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all) for number in range(4)
        ]
        assert store.entries(STREAM, after=1) == entries[2:]
        assert store.entries(STREAM, after=3) == []
        assert store.entries(STREAM, after=-1) == entries

    def test_a_stream_that_was_never_opened_is_named(self, store: Store) -> None:
        """The fault names it and the streams there are, before and after any is opened."""
        with pytest.raises(NoSuchStream, match=r"job-9.*none yet"):
            store.entries("job-9")
        store.append(STREAM, noted(), admit_all)
        with pytest.raises(NoSuchStream, match=f"job-9.*{STREAM}"):
            store.entries("job-9", after=5)

    def test_streams_are_listed_sorted_and_apart(self, store: Store) -> None:
        """Each stream has its own numbers and its own request ids."""
        assert store.streams() == []
        for stream in ("b", "a", "c"):
            assert store.append(stream, noted(f"opens {stream}"), admit_all).number == 0
        assert store.streams() == ["a", "b", "c"]
        assert store.append("b", noted(request="r-2"), admit_all).number == 1
        assert [len(store.entries(stream)) for stream in store.streams()] == [1, 2, 1]

    def test_a_request_sent_twice_is_recorded_once(self, store: Store) -> None:
        """The same act under the same request gives the entry it became then, without being judged again."""
        first = store.append(STREAM, noted(), admit_all)
        store.append(STREAM, noted("another", request="r-2"), admit_all)

        def refuse(since: Since) -> None:
            raise TenthbookError(found="a second judgement", expected="none")

        assert store.append(STREAM, noted(), refuse) == first
        assert len(store.entries(STREAM)) == 2

    @pytest.mark.parametrize(("text", "kind"), [("another", "noted"), ("a note", "photographed")])
    def test_a_request_id_on_two_acts_is_refused(self, store: Store, text: str, kind: str) -> None:
        """Other data or another kind under a request that stands is a fault, and nothing is written."""
        store.append(STREAM, noted(), admit_all)
        with pytest.raises(RequestReused, match="request r-1 on entry 0"):
            store.append(STREAM, noted(text, kind=kind), admit_all)
        assert len(store.entries(STREAM)) == 1

    def test_a_refusal_writes_nothing(self, store: Store) -> None:
        """What `admit` raises comes out unchanged; no entry and no stream is left, and the request is free again."""
        error = TenthbookError(found="a bad act", expected="a good one")

        def refuse(since: Since) -> None:
            raise error

        with pytest.raises(TenthbookError) as caught:
            store.append(STREAM, noted(), refuse)
        assert caught.value is error
        assert store.streams() == []
        assert store.append(STREAM, noted("now good"), admit_all).number == 0

    def test_an_act_that_cannot_be_written_writes_nothing(self, store: Store) -> None:
        """An entry that may not be, such as a release without a signature, leaves no trace."""
        with pytest.raises(TenthbookError, match="no signature"):
            store.append(STREAM, noted(kind="released"), admit_all)
        assert store.streams() == []

    def test_whoever_judges_sees_the_stream_as_it_is(self, store: Store) -> None:
        """`admit` reads the entries after a number, up to the head the draft will be sealed to."""
        entries = [
            store.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all) for number in range(3)
        ]
        seen: list[list[Entry]] = []

        def look(since: Since) -> None:
            seen.extend([list(since(-1)), list(since(1)), list(since(2))])

        assert store.append(STREAM, noted(request="r-3"), look).previous == entries[-1].hash
        assert seen == [entries, entries[2:], []]

    def test_bytes_are_kept_under_their_digest(self, store: Store) -> None:
        """Any bytes come back, kept twice they are kept once, and what is not there is named."""
        content = bytes(range(256)) * 10
        digest = store.keep(content)
        assert store.keep(content) == digest
        assert store.fetch(digest) == content
        assert store.fetch(store.keep(b"")) == b""
        with pytest.raises(NoSuchStream, match="0000"):
            store.fetch("0" * 64)

    def test_any_text_comes_back_as_it_was_typed(self, store: Store) -> None:
        """Foreign letters, signs and line breaks are kept in the entry."""
        text = 'M\u00fcller: 0.5094\u2033 "tight"\n\\ \u20ac \U0001f527 \x7f'
        store.append(STREAM, noted(text), admit_all)
        assert store.entries(STREAM)[0].data["text"] == text


def test_every_store_makes_the_same_archive(folder: Path, setting: str) -> None:
    """The same acts on any store pack into the same bytes."""
    CLOCK.now = "2026-10-02T12:00:00Z"

    def archive(store: Store) -> bytes:
        place = Workplace(store).open()
        place.read(place.remove("part.shaft"), "size.shaft", "0.5094 in")
        return place.archive()

    assert archive(django_store(folder, setting)) == archive(MemoryStore(CLOCK))


def test_eight_writers_leave_no_gap(folder: Path, setting: str) -> None:
    """Eight threads append 25 entries each: numbers run without a gap, each request once, the chain holds."""
    store = django_store(folder, setting)
    faults: list[BaseException] = []

    def write(writer: int) -> None:
        try:
            for number in range(25):
                store.append(STREAM, noted(f"{writer}/{number}", request=f"{writer}/{number}"), admit_all)
        except BaseException as error:
            faults.append(error)
        finally:
            close_database()

    writers = [threading.Thread(target=write, args=(writer,)) for writer in range(8)]
    for thread in writers:
        thread.start()
    for thread in writers:
        thread.join(timeout=120)
    assert faults == []
    entries = store.entries(STREAM)
    assert [entry.number for entry in entries] == list(range(200))
    assert {entry.draft.request for entry in entries} == {
        f"{writer}/{number}" for writer in range(8) for number in range(25)
    }
    assert [entry.previous for entry in entries[1:]] == [entry.hash for entry in entries[:-1]]


def test_one_request_from_eight_threads_is_recorded_once(folder: Path, setting: str) -> None:
    """However often a tablet sends in its hurry, one entry results, the same for all."""
    store = django_store(folder, setting)
    found: list[Entry] = []

    def send() -> None:
        try:
            found.append(store.append(STREAM, noted(), admit_all))
        finally:
            close_database()

    threads = [threading.Thread(target=send) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert len(found) == 8
    assert store.entries(STREAM) == [found[0]]
    assert {entry.hash for entry in found} == {found[0].hash}


def test_a_database_opened_again_holds_what_was_recorded(folder: Path, setting: str) -> None:
    """Entries and bytes outlive the store that wrote them."""
    store = django_store(folder, setting)
    entry, digest = store.append(STREAM, noted(), admit_all), store.keep(b"a book")
    close_database()
    again = django_store(folder, setting)
    assert again.entries(STREAM) == [entry]
    assert again.fetch(digest) == b"a book"
    assert Bench(again).state(STREAM).head == entry.hash


def test_two_folders_are_two_databases(tmp_path: Path, folder: Path) -> None:
    """A second folder opened in one process starts empty, and the first is left as it was."""
    first = django_store(folder)
    first.append(STREAM, noted(), admit_all)
    assert django_store(tmp_path / "other").streams() == []
    assert django_store(folder).streams() == [STREAM]


def test_a_folder_that_cannot_be_made_is_named(folder: Path) -> None:
    """A file where the folder should be is told with the way on."""
    from tenthbook.faces.store.database import NoRoom

    folder.write_text("a file")
    with pytest.raises(NoRoom, match="name another with --data"):
        django_store(folder)


def test_a_file_that_is_no_database_is_named(folder: Path) -> None:
    """A damaged database is told as such, not as an error of the program."""
    from tenthbook.faces.store.database import NoRoom

    folder.mkdir()
    (folder / "shop.sqlite3").write_bytes(b"this is no database, this is text" * 100)
    with pytest.raises(NoRoom, match="a folder that can be written"):
        django_store(folder)


@pytest.mark.parametrize("table", ["ledger_entry", "kept_bytes"])
@pytest.mark.parametrize(
    "statement",
    ["UPDATE {table} SET {column} = {column}", "DELETE FROM {table}", "DELETE FROM {table} WHERE rowid = 1"],
)
def test_nothing_is_changed_or_deleted(database: sqlite3.Connection, table: str, statement: str) -> None:
    """A change or a deletion of any row is stopped by the database itself."""
    column = "kind" if table == "ledger_entry" else "content"
    with pytest.raises(sqlite3.IntegrityError, match=f"{table} is append-only"):
        database.execute(statement.format(table=table, column=column))


@pytest.mark.parametrize("key", ["id", "hash", "number", "request"])
@pytest.mark.parametrize("verb", ["INSERT OR REPLACE", "REPLACE"])
def test_no_entry_is_replaced_by_any_of_its_keys(database: sqlite3.Connection, key: str, verb: str) -> None:
    """A replacing insertion that collides with an entry in one key alone is stopped."""
    columns = ["id", "stream", "number", "request", "kind", "hash", "body", "signature"]
    standing = dict(
        zip(
            columns,
            database.execute(f"SELECT {', '.join(columns)} FROM ledger_entry WHERE number = 0").fetchone(),
            strict=True,
        )
    )
    fresh = {
        "id": 99,
        "stream": STREAM,
        "number": 99,
        "request": "new",
        "kind": "noted",
        "hash": "f" * 64,
        "body": b"x",
        "signature": b"",
    }
    before = database.execute("SELECT * FROM ledger_entry").fetchall()
    with pytest.raises(sqlite3.IntegrityError, match="append-only: it stands already"):
        database.execute(
            f"{verb} INTO ledger_entry ({', '.join(columns)}) VALUES (?,?,?,?,?,?,?,?)",
            list({**fresh, key: standing[key]}.values()),
        )
    assert database.execute("SELECT * FROM ledger_entry").fetchall() == before


@pytest.mark.parametrize("key", ["digest", "rowid"])
def test_no_kept_bytes_are_replaced_by_any_of_their_keys(database: sqlite3.Connection, key: str) -> None:
    """A replacing insertion of kept bytes is stopped, by digest and by the row's own number."""
    standing = dict(
        zip(["rowid", "digest"], database.execute("SELECT rowid, digest FROM kept_bytes").fetchone(), strict=True)
    )
    values = {"rowid": 99, "digest": "f" * 64, key: standing[key]}
    with pytest.raises(sqlite3.IntegrityError, match="append-only: it stands already"):
        database.execute(
            "INSERT OR REPLACE INTO kept_bytes (rowid, digest, content) VALUES (?, ?, ?)",
            (values["rowid"], values["digest"], b"x"),
        )
    assert database.execute("SELECT content FROM kept_bytes").fetchall() == [(b"a book",)]


def test_an_update_that_meets_a_conflict_is_stopped_too(database: sqlite3.Connection) -> None:
    """An insertion that turns into an update on conflict changes nothing."""
    insertion = "INSERT INTO kept_bytes (digest, content) SELECT digest, 'x' FROM kept_bytes WHERE true"
    statement = f"{insertion} ON CONFLICT (digest) DO UPDATE SET content = 'x'"
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        database.execute(statement)


def test_the_database_is_set_to_lose_nothing(folder: Path) -> None:
    """The log is written ahead and synced at every commit, on the connection that writes."""
    from django.db import connection

    django_store(folder).append(STREAM, noted(), admit_all)
    with connection.cursor() as cursor:
        settings = {
            name: cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }
    assert settings == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


def test_the_write_lock_is_taken_before_the_act_is_judged(folder: Path) -> None:
    """While an act is judged nobody else can write, so what is judged is what it is sealed to."""
    store = django_store(folder)
    seen: list[str] = []

    def judge(since: Since) -> None:
        with closing(sqlite3.connect(folder / "shop.sqlite3", isolation_level=None, timeout=0.05)) as other:
            try:
                other.execute("BEGIN IMMEDIATE")
            except sqlite3.OperationalError as error:
                seen.append(str(error))

    store.append(STREAM, noted(), judge)
    assert seen == ["database is locked"]
