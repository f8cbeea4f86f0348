"""The tables of what the engine has and how large it may be: parts, sizes, fits, inspections."""

from __future__ import annotations

from tenthbook.record.book.columns import ENDING, FIGURE, ID, Column, Form

KINDS = (
    "absolute",
    "wear from new",
    "per diameter",
    "per length",
    "share of original",
    "multiple",
    "feel",
    "condition",
    "none",
    "one of",
    "not applicable",
)
SIZE_MEASURES = (
    "diameter",
    "bore",
    "depth",
    "width",
    "length",
    "height",
    "thickness",
    "gap",
    "step",
    "taper",
    "out-of-round",
    "run-out",
    "straightness",
    "flatness",
    "choke",
    "backlash",
    "end play",
    "tappet clearance",
    "angle",
    "spring load",
    "weight",
    "pressure",
    "torque",
)
FIT_MEASURES = ("clearance on diameter", "end clearance", "side clearance", "tight fit")
HAZARDS = (
    "sodium",
    "magnesium",
    "lead",
    "cadmium",
    "asbestos",
    "beryllium",
    "chromium plating",
    "flammable",
    "caustic",
)
MANDATORY_WHEN = ("overhaul", "removal", "cylinder removal", "case split", "propeller strike", "metal found")
_UNITS = ("length", "force", "mass", "angle", "pressure", "torque")


def _limits(number: Form) -> tuple[Column, ...]:
    """The columns that state a limit, and the same in a second unit where the manual prints two."""
    in_unit, in_other = ("unit",), ("other_unit",)
    return (
        Column(
            "kind",
            "kind of limit as the manual states it; none where it gives no limit (dashes, a blank)",
            needed=True,
            form=Form.WORD,
            of=KINDS,
        ),
        Column("unit", "unit the limits are printed in and judged in, such as in", True, Form.UNIT, _UNITS),
        Column(
            "new_min", "least for a new part, or the tightest new fit; blank: no limit given", False, number, in_unit
        ),
        Column(
            "new_max", "greatest for a new part, or the loosest new fit; blank: no limit given", False, number, in_unit
        ),
        Column("service_min", "least that may stay in service; blank: no limit given", False, number, in_unit),
        Column("service_max", "greatest that may stay in service; blank: no limit given", False, number, in_unit),
        Column(
            "amount",
            "wear from new: the wear allowed; per diameter, per length: what one `per` allows",
            False,
            Form.NUMBER,
            in_unit,
        ),
        Column("side", "which side wear moves or the rate limits", False, Form.WORD, ("greatest", "least")),
        Column(
            "reference",
            "wear from new: from where wear is counted, in the row's own words",
            False,
            Form.WORD,
            ("new greatest", "new least", "this part when new"),
        ),
        Column("per", "per diameter, per length: the length the amount is stated for", False, Form.NUMBER, in_unit),
        Column("over", "per diameter, per length: size row that is counted on", False, Form.ID, ("sizes",)),
        Column("per_cent", "share of original: change allowed, with its sign, such as +15", False, Form.PLAIN),
        Column("times", "multiple: the multiple", False, Form.PLAIN),
        Column("of_row", "multiple: the row it is a multiple of", False, Form.ID, ("sizes", "fits")),
        Column("ribbon", "feel: thickness of the ribbon", False, Form.NUMBER, in_unit),
        Column("condition", "condition: the condition in the manual's own words"),
        Column("list", "one of: the sizes to choose from", False, Form.NUMBERS, in_unit),
        Column("within", "one of: how far from a listed size still counts as it", False, Form.NUMBER, in_unit),
        Column(
            "reckoned",
            "full: on the diameter, the total, the dial's whole swing; half: on the radius, a side, half the swing",
            False,
            Form.WORD,
            ("full", "half"),
        ),
        Column(
            "other_unit",
            "second unit the manual prints beside the first; it is compared, never judged by",
            False,
            Form.UNIT,
            _UNITS,
        ),
        Column("other_new_min", "new_min as printed in the second unit", False, number, in_other),
        Column("other_new_max", "new_max as printed in the second unit", False, number, in_other),
        Column("other_service_min", "service_min as printed in the second unit", False, number, in_other),
        Column("other_service_max", "service_max as printed in the second unit", False, number, in_other),
        Column("other_amount", "amount as printed in the second unit", False, Form.NUMBER, in_other),
        Column("other_per", "per as printed in the second unit", False, Form.NUMBER, in_other),
        Column("safety", "yes where the row guards against failure in flight; else blank", False, Form.YES),
        Column("after", "inspections that must be closed before the size counts", False, Form.IDS, ("inspections",)),
        Column("at", "place or state it is measured in, such as: 0.25 in below the deck; loaded to 1.30 in"),
        *ENDING,
    )


