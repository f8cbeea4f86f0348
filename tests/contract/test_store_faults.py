"""What a database does not take or give is said plainly, on the file and on the server alike."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tenthbook.faces.store.accounts import close_log_in, is_log_in, log_ins, set_log_in
from tenthbook.faces.store.database import NotRecorded
from tenthbook.faces.store.faults import AnswerLost
from tenthbook.record.ledger import BadEntry, Draft, MemoryStore, Projected, Store, Withheld, canonical
from tenthbook.record.ledger.stream import NotEmpty
from tests.builders import NOON, STREAM, close_database, noted
from tests.contract.stores import CLOCK, Since, admit_all, django_store
from tests.postgres import Cluster

BOX_OF_TEXT = b"t" * 32


@pytest.fixture
def database(folder: Path, setting: str) -> Store:
    """A database of each kind with three notes."""
    store = django_store(folder, setting)
    for number in range(3):
        store.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all)
    return store


def ask(statement: str, *values: str | bytes) -> list[Any]:
    """Run a statement on the database as its owner."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(statement, values)
        return list(cursor.fetchall()) if cursor.description else []


def edit(statement: str, *values: str | bytes) -> None:
    """Change entries by hand, their guards taken away."""
    from django.db import connection

    if connection.vendor == "postgresql":
        ask("ALTER TABLE ledger_entry DISABLE TRIGGER ALL")
    else:
        for (name,) in ask("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'ledger_entry'"):
            ask(f"DROP TRIGGER {name}")
    ask(statement, *values)


def at_once(act: Callable[[int], object], threads: int = 8) -> tuple[list[object], list[BaseException]]:
    """Do something in several threads at once: what came of it, and what went wrong."""
    done: list[object] = []
    faults: list[BaseException] = []
    start = threading.Barrier(threads)

    def run(number: int) -> None:
        try:
            start.wait(20)
            done.append(act(number))
        except BaseException as error:
            faults.append(error)
        finally:
            close_database()

    running = [threading.Thread(target=run, args=(number,)) for number in range(threads)]
    for thread in running:
        thread.start()
    for thread in running:
        thread.join(60)
    return done, faults


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"\xff\xfe",
        b"[" * 100_000,
        b'{"number":1}',
        b'{"acted_at":"","data":{"x":1.5},"kind":"noted","number":1,"person":"m","previous":"","recorded_at":"","request":"r",'
        b'"seen":"","version":1}',
    ],
)
def test_an_entry_that_cannot_be_read_is_named(database: Store, body: bytes) -> None:
    """By its stream and number: when it is read, when its request is sent again, and when all is carried away."""
    edit("UPDATE ledger_entry SET body = %s WHERE number = 1", body)
    named = rf"entry 1 of {STREAM} changed by hand"
    with pytest.raises(BadEntry, match=named):
        database.entries(STREAM)
    with pytest.raises(BadEntry, match=named):
        database.append(STREAM, noted("note 1", request="r-1"), admit_all)
    with database.holdings() as held, pytest.raises(BadEntry, match=named):
        list(held.streams)
    assert list(database.rows(STREAM))[1][0] == body, "whoever proves it sees it as it lies there"


def test_an_entry_in_the_place_of_another_is_named(database: Store) -> None:
    """A body that was copied over another is no entry of that number."""
    edit("UPDATE ledger_entry SET body = (SELECT body FROM ledger_entry WHERE number = 0) WHERE number = 2")
    with pytest.raises(BadEntry, match=f"entry 2 of {STREAM} changed by hand: the body of entry 0"):
        database.entries(STREAM)


def test_text_where_bytes_should_be_is_named(folder: Path) -> None:
    """The file takes any kind of value in any column."""
    store = django_store(folder)
    store.append(STREAM, noted(), admit_all)
    edit("UPDATE ledger_entry SET body = 'plain text'")
    with pytest.raises(BadEntry, match=f"entry 0 of {STREAM} changed by hand"):
        store.entries(STREAM)
    edit("UPDATE ledger_entry SET body = 10000000000000")
    assert next(iter(store.rows(STREAM)))[0] == b"10000000000000"


@pytest.mark.parametrize(
    ("stream", "draft"),
    [
        ("s" * 61, noted()),
        (STREAM, noted(request="r" * 201)),
        (STREAM, noted(kind="k" * 61)),
        (STREAM, noted(request="r\x00")),
        ("s\x00", noted()),
    ],
)
def test_a_name_that_no_column_holds_is_refused_alike(database: Store, stream: str, draft: Draft) -> None:
    """On the file too, which would take it."""
    with pytest.raises(BadEntry, match=r"a (stream|request|kind)"):
        database.append(stream, draft, admit_all)
    assert database.streams() == [STREAM]


