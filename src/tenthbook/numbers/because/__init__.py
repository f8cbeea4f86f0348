"""Why: what every answer, refusal and rule of this book carries with it.

Three things live here, because every other room needs them and none may own them:

- `Because`: the derivation record. Which entries, which rows of the book (with page), which arithmetic as printed and
  which rule led to an answer. The command line, a page and a paper render the same record.
- `Rule` and `Register`: a rule as a pure predicate with an id, its source, plain words, one case that passes and one
  that fails. Tests, refusals, the documentation and `tenthbook why RULE` all come from the register.
- `Fault` and `TenthbookError`: what was found, what was expected, what to do next. A fault is a value (all are shown
  at once); an error is for misuse and stops the one who misused.

It computes nothing about engines and imports nothing of this project.
"""

from tenthbook.numbers.because.derivation import Because, BookRow
from tenthbook.numbers.because.errors import Fault, Refusal, Refused, TenthbookError, WrongInput
from tenthbook.numbers.because.forms import as_typed, faults_of
from tenthbook.numbers.because.rules import Register, Rule

__all__ = [
    "Because",
    "BookRow",
    "Fault",
    "Refusal",
    "Refused",
    "Register",
    "Rule",
    "TenthbookError",
    "WrongInput",
    "as_typed",
    "faults_of",
]
