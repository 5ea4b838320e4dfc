"""The catalogue of slips and the list of outcomes: each slip is described once, and exercises name it by code."""

from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import StringConstraints

from tlib.documents import Record, read

__all__ = ["UNIT_IDEA", "Outcome", "Slip", "read_outcomes", "read_slips"]

UNIT_IDEA = "N11"
"""The slip that a unit alone can show: kW written for kWh, or the other way round."""

Line = Annotated[str, StringConstraints(min_length=3, max_length=300, strip_whitespace=True)]


class _SlipRecord(Record):
    topic: Line
    idea: Line
    feedback: Line
    method: Literal["all", "all but one", "none"]


class _SlipsFile(Record):
    format: Literal[1]
    slip: dict[Annotated[str, StringConstraints(pattern=r"^[NQT][0-9]{2,3}$")], _SlipRecord]


class _OutcomeRecord(Record):
    workbook: Annotated[str, StringConstraints(pattern=r"^[0-9]{2}$")]
    says: Line
    maps_to: tuple[str, ...] = ()


class _OutcomesFile(Record):
    format: Literal[1]
    outcome: dict[Annotated[str, StringConstraints(pattern=r"^[a-z0-9-]+\.[a-z0-9-]+$")], _OutcomeRecord]


@dataclass(frozen=True)
class Slip:
    """A wrong idea that shows in an answer.

    Attributes
    ----------
    code, topic : str
        Its code in the catalogue, and the subject it belongs to.
    idea : str
        The wrong idea, in one line.
    feedback : str
        The line for the learner.
    method : str
        The method marks its working would have earned: "all", "all but one" or "none".
    """

    code: str
    topic: str
    idea: str
    feedback: str
    method: str

    def method_marks(self, available):
        """Return how many of a part's method marks the slip's working would have earned."""
        return {"all": available, "all but one": max(available - 1, 0), "none": 0}[self.method]


@dataclass(frozen=True)
class Outcome:
    """What a learner can do afterwards; `maps_to` is for a tutor's own qualification."""

    id: str
    workbook: str
    says: str
    maps_to: tuple


def read_slips(path):
    """Return the slips of a file by code; raises `UnreadableDocument` with every fault."""
    slips = read(Path(path), _SlipsFile).slip
    return MappingProxyType({code: Slip(code, **record.model_dump()) for code, record in slips.items()})


def read_outcomes(path):
    """Return the outcomes of a file by id; raises `UnreadableDocument` with every fault."""
    outcomes = read(Path(path), _OutcomesFile).outcome
    return MappingProxyType({name: Outcome(name, **record.model_dump()) for name, record in outcomes.items()})
