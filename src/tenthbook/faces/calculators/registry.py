"""Which calculators there are: their names, what each answers, and the module that holds it."""

from __future__ import annotations

import difflib
import importlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tenthbook.numbers.because import Fault, TenthbookError

if TYPE_CHECKING:
    from tenthbook.faces.calculators.contract import Calculator


class UnknownCalculator(TenthbookError):
    """A name that no calculator has; it is told like any other fault, by its path."""

    def __str__(self) -> str:
        return str(Fault("name", self.found, self.expected))


@dataclass(frozen=True, slots=True)
class Listed:
    """A calculator in the list.

    Attributes:
        module: The module below this package that holds it, as `CALCULATOR`.
        answers: The question it answers, in one line.
    """

    module: str
    answers: str


NAMES: dict[str, Listed] = {
    "uncertainty": Listed("uncertainty", "how sure a sum of uncertain inputs is, by budget or by trials"),
    "size": Listed("size", "how large a feature is from its readings, its form, and how sure that is"),
    "verdict": Listed(
        "verdict", "whether a value lies within its limits, and whether the gauge's doubt lets it be said"
    ),
    "risk": Listed("risk", "how often a gauge accepts what is bad and refuses what is good"),
    "fit": Listed("fit", "how two measured parts go together: clearance, its doubt, its grade"),
    "fit-forecast": Listed("fit_forecast", "what new parts will make of a fit before they are ordered"),
    "iso-fit": Listed("iso_fit", "what sizes a class such as 25 H7/g6 allows"),
    "thermal-fit": Listed("thermal_fit", "how loose a fit is, cold and hot"),
    "pairing": Listed("pairing", "which part goes with which: by the worst pair, by the sum, or opposite masses"),
}


def load(name: str) -> Calculator:
    """Load a calculator by name.

    Args:
        name: One of `NAMES`.

    Returns:
        The calculator.

    Raises:
        UnknownCalculator: no such name; the nearest is offered.
    """
    if name not in NAMES:
        near = difflib.get_close_matches(name, NAMES, n=1)
        expected = f"did you mean {near[0]}?" if near else "one of " + ", ".join(NAMES)
        raise UnknownCalculator(found=f"calculator {name!r}", expected=expected)
    module = importlib.import_module(f"tenthbook.faces.calculators.{NAMES[name].module}")
    calculator: Calculator = module.CALCULATOR
    return calculator
