"""Is everything in a store whole? Every stream by its chain, its signatures and the heads the shop anchored.

A store that proves itself proves only that nobody made a mistake; what counts is what is held outside it: heads on
papers, and public keys. Both are asked for, and how far they reach is said. What the store says of itself must agree: a
stream the shop anchored is there, what was taken away was taken away by an entry of the shop, and a signature is by a
key that the shop knows as its person's.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.packing import named_by
from tenthbook.record.bench.people import SHOP, People
from tenthbook.record.ledger import (
    Entry,
    Finding,
    Store,
    Withheld,
    commitment,
    fingerprint,
    key_of,
    prove_stream,
    same_person,
)
from tenthbook.record.ledger.verifier import BROKEN, Keys
from tenthbook.record.shop import ShopState


@dataclass(frozen=True, slots=True)
class StreamProof:
    """A stream and what was found of it."""

    stream: str
    finding: Finding


def _taken_away(store: Store, shop: ShopState) -> set[str]:
    """Commitments of what an entry of the shop took away; a mark that names no such entry takes nothing away."""
    marks = {named: by for named, by in store.withheld().items() if named in shop.withheld}
    hashes = [stated for _, _, stated in store.rows(SHOP)] if marks else []
    return {named for named, by in marks.items() if hashes[shop.withheld[named].entry] == by}


def _missing(store: Store, entries: Sequence[Entry], gone: Collection[str]) -> Iterator[str]:
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
            found = named if named in gone else ""
        except TenthbookError:
            found = ""
        if found != named:
            yield f"bytes beside the entries {named[:16]}"


def _strange_signature(shop: ShopState, entries: Sequence[Entry]) -> str:
    """The first signature by a key that the shop does not know as its person's; empty where there is none."""
    for entry in entries:
        key = key_of(entry.draft) if entry.signature else b""
        held = shop.owner_of(key.hex()) if key else None
        if key and (held is None or not same_person(held[0].id, entry.draft.person)):
            return (
                f"entry {entry.number}: signed with key {fingerprint(key)}, which no entry of the shop gives its person"
            )
    return ""


def _prove(
    store: Store,
    stream: str,
    head: str | None,
    keys: Keys | None,
    shop: ShopState | None,
    anchors: list[tuple[int, str]],
) -> Finding:
    found = prove_stream(store.rows(stream), stream, head, keys, anchors)
    if not found.whole:
        return found
    try:
        entries = store.entries(stream)
    except TenthbookError as error:  # whole by its chain, and what the store keeps beside it for finding it is not
        return replace(found, answer=BROKEN, where=error.found)
    strange = _strange_signature(shop, entries) if shop is not None else ""
    if strange:
        return replace(found, answer=BROKEN, where=strange)
    missing = list(_missing(store, entries, _taken_away(store, shop) if shop is not None else store.withheld()))
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
    shop = _shop_of(people)
    anchored = shop.anchors if shop is not None else {}
    proofs, placed, streams = [], set[str](), store.streams()
    for stream in streams:
        hashes = [stated for _, _, stated in store.rows(stream)]
        known = [head for head in heads if any(one.startswith(head.lower()) for one in hashes)]
        placed |= set(known)
        anchors = [(one.number, one.head) for one in anchored.get(stream, ())] if stream != SHOP else []
        furthest = max(known, key=lambda head: _place(hashes, head), default=None)
        proofs.append(StreamProof(stream, _prove(store, stream, furthest, keys, shop, anchors)))
    for stream in sorted(anchored.keys() - set(streams)):
        last = anchored[stream][-1]
        where = f"entry 0: the shop anchored it up to entry {last.number}, and the whole stream is missing"
        proofs.append(StreamProof(stream, Finding(BROKEN, where, 0)))
    lost = [head for head in heads if head not in placed]
    return [*proofs, *(StreamProof("", Finding(BROKEN, f"no stream holds the head {head[:16]}", 0)) for head in lost)]


def _shop_of(people: People) -> ShopState | None:
    """The shop as its stream says; None for one that cannot be read, which is proved broken by itself."""
    try:
        return people.state()
    except TenthbookError:
        return None


def _place(hashes: Sequence[str], head: str) -> int:
    return max(number for number, one in enumerate(hashes) if one.startswith(head.lower()))
