"""The exercise file: what a tutor writes, read into frozen records."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainValidator,
    PrivateAttr,
    StringConstraints,
    model_validator,
)

from tlib.assessment.formulas import Formula, parse
from tlib.assessment.quantities import UNITS
from tlib.documents import Record

__all__ = [
    "SITES",
    "UNIT_IDEA",
    "DeclaredSlip",
    "Exercise",
    "Given",
    "Marks",
    "Part",
    "Possible",
    "Within",
    "printed_number",
]

SITES = {"larkrigg": "Larkrigg Farm", "quillbeck": "Quillbeck Hall", "tansy": "3 Tansy Wharf"}
"""The places of the stories."""

UNIT_IDEA = "N11"
"""The slip that a unit alone can show: kW written for kWh, or the other way round."""

_MOST_VALUES = 400


def _unit(name):
    if name not in UNITS:
        raise ValueError(f"{name!r} is not a unit that exercises use; they use: {', '.join(UNITS)}")
    return UNITS[name]


Number = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-1e9, le=1e9)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}$")]
UnitName = Annotated[object, BeforeValidator(_unit)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000, strip_whitespace=True)]
Arithmetic = Annotated[Formula, PlainValidator(parse)]


def printed_number(number):
    """Return a given number as the story prints it: no more figures than it has."""
    return f"{Decimal(repr(float(number))).normalize():,f}"


class Given(Record):
    """One number of the story: fixed, one of a list, or one step of a ladder."""

    unit: UnitName
    value: Number | None = None
    choose: tuple[Number, ...] | None = None
    start: Number | None = Field(None, alias="from")
    to: Number | None = None
    step: Annotated[Number, Field(gt=0)] | None = None

    @model_validator(mode="after")
    def _one_form(self):
        ladder = (self.start, self.to, self.step)
        forms = [self.value is not None, self.choose is not None, any(end is not None for end in ladder)]
        if sum(forms) != 1 or (forms[2] and None in ladder):
            raise ValueError("give value, or choose, or from with to and step")
        if self.choose is not None and not 1 <= len(self.choose) <= _MOST_VALUES:
            raise ValueError(f"choose lists 1 to {_MOST_VALUES} values")
        if forms[2]:
            steps = (Decimal(repr(self.to)) - Decimal(repr(self.start))) / Decimal(repr(self.step))
            if steps < 0 or steps >= _MOST_VALUES or steps != int(steps):
                raise ValueError(f"from must reach to in whole steps, at most {_MOST_VALUES} values")
        return self

    @property
    def values(self):
        """Every value it can take, in order, as printed numbers."""
        if self.value is not None:
            return (self.value,)
        if self.choose is not None:
            return self.choose
        start, step = Decimal(repr(self.start)), Decimal(repr(self.step))
        return tuple(float(start + step * count) for count in range(int((Decimal(repr(self.to)) - start) / step) + 1))


class Within(Record):
    """How far an answer may lie from the right one: a share of it, an amount in its unit, or not at all."""

    relative: Annotated[Number, Field(gt=0, le=0.5)] | None = None
    absolute: Annotated[Number, Field(gt=0)] | None = None
    exact: Literal[True] | None = None
    because: Annotated[str, StringConstraints(min_length=5, max_length=200, strip_whitespace=True)]

    @model_validator(mode="after")
    def _some_form(self):
        if self.exact is None and self.relative is None and self.absolute is None:
            raise ValueError("give relative, absolute or exact = true")
        if self.exact and (self.relative is not None or self.absolute is not None):
            raise ValueError("exact stands alone")
        return self

    def around(self, number):
        """Return the tolerance around a number, in the same unit."""
        if self.exact:
            return 1e-9 * max(abs(number), 1.0)
        return max(self.absolute or 0.0, (self.relative or 0.0) * abs(number))


class Marks(Record):
    """The marks of a part, by kind."""

    method: Annotated[int, Field(strict=True, ge=0, le=9)] = 0
    accuracy: Annotated[int, Field(strict=True, ge=0, le=9)] = 0
    unit: Annotated[int, Field(strict=True, ge=0, le=1)] = 0
    fact: Annotated[int, Field(strict=True, ge=0, le=9)] = 0

    @model_validator(mode="after")
    def _some(self):
        if not self.total:
            raise ValueError("a part must carry at least one mark")
        if self.accuracy and not self.method:
            raise ValueError("an accuracy mark needs a method mark")
        return self

    @property
    def total(self):
        """All of them."""
        return self.method + self.accuracy + self.unit + self.fact


class Possible(Record):
    """The ends between which an answer can be true at all, in the part's unit."""

    at_least: Number | None = None
    at_most: Number | None = None


def _some_reference(references):
    if not references:
        raise ValueError("names no reference; give the key of the book or standard that the sum comes from")
    return references


class DeclaredSlip(Record):
    """A slip that this part looks for: its code, and what it gives on the printed numbers."""

    code: Annotated[str, StringConstraints(pattern=r"^[NQT][0-9]{2,3}$")]
    value: Arithmetic
    near: Literal["right"] | None = None


class Part(Record):
    """One question of an exercise."""

    name: Name
    kind: Literal["number"]
    ask: Text
    answer: Arithmetic
    unit: UnitName
    within: Within
    marks: Marks = Marks(method=1, accuracy=1, unit=1)
    slips: Annotated[tuple[DeclaredSlip, ...], Field(max_length=30)] = ()
    hints: Annotated[tuple[Text, ...], Field(max_length=3)] = ()
    working: Text | None = None
    possible: Possible = Possible()
    safety: bool = False

    @model_validator(mode="before")
    @classmethod
    def _known_kind(cls, data):
        if isinstance(data, dict) and data.get("kind", "number") != "number":
            raise ValueError(f'kind {data["kind"]!r} is not a kind that can be marked; write kind = "number"')
        return data


class Exercise(Record):
    """One exercise as its file gives it; `part` and `given` keep the file's own names."""

    format: Literal[1]
    id: Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{1,59}$")]
    version: Annotated[int, Field(strict=True, ge=1, le=9999)]
    workbook: Annotated[str, StringConstraints(pattern=r"^[0-9]{2}$")]
    outcome: str
    level: Annotated[int, Field(strict=True, ge=1, le=3)]
    site: Literal[tuple(SITES)]
    written_by: Text
    checked_by: str = ""
    date: datetime.date | None = None
    references: Annotated[tuple[Text, ...], AfterValidator(_some_reference)]
    story: Text
    given: Annotated[dict[Name, Given], AfterValidator(MappingProxyType)] = Field(
        default_factory=dict, validate_default=True
    )
    needs: Annotated[tuple[Arithmetic, ...], Field(max_length=10)] = ()
    part: Annotated[tuple[Part, ...], Field(min_length=1, max_length=20)]
    _catalogue: Mapping = PrivateAttr(default_factory=lambda: MappingProxyType({}))

    def joined(self, catalogue):
        """Return this exercise with the catalogue's entry for each slip that marking it can name."""
        copy = self.model_copy()
        codes = ({slip.code for part in self.part for slip in part.slips} | {UNIT_IDEA}) & catalogue.keys()
        copy._catalogue = MappingProxyType({code: catalogue[code] for code in sorted(codes)})
        return copy

    @property
    def catalogue(self):
        """The catalogue's entries for the slips it names, by code."""
        return self._catalogue

    @property
    def parts(self):
        """The parts in order, by name."""
        return {part.name: part for part in self.part}

    @property
    def safety(self):
        """Whether any part is about safety."""
        return any(part.safety for part in self.part)
