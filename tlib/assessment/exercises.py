"""The exercise file: what a tutor writes, read into frozen records."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field, PrivateAttr, StringConstraints, model_validator

from tlib.assessment.catalogue import UNIT_IDEA
from tlib.assessment.fields import SITES, Arithmetic, Name, Number, Text, UnitName
from tlib.assessment.parts import KINDS_OF_PART, AnyPart, known_kind
from tlib.documents import Record

__all__ = ["Exercise", "Given"]

_MOST_VALUES = 400


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


def _some_reference(references):
    if not references:
        raise ValueError("names no reference; give the key of the book or standard that the sum comes from")
    return references


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
    part: Annotated[tuple[Annotated[AnyPart, BeforeValidator(known_kind)], ...], Field(min_length=1, max_length=20)]
    _catalogue: Mapping = PrivateAttr(default_factory=lambda: MappingProxyType({}))

    def joined(self, catalogue):
        """Return this exercise with the catalogue's entry for each slip that marking it can name."""
        copy = self.model_copy()
        named = {code for part in self.part for _, code in KINDS_OF_PART[part.kind].codes(part)}
        codes = (named | {UNIT_IDEA}) & catalogue.keys()
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

    @cached_property
    def number_parts(self):
        """The parts whose answer is a number, in order."""
        return tuple(part for part in self.part if part.kind == "number")

    @property
    def safety(self):
        """Whether any part is about safety."""
        return any(part.safety for part in self.part)
