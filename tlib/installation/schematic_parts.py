"""What a schematic is made of: parts with numbered spots, pipes, names and coils, and the plan that holds them.

A plan can travel as a record of plain lists, numbers and texts, and nothing in it tells which part was planted.
"""

import json
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, StringConstraints, ValidationError, model_validator

from tlib.documents import Record
from tlib.validation import OutOfRange

__all__ = ["PAGE", "TANK", "Coil", "Label", "Part", "Pipe", "Plan", "Spot"]

PAGE = (700, 600)
"""Width and height of the page [px]."""
TANK = (300, 150, 384, 470)
"""Left, top, right and bottom of the tank [px]."""


def _whole(number):
    return int(number) if number == int(number) else number  # so that a drawing is the same after a journey


Pixels = Annotated[float, Field(ge=0, le=max(PAGE)), AfterValidator(_whole)]
Point = tuple[Pixels, Pixels]
Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Flow = Literal["log burner", "boiler", "sun", "spare PV", "hot water", "heating"]
Heat = Literal[
    "burner to store", "heat leak", "thermal valve", "boiler to store", "solar to store", "heating", "floor",
    "hot water",
]  # fmt: skip
Symbol = Literal[
    "", "flame", "ribs", "waves", "panel", "pump", "valve", "three-way", "one-way", "relief", "vessel", "tank", "tap",
    "sensor", "rod",
]  # fmt: skip


class Part(Record):
    """A part with its symbol and its numbered spot."""

    name: Words
    says: Words
    symbol: Symbol
    at: Point
    spot: Point
    size: Point = (70, 50)
    way: Literal[-1, 1] = 1
    is_upright: bool = False


class Pipe(Record):
    """A pipe through its corners, drawn in the line of its flow.

    What it carries are heat flows by the names that a result of `tlib.simulation` gives them.
    """

    flow: Flow
    points: Annotated[tuple[Point, ...], Field(min_length=2, max_length=50)]
    carries: tuple[Heat, ...] = ()


class Label(Record):
    """A word beside a part."""

    at: Point
    says: Words
    anchor: Literal["start", "middle", "end"]


class Coil(Record):
    """A coil in the tank, from its left to its right and from its lower to its upper end."""

    across: Point
    low: Pixels
    high: Pixels
    flow: Flow
    carries: tuple[Heat, ...] = ()


@dataclass(frozen=True)
class Spot:
    """A numbered place of a schematic."""

    number: int
    name: str
    """By which files and answers call it."""
    says: str
    """In words, as the list below the drawing has it."""


class Plan(Record):
    """What is to be drawn; every part is a numbered spot."""

    tank: tuple[Pixels, Pixels, Pixels, Pixels] = TANK
    parts: Annotated[tuple[Part, ...], Field(min_length=1, max_length=60)]
    pipes: Annotated[tuple[Pipe, ...], Field(max_length=60)]
    labels: Annotated[tuple[Label, ...], Field(max_length=60)]
    coils: Annotated[tuple[Coil, ...], Field(max_length=10)]

    @model_validator(mode="after")
    def _every_name_is_one_parts(self):
        names = [part.name for part in self.parts]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"more than one part is called {twice[0]!r}")
        return self

    @property
    def spots(self):
        """The numbered places, a tuple of `Spot` in the order of their numbers."""
        return tuple(Spot(number, part.name, part.says) for number, part in enumerate(self.parts, start=1))

    def record(self):
        """Return the plan as plain lists, numbers and texts, fit for JSON.

        Returns
        -------
        dict
            Which `from_record` reads. It tells what is drawn and not what of it was planted.
        """
        return self.model_dump(mode="json")

    @classmethod
    def from_record(cls, record):
        """Return the plan that a record holds.

        Parameters
        ----------
        record : dict
            As `record` writes it.

        Returns
        -------
        Plan
            Frozen and checked.

        Raises
        ------
        OutOfRange
            If the record is no plan, by the first thing wrong with it.
        """
        try:
            return cls.model_validate_json(json.dumps(record, allow_nan=False), strict=True)
        except ValidationError as problem:
            raise OutOfRange(f"the record is no plan of a schematic: {_first(problem)}") from None
        except (TypeError, ValueError, RecursionError):
            raise OutOfRange("the record is no plan of a schematic: it must be lists, numbers and texts.") from None


def _first(problem):
    """Return the first thing that a checker found, as a sentence."""
    error = problem.errors(include_url=False)[0]
    where = " ".join(str(step + 1 if isinstance(step, int) else step) for step in error["loc"])
    said = error["msg"].removeprefix("Value error, ")
    return f"{where}: {said[0].lower()}{said[1:]}." if where else f"{said[0].lower()}{said[1:]}."
