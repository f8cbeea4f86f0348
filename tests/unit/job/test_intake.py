"""What is settled at intake: scope, times, documents, approvals, and who takes on a task."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.record.job.intake import priced, unanswered
from tenthbook.record.job.looks import happened, scope_of
from tenthbook.record.ledger import Entry
from tests.builders import Workplace

SCOPE = {
    "work": "repair",
    "standard": "to service limits",
    "manual": "Manual of the test engine",
    "revision": "1",
    "checked_current": "asked the holder on 1 October",
    "agreed_with": "the owner",
}
STRIKE = {"event": "propeller strike", "says": "the owner's word"}


@pytest.fixture
def place() -> Workplace:
    """A job with a shaft on the bench and a step seen in its slot, entry 3."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    place.record("finding seen", {"tag": tag, "term": "step", "place": "drive slot"})
    return place


def price(place: Workplace, amount: str) -> Entry:
    """Price extra work that the step asks for."""
    return place.record("finding priced", {"entry": 3, "work": "new bush", "price": amount})


def test_a_scope_holds_what_an_event_forces(place: Workplace) -> None:
    """After a strike, or one that nobody can rule out, a scope that does not hold its inspection is refused."""
    place.record("scope agreed", SCOPE)
    place.record("event answered", {**STRIKE, "answer": "not known"})
    assert place.refused("scope agreed", SCOPE) == ["scope.covers-events"]
    place.record("scope agreed", {**SCOPE, "covers": ["propeller strike"]})
    place.record("event answered", {**STRIKE, "answer": "no"})
    assert happened(place.state) == {}
    place.record("scope agreed", {**SCOPE, "work": "overhaul"})
    scope = scope_of(place.state)
    assert scope is not None
    assert scope.told["work"] == "overhaul"


@pytest.mark.parametrize(
    ("total", "since", "rules"),
    [
        ("1840.5 h", "640 h", []),
        ("1840.5 h", "", []),
        ("640 h", "640 h", []),
        ("1840.5", "", ["times.stated"]),
        ("1840.5 in", "", ["times.stated"]),
        ("640 h", "640.1 h", ["times.stated"]),
        ("-1 h", "", ["times.stated"]),
    ],
)
def test_running_times_are_times(place: Workplace, total: str, since: str, rules: list[str]) -> None:
    """A time has its unit, and what ran since overhaul ran in all."""
    told = {"of": "engine", "total": total, "since_overhaul": since, "read_from": "the log"}
    if rules:
        assert place.refused("times stated", told) == rules
    else:
        assert place.record("times stated", told).data["total"] == total


def listed(applies: str) -> dict[str, Any]:
    """A directive."""
    told = {"document": "directive", "number": "T-1", "subject": "pump shafts", "why": "its serial numbers"}
    return {**told, "applies": applies}


def test_a_directive_is_answered_once_and_only_where_it_applies(place: Workplace) -> None:
    """One that does not apply has its reason and needs no answer; one not known does."""
    one = place.record("document listed", listed("not known")).number
    other = place.record("document listed", listed("no")).number
    answer = {"answer": "done", "method": "part 2"}
    assert place.refused("document answered", {"entry": other, **answer}) == ["entry.answered-once"]
    made = place.record("document answered", {"entry": one, **answer})
    assert place.refused("document answered", {"entry": one, **answer}) == ["entry.answered-once"]
    place.record("withdrawn", {"entry": made.number, "reason": "wrong part of it"})
    assert list(unanswered(place.state, "document listed", "document answered")) == [one, other]
    place.record("document answered", {"entry": one, **answer})


def test_what_is_approved_stays_within_the_ceiling(place: Workplace) -> None:
    """Extra work is priced, then approved to the last cent of the ceiling; above it the owner is asked first."""
    place.record("owner approved", {"work": "pump", "ceiling": "1200.00 EUR", "by": "the owner", "how": "in writing"})
    yes = {"by": "the owner", "how": "by telephone"}
    place.record("extra finding approved", {"entry": price(place, "340.00 EUR").number, **yes})
    more = price(place, "860.01 EUR").number
    assert place.refused("extra finding approved", {"entry": more, **yes}) == ["price.within-ceiling"]
    other = price(place, "1.00 GBP").number
    assert place.refused("extra finding approved", {"entry": other, **yes}) == ["price.within-ceiling"]
    place.record("look declined", {"entry": more, "by": "the owner", "reason": "next winter"})
    assert list(priced(place.state)) == [other]
    place.record("extra finding approved", {"entry": price(place, "860.00 EUR").number, **yes})


def test_without_a_ceiling_nothing_is_above_it(place: Workplace) -> None:
    """Where the owner named none, each approval stands by itself."""
    place.record("owner approved", {"work": "pump", "by": "the owner", "how": "in writing"})
    yes = {"by": "the owner", "how": "by telephone"}
    place.record("extra finding approved", {"entry": price(place, "99999.00 EUR").number, **yes})


@pytest.mark.parametrize("amount", ["340", "340 euro", "340,00 EUR", "-3.00 EUR", "340.000 EUR"])
def test_a_price_is_a_number_with_its_currency(place: Workplace, amount: str) -> None:
    """Anything else is refused, in a ceiling too."""
    assert place.refused("finding priced", {"entry": 3, "work": "w", "price": amount}) == ["price.read"]
    ceiling = {"work": "w", "ceiling": amount, "by": "o", "how": "h"}
    assert place.refused("owner approved", ceiling) == ["price.read"]


@pytest.mark.parametrize("entry", [0, 1, 2, 99])
def test_extra_work_shows_why(place: Workplace, entry: int) -> None:
    """It names a finding, a reading or a look that counts."""
    assert place.refused("finding priced", {"entry": entry, "work": "w", "price": "1.00 EUR"}) == ["price.shown-by"]


def test_a_first_time_is_supervised_by_another(place: Workplace) -> None:
    """14 CFR 65.81(a), in general words: nobody stands beside themselves, in whatever spelling."""
    first = {"task": "pump overhaul", "before": "first time"}
    for supervisor in ("", "Mechanic "):
        assert place.refused("task taken on", {**first, "supervised_by": supervisor}) == ["task.supervised"]
    place.record("task taken on", {**first, "supervised_by": "inspector"})
    place.record("task taken on", {**first, "before": "done before"})


def test_an_answer_corrected_counts_as_corrected(place: Workplace) -> None:
    """A no that was a yes forces its scope from then on; the first answer stays visible."""
    entry = place.record("event answered", {**STRIKE, "answer": "no"}).number
    place.record("corrected", {"entry": entry, "fields": {"answer": "yes"}, "reason": "the owner remembers"})
    assert list(happened(place.state)) == ["propeller strike"]
    assert place.state.entries[entry].data["answer"] == "no"
    perhaps = {"entry": entry, "fields": {"answer": "perhaps"}, "reason": "x"}
    assert place.refused("corrected", perhaps) == ["corrected.field"]
