"""How large is it, how sure are we, and does that decide: the gauge and its doubt.

The room in the order of the bench:

- `readings`: several readings, or a table of stations and directions, to one size, its spread and its form;
- `corrections`: the gauge's zero and drift against a master, readings as deviations, the warmth of the shop;
- `setting_errors`: what a tilted or off-axis gauge reads, run-out, twist;
- `slips`: questions about a missed turn or a wrong sign; they never propose a number;
- `shapes`: an error limit, a step, a certificate as a standard uncertainty;
- `budget` (with `correlation` and `distributions`): several doubts put together, with degrees of freedom and coverage
  factor;
- `rectangulars`: the exact width of a sum of a few error limits;
- `montecarlo` (with `draws` and `coverage`): the same by trials;
- `settling`: how many trials are enough, and whether the budget holds against them;
- `sizes`: what may stand for a size, and its margins to the limits;
- `conformity`: within, outside or undecided, how probably, and what would decide;
- `choice` and `gauge_ratio`: which gauge in the crib decides, and what a ratio of gauge to tolerance is worth;
- `risk` (with `process`): how often a gauge errs over a stream of parts;
- `faults`: one error for each misuse.

Everything here is a function of numbers: no typed text, no book, no file, no clock. Arrays broadcast, one part or ten
thousand alike. Sizes are exact where they are int64 picometres or exact objects (Decimal, Fraction); they are only
added, subtracted and compared. Uncertainties and probabilities are floats. Inputs stand on the last axis, readings too,
parts on the axes before. A verdict is a value, never an error; an error means that the question made no sense.
"""
