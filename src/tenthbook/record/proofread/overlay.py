"""How each row of a book stands after the readings recorded in its stream."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from tenthbook.record.ledger import Entry, same_person


@dataclass(frozen=True, slots=True)
class SecondReading:
    """A row read a second time.

    Attributes:
        person: Who read it.
        read_at: When, UTC.
        same_person: Whether that is who typed it first.
        differs: Columns that differ; empty where the two agree.
        entry: Number of the entry.
    """

    person: str
    read_at: str
    same_person: bool
    differs: tuple[str, ...]
    entry: int

    def __str__(self) -> str:
        who = f"{self.person}, {self.read_at[:10]}"
        same = ", the same person on another day" if self.same_person else ""
        differs = f", differs in {', '.join(self.differs)}" if self.differs else ""
        return f"read again by {who}{same}{differs}"


@dataclass(frozen=True, slots=True)
class Overlay:
    """What was read a second time.

    Attributes:
        readings: The last second reading of each row, by the row's digest.
        number: Number of the last entry; -1 before the first.
    """

    readings: dict[str, SecondReading] = field(default_factory=dict)
    number: int = -1

    def verified(self, digest: str) -> bool:
        """Ask whether a row was read a second time and agreed.

        Args:
            digest: SHA-256 of the row as it stands.

        Returns:
            True only where the last second reading agrees.
        """
        reading = self.readings.get(digest)
        return reading is not None and not reading.differs


def fold_overlay(entries: Sequence[Entry], overlay: Overlay | None = None) -> Overlay:
    """Take the entries of a book's stream in.

    Args:
        entries: Its entries by number, from where `overlay` stopped.
        overlay: Where to go on from; None for the start. It is not changed.

    Returns:
        The overlay. An entry of a kind this version does not know changes nothing: what is not read counts as unread.
    """
    known = overlay or Overlay()
    readings = dict(known.readings)
    for entry in entries:
        data = entry.data
        if entry.kind in ("row verified", "row disputed"):
            same = same_person(data["typed_by"], entry.draft.person)
            differs = tuple(data.get("differs", ()))
            told = SecondReading(entry.draft.person, entry.draft.acted_at, same, differs, entry.number)
            readings[data["row_digest"]] = told
        elif entry.kind == "rows imported":
            for digest in data["digests"]:
                readings.pop(digest, None)
    return Overlay(readings, entries[-1].number if entries else known.number)
