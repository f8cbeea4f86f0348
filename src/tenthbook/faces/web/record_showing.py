"""What the record of a job shows: a line an entry, what can still be signed, and what of an entry can be mended.

Goes in: a job's state, the people of the shop, and what was typed into a form that was refused. Comes out: texts and
lists, finished for the templates. Nothing is recorded here.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe

from tenthbook.record.bench.history import HistoryLine
from tenthbook.record.job import CORRECTABLE, JobState, as_it_counts
from tenthbook.record.job.state import Signature
from tenthbook.record.ledger import fingerprint, same_person

SIGNABLE = (
    "reading taken",
    "part removed",
    "gauge set",
    "disposed",
    "photographed",
    "question answered",
    "cleaned",
    "inspected",
    "crack-tested",
    "finding seen",
    "counted",
    "cover closed",
    "document answered",
)
"""Kinds of acts that a person signs for."""

_HASH = "[0-9a-f]{64}"
_PRINT = "(?:[0-9a-f]{4} ){9}[0-9a-f]{4}"
_TAG, _DAY = "[A-Z]+-[0-9][0-9-]*", "[0-9]{4}-[0-9]{2}-[0-9]{2}"
_APART = re.compile(rf"(\b(?:{_HASH}|{_PRINT}|{_TAG}|{_DAY})\b)")
"""What is set apart from words: a hash, a fingerprint, a tag, a day."""


def _letters(text: str) -> str:
    if text[0].isupper():
        return "num whole"
    return "whole" if text[4:5] == "-" else "fingerprint"


def set_in_letters(text: str) -> SafeString:
    """Set hashes and tags in the digits' letters, and keep tags and days on one line; the words stay as they are.

    Args:
        text: Any text.

    Returns:
        The same text, sign by sign, with what is set apart in elements of its own.
    """
    pieces = enumerate(_APART.split(text))
    return mark_safe(  # every piece is escaped here
        "".join(
            format_html('<span class="{}">{}</span>', _letters(piece), piece) if at % 2 else escape(piece)
            for at, piece in pieces
        )
    )


def time_text(text: str) -> str:
    """Write a time for a reader.

    Args:
        text: The time as recorded, such as 2026-10-02T08:00:00Z.

    Returns:
        For instance 2026-10-02 08:00:00 UTC.
    """
    return text.replace("T", " ").replace("Z", " UTC")


def _standing_signatures(state: JobState) -> Iterator[Signature]:
    return (one for one in state.signatures.values() if one.superseded_by < 0)


def _signed_by(state: JobState, number: int) -> list[str]:
    found = (one for one in _standing_signatures(state) if number in one.binds)
    return [
        f"signed in entry {one.entry}: {one.person}, {one.as_what}"
        + (", in doubt" if one.entry in state.doubted else "")
        for one in found
    ]


def show_line(state: JobState, line: HistoryLine, withheld: Mapping[str, str]) -> dict[str, Any]:
    """Show an entry, its numbers as text, so that no template writes them its own way.

    Args:
        state: The job.
        line: The entry in words.
        withheld: Why photographs were taken away, by their commitment.

    Returns:
        Its words, what became of it, who signed it, and whether a photograph can be shown.
    """
    signature, shot = state.signatures.get(line.number), state.photographs.get(line.number)
    is_late = line.recorded_at[:16] != line.acted_at[:16]
    return {
        **{name: getattr(line, name) for name in ("kind", "person", "counts", "hash", "acted_at")},
        "told": set_in_letters(line.told),
        "plain": line.told,
        "number": str(line.number),
        "at": time_text(line.acted_at),
        "recorded": time_text(line.recorded_at) if is_late else "",
        "marks": [{"words": set_in_letters(mark), "is_doubt": mark.startswith("IN DOUBT")} for mark in line.marks],
        "signed": _signed_by(state, line.number),
        "key": fingerprint(bytes.fromhex(signature.key)) if signature is not None else "",
        "photograph": shot is not None and shot.commitment not in withheld,
        "withheld": withheld.get(shot.commitment, "") if shot is not None else "",
        "can_mend": line.kind in CORRECTABLE and line.counts,
    }


def show_to_sign(
    state: JobState, lines: list[dict[str, Any]], person: str, chosen: Collection[str]
) -> list[dict[str, Any]]:
    """List what somebody can sign for, be it their own work or a second look.

    Args:
        state: The job.
        lines: Its entries as they are shown.
        person: Who signs.
        chosen: Numbers that were chosen before.

    Returns:
        The acts that count, are not in doubt, and are not bound by a signature of that person that stands.
    """
    own = [one for one in _standing_signatures(state) if same_person(one.person, person)]
    bound = {str(number) for one in own for number in one.binds}
    doubted = {str(number) for number in state.doubted}
    able = (one for one in lines if one["kind"] in SIGNABLE and one["counts"])
    return [{**one, "chosen": one["number"] in chosen} for one in able if one["number"] not in bound | doubted]


def show_anew(state: JobState, person: str) -> list[dict[str, Any]]:
    """List the signatures that their person should look at again.

    Args:
        state: The job.
        person: Who signs.

    Returns:
        A signature in doubt each, with the acts it binds that still stand.
    """
    return [
        {
            "number": str(one.entry),
            "as_what": one.as_what,
            "entries": [str(number) for number in one.binds if state.counts(number) and number not in state.doubted],
        }
        for one in _standing_signatures(state)
        if one.entry in state.doubted and same_person(one.person, person)
    ]


def show_mending(state: JobState, number: int, typed: Mapping[str, str]) -> dict[str, Any] | None:
    """Show what of an entry can be corrected, with the fields as they count or as they were typed.

    Args:
        state: The job.
        number: Number of the entry.
        typed: What was typed into the form before; empty where it is opened anew.

    Returns:
        The entry and its fields; None where nothing of it can be mended.
    """
    if not 0 <= number <= state.number or number in state.withdrawn or number in state.unknown:
        return None
    entry = state.entries[number]
    names = [name for name in CORRECTABLE.get(entry.kind, ()) if name != "row_digest"]
    counts = as_it_counts(state, number) if names else {}
    fields = [
        {"name": name, "words": name.replace("_", " "), "value": typed.get(name, counts.get(name, ""))}
        for name in names
    ]
    counted = {name: counts.get(name, "") for name in names}
    shown = {"number": str(number), "kind": entry.kind, "fields": fields, "reason": typed.get("reason", "")}
    return {**shown, "counts": counted}


def show_statement(text: str) -> list[dict[str, Any]]:
    """Show a statement line by line, so that each can be set apart; together they are the statement, sign by sign.

    Args:
        text: The statement.

    Returns:
        Its lines, each with its end, and whether it is a hash and nothing else.
    """
    return [
        {"text": set_in_letters(line), "is_hash": bool(re.fullmatch(_HASH, line.strip()))}
        for line in re.findall(r"[^\n]*\n|[^\n]+$", text)
    ]