def test_a_connection_lost_in_the_middle_records_nothing(folder: Path, postgresql: str) -> None:
    """It is said, and sent again the act is recorded, on a new connection."""
    store = django_store(folder, postgresql)

    def cut(_since: Since) -> None:
        ask("SELECT pg_terminate_backend(pg_backend_pid())")

    with pytest.raises(NotRecorded, match="send it again, with the same request id"):
        store.append(STREAM, noted(), cut)
    assert store.append(STREAM, noted(), admit_all).number == 0


@pytest.mark.parametrize("committed", [True, False])
def test_a_connection_lost_at_the_commit_is_not_called_nothing(
    folder: Path, cluster: Cluster, postgresql: str, monkeypatch: pytest.MonkeyPatch, committed: bool
) -> None:
    """Nobody knows whether it was recorded, so that is what is said; sent again it is recorded once."""
    from django.db import OperationalError, connections

    store = django_store(folder, postgresql)
    wrapper: Any = connections["default"]
    commit = wrapper._commit

    def lose() -> None:
        if committed:
            commit()
            raise OperationalError("server closed the connection unexpectedly")
        cluster.ask("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname LIKE 'fresh%'")
        commit()

    with monkeypatch.context() as patch:
        patch.setattr(wrapper, "_commit", lose)
        with pytest.raises(AnswerLost, match="recorded once, whether it was before or not"):
            store.append(STREAM, noted(), admit_all)
    assert len(list(store.rows(STREAM))) == committed
    assert store.append(STREAM, noted(), admit_all).number == 0
    assert len(store.entries(STREAM)) == 1


def test_an_act_waits_for_another_only_so_long(database: Store, setting: str) -> None:
    """Held longer than that it is refused, with word that nothing was recorded."""
    from django.db import connection

    patience = "SET lock_timeout = '100ms'" if setting else "PRAGMA busy_timeout = 100"
    held, let_go = threading.Event(), threading.Event()

    def hold(_since: Since) -> None:
        held.set()
        assert let_go.wait(20)

    def long_act() -> None:
        database.append(STREAM, noted(request="long"), hold)
        close_database()

    other = threading.Thread(target=long_act)
    other.start()
    assert held.wait(20)
    connection.ensure_connection()
    ask(patience)
    with pytest.raises(NotRecorded, match="nothing was recorded; send it again, with the same request id"):
        database.append(STREAM, noted(request="short"), admit_all)
    let_go.set()
    other.join(20)
    assert [entry.draft.request for entry in database.entries(STREAM)][3:] == ["long"]


def test_two_streams_do_not_wait_for_each_other_on_a_server(folder: Path, postgresql: str) -> None:
    """While one job is judged another is recorded."""
    store = django_store(folder, postgresql)

    def record_another(_since: Since) -> None:
        _done, faults = at_once(lambda _n: store.append("job-2", noted("another"), admit_all), threads=1)
        assert faults == []

    store.append(STREAM, noted(), record_another)
    assert store.streams() == [STREAM, "job-2"]


@pytest.mark.parametrize("what", ["keep", "attach", "withhold"])
def test_the_same_bytes_from_eight_threads_lie_there_once(database: Store, what: str) -> None:
    """Whoever comes second finds them there, and no fault."""
    named = database.attach(BOX_OF_TEXT, b"a photograph")
    acts: dict[str, Callable[[int], object]] = {
        "keep": lambda _n: database.keep(b"a book"),
        "attach": lambda _n: database.attach(BOX_OF_TEXT, b"another"),
        "withhold": lambda _n: database.withhold(named, "e" * 64),
    }
    done, faults = at_once(acts[what])
    assert faults == []
    assert len(set(done)) == 1


def test_what_was_withheld_does_not_come_back(store: Store) -> None:
    """A request that lay in a tablet and is sent late lays nothing down again."""
    named = store.attach(BOX_OF_TEXT, b"a photograph")
    store.withhold(named, "e" * 64)
    assert store.attach(BOX_OF_TEXT, b"a photograph") == named
    with pytest.raises(Withheld):
        store.attached(named)


def test_nothing_withheld_lies_in_the_table_again(database: Store) -> None:
    """Not under its mark either."""
    database.withhold(database.attach(BOX_OF_TEXT, b"a photograph"), "e" * 64)
    database.attach(BOX_OF_TEXT, b"a photograph")
    assert ask("SELECT COUNT(*) FROM attached_bytes") == [(0,)]


def test_a_table_of_ones_own_is_no_mark(folder: Path, postgresql: str) -> None:
    """A temporary table by the name of the marks does not open the way to a deletion."""
    from django.db import DatabaseError

    store = django_store(folder, postgresql)
    named = store.attach(BOX_OF_TEXT, b"a photograph")
    ask("CREATE TEMP TABLE withheld_mark AS SELECT %s::varchar AS commitment", named)
    with pytest.raises(DatabaseError, match="append-only"):
        ask("DELETE FROM attached_bytes")


def use(entry: int, stream: str = STREAM) -> Projected:
    """A row of the use of tools."""
    return Projected(
        "tool use",
        stream,
        entry,
        {"gauge": "M1", "certificate": "C1", "used_by": "m", "acted_at": NOON, "counts": True},
    )


