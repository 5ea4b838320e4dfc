"""A part with options to choose from: one or several of them are right."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from tlib.assessment.asked import LETTERS, QuestionPart
from tlib.assessment.fields import Code, FactMarks, Hints, Name, Text
from tlib.assessment.lettered import letters, places_read, shuffled
from tlib.assessment.looks_like import lowered
from tlib.assessment.marked import Item, MarkedPart, MarkLine
from tlib.assessment.naming import texts_in_sight
from tlib.assessment.typed import Unreadable
from tlib.documents import Record

__all__ = ["Option", "Part", "codes", "draw", "faults", "mark", "picture", "said", "show"]


class Option(Record):
    """One thing to choose: right, or wrong with the idea or the reason behind it."""

    says: Text
    right: Literal[True] | None = None
    slip: Code | None = None
    because: Text | None = None

    @model_validator(mode="after")
    def _explains(self):
        if self.right and self.slip:
            raise ValueError("an option that is right carries no slip")
        if not self.right and not (self.slip or self.because):
            raise ValueError('a wrong option carries its idea, slip = "Q21", or a reason, because = "..."')
        return self


class Part(Record):
    """One question with options."""

    name: Name
    kind: Literal["choice"]
    ask: Text
    options: Annotated[tuple[Option, ...], Field(min_length=2, max_length=8)]
    each: Literal[True] | None = None
    as_written: Literal[True] | None = None
    marks: FactMarks | None = None
    hints: Hints = ()
    working: Text | None = None
    safety: bool = False

    @property
    def right_places(self):
        """The places of the right options in the file, from 0."""
        return frozenset(place for place, option in enumerate(self.options) if option.right)

    @property
    def total(self):
        """All its marks: one, or one for each option where each counts."""
        if self.marks is not None:
            return self.marks.fact
        return len(self.options) if self.each else 1


# --- read


def faults(part, kinds, parts):
    """Yield where, by key, and what is wrong with the options together."""
    if not 0 < len(part.right_places) < len(part.options):
        yield ("options",), "some options are right = true, and at least one is not"
    says = [option.says for option in part.options]
    for place, text in enumerate(says):
        if text in says[:place]:
            yield ("options", place, "says"), "two options say the same"
    if part.each and (part.safety or len(part.right_places) == 1):
        yield ("each",), "each = true is for several right options, and not for a part about safety"


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    before = texts_in_sight(part)
    after = [(("working",), part.working or "")]
    for place, option in enumerate(part.options):
        before.append((("options", place, "says"), option.says))
        after.append((("options", place, "because"), option.because or ""))
    return before, after


def codes(part):
    """Yield the key and the code of each slip that a part names."""
    for place, option in enumerate(part.options):
        if option.slip:
            yield ("options", place, "slip"), option.slip


# --- draw


def draw(part, number):
    """Return the places of the options in the order in which the learner sees them."""
    count = len(part.options)
    return tuple(range(count)) if part.as_written else shuffled(count, number)


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it."""
    things = tuple(words(part.options[place].says) for place in shown)
    return QuestionPart(part.name, words(part.ask), "", part.total, tuple(map(words, part.hints)), part.safety,
                        "choice", things, several=len(part.right_places) > 1)  # fmt: skip


def picture(part, shown):
    """Return nothing: options have no picture."""
    return None


# --- mark


def mark(part, answer, progress):
    """Mark the options that were chosen.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        Its text holds the letters of the options as this learner sees them.
    progress : Progress

    Returns
    -------
    MarkedPart
        All or nothing; with `each`, a share for every option that is told rightly, ticked or left.
    """
    shown = progress.values.shown[part.name]
    right = letters(place for place, option in enumerate(shown) if option in part.right_places)
    try:
        places = places_read(answer.text if answer else "", len(shown), "option")
    except Unreadable as request:
        typed = " ".join(answer.text.split()) if answer else ""
        return MarkedPart(part.name, "ask again", typed, right, part.total, "choice", asks=str(request))
    chosen = frozenset(shown[place] for place in places)
    line = _line(part, chosen)
    wrong = [part.options[option] for option in shown if option in chosen - part.right_places]
    slips = tuple({option.slip: progress.catalogue[option.slip] for option in wrong if option.slip}.values())
    verdict = "right" if chosen == part.right_places else "slip" if slips else _how_far(part, chosen)
    return MarkedPart(
        part.name, verdict, letters(sorted(places)), right, part.total, "choice", (line,), slips,
        says=_says(part, chosen, slips, progress), items=tuple(_items(part, shown, chosen, progress)),
        why=_why(part, progress),
    )  # fmt: skip


def _line(part, chosen):
    if part.each:
        told = len(part.options) - len(chosen ^ part.right_places)
        earned = round(part.total * told / len(part.options), 2)
        return MarkLine("B", earned, part.total, f"{told} of {len(part.options)} options told rightly.")
    is_right = chosen == part.right_places
    many = len(part.right_places) > 1
    why = "These are the right ones." if many else "This is the right one."
    not_so = "All the right ones and no other are wanted." if many else "This is not the right one."
    return MarkLine("B", part.total * is_right, part.total, why if is_right else not_so)


def _how_far(part, chosen):
    return "partly right" if chosen & part.right_places else "not right"


def _says(part, chosen, slips, progress):
    if chosen == part.right_places:
        return "Right."
    told = [f"This looks like: {lowered(slip.feedback)}" for slip in slips]
    told += [
        progress.words(option.because)
        for place, option in enumerate(part.options)
        if place in chosen - part.right_places and option.because and not option.slip
    ]
    if chosen & part.right_places:
        told.append("Some of it is right.")
    return " ".join(told)


def _why(part, progress):
    reasons = [option.because for option in part.options if option.right and option.because]
    return " ".join(map(progress.words, reasons))


def _items(part, shown, chosen, progress):
    for letter, place in zip(LETTERS, shown, strict=False):
        option = part.options[place]
        yield Item(letter, progress.words(option.says), place in chosen, option.right is True)
