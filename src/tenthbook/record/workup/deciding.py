"""May this disposition be recorded, after all that was measured, seen and decided? The worst verdict rules.

What a fit lacks can be mended at either of its parts, so a fit beyond its limit refuses a part only until something is
decided for the other one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule
from tenthbook.numbers.limit import Grade
from tenthbook.numbers.limit.kinds import Condition, Feel, NoneGiven, NotApplicable
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.looks import scope_of
from tenthbook.record.workup.consequences import Consequence, indications
from tenthbook.record.workup.deciding_rules import (
    FIT_SETTLED,
    GONE,
    MEASURED,
    MENDED,
    NEW_STANDARD,
    RULES,
    WORST_VERDICT,
)
from tenthbook.record.workup.verdicts import FitVerdict, SizeVerdict
from tenthbook.record.workup.whole import WorkUp
from tenthbook.record.workup.words import headline


def _refused(rule: Rule, found: str, **case: Any) -> Iterator[Refusal]:
    if not rule.holds(**case):
        yield Refusal(rule.id, found, rule.says, rule.todo)


def _settled_by_fit(size: SizeVerdict, fits: Iterable[FitVerdict]) -> bool:
    """Whether a size that its own row gives no service limit for is settled by a fit that does."""
    open_ended = size.verdict.grade in (Grade.NO_LIMIT, Grade.UNDECIDED) and not size.size.limits.service.given
    names = [fit for fit in fits if size.size.id in (fit.fit.hole, fit.fit.shaft)]
    return open_ended and any(fit.verdict.grade is not Grade.NO_LIMIT for fit in names)


def _own(work: WorkUp, tag: str) -> list[SizeVerdict]:
    fits = [fit for fit in work.fits if tag in (fit.hole.part.tag, fit.shaft.part.tag)]
    own = [size for size in work.sizes if size.part.tag == tag]
    return [size for size in own if not _settled_by_fit(size, fits)]


def _open_fits(state: JobState, work: WorkUp, tag: str) -> list[FitVerdict]:
    decided = state.dispositions
    found = []
    for fit in work.fits:
        sides = [side.part.tag for side in (fit.hole, fit.shaft)]
        if tag in sides and fit.verdict.grade not in (Grade.NEW, Grade.SERVICE):
            other = sides[1] if sides[0] == tag else sides[0]
            if other not in decided or decided[other].word not in (*GONE, *MENDED):
                found.append(fit)
    return found


def _unmeasured(book: Book, state: JobState, tag: str) -> list[str]:
    part = state.parts[tag].part
    asked = (NotApplicable, NoneGiven, Feel, Condition)  # of a feel or a condition a person judges, by a look
    limited = (one for one in book.sizes_of(part) if not isinstance(one.said, asked))
    return [one.id for one in limited if not state.standing(tag, one.id)]


def forced_on(work: WorkUp, of: str) -> list[Consequence]:
    """List what is forced on a part.

    Args:
        work: The worked-up job.
        of: Tag of the part, or its id.

    Returns:
        The consequences.
    """
    return [one for one in work.consequences if one.of == of and one.force == "forced"]


def refuse_disposition(book: Book, state: JobState, work: WorkUp, data: Mapping[str, Any]) -> Iterator[Refusal]:
    """Judge a disposition by the verdicts and by what is forced.

    Args:
        book: The pinned book.
        state: The job.
        work: The same, worked up.
        data: Fields of the disposition.

    Yields:
        What it would break.
    """
    tag, word = data["tag"], data["disposition"]
    for one in forced_on(work, tag or data["part"]):
        if word not in (*one.words, "hold", "not disturbed", "looked at in place"):
            rule = RULES.find(one.because.rule)
            todo = rule.todo if rule is not None else ""
            found = f"{word} for {one.of} {one.name}, {one.says}"
            yield Refusal(one.because.rule, found, ", ".join(one.words), todo)
    scope = scope_of(state)
    standard = scope.told["standard"] if scope is not None else ""
    yield from _refused(NEW_STANDARD, f"{word}, scope {standard}", word=word, standard=standard)
    if tag in state.parts and not indications(state, tag):
        yield from _by_size(book, state, work, data)


def _by_size(book: Book, state: JobState, work: WorkUp, data: Mapping[str, Any]) -> Iterator[Refusal]:
    tag, word = data["tag"], data["disposition"]
    own = _own(work, tag)
    told = "; ".join(f"{one.name} {one.text}: {headline(one.verdict)}" for one in own)
    answered = bool(data["procedure"].strip())
    case = {"own": tuple(one.verdict.grade for one in own), "answered": answered}
    yield from _refused(WORST_VERDICT, f"{word} for {tag}: {told}", word=word, **case)
    fits = _open_fits(state, work, tag)
    told = "; ".join(f"{one.name} {one.text}: {headline(one.verdict)}" for one in fits)
    found = f"{word} for {tag}: {told}"
    yield from _refused(FIT_SETTLED, found, word=word, open_fits=tuple(one.fit.id for one in fits))
    left = tuple(_unmeasured(book, state, tag))
    yield from _refused(MEASURED, f"{word} for {tag} without {', '.join(left)}", word=word, unmeasured=left)
