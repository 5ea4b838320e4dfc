"""The fields that exercise files are made of: names, texts, numbers, units, sums and marks."""

from decimal import Decimal
from types import MappingProxyType
from typing import Annotated

from pydantic import BeforeValidator, Field, PlainValidator, StringConstraints

from tlib.assessment.formulas import Formula, parse
from tlib.assessment.quantities import UNITS
from tlib.documents import Record

__all__ = ["SITES", "Arithmetic", "Code", "FactMarks", "Hints", "Name", "Number", "Text", "UnitName", "printed_number"]

SITES = MappingProxyType({"larkrigg": "Larkrigg Farm", "quillbeck": "Quillbeck Hall", "tansy": "3 Tansy Wharf"})
"""The places of the stories."""


def _unit(name):
    if name not in UNITS:
        raise ValueError(f"{name!r} is not a unit that exercises use; they use: {', '.join(UNITS)}")
    return UNITS[name]


Number = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-1e9, le=1e9)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}$")]
Code = Annotated[str, StringConstraints(pattern=r"^[NQT][0-9]{2,3}$")]
UnitName = Annotated[object, BeforeValidator(_unit)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000, strip_whitespace=True)]
Hints = Annotated[tuple[Text, ...], Field(max_length=3)]
Arithmetic = Annotated[Formula, PlainValidator(parse)]


class FactMarks(Record):
    """The marks of a part in which something is either known or not."""

    fact: Annotated[int, Field(strict=True, ge=1, le=9)]


def printed_number(number):
    """Return a given number as the story prints it: no more figures than it has."""
    return f"{Decimal(repr(float(number))).normalize():,f}"
