"""A part that is answered in the learner's own words and marked by a person."""

from typing import Annotated, Literal

from pydantic import Field

from tlib.assessment.asked import QuestionPart
from tlib.assessment.fields import Hints, Name, Text
from tlib.assessment.marked import FOR_THE_TUTOR, Item, MarkedPart
from tlib.assessment.naming import texts_in_sight
from tlib.documents import Record

__all__ = ["Part", "Point", "codes", "draw", "faults", "mark", "picture", "said", "show"]


class Point(Record):
    """One line of a rubric: what it earns, and for what."""

    earns: Annotated[int, Field(strict=True, ge=1, le=5)]
    for_: Annotated[Text, Field(alias="for")]


class Part(Record):
    """One question that is answered in words; `working` is a good answer, told afterwards."""

    name: Name
    kind: Literal["written"]
    ask: Text
    rubric: Annotated[tuple[Point, ...], Field(min_length=1, max_length=6)]
    hints: Hints = ()
    working: Text | None = None
    safety: bool = False

    @property
    def total(self):
        """All its marks."""
        return sum(point.earns for point in self.rubric)


# --- read


def faults(part, kinds, parts):
    """Yield nothing: words have no sums."""
    yield from ()


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    after = [(("rubric", count), point.for_) for count, point in enumerate(part.rubric)]
    return texts_in_sight(part), [*after, (("working",), part.working or "")]


def codes(part):
    """Yield nothing: no slip is read from words."""
    yield from ()


# --- draw


def draw(part, number):
    """Return nothing: there is nothing to shuffle."""
    return ()


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it."""
    return QuestionPart(part.name, words(part.ask), "", part.total, tuple(map(words, part.hints)), part.safety,
                        "written")  # fmt: skip


def picture(part, shown):
    """Return nothing: it has no picture."""
    return None


# --- mark


def mark(part, answer, progress):
    """Keep what was written for the tutor, with the rubric; nothing is earned or lost by machine.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        Its text holds the words.
    progress : Progress

    Returns
    -------
    MarkedPart
    """
    text = answer.text.strip() if answer else ""
    items = tuple(Item(f"{point.earns}", progress.words(point.for_), False, True) for point in part.rubric)
    if not text:
        asks = "There is no answer here yet. Write a sentence or two."
        return MarkedPart(part.name, "ask again", "", "", part.total, "written", asks=asks, items=items)
    says = "A person marks this. These are the points that earn."
    return MarkedPart(part.name, FOR_THE_TUTOR, text, "", part.total, "written", says=says, items=items)
