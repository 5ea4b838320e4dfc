"""A part with steps to put in order."""

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field

from tlib.assessment.asked import LETTERS, QuestionPart
from tlib.assessment.fields import Code, FactMarks, Hints, Name, Text
from tlib.assessment.lettered import letters, places_read, shuffled
from tlib.assessment.looks_like import lowered
from tlib.assessment.marked import Item, MarkedPart, MarkLine
from tlib.assessment.naming import texts_in_sight
from tlib.assessment.typed import Unreadable
from tlib.documents import Record

__all__ = ["Part", "Swapped", "codes", "draw", "faults", "mark", "picture", "said", "show"]

Place = Annotated[int, Field(strict=True, ge=1, le=8)]


class Swapped(Record):
    """A slip that is seen when one step stands before another; places in the right order, the first being 1."""

    code: Code
    puts: Place
    before: Place


class Part(Record):
    """One question with steps, written in the right order."""

    name: Name
    kind: Literal["order"]
    ask: Text
    steps: Annotated[tuple[Text, ...], Field(min_length=3, max_length=8)]
    slips: Annotated[tuple[Swapped, ...], Field(max_length=10)] = ()
    marks: FactMarks | None = None
    hints: Hints = ()
    working: Text | None = None
    safety: bool = False

    @property
    def total(self):
        """All its marks: by default one for each pair of neighbours."""
        return self.marks.fact if self.marks is not None else len(self.steps) - 1


# --- read


def faults(part, kinds, parts):
    """Yield where, by key, and what is wrong with the steps and the slips that name them."""
    if len(set(part.steps)) < len(part.steps):
        yield ("steps",), "two steps say the same"
    for count, slip in enumerate(part.slips):
        last = max(slip.puts, slip.before)
        if last > len(part.steps):
            yield ("slips", count), f"{slip.code} names step {last}; there are {len(part.steps)}"
        elif slip.puts <= slip.before:
            yield ("slips", count), f"{slip.code} puts step {slip.puts} before {slip.before}, which is the right order"


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    before = texts_in_sight(part)
    before += [(("steps",), step) for step in part.steps]
    return before, [(("working",), part.working or "")]


def codes(part):
    """Yield the key and the code of each slip that a part names."""
    for count, slip in enumerate(part.slips):
        yield ("slips", count), slip.code


# --- draw


def draw(part, number):
    """Return the places of the steps in the order in which the learner sees them first: never the right one."""
    turn, in_order = 0, tuple(range(len(part.steps)))
    while (order := shuffled(len(part.steps), number, turn)) == in_order:
        turn += 1
    return order


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it."""
    things = tuple(words(part.steps[place]) for place in shown)
    return QuestionPart(part.name, words(part.ask), "", part.total, tuple(map(words, part.hints)), part.safety,
                        "order", things)  # fmt: skip


def picture(part, shown):
    """Return nothing: steps have no picture."""
    return None


# --- mark


def mark(part, answer, progress):
    """Mark the order of the steps.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        Its text holds the letters of all steps, as this learner sees them, in the learner's order.
    progress : Progress

    Returns
    -------
    MarkedPart
        A share for every step that stands just before the right next one; all or nothing where it is about safety.
    """
    shown = progress.values.shown[part.name]
    right = letters(shown.index(step) for step in range(len(shown)))
    try:
        places = _all_places(answer.text if answer else "", len(shown))
    except Unreadable as request:
        typed = " ".join(answer.text.split()) if answer else ""
        return MarkedPart(part.name, "ask again", typed, right, part.total, "order", asks=str(request))
    order = tuple(shown[place] for place in places)
    pairs = sum(later == earlier + 1 for earlier, later in pairwise(order))
    is_right, line = pairs == len(order) - 1, _line(part, pairs)
    slips = tuple(progress.catalogue[code] for code in dict.fromkeys(_swapped(part, order)))
    verdict = "right" if is_right else "slip" if slips else "partly right" if line.earned else "not right"
    items = tuple(
        Item(LETTERS[place], progress.words(part.steps[step]), True, step == turn)
        for turn, (place, step) in enumerate(zip(places, order, strict=True))
    )
    return MarkedPart(part.name, verdict, letters(places), right, part.total, "order", (line,), slips,
                      says=_says(is_right, slips, pairs), items=items)  # fmt: skip


def _all_places(text, count):
    places = places_read(text, count, "step")
    missing = sorted(set(range(count)) - set(places))
    if missing:
        many = len(missing) > 1
        raise Unreadable(f"{'Steps' if many else 'Step'} {letters(missing)} {'are' if many else 'is'} missing. "
                         "Name every step once.")  # fmt: skip
    return places


def _line(part, pairs):
    wanted = len(part.steps) - 1
    if part.safety:
        is_right = pairs == wanted
        why = "Every step is in its place." if is_right else "Here the whole order must be right."
        return MarkLine("B", part.total * is_right, part.total, why)
    earned = round(part.total * pairs / wanted, 2)
    return MarkLine("B", earned, part.total, f"{pairs} of {wanted} pairs of neighbours follow each other rightly.")


def _swapped(part, order):
    for slip in part.slips:
        if order.index(slip.puts - 1) < order.index(slip.before - 1):
            yield slip.code


def _says(is_right, slips, pairs):
    if is_right:
        return "Right."
    told = [f"This looks like: {lowered(slip.feedback)}" for slip in slips]
    return " ".join(told) or ("Some of it stands right." if pairs else "This is not the right order.")
