"""Every computation by itself: a name, a typed input, a typed output, a pure function and one published example.

- `registry`: the names, what each answers, and where it lives; importing it imports no model, so listing is quick;
- `contract`: what a calculator is, and what reading an input, a batch and a fault mean for all of them;
- `answers`: an answer as it is printed: value, unit, text; whole numbers stay whole and decimals stay exact;
- one module a calculator.

The job calls the same functions of the inner rooms, so that a number here and a number there cannot differ.

A calculator reads no file and no book. One input is a batch of one: everything is computed as arrays. A fault names
its path, what stood there and what belongs there; all faults come at once, and one bad item refuses its batch.
"""

from tenthbook.faces.calculators.registry import NAMES, Listed, UnknownCalculator, load

__all__ = ["NAMES", "Listed", "UnknownCalculator", "load"]
