"""The tables of a book in the order they are filled in: a table comes after those it names, where it can."""

from __future__ import annotations

from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.tables_of_assembly import ACCESS, CONSUMABLES, JOINTS, ORIENTATION, STEPS, TORQUES
from tenthbook.record.book.tables_of_parts import FITS, INSPECTIONS, PARTS, SIZES
from tenthbook.record.book.tables_of_running import FOLLOW_UPS, OIL_SYSTEM, RUN_LIMITS

TABLES: dict[str, tuple[Column, ...]] = {
    "orientation": ORIENTATION,
    "access": ACCESS,
    "parts": PARTS,
    "inspections": INSPECTIONS,
    "sizes": SIZES,
    "fits": FITS,
    "joints": JOINTS,
    "torques": TORQUES,
    "steps": STEPS,
    "consumables": CONSUMABLES,
    "oil_system": OIL_SYSTEM,
    "run_limits": RUN_LIMITS,
    "follow_ups": FOLLOW_UPS,
}
HOLDS = {
    "orientation": "what front, left, cylinder 2 and a view mean on this engine; every drawing names one",
    "access": "what comes off to reach what, how long it takes, what it disturbs",
    "parts": "what the engine has, and when a part must be replaced",
    "inspections": "what must be cleaned, looked at and crack-tested before a size counts",
    "sizes": "what is measured on a part, and its limits as printed",
    "fits": "the outer size less the inner one, and its limits as printed",
    "joints": "where each fastener, anchor and keep-out of a joint is",
    "torques": "how tight, in which unit, in which state and order, how locked, and what after an interruption",
    "steps": "the acts in their order, with covers, parts, joints, consumables and second looks",
    "consumables": "lubricants, sealants and the like, by specification",
    "oil_system": "the circuit of the oil and its figures",
    "run_limits": "what the run must show",
    "follow_ups": "what is looked at again, and when",
}
HEAD = (
    Column("type", "engine type this book is for", needed=True),
    Column("manual", "title or number of the manual", needed=True),
    Column("revision", "revision of the manual, with its date", needed=True),
    Column("invented", "true for a book that is for no engine; then everything made from it says so", True, Form.YES),
    Column("typed_by", "person who typed it; a second reading by the same person is marked so"),
    Column("typed_on", "day it was typed, such as 2026-03-09"),
)
