"""The entry of a job: filled in as far as the job knows, refused while a field is missing or anything is open."""

from __future__ import annotations

import pytest

from tenthbook.faces.story import StoryClock
from tenthbook.numbers.because import WrongInput
from tenthbook.record.bench import Bench
from tenthbook.record.bench.entry_of_job import entry_of_job
from tenthbook.record.ledger import MemoryStore
from tests.told import played, script

SIGNER = {
    "date": "2026-11-20",
    "approver": "the mechanic",
    "certificate_number": "123",
    "certificate_kind": "mechanic, powerplant",
    "signature": "in ink",
    "own_work": "yes",
    "repair.supercharger": "no",
    "repair.gearing": "none",
    "repair.structural": "no",
}


@pytest.fixture(scope="module")
def bench() -> Bench:
    """The demonstration, played."""
    clock = StoryClock()
    bench = Bench(MemoryStore(clock))
    played(script(), bench, clock)
    return bench


def test_the_job_fills_in_what_it_knows(bench: Bench) -> None:
    """Engine, data, pack, head, limits, word and work stand there; nobody has signed anything."""
    entry = entry_of_job(bench, "0417", "work", {})
    told = "\n".join(entry.text.lines)
    for words in (
        "NOT READY TO SIGN",
        "Invented data",
        "Engine: Dunlin Four 0417",
        "Word: repaired",
        "Limits used: service limits",
        "Total time in service: 1840.5 h",
        "oil pump drive shaft: to be replaced by answer 12 of the data holder",
        bench.state("0417").head,
    ):
        assert words in told
    assert "Signature: ____" not in told


def test_with_covers_off_nothing_is_approved(bench: Bench) -> None:
    """Every field filled in, and the open gate alone is in the way; there is no line to sign on."""
    entry = entry_of_job(bench, "0417", "work", SIGNER)
    assert [one.rule for one in entry.text.missing] == ["entry.nothing-open"]
    assert entry.opens
    assert "No line to sign on while anything is missing." in entry.text.lines


def test_an_entry_that_approves_nothing_records_the_work(bench: Bench) -> None:
    """With approved=no the work is recorded as far as it went, and says that it approves nothing."""
    signer = {name: text for name, text in SIGNER.items() if name.startswith(("date", "repair"))}
    entry = entry_of_job(bench, "0417", "work", {**signer, "approved": "no", "performer": "the mechanic"})
    assert entry.text.ready
    assert "This entry records work. It approves nothing for return to service." in entry.text.lines


@pytest.mark.parametrize("left_out", ["date", "certificate_kind", "certificate_number", "approver"])
def test_each_field_left_out_is_named(bench: Bench, left_out: str) -> None:
    """14 CFR 43.9: the kind of certificate is the one most often forgotten."""
    entry = entry_of_job(bench, "0417", "work", {name: text for name, text in SIGNER.items() if name != left_out})
    assert f"release.work-{left_out.replace('_', '-')}" in [one.rule for one in entry.text.missing]


@pytest.mark.parametrize(
    "typed", [{"colour": "red"}, {"repair.colour": "red"}, {"repair.gearing": "worm"}, {"repair.supercharger": "?"}]
)
def test_what_no_form_asks_is_named(bench: Bench, typed: dict[str, str]) -> None:
    """An unknown field, and an answer that is none."""
    with pytest.raises(WrongInput):
        entry_of_job(bench, "0417", "work", typed)
    with pytest.raises(WrongInput, match=r"work, inspection, europe, nz"):
        entry_of_job(bench, "0417", "letter", {})


def test_the_word_overhauled_is_not_earned(bench: Bench) -> None:
    """Asked for by the signer, it is refused for want of evidence, in its own line and in free text."""
    refused = [one.rule for one in entry_of_job(bench, "0417", "work", {**SIGNER, "word": "overhauled"}).text.missing]
    assert "word.six-verbs" in refused
    told = {**SIGNER, "description": "Engine overhauled"}
    assert "word.only-earned" in [one.rule for one in entry_of_job(bench, "0417", "work", told).text.missing]
