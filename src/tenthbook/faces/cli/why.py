"""`tenthbook why`: what a rule says, where it comes from, and its two cases."""

from __future__ import annotations

import difflib
from typing import Any

import click

from tenthbook.faces.cli.output import MISUSE, say, say_json, tell
from tenthbook.numbers.because import Rule


def _plain(value: Any) -> str:
    if isinstance(value, list | tuple):
        return " and ".join(_plain(item) for item in value)
    return str(getattr(value, "word", value))


def _as_data(rule: Rule) -> dict[str, Any]:
    cases = {"passes": rule.passes, "fails": rule.fails}
    shown = {name: {field: _plain(value) for field, value in case.items()} for name, case in cases.items()}
    return {"rule": rule.id, "says": rule.says, "source": rule.source, "todo": rule.todo, **shown}


def _lines(rule: Rule) -> list[str]:
    def case(values: Any) -> str:
        return ", ".join(f"{name} {_plain(value)}" for name, value in values.items())

    lines = [
        rule.id,
        f"  {rule.says}",
        f"  source: {rule.source}",
        f"  passes: {case(rule.passes)}",
        f"  fails:  {case(rule.fails)}",
    ]
    return [*lines, f"  then:   {rule.todo}"] if rule.todo else lines


@click.command(name="why")
@click.argument("rule", required=False)
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
def command(rule: str | None, as_json: bool) -> None:
    """Explain RULE, or list every rule."""
    from tenthbook.record.bench import all_rules

    register = all_rules()
    if rule is None:
        chosen = sorted(register, key=lambda one: one.id)
    else:
        found = register.find(rule)
        if found is None:
            near = difflib.get_close_matches(rule, [one.id for one in register], n=1)
            hint = f"did you mean {near[0]}?" if near else "a rule's id; tenthbook why lists them"
            tell(f"found rule {rule!r}; expected {hint}")
            raise SystemExit(MISUSE)
        chosen = [found]
    if as_json:
        say_json([_as_data(one) for one in chosen])
    elif rule is None:
        say("\n".join(f"{one.id:26} {one.says}" for one in chosen))
    else:
        say("\n".join(_lines(chosen[0])))
