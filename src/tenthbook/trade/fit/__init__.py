"""How two parts go together: what they make now, what new ones will make, and which to put with which.

- `clearance`: hole less shaft, its doubt from both gauges, and its grade against new and service limits;
- `clearance_law`: how likely a clearance is when both sizes scatter;
- `forecast`: the least and greatest clearance that new parts will make, and the odds of each grade;
- `thermal`: the same fit hot or cold;
- `iso286` (with its tables and its formula): what a class such as 25 H7/g6 stands for;
- `pairing` and `selective`: which part with which, by the worst fit or by the sum; opposite masses; size groups;
- `shims`, `gears`, `rings`: end play from a list of shims, backlash at the pitch circle, a ring's gap at its depth;
- `lengths`: what counts as a length in an array; `faults`: one error for each misuse.

Sizes are exact where they are int64 picometres or exact objects, and are only added, subtracted and compared; odds and
uncertainties are floats. Clearance is hole less shaft: loose is positive, tight is negative. A blank limit is no limit.
Import the module that is needed: this package imports nothing by itself.
"""