def test_everything_is_sorted_alike(store: Store) -> None:
    """By the numbers of the letters, wherever the server was told to sort otherwise."""
    names = ["Zulu", "a-job", "a_job", "ab", "B", "\u00e4"]
    for name in names:
        store.append(name, noted(f"opens {name}"), admit_all)
    store.project_anew(use(0, name) for name in names)
    assert store.streams() == sorted(names)
    assert [row.stream for row in store.projected("tool use")] == sorted(names)
    with store.holdings() as held:
        assert [stream for stream, _ in held.streams] == sorted(names)


def test_of_two_rows_for_one_place_the_later_stands(store: Store) -> None:
    """An act may say first what stands, and then what stands instead."""
    first = use(0)
    later = Projected("tool use", STREAM, 0, {**first.cells, "gauge": "M2"})
    store.append(STREAM, noted(), admit_all, project=lambda _entry: [first, later])
    assert store.projected("tool use") == [later]


def test_the_tables_are_made_anew_while_others_record(folder: Path, setting: str) -> None:
    """Nobody is stopped, and every row is there in the end."""
    store = django_store(folder, setting)

    def anew() -> Iterator[Projected]:
        for stream in store.streams():
            yield from rows_of(store, stream)

    def work(number: int) -> None:
        for turn in range(6):
            if number == 0:
                store.project_anew(anew())
            else:
                draft = noted(f"{number}", request=f"{number}/{turn}")
                store.append(
                    f"job-{number}", draft, admit_all, project=lambda entry: [use(entry.number, f"job-{number}")]
                )

    _done, faults = at_once(work, threads=4)
    assert faults == []
    assert len(store.projected("tool use")) == 18


def test_what_is_recorded_while_the_tables_are_made_anew_stands_in_them(folder: Path, setting: str) -> None:
    """A correction that comes in the middle is not overwritten by what stood before it."""
    store = django_store(folder, setting)
    store.append(STREAM, noted(), admit_all)  # its row is still to be made
    corrected = Projected("tool use", STREAM, 0, {**use(0).cells, "gauge": "M2"})
    recorded = threading.Event()

    def correct() -> None:
        store.append(STREAM, noted(request="r-2"), admit_all, project=lambda _entry: [corrected])
        recorded.set()
        close_database()

    other = threading.Thread(target=correct)

    def read_meanwhile() -> Iterator[Projected]:
        yield from rows_of(store, STREAM)
        other.start()
        recorded.wait(1)

    store.project_anew(read_meanwhile())
    other.join(30)
    assert recorded.is_set()
    assert store.projected("tool use") == [corrected]


def rows_of(store: Store, stream: str) -> Iterator[Projected]:
    """The rows of a stream, read when they are wanted."""
    for entry in store.entries(stream):
        yield use(entry.number, stream)


def test_log_ins_are_carried(folder: Path, setting: str, tmp_path: Path) -> None:
    """With their stretched passwords, whether they are open, their groups and whom they stand for."""
    from django.contrib.auth.models import Group, User

    source = django_store(folder, setting)
    set_log_in("mechanic", "rivet anvil lantern")
    set_log_in("Inspector", "gasket thimble copper")
    close_log_in("Inspector")
    User.objects.get(username="mechanic").groups.add(Group.objects.create(name="bench"), Group.objects.create(name="A"))
    memory = MemoryStore(CLOCK)
    with source.holdings() as held:
        memory.load(held)
    target = django_store(tmp_path / "other")
    with memory.holdings() as held:
        accounts = list(held.accounts)
        target.load(held)
    assert b'"groups":["A","bench"]' in accounts[1]
    assert b"rivet" not in b"".join(accounts)
    assert log_ins() == {"Inspector": False, "mechanic": True}
    assert is_log_in("mechanic", "rivet anvil lantern")
    with target.holdings() as held:
        assert list(held.accounts) == accounts


def test_nothing_is_loaded_over_log_ins(folder: Path, setting: str) -> None:
    """They are part of what a store holds."""
    target = django_store(folder, setting)
    set_log_in("mechanic", "rivet anvil lantern")
    source = MemoryStore(CLOCK)
    with source.holdings() as held, pytest.raises(NotEmpty):
        target.load(held)


def test_a_log_in_that_is_no_log_in_loads_nothing(folder: Path, setting: str) -> None:
    """All at once or not at all, down to the last piece."""
    import dataclasses

    target = django_store(folder, setting)
    source = MemoryStore(CLOCK)
    source.append(STREAM, noted(), admit_all)
    twice = canonical({"name": "m", "password": "x", "active": True, "person": "m", "groups": []})
    with source.holdings() as held, pytest.raises(NotRecorded, match="nothing was recorded; once that is mended"):
        target.load(dataclasses.replace(held, accounts=[twice, twice]))
    assert (target.streams(), log_ins()) == ([], {})
