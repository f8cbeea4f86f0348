"""The tables of how it runs: the oil system, run limits, follow-ups."""

from __future__ import annotations

from tenthbook.record.book.columns import ENDING, ID, NAME, Column, Form

ELEMENTS = (
    "oil",
    "sump",
    "pickup",
    "pump",
    "screen",
    "filter",
    "bypass",
    "cooler",
    "thermostatic valve",
    "passage",
    "bearing",
    "metering hole",
    "jet",
    "relief valve",
    "gauge",
)
OIL_SYSTEM = (
    ID,
    Column("element", "what it is a figure of", True, Form.WORD, ELEMENTS),
    Column("name", "which one, such as main bearing 2", needed=True),
    Column("from_node", "place in the circuit the oil comes from"),
    Column("to_node", "place in the circuit the oil goes to"),
    Column("figure", "what the figure is, such as diameter, length, capacity, opening pressure", needed=True),
    Column("value", "the figure with its unit, as printed, such as 0.3125 in"),
    Column("words", "the figure where it is not a number, such as a grade of oil"),
    Column("from_row", "size or fit row that measures it, where there is one", False, Form.ID, ("sizes", "fits")),
    *ENDING,
)
RUN_LIMITS = (
    ID,
    Column("name", "what is watched, such as oil pressure", needed=True),
    Column("when", "at what speed, power and temperature it holds", needed=True),
    Column(
        "unit",
        "unit as printed",
        True,
        Form.UNIT,
        ("pressure", "temperature", "speed of rotation", "time", "volume flow", "mass", "volume", "plain number"),
    ),
    Column("least", "least; blank: no limit given", False, Form.NUMBER, ("unit",)),
    Column("greatest", "greatest; blank: no limit given", False, Form.NUMBER, ("unit",)),
    Column("step", "step of the run it belongs to", False, Form.ID, ("steps",)),
    Column("lasting", "how long the step is held, such as 5 min", False, Form.QUANTITY, ("time",)),
    Column("safety", "yes where the row guards against failure in flight; else blank", False, Form.YES),
    *ENDING,
)
FOLLOW_UPS = (
    ID,
    NAME,
    Column("after_hours", "running time after which it is due, such as 10 h", False, Form.QUANTITY, ("time",)),
    Column("after_days", "days after which it is due", False, Form.WHOLE),
    Column("looks_for", "what is looked at, and what counts as found"),
    Column("parts", "parts it looks at", False, Form.IDS, ("parts",)),
    *ENDING,
)
