"""How a job is shown on the command line: the same words as on pages and papers, a line each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from tenthbook.faces.cli.output import INVENTED
from tenthbook.numbers.because import BookRow
from tenthbook.record.bench.signing import record_words
from tenthbook.record.workup import NOTHING_OPEN, FitVerdict, PartVerdict, SizeVerdict, WorkUp, headline
from tenthbook.record.workup.still_open import name_of_part
from tenthbook.record.workup.words import word

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench

Judged = SizeVerdict | FitVerdict


def _place(judged: Judged) -> str:
    if isinstance(judged, SizeVerdict):
        return f"{judged.part.tag} {judged.size.feature}"
    return judged.fit.name


def _unit(judged: Judged) -> str:
    return judged.size.unit.name if isinstance(judged, SizeVerdict) else judged.fit.unit.name


def _all_judged(work: WorkUp) -> list[Judged]:
    return [*work.sizes, *work.fits]


def judged_lines(judged: Judged) -> list[str]:
    """Show one verdict and its reason.

    Args:
        judged: A size or a fit.

    Returns:
        The verdict, then the lines of its derivation, indented.
    """
    return [
        f"{_place(judged)} {judged.text} {_unit(judged)}: {headline(judged.verdict)}",
        *(f"    {line}" for line in judged.because.lines()),
    ]


def part_lines(part: PartVerdict) -> list[str]:
    """Show how a part stands and why.

    Args:
        part: The part's verdict.

    Returns:
        The verdict, then its reasons, indented.
    """
    return [f"{part.part.tag} {part.name}: {word(part.grade)}", *(f"    {line}" for line in part.because.lines())]


def verdict_lines(work: WorkUp, tag: str, row: str) -> list[str]:
    """Show what one feature's readings lead to.

    Args:
        work: The worked-up job.
        tag: Tag of the part.
        row: Id of the size row.

    Returns:
        The size's verdict and those of its fits, with their reasons.
    """
    size = work.size(tag, row)
    found: list[Judged] = [*([size] if size else []), *work.fits_of(tag, row)]
    return [line for judged in found for line in (*judged_lines(judged), *forecast_lines(judged))]


def forecast_lines(judged: Judged) -> list[str]:
    """Show what new parts would make of a fit.

    Args:
        judged: A size or a fit.

    Returns:
        A line a forecast, indented; nothing for a size.
    """
    return [f"    {one.line}" for one in judged.forecasts] if isinstance(judged, FitVerdict) else []


def _head_lines(bench: Bench, job: str) -> list[str]:
    state = bench.state(job)
    opened = state.opened
    strip = [INVENTED] if opened["invented"] else []
    return [
        *strip,
        f"{opened['engine']}, job {job}",
        f"{opened['reason']}",
        f"scope: {opened['scope']}",
        f"head: entry {state.number}, {state.head}",
    ]


def status_lines(bench: Bench, job: str) -> list[str]:
    """Show where a job stands.

    Args:
        bench: The bench.
        job: Id of the job.

    Returns:
        Its heading, every verdict with its reason, and how much is undone.
    """
    work = bench.work_up(job)
    lines = _head_lines(bench, job)
    for judged in _all_judged(work):
        lines += ["", *judged_lines(judged), *forecast_lines(judged)]
    for part in work.parts:
        lines += ["", *part_lines(part)]
    for following in (consequence_lines(work), disposition_lines(bench, job)):
        lines += ["", *following] if following else []
    told = record_words(bench, job)
    lines += ["", *told.standing, *(f"signed: {line}" for line in told.signatures), *told.keys]
    lines += [*unread_lines(bench.unread(job))]
    return [*lines, f"undone: {len(work.undone)}" if work.undone else NOTHING_OPEN]


def consequence_lines(work: WorkUp) -> list[str]:
    """Show what follows for each part: what is forced and not decided yet, what is suspect, what can hurt.

    Args:
        work: The worked-up job.

    Returns:
        A line each, then its reasons, indented.
    """
    waiting = [one for one in work.consequences if not one.met]
    return [
        line
        for one in waiting
        for line in (
            f"{one.force}: {one.of} {one.name}: {one.says}" + (f" ({' or '.join(one.words)})" if one.words else ""),
            *(f"    {reason}" for reason in one.because.lines()),
        )
    ]


def disposition_lines(bench: Bench, job: str) -> list[str]:
    """Show what becomes of each part.

    Args:
        bench: The bench.
        job: Id of the job.

    Returns:
        A line a part, as last decided, with who decided and whether it is in doubt.
    """
    state, book = bench.state(job), bench.book(job)
    lines = []
    for one in state.dispositions.values():
        name = name_of_part(book, state, one.of)
        doubt = "; IN DOUBT" if one.entry in state.doubted else ""
        lines.append(f"{one.of} {name}: {one.word} ({one.person}, entry {one.entry}): {one.reason}{doubt}")
    return lines


def unread_lines(rows: Sequence[BookRow]) -> list[str]:
    """Say which rows that verdicts rest on nobody read a second time.

    Args:
        rows: The rows.

    Returns:
        One line; none where every row was.
    """
    named = ", ".join(f"{row.row} (page {row.page})" for row in rows)
    return [f"UNVERIFIED, not read a second time: {named}"] if rows else []


def undone_lines(work: WorkUp) -> list[str]:
    """Show what is undone.

    Args:
        work: The worked-up job.

    Returns:
        A line each; or that nothing is open in this book.
    """
    if not work.undone:
        return [NOTHING_OPEN]
    return [
        f"{place}. {line.place}: {line.what} (rule {line.because.rule})" for place, line in enumerate(work.undone, 1)
    ]


def undone_data(work: WorkUp) -> list[dict[str, Any]]:
    """Give what is undone as data.

    Args:
        work: The worked-up job.

    Returns:
        Place, what and reason, one object a line.
    """
    return [{"place": line.place, "what": line.what, "because": line.because.lines()} for line in work.undone]


def status_data(bench: Bench, job: str) -> dict[str, Any]:
    """Give where a job stands as data.

    Args:
        bench: The bench.
        job: Id of the job.

    Returns:
        Heading, verdicts with their reasons, and what is undone.
    """
    state, work = bench.state(job), bench.work_up(job)
    verdicts = [
        {
            "place": _place(judged),
            "value": f"{judged.text} {_unit(judged)}",
            "verdict": headline(judged.verdict),
            "because": judged.because.lines(),
            "with_new_parts": [one.line for one in judged.forecasts] if isinstance(judged, FitVerdict) else [],
        }
        for judged in _all_judged(work)
    ]
    parts = [
        {"tag": part.part.tag, "name": part.name, "verdict": word(part.grade), "because": part.because.lines()}
        for part in work.parts
    ]
    head = {"job": job, "head": state.head, "entries": state.number + 1, **dict(state.opened)}
    unread = [{"row": row.row, "page": row.page, "digest": row.digest} for row in bench.unread(job)]
    told = record_words(bench, job)
    follows = [
        {"of": one.of, "force": one.force, "says": one.says, "words": one.words, "because": one.because.lines()}
        for one in work.consequences
        if not one.met
    ]
    decided = [
        {"of": one.of, "disposition": one.word, "reason": one.reason, "entry": one.entry}
        for one in state.dispositions.values()
    ]
    record = {"standing": told.standing, "signatures": told.signatures, "keys": told.keys}
    found = {"verdicts": verdicts, "parts": parts, "undone": undone_data(work), "not_read_again": unread}
    return {**head, **found, "follows": follows, "dispositions": decided, "record": record}
