"""What a calculator is, and what input, batch and fault mean for all of them."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, GetJsonSchemaHandler, TypeAdapter, ValidationError, model_validator
from pydantic_core import CoreSchema
from typing_extensions import TypedDict

from tenthbook.numbers.because import Fault, WrongInput, faults_of

Document = dict[str, Any]


class Part(BaseModel):
    """What every object inside an input shares: strict, no unknown field, and null in an optional field is no entry."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)

    @model_validator(mode="before")
    @classmethod
    def _without_nulls(cls, typed: Any) -> Any:
        if not isinstance(typed, dict) or not any(value is None for value in typed.values()):
            return typed
        fields = cls.model_fields
        return {
            name: value
            for name, value in typed.items()
            if value is not None or name not in fields or fields[name].is_required()
        }

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> Document:
        """Say in the schema as well that every optional field may be null."""
        schema = handler(core)
        held = handler.resolve_ref_schema(schema)
        needed = held.get("required", ())
        for name, field_form in held.get("properties", {}).items():
            if name not in needed:
                held["properties"][name] = _or_null(field_form)
        return schema


def _or_null(form: Document) -> Document:
    """A field's form with null beside what it took before."""
    options = form.get("anyOf")
    if options is not None:
        return form if {"type": "null"} in options else {**form, "anyOf": [*options, {"type": "null"}]}
    about: Document = {name: form[name] for name in ("default", "description", "title") if name in form}
    return {"anyOf": [{name: form[name] for name in form if name not in about}, {"type": "null"}], **about}


class Input(Part):
    """What every calculator's input shares."""

    units: Literal["inch", "metric"] | None = Field(
        default=None, description='"inch" or "metric"; without it the family of the first quantity'
    )


class Warned(TypedDict):
    """What an answer outside its stated validity carries."""

    code: str
    text: str


@dataclass(frozen=True, slots=True)
class Example:
    """A published example.

    Attributes:
        id: Its id.
        source: Where it was published, and whether it was read there or is from memory.
        input: The input.
        published: The part of the answer that was published.
    """

    id: str
    source: str
    input: Document
    published: Document


@dataclass(frozen=True, slots=True)
class Calculator:
    """One calculator.

    Attributes:
        name: Its name.
        input: The form of one input.
        output: The form of one answer, a TypedDict.
        compute: Answers a whole batch, as arrays.
        example: One published example.
        check: What one input's fields owe each other: its faults.
        working: Writes one answer's arithmetic in the input's own numbers, a line a step, its sources last.
    """

    name: str
    input: type[Input]
    output: type
    compute: Callable[[Sequence[Any]], list[Document]]
    example: Example
    check: Callable[[Any], list[Fault]] = field(default=lambda _item: [])
    working: Callable[[Any, Document], list[str]] = field(default=lambda _item, _answer: [])

    def read(self, item: Any, prefix: str = "") -> tuple[Input | None, list[Fault]]:
        """Read one input.

        Args:
            item: The object as it came.
            prefix: Path of the item in its batch; empty for a single one.

        Returns:
            The input, or None and all that is wrong with it.
        """
        faults: list[Fault] = []
        held: Input | None = None
        if not isinstance(item, dict):
            faults = [Fault("", type(item).__name__, "an object of the calculator's fields")]
        else:
            try:
                held = self.input.model_validate(item)
                faults = self.check(held)
            except ValidationError as error:
                records: Any = error.errors()
                faults = faults_of(records, self.input.model_json_schema())
        if prefix:
            faults = [fault.under(prefix) for fault in faults]
        return held, faults

    def run(self, document: Any) -> Document:
        """Answer one input, or a batch.

        Args:
            document: One object of the calculator's fields, or {"batch": [objects]}.

        Returns:
            One answer, or {"batch": [answers]} in the same order.

        Raises:
            WrongInput: every fault, each with its path; one bad item refuses the batch.
        """
        is_batch = isinstance(document, dict) and "batch" in document
        items = document["batch"] if is_batch else [document]
        if is_batch and (set(document) != {"batch"} or not isinstance(items, list)):
            raise WrongInput(
                [Fault("batch", "a batch beside other fields, or no list", "nothing but batch, a list of inputs")]
            )
        read = [self.read(item, f"batch.{place}" if is_batch else "") for place, item in enumerate(items, 1)]
        faults = [fault for _, item_faults in read for fault in item_faults]
        if faults:
            raise WrongInput(faults)
        answers = self.compute([held for held, _ in read]) if read else []
        return {"batch": answers} if is_batch else answers[0]

    def worked(self, document: Any) -> tuple[Document, list[str]]:
        """Answer one input, and show how.

        Args:
            document: One object of the calculator's fields.

        Returns:
            The answer of `run`, and its working.

        Raises:
            WrongInput: every fault, each with its path.
        """
        held, faults = self.read(document)
        if held is None or faults:
            raise WrongInput(faults)
        [answer] = self.compute([held])
        return answer, self.working(held, answer)

    def shown_example(self) -> Document:
        """Give the example with its computed answer.

        Returns:
            Id, source, input and output.
        """
        return {
            "id": self.example.id,
            "source": self.example.source,
            "input": self.example.input,
            "output": self.run(self.example.input),
        }

    def schema(self) -> Document:
        """Give the forms of input and answer as JSON Schema.

        Returns:
            Input and output.
        """
        return {"input": self.input.model_json_schema(), "output": TypeAdapter(self.output).json_schema()}


def _once(pairs: list[tuple[str, Any]]) -> Document:
    held = dict(pairs)
    if len(held) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise WrongInput([Fault(twice, "the field twice in one object", "each field once")])
    return held


def _no_constant(text: str) -> None:
    raise WrongInput([Fault("", text, "a finite number")])


def parse(text: str | bytes) -> Any:
    """Read the JSON of an input.

    Args:
        text: JSON text in UTF-8.

    Returns:
        The document.

    Raises:
        WrongInput: not JSON, a field twice in one object, or a number that is not finite.
    """
    try:
        return json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise WrongInput([Fault("", str(error) or "nesting without end", "one JSON object")]) from error
