"""A small invented book, a clock that shows what it is told, and a bench with a mechanic at it, as the tests need them.

Nothing here is for any engine. In: nothing, or a store to work on. Out: books, drafts, entries, a workplace.
"""

from __future__ import annotations

import io
import itertools
import zipfile
from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.because import Refused
from tenthbook.record.bench import Bench
from tenthbook.record.book import TABLES, Book, read_book
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Draft, Entry, MemoryStore, Store, pack, read_entry, seal
from tenthbook.record.workup import WorkUp

NOON = "2026-10-02T12:00:00Z"
PERSON = "mechanic"
STREAM = "job-1"
OPENED = {
    "installation": "bench",
    "engine": "Test engine 1",
    "reason": "low oil pressure",
    "scope": "repair, to service limits",
    "invented": True,
}
BOOK_TOML = """type = "Test engine"
manual = "Manual of the test engine (invented)"
revision = "1, 1 January 2026"
invented = true
"""
PARTS_CSV = """id,name,where_used,quantity,sold_in,page,note
part.housing,pump housing,accessory housing,1,,2-1,
part.shaft,pump shaft,oil pump,1,set.pump,2-2,
part.cover,pump cover,oil pump,1,,2-3,
part.plug,cover plug,oil pump,1,,2-3,
"""
SIZES_CSV = """id,part,feature,kind,unit,new_min,new_max,service_min,service_max,safety,page,note
size.bore,part.housing,bore diameter,absolute,in,0.5124,0.5130,,,,2-1,the fit settles it
size.shaft,part.shaft,diameter,absolute,in,0.5108,0.5114,0.5098,,yes,2-2,
size.slot,part.shaft,step in the slot,none,in,,,,,,2-2,dashes
size.flange,part.cover,flange thickness,absolute,mm,6.000,6.100,5.900,,,2-3,
size.plug-hole,part.cover,plug hole diameter,absolute,in,0.2500,0.2505,,0.2507,,2-3,
size.plug,part.plug,diameter,absolute,in,0.2510,0.2515,0.2509,,,2-3,
"""
FITS_CSV = """id,name,hole,shaft,kind,unit,new_min,new_max,service_min,service_max,safety,page,note
fit.shaft,shaft in bore,size.bore,size.shaft,absolute,in,0.0010,0.0022,,0.0037,yes,2-4,
fit.plug,plug in cover,size.plug-hole,size.plug,absolute,in,0.0015T,0.0005T,,0.0002T,,2-4,
"""


def book_files(**changed: str) -> dict[str, bytes]:
    """Give the files of the small book.

    Args:
        changed: Text of `book` or of a table that is to stand instead.

    Returns:
        Content by file name.
    """
    empty = {name: ",".join(column.name for column in columns) for name, columns in TABLES.items()}
    texts = {**empty, "book": BOOK_TOML, "parts": PARTS_CSV, "sizes": SIZES_CSV, "fits": FITS_CSV, **changed}
    return {f"{name}.toml" if name == "book" else f"{name}.csv": text.encode() for name, text in texts.items()}


def small_book(**changed: str) -> Book:
    """Read the small book.

    Args:
        changed: As for `book_files`.

    Returns:
        The book.
    """
    return read_book(book_files(**changed))


class SettableClock:
    """A clock that shows the time it was told."""

    def __init__(self, now: str = NOON) -> None:
        """Set it.

        Args:
            now: The time, UTC.
        """
        self.now = now

    def __call__(self) -> str:
        """Read it.

        Returns:
            The time, UTC.
        """
        return self.now


def noted(text: str = "a note", *, request: str = "r-1", kind: str = "noted", seen: str = "") -> Draft:
    """Propose a note.

    Args:
        text: What it says.
        request: The client's id for the request.
        kind: The kind of the entry.
        seen: Hash of the head seen.

    Returns:
        The draft.
    """
    return Draft(kind, 1, PERSON, request, seen, NOON, {"text": text})


def chain(*drafts: Draft) -> list[Entry]:
    """Seal drafts, one to the other.

    Args:
        drafts: What is recorded, in order.

    Returns:
        The entries.
    """
    entries: list[Entry] = []
    for number, draft in enumerate(drafts):
        entries.append(seal(draft, number, NOON, entries[-1].hash if entries else ""))
    return entries


def small_archive(notes: int = 2, verifier: bytes = b"# the verifier\n") -> tuple[bytes, str]:
    """Pack a few notes.

    Args:
        notes: How many.
        verifier: Text that stands for the verifier.

    Returns:
        The archive and its head.
    """
    entries = chain(*(noted(f"note {number}", request=f"r-{number}") for number in range(notes)))
    return pack(entries, [], [], {}, verifier), entries[-1].hash


def members_of(archive: bytes) -> dict[str, bytes]:
    """Take an archive apart.

    Args:
        archive: Bytes of the ZIP.

    Returns:
        Content by member name.
    """
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        return {entry.filename: opened.read(entry) for entry in opened.infolist()}


def entries_of(archive: bytes) -> list[Entry]:
    """Read the entries of an archive back.

    Args:
        archive: Bytes of the ZIP.

    Returns:
        The entries by number.
    """
    members = members_of(archive)
    bodies = members["entries.jsonl"].splitlines()
    signatures = [line.split()[1] for line in members["seals.txt"].decode().splitlines()]
    return [
        read_entry(body, b"" if written == "-" else bytes.fromhex(written))
        for body, written in zip(bodies, signatures, strict=True)
    ]


