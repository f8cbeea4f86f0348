"""What a typed "1.2497 in" means: the number with its digits, the unit with its exact factor.

- `units` knows the units of the bench and what kind of thing each measures; the factors of inch, pound and their
  products are exact fractions;
- `typed` reads "NUMBER UNIT" and keeps every digit; it refuses decimal commas, missing units and numbers no instrument
  shows;
- `letters` reads and writes the trade's T (tight) and L (loose) behind a clearance;
- `fields` are the same things as fields of a form, with the fault and the schema of each;
- `arrays` turns lengths into int64 picometres for exact comparison of many at once (import it by its own name: it
  needs numpy).

A number keeps the digits it was typed with. Comparison is exact, whatever the two units. Nothing here rounds, except
`shown`, which says so. A temperature and a difference of temperatures are two things: only the first knows where zero
is.
"""

from tenthbook.numbers.quantity.letters import LetteredClearance, letter_of, lettered, read_lettered
from tenthbook.numbers.quantity.typed import Quantity, exact_decimal, plain, quantity, shown
from tenthbook.numbers.quantity.units import Unit, UnknownUnit, find_unit, kind_name

__all__ = [
    "LetteredClearance",
    "Quantity",
    "Unit",
    "UnknownUnit",
    "exact_decimal",
    "find_unit",
    "kind_name",
    "letter_of",
    "lettered",
    "plain",
    "quantity",
    "read_lettered",
    "shown",
]
