"""Annex I (Part-M) to Regulation (EU) No 1321/2014: M.A.801(e), release to service; M.A.305, record system.

M.A.801(e), its AMC, M.A.305 and 145.A.50(a) were read, and AMC 145.A.48(b) for the critical task; that ML.A.801(f) of
Part-ML has the same list is from memory. What is compared is a list, a day or a yes or no; there is no tolerance.
"""

from __future__ import annotations

import dataclasses
import re

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.record.release import EUROPE, enter_until, entry_text, entry_to_sign, keep_until
from tests.filled_in import ALL_SIX, given_for

OF_M_A_801_E = {
    "description": "release.europe-description",
    "date": "release.europe-date",
    "issuer": "release.europe-issuer",
    "approval_reference": "release.europe-approval-reference",
    "limitations": "release.europe-limitations",
    "signature": "release.europe-signature",
}
OF_THE_REST = {
    "total_time": "release.europe-total-time",
    "incomplete": "release.europe-incomplete",
    "known_danger": "release.europe-known-danger",
    "rules": "release.europe-rules",
    "job": "release.pack-job",
    "head": "release.pack-head",
}


@pytest.mark.parametrize(("field", "rule"), (OF_M_A_801_E | OF_THE_REST).items())
def test_a_release_lacks_nothing(field: str, rule: str) -> None:
    """M.A.801(e) and its AMC (read): with any one field gone the release is refused, and that field is named."""
    assert entry_to_sign(EUROPE, given_for(EUROPE)).ready
    with pytest.raises(Refused) as caught:
        entry_to_sign(EUROPE, given_for(EUROPE, field))
    assert [(one.rule, bool(one.todo)) for one in caught.value.refusals] == [(rule, True)]


def test_incomplete_maintenance_is_released_with_its_limits_only() -> None:
    """M.A.801 (read): what is not completed stands on the release with the limits that hold until it is."""
    bare = entry_text(EUROPE, given_for(EUROPE, incomplete="second torque check"))
    assert [one.rule for one in bare.missing] == ["release.europe-incomplete-limits"]
    limited = {"incomplete": "second torque check", "incomplete_limits": "no flight before it"}
    lines = entry_to_sign(EUROPE, given_for(EUROPE, **limited)).lines
    assert "Limits while it is not completed: no flight before it" in lines


@pytest.mark.parametrize("known", ["crack in the mount", "none", "unknown"])
def test_nothing_is_released_with_a_known_danger(known: str) -> None:
    """M.A.801 and 145.A.50(a) (read): never with a condition known to endanger flight; only none known passes."""
    refused = entry_text(EUROPE, given_for(EUROPE, known_danger=known))
    assert [one.rule for one in refused.missing] == ["release.europe-known-danger"]


def test_the_place_of_the_rules_own_sentence() -> None:
    """The rule's sentence is the signer's to write: the entry has a marked place for it above the signature."""
    lines = entry_to_sign(EUROPE, given_for(EUROPE)).lines
    [place] = [number for number, line in enumerate(lines) if "as the rule words it: ____" in line]
    [signature] = [number for number, line in enumerate(lines) if line.startswith("Signature: ____")]
    assert place < signature
    assert any("carried out under Part-ML" in line for line in lines)


def test_the_work_pack_is_named_without_doubt() -> None:
    """AMC M.A.801 (read): a summary is enough where it refers to one work pack; the readings stay in the pack."""
    lines = entry_to_sign(EUROPE, given_for(EUROPE)).lines
    assert "Work pack: DF-7" in lines
    assert any(re.fullmatch("Head of its ledger: [0-9a-f]{64}", line) for line in lines)


def test_an_overhaul_names_its_independent_look() -> None:
    """AMC 145.A.48(b), M.A.402(h) (read): engine overhaul is a critical task, caught by another person's look."""
    bare = entry_text(EUROPE, dataclasses.replace(given_for(EUROPE), evidence=ALL_SIX))
    assert [one.rule for one in bare.missing] == ["release.europe-second-look"]
    looked = given_for(EUROPE, second_look="entry 50, inspector")
    assert entry_to_sign(EUROPE, dataclasses.replace(looked, evidence=ALL_SIX)).ready


@pytest.mark.parametrize(
    ("released", "last"), [("2026-11-30", "2026-12-30"), ("2027-01-31", "2027-03-02"), ("2028-01-31", "2028-03-01")]
)
def test_a_release_is_entered_within_thirty_days(released: str, last: str) -> None:
    """M.A.305 (read): as soon as can be, and within 30 days."""
    assert (enter_until(released).until, enter_until(released).because.rule) == (last, "keep.europe-entered")


@pytest.mark.parametrize(
    ("superseded", "until"),
    [("", ""), ("2027-11-20", "2029-11-30"), ("2029-11-30", "2029-11-30"), ("2031-01-02", "2031-01-02")],
)
def test_detailed_records_are_kept_thirty_six_months(superseded: str, until: str) -> None:
    """M.A.305 (read): until superseded, and 36 months at the least; while nothing supersedes it no day ends it."""
    assert keep_until("Europe, detailed", "2026-11-30", superseded).until == until
