"""Is everything in a store whole? Every stream by its chain, its signatures and the heads the shop anchored.

A store that proves itself proves only that nobody made a mistake; what counts is what is held outside it: heads on
papers, and public keys. Both are asked for, and how far they reach is said.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.packing import named_by
from tenthbook.record.bench.people import SHOP, People
from tenthbook.record.ledger import Entry, Finding, Store, Withheld, commitment, prove_stream, read_entry
from tenthbook.record.ledger.verifier import BROKEN, Keys


@dataclass(frozen=True, slots=True)
class StreamProof:
    """A stream and what was found of it."""

    stream: str
    finding: Finding


def _missing(store: Store, entries: Sequence[Entry]) -> Iterator[str]:
    """What entries name and is not there as they name it."""
    books = (entry.data["digest"] for entry in entries if entry.kind == "book pinned")
    for digest in dict.fromkeys((*books, *named_by(entries, "_kept"))):
        try:
            found = hashlib.sha256(store.fetch(digest)).hexdigest()
        except TenthbookError:
            found = ""
        if found != digest:
            yield f"kept bytes {digest[:16]}"
    for named in named_by(entries, "_detached"):
        try:
            found = commitment(*store.attached(named))
        except Withheld:
            continue
        except TenthbookError:
            found = ""
        if found != named:
            yield f"bytes beside the entries {named[:16]}"


def _prove(store: Store, stream: str, head: str | None, keys: Keys | None, anchors: list[tuple[int, str]]) -> Finding:
    rows = list(store.rows(stream))
    found = prove_stream(rows, stream, head, keys, anchors)
    if not found.whole:
        return found
    missing = list(_missing(store, [read_entry(body, signature) for body, signature, _ in rows]))
    return replace(found, answer=BROKEN, where=f"what it names: {', '.join(missing)} missing") if missing else found


def prove_store(
    store: Store, people: People, heads: Collection[str] = (), keys: Keys | None = None
) -> list[StreamProof]:
    """Prove every stream of a store, or find where it is broken.

    Args:
        store: The store.
        people: The people of its shop, for the heads that were anchored.
        heads: Hashes known from outside, their first eight signs or more; each must lie in one of the streams.
        keys: Public keys [32 bytes] by person id, known from outside; None where none is.

    Returns:
        A proof a stream; one more, with an empty stream, for each head that is in none.
    """
    try:
        anchored = people.state().anchors
    except TenthbookError:  # a shop's stream that cannot be read is proved broken below
        anchored = {}
    proofs, placed = [], set[str]()
    for stream in store.streams():
        hashes = [stated for _, _, stated in store.rows(stream)]
        known = [head for head in heads if any(one.startswith(head.lower()) for one in hashes)]
        placed |= set(known)
        anchors = [(one.number, one.head) for one in anchored.get(stream, ())] if stream != SHOP else []
        furthest = max(known, key=lambda head: _place(hashes, head), default=None)
        proofs.append(StreamProof(stream, _prove(store, stream, furthest, keys, anchors)))
    lost = [head for head in heads if head not in placed]
    return [*proofs, *(StreamProof("", Finding(BROKEN, f"no stream holds the head {head[:16]}", 0)) for head in lost)]


def _place(hashes: Sequence[str], head: str) -> int:
    return max(number for number, one in enumerate(hashes) if one.startswith(head.lower()))
