"""The tables of a book and what belongs in each column.

The words here are the ones a person filling in a table reads, and the documentation of the form is made from them.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        name: As it stands in the heading.
        says: What belongs in it.
        needed: Whether a row must fill it.
    """

    name: str
    says: str
    needed: bool = False


_PAGE = Column("page", "page of the manual this row was read from, as printed there", needed=True)
_NOTE = Column("note", "note number or words beside the row")
_LIMITS = (
    Column("kind", "kind of limit: absolute, or none where the manual gives no limit (dashes, a blank)", needed=True),
    Column("unit", "unit the limits are printed in: in or mm", needed=True),
    Column("new_min", "least for a new part, or the tightest new fit; blank: no limit given"),
    Column("new_max", "greatest for a new part, or the loosest new fit; blank: no limit given"),
    Column("service_min", "least that may stay in service; blank: no limit given"),
    Column("service_max", "greatest that may stay in service; blank: no limit given"),
    Column("safety", "yes where the row guards against failure in flight; else blank"),
)

TABLES: dict[str, tuple[Column, ...]] = {
    "parts": (
        Column("id", "typed id of the part, never used again for another", needed=True),
        Column("name", "what the manual calls the part", needed=True),
        Column("where_used", "assembly it belongs to", needed=True),
        Column("quantity", "how many of it one engine has", needed=True),
        Column("sold_in", "id of the set it is only sold in; blank: sold alone"),
        _PAGE,
        _NOTE,
    ),
    "sizes": (
        Column("id", "typed id of the row, never used again for another", needed=True),
        Column("part", "id of the part that is measured", needed=True),
        Column("feature", "what is measured on it, such as outside diameter", needed=True),
        *_LIMITS,
        _PAGE,
        _NOTE,
    ),
    "fits": (
        Column("id", "typed id of the row, never used again for another", needed=True),
        Column("name", "what the manual calls the fit, such as end clearance", needed=True),
        Column("hole", "id of the size row of the outer part: bore, bush, depth, groove", needed=True),
        Column("shaft", "id of the size row of the inner part: shaft, gear, width, ring", needed=True),
        *_LIMITS,
        _PAGE,
        _NOTE,
    ),
}
HEAD = (
    Column("type", "engine type this book is for", needed=True),
    Column("manual", "title or number of the manual", needed=True),
    Column("revision", "revision of the manual, with its date", needed=True),
    Column("invented", "true for a book that is for no engine; then everything made from it says so", needed=True),
)
