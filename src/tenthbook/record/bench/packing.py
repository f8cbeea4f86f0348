"""One stream with all it names, as an archive."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tenthbook.record.ledger import Entry, Store, Withheld, pack


def named_by(entries: Sequence[Entry], ending: str) -> Iterator[str]:
    """List what entries name in fields of one ending.

    Args:
        entries: The entries.
        ending: "_kept" for bytes under their hash, "_detached" for bytes beside the entries.

    Yields:
        Hashes, each once.
    """
    named = (value for entry in entries for name, value in entry.data.items() if name.endswith(ending) and value)
    yield from dict.fromkeys(named)


def pack_stream(store: Store, stream: str, verifier: bytes) -> bytes:
    """Pack a stream into its archive.

    Args:
        store: Where it is recorded.
        stream: Its id.
        verifier: Text of the verifier, as released.

    Returns:
        The bytes of the ZIP.
    """
    entries = store.entries(stream)
    books = dict.fromkeys(entry.data["digest"] for entry in entries if entry.kind == "book pinned")
    kept = [store.fetch(digest) for digest in dict.fromkeys((*books, *named_by(entries, "_kept")))]
    beside: list[tuple[bytes, bytes]] = []
    gone: dict[str, str] = {}
    for commitment in named_by(entries, "_detached"):
        try:
            beside.append(store.attached(commitment))
        except Withheld:
            gone[commitment] = store.withheld()[commitment]
    return pack(entries, kept, beside, gone, verifier)