def archive_keys(archive: bytes) -> list[str]:
    """Read who signed in an archive, by which public key.

    Args:
        archive: Bytes of the ZIP.

    Returns:
        Person and key, a line each.
    """
    return members_of(archive)["keys.txt"].decode().splitlines()


class Workplace:
    """A bench with a mechanic at it, who records in one job."""

    def __init__(self, store: Store | None = None, clock: SettableClock | None = None) -> None:
        """Sit down at a bench.

        Args:
            store: Where it is recorded; a store in memory without one.
            clock: The clock of that store.
        """
        self.clock = clock or SettableClock()
        self.store: Store = store or MemoryStore(self.clock)
        self.bench = Bench(self.store)
        self._requests = itertools.count(1)

    def act(self, request: str = "", person: str = PERSON) -> dict[str, str]:
        """Say who acts, when and under which request.

        Args:
            request: The request's id; a new one without it.
            person: Who acts; the mechanic without it.

        Returns:
            Person, request and time.
        """
        return {"person": person, "request": request or f"request-{next(self._requests)}", "acted_at": NOON}

    def open(self, book: Book | None = None) -> Workplace:
        """Open the job.

        Args:
            book: The book it is judged by; the small one without it.

        Returns:
            The workplace itself.
        """
        self.bench.open_job(STREAM, book or small_book(), OPENED, **self.act())
        return self

    def remove(self, part: str, *, tag: str = "", position: str = "") -> str:
        """Take a part off and tag it.

        Args:
            part: Id of the part.
            tag: The tag; the next free one without it.
            position: Where it sat.

        Returns:
            The tag.
        """
        entry = self.bench.record(
            STREAM, "part removed", {"part": part, "tag": tag, "position": position}, **self.act()
        )
        return str(entry.data["tag"])

    def set_gauge(self, gauge: str, expanded: str, measures: str = "outside", factor: str = "2") -> Entry:
        """Set a gauge on the bench.

        Args:
            gauge: Its id.
            expanded: Expanded uncertainty of a size read with it, with its unit [in or mm].
            measures: What it can measure.
            factor: The factor it was expanded with [-].

        Returns:
            The entry.
        """
        data = {"gauge": gauge, "name": f"{measures} gauge", "measures": measures, "expanded": expanded}
        return self.record("gauge set", {**data, "coverage_factor": factor})

    def read(self, tag: str, row: str, value: str, gauge: str = "", request: str = "") -> Entry:
        """Take a reading.

        Args:
            tag: Tag of the part.
            row: Id of the size row.
            value: The reading with its unit [in or mm].
            gauge: Id of the gauge; its doubt is not known without one.
            request: The request's id; a new one without it.

        Returns:
            The entry: a reading taken, or a question asked.
        """
        return self.record("reading taken", {"tag": tag, "row": row, "value": value, "gauge": gauge}, request)

    def answer(self, entry: int, answer: str, request: str = "") -> Entry:
        """Answer a question.

        Args:
            entry: Number of the entry that asked.
            answer: "stands" or "read again".
            request: The request's id; a new one without it.

        Returns:
            The entry.
        """
        return self.record("question answered", {"entry": entry, "answer": answer}, request)

    def record(
        self, kind: str, data: Mapping[str, Any], request: str = "", *, person: str = PERSON, seen: str | None = None
    ) -> Entry:
        """Record anything.

        Args:
            kind: Kind of the entry.
            data: Its fields.
            request: The request's id.
            person: Who acts; the mechanic without it.
            seen: Hash of the head the person saw; the present one without it.

        Returns:
            The entry.
        """
        return self.bench.record(STREAM, kind, data, **self.act(request, person), seen=seen)

    def refused(
        self, kind: str, data: Mapping[str, Any], *, person: str = PERSON, seen: str | None = None
    ) -> list[str]:
        """Propose what is refused.

        Args:
            kind: Kind of the entry.
            data: Its fields.
            person: Who acts; the mechanic without it.
            seen: Hash of the head the person saw; the present one without it.

        Returns:
            The ids of the broken rules; nothing was written.

        Raises:
            AssertionError: it was recorded, or something was written all the same.
        """
        before = self.store.entries(STREAM)
        try:
            self.record(kind, data, person=person, seen=seen)
        except Refused as refused:
            assert self.store.entries(STREAM) == before
            return [one.rule for one in refused.refusals]
        raise AssertionError(f"{kind} was recorded")

    @property
    def state(self) -> JobState:
        """Where the job stands."""
        return self.bench.state(STREAM)

    def work_up(self) -> WorkUp:
        """Work the job up.

        Returns:
            Its verdicts and what is undone.
        """
        return self.bench.work_up(STREAM)

    def archive(self, verifier: bytes = b"# the verifier\n") -> bytes:
        """Pack the job.

        Args:
            verifier: Text that stands for the verifier.

        Returns:
            The bytes of the ZIP.
        """
        return self.bench.archive(STREAM, verifier)


def close_database() -> None:
    """Close this thread's connections of the database, if one was opened, so that none is left to the collector."""
    from django.conf import settings
    from django.db import connections

    if settings.configured:
        connections.close_all()
