"""What a person need not type: the next free tag, the digest of a row, a gauge's calibration; and what is asked.

A request that was recorded before is filled as it was then, so that sent twice it is the same act.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tenthbook.record.bench.crib import Crib
from tenthbook.record.book import Book
from tenthbook.record.job import JobState, as_it_counts, next_tag, question_about
from tenthbook.record.workup import WorkUp

Data = Mapping[str, Any]
_SEEN = ("cleaned", "inspected", "crack-tested", "finding seen")
_READINGS = ("reading taken", "question asked")


@dataclass(frozen=True, slots=True)
class Filling:
    """Fills in acts of one job.

    Attributes:
        state: The job as it stands.
        book: Gives its book.
        work: Gives the job worked up.
        crib: The shop's instruments.
    """

    state: JobState
    book: Callable[[], Book]
    work: Callable[[], WorkUp]
    crib: Crib

    def fill(self, kind: str, data: Data, request: str, day: str) -> tuple[str, Data]:
        """Fill an act in.

        Args:
            kind: Kind of the entry.
            data: Its fields as typed.
            request: The client's id for this request.
            day: The day of the act, such as 2026-10-02.

        Returns:
            Kind and fields; a reading that may be a slip has become a question.
        """
        known = self.state.by_request.get(request)
        before = known.data if known is not None else None
        if kind == "part removed" and not data.get("tag"):
            return kind, {**data, "tag": next_tag(self.state.tags) if before is None else str(before.get("tag", ""))}
        if kind == "gauge set":
            return kind, self.crib.as_set(data, day) if before is None else {**before, **data}
        if kind == "reading taken":
            return self._reading(data, known.kind if known is not None else "", before)
        if kind == "corrected":
            return kind, self._corrected(data, before)
        if kind == "disposed" and not data.get("rests_on"):
            return kind, {**data, "rests_on": self._grounds(data) if before is None else before["rests_on"]}
        return kind, data

    def _grounds(self, data: Data) -> list[int]:
        """What a disposition rests on: the verdict, what is forced, looks and findings of its part."""
        work = self.work()
        of = str(data.get("tag") or data.get("part", ""))
        grounds = {number for one in work.parts if one.part.tag == of for number in one.because.entries}
        grounds |= {number for one in work.consequences if one.of == of for number in one.because.entries}
        seen = (act for kind in _SEEN for act in self.state.acts_that_count(kind))
        grounds |= {act.entry for act in seen if of in (act.told["tag"], act.told.get("part"))}
        return sorted(number for number in grounds if self.state.counts(number))

    def _reading(self, data: Data, kind: str, before: Data | None) -> tuple[str, Data]:
        if "row_digest" not in data:
            size = self.book().sizes.get(str(data.get("row")))
            data = {**data, "row_digest": size.digest if size is not None else "0" * 64}
        if before is not None:
            return (kind, {**data, "asks": before["asks"]}) if kind == "question asked" else ("reading taken", data)
        question = question_about(self.state, self.book(), data)
        return ("question asked", {**data, "asks": question}) if question else ("reading taken", data)

    def _corrected(self, data: Data, before: Data | None) -> Data:
        if before is not None:
            return {**before, **data, "fields": {**before.get("fields", {}), **data.get("fields", {})}}
        number = data.get("entry")
        if not isinstance(number, int) or not 0 <= number <= self.state.number:
            return data
        if self.state.entries[number].kind not in _READINGS or not isinstance(data.get("fields"), Mapping):
            return data
        book, fields = self.book(), dict(data["fields"])
        if fields.get("row") in book.sizes and "row_digest" not in fields:
            fields["row_digest"] = book.sizes[fields["row"]].digest
        question = question_about(self.state, book, {**as_it_counts(self.state, number), **fields}, leaving_out=number)
        return {**data, "fields": fields, "asks": question or ""}
