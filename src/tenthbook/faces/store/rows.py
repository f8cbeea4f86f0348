"""An entry as a row, and back: what can no longer be read is named by its stream and number."""

from __future__ import annotations

from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import BadEntry, Draft, Entry, read_entry

_WIDEST = {"stream": 60, "request": 200, "kind": 60}


def fits(stream: str, draft: Draft) -> None:
    """Refuse what the columns of an entry cannot hold, alike on every database.

    Args:
        stream: The stream.
        draft: What is proposed.

    Raises:
        BadEntry: a stream, a request id or a kind that is too long or holds the sign number 0.
    """
    for name, value in (("stream", stream), ("request", draft.request), ("kind", draft.kind)):
        if len(value) > _WIDEST[name]:
            raise BadEntry(found=f"a {name} of {len(value)} signs", expected=f"{_WIDEST[name]} at most")
        if "\x00" in value:
            raise BadEntry(found=f"a {name} with the sign number 0", expected="a name that can be written")


def row_of(model: Any, stream: str, entry: Entry) -> Any:
    """Make the row of an entry.

    Args:
        model: The model of entries.
        stream: The stream.
        entry: The entry.

    Returns:
        The row, not written yet.
    """
    told = {"number": entry.number, "request": entry.draft.request, "kind": entry.kind, "hash": entry.hash}
    return model(stream=stream, body=entry.body, signature=entry.signature, **told)


def bytes_of(cell: object) -> bytes:
    """Read a cell of bytes, whatever a hand has put there instead.

    Args:
        cell: What the database gave.

    Returns:
        The bytes; of anything else, the text of it.
    """
    return bytes(cell) if isinstance(cell, bytes | bytearray | memoryview) else str(cell).encode("utf-8", "replace")


def entry_of(
    stream: str, number: int, body: object, signature: object, request: str | None = None, kind: str | None = None
) -> Entry:
    """Read an entry from its row.

    Args:
        stream: The stream.
        number: Its number, as the row has it.
        body: Its body as the database gave it.
        signature: Its signature likewise.
        request: The request id by which the row is found; None where nobody asks.
        kind: The kind that the row states; None where nobody asks.

    Returns:
        The entry.

    Raises:
        BadEntry: a row that was changed by hand, named by stream and number.
    """
    try:
        entry = read_entry(bytes_of(body), bytes_of(signature))
        if entry.number != number:
            raise BadEntry(found=f"the body of entry {entry.number}", expected=f"that of entry {number}")
        if request not in (None, entry.draft.request) or kind not in (None, entry.kind):
            raise BadEntry(found="another request id or kind beside it", expected="what its body says")
    except TenthbookError as error:
        found = f"entry {number} of {stream} changed by hand: {error.found}"
        todo = "prove what is held: tenthbook verify; then restore the last backup that is whole"
        raise BadEntry(found=found, expected="an entry as it was recorded", todo=todo) from error
    return entry
