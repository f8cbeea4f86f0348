"""A sound invented book with every table, in which there is nothing to ask; tests change it cell by cell.

In: cells by table and id. Out: drafts, and what a check says of them. Nothing here is for any engine.
"""

from __future__ import annotations

from collections.abc import Mapping

from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.reading import draft_kept
from tenthbook.record.book.tables import TABLES

Rows = Mapping[str, Mapping[str, Mapping[str, str]]]  # cells by table and id; no cells at all: the row is taken out


def _position(joint: str, number: str, x: str, y: str, **cells: str) -> dict[str, str]:
    places = {"unit": "in", "x": x, "y": y, "view": "view.rear"}
    return {"joint": joint, "role": "fastener", "number": number, **places, **cells}


def _direction(opposite: str) -> dict[str, str]:
    return {"what": "direction", "name": "as printed", "means": "as printed", "opposite": opposite}


def _part(**cells: str) -> dict[str, str]:
    return {"name": "a part", "where_used": "oil pump", "quantity": "1", **cells}


def _size(part: str, **cells: str) -> dict[str, str]:
    return {"part": part, "feature": "as printed", "kind": "absolute", "unit": "in", "new_max": "0.5130", **cells}


def _step(phase: str, **cells: str) -> dict[str, str]:
    return {"phase": phase, "says": "as the card says", **cells}


def torque(**cells: str) -> dict[str, str]:
    """Give the cells of a sound torque.

    Args:
        cells: Cells that stand instead.

    Returns:
        Cells by column.
    """
    sound = {
        "joint": "pump nuts",
        "thread": "5/16-24 UNF",
        "unit": "lbf.in",
        "least": "105",
        "greatest": "125",
        "threads_are": "lubricated",
        "lubricant": "oil.engine",
        "locking": "safety wire",
    }
    return {**sound, **cells}


_VIEW = {"what": "view", "name": "from the rear", "means": "as seen standing behind"}
_OIL = {"name": "as printed", "figure": "diameter"}
SOUND: Rows = {
    "orientation": {
        "front": _direction("rear"),
        "rear": _direction("front"),
        "up": _direction("down"),
        "down": _direction("up"),
        "left": _direction("right"),
        "right": _direction("left"),
        "view.rear": {**_VIEW, "looking": "front", "up": "up"},
    },
    "access": {
        "cover.cowl": {"name": "cowl"},
        "cover.pump": {"name": "pump cover", "behind": "cover.cowl", "part": "part.cover", "disturbs": "nut.1"},
    },
    "parts": {
        "part.cover": _part(behind="cover.cowl"),
        "part.housing": _part(behind="cover.pump"),
        "part.gear": _part(sold_in="set.pump", mates="part.housing-mate"),
        "part.shaft": _part(sold_in="set.pump", then_also="part.gear"),
        "part.housing-mate": _part(mates="part.gear"),
        "set.pump": _part(),
        "part.gasket": _part(single_use="yes"),
    },
    "inspections": {"look.housing": {"part": "part.housing", "what": "look"}},
    "sizes": {
        "size.bore": _size("part.housing", measure="bore", after="look.housing"),
        "size.taper": _size(
            "part.housing", kind="per length", amount="0.0005", per="1", over="size.depth", side="greatest", new_max=""
        ),
        "size.depth": _size("part.housing", measure="depth"),
        "size.gear": _size("part.gear", kind="multiple", times="2", of_row="size.bore", new_max=""),
    },
    "joints": {
        "nut.1": _position("pump nuts", "1", "0", "0"),
        "nut.2": _position("pump nuts", "2", "2", "0"),
        "nut.3": _position("pump nuts", "3", "2", "1"),
        "nut.4": _position("pump nuts", "4", "0", "1"),
        "post": _position("pump nuts", "", "1", "3", role="anchor"),
    },
    "torques": {"torque.pump": torque()},
    "steps": {
        "cowl-off": _step("teardown", opens="cover.cowl"),
        "pump-off": _step("teardown", opens="cover.pump", after="cowl-off"),
        "look": _step("inspect", inspections="look.housing"),
        "fit": _step("reassembly", joint="pump nuts", uses="oil.engine"),
        "pump-on": _step("reassembly", closes="cover.pump", after="fit"),
        "cowl-on": _step("reassembly", closes="cover.cowl", after="pump-on"),
    },
    "consumables": {"oil.engine": {"name": "oil", "specification": "as in the sump", "where_used": "threads"}},
    "oil_system": {
        "oil.pickup": {"element": "pickup", **_OIL, "from_node": "sump", "to_node": "pump", "value": "0.5 in"},
        "oil.pump": {
            **_OIL,
            "element": "pump",
            "from_node": "pump",
            "to_node": "gallery",
            "figure": "number of teeth",
            "value": "12",
        },
        "oil.main": {**_OIL, "element": "bearing", "from_node": "gallery", "to_node": "sump", "value": "2.0 in"},
        "oil.grade": {**_OIL, "element": "oil", "figure": "grade", "words": "as the placard says"},
    },
    "run_limits": {
        "run.idle": {"name": "oil pressure", "when": "hot idle", "unit": "psi", "least": "20", "greatest": "60"}
    },
    "follow_ups": {"again": {"name": "filter", "after_hours": "10 h"}},
}


def changed(changes: Rows) -> Draft:
    """Read the sound book with changes.

    Args:
        changes: Cells that stand instead or beside, by table and id; a blank cell is taken out, an unknown id is a new
            row, an empty row is taken out.

    Returns:
        The draft.
    """
    tables = {table: {row: dict(cells) for row, cells in SOUND.get(table, {}).items()} for table in TABLES}
    for table, rows in changes.items():
        for row, cells in rows.items():
            tables[table][row] = {**tables[table].get(row, {}), **cells} if cells else {}
    kept: dict[str, list[Mapping[str, str]]] = {
        table: [
            {name: text for name, text in {"id": row, "page": "4-1", **cells}.items() if text}
            for row, cells in rows.items()
            if cells
        ]
        for table, rows in tables.items()
    }
    return draft_kept({}, kept)
