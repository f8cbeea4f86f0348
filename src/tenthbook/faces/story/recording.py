"""Records the lines of the script: what each does, under the story's own request ids, keys and salts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.faces.photographs import look
from tenthbook.faces.story.clock import TurnedOutOtherwise
from tenthbook.faces.story.founding import invented_bytes, invented_key
from tenthbook.faces.story.script import Line
from tenthbook.numbers.because import Refused
from tenthbook.record.bench import Bench
from tenthbook.record.bench.signing import sign_statement, state_what_is_signed
from tenthbook.record.job import fields_from_text
from tenthbook.record.ledger import Entry, public_key_of


class Playing:
    """One playing of the script's job."""

    def __init__(self, bench: Bench, job: str, photographs: Mapping[str, bytes]) -> None:
        """Begin.

        Args:
            bench: Where it is played.
            job: Id of the job.
            photographs: Bytes of the script's photographs by file name.
        """
        self._bench = bench
        self._job = job
        self._photographs = photographs
        self._named: dict[str, int] = {}

    def record(self, line: Line, request: str, place: str) -> tuple[str, tuple[str, ...]]:
        """Record a line.

        Args:
            line: The line, which does something.
            request: Its request id.
            place: Where it stands in the script, for a fault.

        Returns:
            What the book asked about it, if it asked; and what it told besides.

        Raises:
            TurnedOutOtherwise: a line that should be refused is recorded, or another rule refuses it.
        """
        act = {"person": line.who, "request": request, "acted_at": line.at}
        try:
            entry = self._entry(line, act)
        except Refused as refused:
            if line.refused not in [one.rule for one in refused.refusals]:
                raise
            return "", tuple(f"refused: {one}" for one in refused.refusals)
        if line.refused:
            raise TurnedOutOtherwise(found=f"{line.does} recorded in {place}", expected=f"refused by {line.refused}")
        if line.name:
            self._named[line.name] = entry.number
        doubted = [number for number, by in self._bench.state(self._job).doubted.items() if entry.number in by]
        told = (f"in doubt since: entry {', '.join(map(str, doubted))}",) if doubted else ()
        return (str(entry.data["asks"]) if entry.kind == "question asked" else ""), told

    def _numbers(self, text: str) -> list[int]:
        return [self._named[name.removeprefix("@")] for name in text.split()]

    def _photograph(self, name: str) -> bytes:
        if name not in self._photographs:
            raise TurnedOutOtherwise(
                found=f"no photograph {name}",
                expected=" or ".join(sorted(self._photographs)) or "photographs beside the script",
                todo="put it there, or mend the script",
            )
        return self._photographs[name]

    def _entry(self, line: Line, act: Mapping[str, str]) -> Entry:
        bench, job, fields = self._bench, self._job, dict[str, Any](line.fields)
        if line.does == "signed":
            return self._sign(line, act)
        if line.does == "photographed":
            content = self._photograph(fields.pop("file"))
            seen = look(content)
            known = {"media_type": seen.media_type, "taken_at": seen.taken_at}
            salt = invented_bytes(f"salt of {act['request']}", 32)
            return bench.photograph(job, salt, content, {**fields, **known}, act)
        if line.does == "corrected":
            (number,) = self._numbers(fields.pop("of"))
            return bench.record(
                job, line.does, {"entry": number, "reason": fields.pop("reason"), "fields": fields}, **act
            )
        if line.does == "question answered":
            fields["entry"] = str(max(bench.state(job).questions, default=-1))
        named = {name: text for name, text in fields.items() if text.startswith("@")}
        fields |= {name: ";".join(map(str, self._numbers(text))) for name, text in named.items()}
        return bench.record(job, line.does, fields_from_text(line.does, fields), **act)

    def _sign(self, line: Line, act: Mapping[str, str]) -> Entry:
        """Review the statement and sign it with the invented key of whoever speaks."""
        bench, job, fields = self._bench, self._job, line.fields
        numbers, as_what = self._numbers(fields["binds"]), fields["as_what"]
        (supersedes,) = self._numbers(fields["supersedes"]) if "supersedes" in fields else (-1,)
        statement = state_what_is_signed(bench.state(job), job, line.who, numbers, as_what, supersedes)
        secret = invented_key(line.who)

        def key() -> tuple[bytes, bytes]:
            return secret, public_key_of(secret)

        return sign_statement(bench, job, statement.digest, numbers, as_what, key, act, supersedes)
