"""Can the whole book be carried elsewhere in one file, and is every bit of it still there?

The file holds all that a store holds: streams with their seals, bytes under their hash, bytes beside the entries, word
of what was taken away, closed keys and accounts. It is written once from front to back, and read a piece at a time.
Before anything is taken over, all of it is proved: each byte of the ZIP, each member by the manifest, each chain and
signature as in an archive, each piece of bytes by the name it lies under. The tables are not carried: they repeat the
entries, and are made anew.

What it cannot show: somebody who writes a whole new backup with another history in it. The heads on the papers do, the
keys known from outside do (`prove`), and so does the digest of the manifest, if it was noted when the file was written.

In: a file opened by the caller, who also puts a written one in place only when it is whole. Out: holdings for a store.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import BinaryIO, NoReturn

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import backup_pages as pages
from tenthbook.record.ledger.attached import SALT_LENGTH
from tenthbook.record.ledger.backup_writing import Summary, write_backup
from tenthbook.record.ledger.backup_zip import BrokenBackup, Member, broken, content_of, members_in, shown
from tenthbook.record.ledger.entry import Entry, read_entry
from tenthbook.record.ledger.proof import prove_stream
from tenthbook.record.ledger.stream import Holdings
from tenthbook.record.ledger.verifier import Finding, Keys, Row, pieces

__all__ = ["Backup", "BrokenBackup", "Summary", "prove", "read_backup", "write_backup"]

_NAMED = re.compile(r"(kept|beside)/([0-9a-f]{64})")
_LONG = re.compile(rb"[:,\[]-?[0-9]{16}")


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup that was read and proved, and can be taken over.

    Attributes:
        source: The file; it stays open, and must not be written, as long as the backup is used.
        members: Where each piece lies, by name.
        streams: The streams with their heads.
        withheld: Hash of the shop's entry by commitment of what was taken away.
        summary: What it holds.
        findings: What is no break but ought to be known, a line each.
    """

    source: BinaryIO
    members: Mapping[str, Member]
    streams: tuple[pages.StreamLine, ...]
    withheld: Mapping[str, str]
    summary: Summary
    findings: tuple[str, ...] = ()

    def page(self, name: str) -> bytes:
        """Read one member, and compare it once more with what was proved.

        Args:
            name: Of the member.

        Returns:
            Its content.

        Raises:
            BrokenBackup: the file has changed since.
        """
        return content_of(self.source, self.members[name])

    def rows(self, number: int) -> list[Row]:
        """Read the rows of a stream.

        Args:
            number: Its place in the list of streams, from 1.

        Returns:
            Body, signature and stated hash of each entry.

        Raises:
            BrokenBackup: the file has changed since, or a line is no seal.
        """
        bodies, seals = pages.members_of_stream(number)
        return pages.rows_of(self.page(bodies), self.page(seals), seals)

    def holdings(self) -> Holdings:
        """Give all it holds, for a store to take in.

        Returns:
            The holdings; what is large is read from the file only as it is asked for, and may be read once.

        Raises:
            BrokenBackup: the file has changed since it was proved; also while the holdings are being read.
        """
        kept = (self.page(name) for name in self.members if name.startswith("kept/"))
        beside = (self.page(name) for name in self.members if name.startswith("beside/"))
        return Holdings(
            ((line.stream, self._entries(number)) for number, line in enumerate(self.streams, 1)),
            kept,
            ((content[:SALT_LENGTH], content[SALT_LENGTH:]) for content in beside),
            self.withheld,
            pages.read_boxes(self.page("boxes.jsonl")),
            pages.read_accounts(self.page("accounts.jsonl")),
        )

    def _entries(self, number: int) -> list[Entry]:
        return [read_entry(body, signature) for body, signature, _ in self.rows(number)]


def read_backup(source: BinaryIO) -> Backup:
    """Read a backup, and prove all of it.

    Args:
        source: The file, which can be read at any place; read from its beginning.

    Returns:
        The backup, every bit of it proved.

    Raises:
        BrokenBackup: torn, altered, a member missing, too many, twice, compressed or out of its place, a chain, a
            signature, a hash or a commitment that does not hold, or a form that this program does not know.
    """
    members = _members(source)
    streams = pages.read_index(_page(source, members, pages.INDEX))
    withheld = pages.read_withheld(_page(source, members, "withheld.txt"))
    named = _named(members, withheld)
    _compare_names(list(members), [pages.members_of_stream(number) for number in range(1, len(streams) + 1)], named)
    if _page(source, members, "README.txt") != pages.README:
        raise broken("README.txt: another page", "the page of this form")
    kept = sum(name.startswith("kept/") for name in named)
    summary = Summary(
        len(streams),
        sum(line.entries for line in streams),
        kept,
        len(named) - kept,
        len(withheld),
        len(pages.read_boxes(_page(source, members, "boxes.jsonl"))),
        len(pages.read_accounts(_page(source, members, "accounts.jsonl"))),
        source.seek(0, 2),
        members[pages.MANIFEST].digest,
    )
    backup = Backup(source, members, tuple(streams), withheld, summary)
    return replace(backup, findings=_findings(backup))


def _page(source: BinaryIO, members: Mapping[str, Member], name: str) -> bytes:
    if name not in members:
        raise broken(f"{name}: missing", "every member of a backup")
    return content_of(source, members[name])