REFERENCE = Column("ref", "reference number printed beside the row in the manual's table")
PARTS = (
    Column("id", "typed id of the part, never used again for another", needed=True),
    Column("name", "what the manual calls the part", needed=True),
    Column("number", "part number as printed"),
    Column("where_used", "assembly it belongs to", needed=True),
    Column("quantity", "how many of it one engine has", needed=True, form=Form.WHOLE),
    Column("position", "kept where the part must go back where it was; else blank", False, Form.WORD, ("kept",)),
    Column("behind", "cover that must be off to reach it; blank: none", False, Form.ID, ("access",)),
    Column("sold_in", "id of the set it is only sold in; blank: sold alone", False, Form.ID, ("parts",)),
    Column("single_use", "yes where it is never fitted twice", False, Form.YES),
    Column("mandatory_when", "when it is replaced whatever it measures", False, Form.WORDS, MANDATORY_WHEN),
    Column("life_limit", "running time after which it is replaced, such as 2000 h", False, Form.QUANTITY, ("time",)),
    Column("then_also", "parts that are replaced, or looked at, when this one is", False, Form.IDS, ("parts",)),
    Column(
        "mates", "parts it may run with, where not any will do, such as ring and barrel", False, Form.IDS, ("parts",)
    ),
    Column("material", "material and finish, in general words"),
    Column("hazards", "what can hurt in working, heating or scrapping it", False, Form.WORDS, HAZARDS),
    FIGURE,
    *ENDING,
)
SIZES = (
    ID,
    REFERENCE,
    Column("part", "id of the part that is measured", True, Form.ID, ("parts",)),
    Column("feature", "what is measured on it, such as outside diameter", needed=True),
    Column("measure", "kind of measure", False, Form.WORD, SIZE_MEASURES),
    *_limits(Form.NUMBER),
)
FITS = (
    ID,
    REFERENCE,
    Column("name", "what the manual calls the fit, such as end clearance", needed=True),
    Column("hole", "size row of the outer part: bore, bush, depth, groove", True, Form.ID, ("sizes",)),
    Column("shaft", "size row of the inner part: shaft, gear, width, ring", True, Form.ID, ("sizes",)),
    Column("measure", "kind of fit", False, Form.WORD, FIT_MEASURES),
    *_limits(Form.LETTERED),
)
INSPECTIONS = (
    ID,
    Column("part", "id of the part", True, Form.ID, ("parts",)),
    Column(
        "what",
        "what is done",
        True,
        Form.WORD,
        ("clean", "look", "crack test", "hardness test", "pressure test", "magnetism test"),
    ),
    Column(
        "method", "method and procedure as the manual names them, such as magnetic particle, circular and longitudinal"
    ),
    Column("looks_for", "what is looked for, and where"),
    Column("when", "when it must be done; blank: always", False, Form.WORDS, MANDATORY_WHEN),
    Column("demagnetise", "yes where the part is demagnetised afterwards and the residual field read", False, Form.YES),
    *ENDING,
)
