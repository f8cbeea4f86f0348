"""What the script of the demonstration says: who, when, what was said, what was recorded, and what they saw."""

from __future__ import annotations

import tomllib
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from tenthbook.numbers.because import Fault, WrongInput, faults_of

_TIME = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class Line(_Strict):
    """One line: what somebody said, and what of it was recorded or seen."""

    at: str = Field(pattern=_TIME, description="when, UTC, such as 2026-10-02T09:15:00Z")
    who: str = Field(min_length=1, description="who, by role")
    says: str = Field(min_length=1, description="in the person's own words")
    does: str = Field(default="", description="kind of the entry recorded; nothing where nothing is")
    fields: dict[str, str] = Field(default={}, description="fields of the entry; a list has semicolons between")
    place: str = Field(default="", description="what is looked at: a row of the book, or the tag of a part")
    sees: str = Field(default="", description="the verdict seen there")
    foresees: str = Field(default="", description="a forecast seen there: what new parts would make")
    follows: str = Field(default="", description="what follows for the part looked at: forced, suspect or caution")
    is_asked: bool = Field(default=False, description="true where the book asks instead of taking the reading")
    refused: str = Field(default="", description="id of the rule that refuses it; nothing is then recorded")
    name: str = Field(default="", description="a name for its entry; later fields call it @name")


class Act(_Strict):
    """One act of the demonstration."""

    act: int = Field(ge=0, description="number of the act")
    title: str = Field(min_length=1, description="its title")
    lines: list[Line] = Field(min_length=1, description="its lines")


class Slip(_Strict):
    """A figure typed wrongly when the book was made."""

    row: str = Field(pattern=r"^[a-z_]+/.+$", description="the row, as table/id")
    column: str = Field(min_length=1, description="the column")
    typed: str = Field(min_length=1, description="what was typed")


class BookLine(_Strict):
    """One line of act 0: what somebody said, and what of the book was checked, mended or read again."""

    at: str = Field(pattern=_TIME, description="when, UTC, such as 2026-03-09T09:15:00Z")
    who: str = Field(min_length=1, description="who, by role")
    says: str = Field(min_length=1, description="in the person's own words")
    does: Literal["", "book checked", "row mended", "row read again"] = Field(default="", description="what is done")
    row: str = Field(default="", description="the row, as table/id")
    cells: dict[str, str] = Field(default={}, description="what was read again, by column")
    sees: str = Field(default="", description="rules that ask, or what came of the second reading")


class Making(_Strict):
    """Act 0: how the book was made."""

    title: str = Field(min_length=1, description="its title")
    slips: list[Slip] = Field(description="the slips that were typed")
    lines: list[BookLine] = Field(min_length=1, description="its lines")


class ShopLine(_Strict):
    """One line of the founding: what somebody said, and what of the shop or its tools was recorded."""

    at: str = Field(pattern=_TIME, description="when, UTC, such as 2026-02-02T09:15:00Z")
    who: str = Field(min_length=1, description="who, by role")
    says: str = Field(min_length=1, description="in the person's own words")
    does: str = Field(min_length=1, description="kind of the entry recorded")
    fields: dict[str, str | list[str]] = Field(default={}, description="fields of the entry")
    refused: str = Field(default="", description="id of the rule that refuses it; nothing is then recorded")


class Founding(_Strict):
    """How the shop came to its people, keys and instruments."""

    title: str = Field(min_length=1, description="its title")
    name: str = Field(min_length=1, description="name of the shop")
    phrase: str = Field(min_length=12, description="what closes the invented keys, before the person's name")
    lines: list[ShopLine] = Field(min_length=1, description="its lines")


class Script(_Strict):
    """The whole demonstration."""

    job: str = Field(min_length=1, description="id of the job")
    book: str = Field(min_length=1, description="folder of the book, beside the script")
    opened_at: str = Field(pattern=_TIME, description="when the job was opened, UTC")
    opened_by: str = Field(min_length=1, description="who opened it, by role")
    opened: dict[str, str | bool] = Field(description="fields of the entry that opens the job")
    founding: Founding | None = Field(default=None, description="people, keys and instruments of the shop")
    making: Making | None = Field(default=None, description="act 0: how the book was made")
    acts: list[Act] = Field(min_length=1, description="the acts in order")


def read_script(content: bytes) -> Script:
    """Read a script.

    Args:
        content: TOML in UTF-8.

    Returns:
        The script.

    Raises:
        WrongInput: not TOML, or lines that do not fit: all faults.
    """
    try:
        held: Any = tomllib.loads(content.decode("utf-8"))
        return Script.model_validate(held)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise WrongInput([Fault("script", str(error), "TOML in UTF-8")]) from error
    except ValidationError as error:
        records: Any = error.errors()
        raise WrongInput(faults_of(records, Script.model_json_schema())) from error
