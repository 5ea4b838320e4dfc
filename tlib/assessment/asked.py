"""An exercise as a learner meets it: no formula, no answer, no slip, no rubric."""

from dataclasses import dataclass
from string import ascii_uppercase

__all__ = ["LETTERS", "Question", "QuestionPart"]

LETTERS = ascii_uppercase
"""The names that options and steps have on the page and on paper, in the order shown."""


@dataclass(frozen=True)
class QuestionPart:
    """One part as a learner meets it.

    Attributes
    ----------
    name, ask : str
        The part, and what is asked.
    unit : str
        The unit of a number, for people; empty for other kinds.
    marks : int
        What it is worth.
    hints : tuple of str
        In the order in which they may be taken.
    safety : bool
        Whether it is about safety.
    kind : str
        One of `tlib.assessment.parts.KINDS_OF_PART`.
    things : tuple of str
        The options or steps, in the order in which this learner sees them: the first is A.
    several : bool
        Whether more than one option may be ticked.
    tests : tuple of str
        Of a logged day, the tests to choose from; the first is 1.
    picture : mapping or None
        What is drawn for it, as its kind and a hand-out write it; None for none, or where it is not drawn yet.
    """

    name: str
    ask: str
    unit: str
    marks: int
    hints: tuple
    safety: bool
    kind: str = "number"
    things: tuple = ()
    several: bool = False
    tests: tuple = ()
    picture: dict | None = None

    @property
    def marks_said(self):
        """What it is worth, in brackets, and whether it is about safety."""
        return f"({self.marks} mark{'s' * (self.marks != 1)}{', a safety question' * self.safety})"


@dataclass(frozen=True)
class Question:
    """An exercise as a learner meets it."""

    id: str
    version: int
    story: str
    parts: tuple