def _members(source: BinaryIO) -> dict[str, Member]:
    """All members in order, as the manifest lists them."""
    members: dict[str, Member] = {}
    for member in members_in(source):
        if not members and (member.name != "format.txt" or content_of(source, member) != pages.FORMAT):
            raise broken(f"{member.name}: not a backup of this form", pages.FORMAT.decode().strip())
        if member.name in members:
            raise broken(f"{member.name}: twice", "each member once")
        members[member.name] = member
    *before, last = members.values()
    if last.name != pages.MANIFEST:
        raise broken(f"{pages.MANIFEST}: missing at the end, after {last.name}", "the list of all members")
    listed, due = content_of(source, last), pages.manifest_page(before)
    if listed != due:
        _name_the_other(listed.decode("utf-8", "replace").split("\n"), due.decode().split("\n"))
    return members


def _name_the_other(listed: list[str], due: list[str]) -> NoReturn:
    said, there = next((pair for pair in zip_longest(listed, due, fillvalue="") if pair[0] != pair[1]), ("", ""))
    name = next((line.split(" ")[2] for line in (there, said) if line.count(" ") == 2), pages.MANIFEST)
    raise broken(f"{name}: another than {pages.MANIFEST} lists", said or "the list of all members, and no more")


def _named(members: Mapping[str, Member], withheld: Mapping[str, str]) -> list[str]:
    """Members that are named after their content, each with that content."""
    found = [match for match in map(_NAMED.fullmatch, members) if match]
    for match in found:
        name, beside = match[0], match[1] == "beside"
        if members[name].digest != match[2]:
            raise broken(f"{name}: its content has another SHA-256", "the content it is named after")
        if beside and members[name].size < SALT_LENGTH:
            raise broken(f"{name}: shorter than its salt", f"{SALT_LENGTH} bytes of salt before the content")
        if beside and match[2] in withheld:
            raise broken(f"{name}: it was withheld, and is there", "nothing of what was withheld")
    return [match[0] for match in sorted(found, key=lambda match: match[1] == "beside")]


def _compare_names(names: list[str], streams: Iterable[tuple[str, str]], named: Iterable[str]) -> None:
    wanted = [*pages.FIRST, *(name for pair in streams for name in pair), pages.INDEX, *named, *pages.LAST]
    wanted.append(pages.MANIFEST)
    for said, faults in (
        ("missing", set(wanted).difference(names)),
        ("it does not belong", set(names).difference(wanted)),
    ):
        if faults:
            raise broken(f"{min(faults)}: {said}", "just the members of a backup")
    for there, due in zip(names, wanted, strict=True):
        if there != due:
            raise broken(f"{there}: out of its place", due)


def prove(
    backup: Backup,
    heads: Mapping[str, str] | None = None,
    keys: Keys | None = None,
    anchors: Mapping[str, Iterable[tuple[int, str]]] | None = None,
) -> dict[str, Finding]:
    """Prove every stream of a backup against what is known from outside it.

    Args:
        backup: As it was read.
        heads: Hash of an entry as known from a paper, its first eight signs or more, by stream.
        keys: Public keys [32 bytes] by person id, known from outside; None where none is, and nobody asks.
        anchors: Number and hash of entries by stream, as the shop's stream holds them.

    Returns:
        For each stream one of the three answers, how far it is proven or where it is broken, and what else ought to be
        known.

    Raises:
        BrokenBackup: the file has changed since it was read.
    """
    found: dict[str, Finding] = {}
    for number, line in enumerate(backup.streams, 1):
        head, anchored = (heads or {}).get(line.stream), (anchors or {}).get(line.stream, ())
        found[line.stream] = prove_stream(backup.rows(number), line.stream, head, keys, anchored)
    return found


def _findings(backup: Backup) -> tuple[str, ...]:
    """Prove each stream by itself, and see what its entries name."""
    findings: list[str] = []
    named: dict[str, str] = {}
    unheard = set(backup.withheld.values())
    for number, line in enumerate(backup.streams, 1):
        rows = backup.rows(number)
        found = prove_stream(rows, line.stream)
        place = f"{pages.members_of_stream(number)[0]} ({line.stream})"
        if not found.whole:
            raise broken(f"{place}: {found.where}", "a chain of entries that holds")
        if (found.head, found.entries) != (line.head, line.entries):
            raise broken(f"{pages.INDEX}: {line.stream} is said to end at {line.head[:16]}", found.head[:16])
        _read_unusual(rows, place)
        findings += [f"{line.stream}: {note}" for note in found.notes]
        for folder, name, entry in _names_in(rows):
            named.setdefault(f"{folder}/{name}", f"{line.stream}, entry {entry}")
        unheard.difference_update(stated for _, _, stated in rows)
    gone = {f"beside/{name}" for name in backup.withheld}
    findings += [
        f"{where}: it names {name}, and nothing lies there"
        for name, where in named.items()
        if name not in backup.members and name not in gone
    ]
    findings += [
        f"withheld.txt: {name} by entry {entry[:16]}, which no stream holds"
        for name, entry in backup.withheld.items()
        if entry in unheard
    ]
    return tuple(map(shown, findings))


def _read_unusual(rows: Iterable[Row], place: str) -> None:
    """Read what the proof lets pass, and a store would not: names beyond ASCII and numbers beyond 2^53."""
    for number, (body, signature, _) in enumerate(rows):
        if not body.isascii() or _LONG.search(body):
            try:
                read_entry(body, signature)
            except TenthbookError as error:
                raise broken(f"{place}: entry {number}: {error.found}", error.expected) from error


def _names_in(rows: Iterable[Row]) -> Iterator[tuple[str, str, int]]:
    for number, (body, _, _) in enumerate(rows):
        if b'_kept":' in body or b'_detached":' in body or b'"book pinned"' in body:
            held = json.loads(body)
            for folder, name in pieces(held["kind"], held["data"]):
                yield folder, name, number
