"""A part that shows the schematic of a place: the learner marks spots on it."""

import re
from functools import cache
from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from tlib.assessment.asked import QuestionPart
from tlib.assessment.fields import SITES, Code, FactMarks, Hints, Name, Text
from tlib.assessment.looks_like import lowered
from tlib.assessment.marked import Item, MarkedPart, MarkLine
from tlib.assessment.naming import texts_in_sight
from tlib.assessment.sites import site
from tlib.assessment.typed import Unreadable
from tlib.documents import Record

__all__ = ["Part", "Planted", "Spotted", "codes", "draw", "faults", "mark", "picture", "said", "show"]

Names = Annotated[tuple[str, ...], Field(min_length=1, max_length=12)]


class Planted(Record):
    """The mistakes of which one is planted for each learner."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    from_: Annotated[Names, Field(alias="from")]


class Spotted(Record):
    """A slip that is seen when one of these spots is marked without being right."""

    code: Code
    marks: Names


class Part(Record):
    """One question about a drawing: with a planted mistake, or with spots that are right in a sound one."""

    name: Name
    kind: Literal["schematic"]
    ask: Text
    site: Literal[tuple(SITES)]
    mistake: Planted | None = None
    right: Names | None = None
    slips: Annotated[tuple[Spotted, ...], Field(max_length=10)] = ()
    marks: FactMarks | None = None
    hints: Hints = ()
    working: Text | None = None
    safety: bool = False

    @property
    def total(self):
        """All its marks: by default one for each right spot."""
        return self.marks.fact if self.marks is not None else len(self.right or ("mistake",))

    def planted(self, shown):
        """Return the name of the mistake in a learner's drawing; None for a sound one."""
        return self.mistake.from_[shown[0]] if self.mistake else None

    def right_names(self, shown):
        """Return the names of the spots that are right in a learner's drawing."""
        from tlib.installation.schematic_plan import MISTAKES

        return (MISTAKES[self.planted(shown)].spot,) if self.mistake else self.right


@cache
def _plan(place, mistake):
    from tlib.installation.schematic_plan import plan_of

    return plan_of(site(place), mistake)


# --- read


def faults(part, kinds, parts):
    """Yield where, by key, and what is wrong with mistakes and spots."""
    from tlib.validation import OutOfRange

    if (part.mistake is None) == (part.right is None):
        yield (), "give mistake = { from = [...] }, or right = [...] for a drawing without a mistake"
    if len(set(part.right or ())) < len(part.right or ()):
        yield ("right",), "a right spot is named twice"
    known = set()
    for mistake in part.mistake.from_ if part.mistake else (None,):
        try:
            known |= {spot.name for spot in _plan(part.site, mistake).spots}
        except OutOfRange as fault:
            yield ("mistake", "from"), str(fault)
    places = [(("right",), part.right or ()), *((("slips", at), slip.marks) for at, slip in enumerate(part.slips))]
    for keys, names in places:
        for name in names:
            if known and name not in known:
                yield keys, f"no spot is called {name!r}; the spots are {', '.join(sorted(known))}"


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    return texts_in_sight(part), [(("working",), part.working or "")]


def codes(part):
    """Yield the key and the code of each slip that a part names."""
    for count, slip in enumerate(part.slips):
        yield ("slips", count), slip.code


# --- draw


def draw(part, number):
    """Return the place of the planted mistake."""
    return (number(0, "mistake") % len(part.mistake.from_),) if part.mistake else (0,)


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it; the first spot is 1."""
    things = tuple(spot.says for spot in _plan(part.site, part.planted(shown)).spots)
    return QuestionPart(part.name, words(part.ask), "", part.total, tuple(map(words, part.hints)), part.safety,
                        "schematic", things, several=True)  # fmt: skip


def picture(part, shown):
    """Return what is drawn, as plain numbers that a hand-out can hold."""
    return _plan(part.site, part.planted(shown)).record()


# --- mark


def mark(part, answer, progress):
    """Mark the spots that were ticked.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        Its text holds the numbers of spots: "3, 7".
    progress : Progress

    Returns
    -------
    MarkedPart
        A share for every right spot, less as much for every wrong one, never below nothing; all or nothing where it
        is about safety.
    """
    shown = progress.values.shown[part.name]
    spots = _plan(part.site, part.planted(shown)).spots
    names = part.right_names(shown)
    right = ", ".join(str(spot.number) for spot in spots if spot.name in names)
    typed = " ".join(answer.text.split()) if answer else ""
    try:
        numbers = _numbers(typed, len(spots))
    except Unreadable as request:
        return MarkedPart(part.name, "ask again", typed, right, part.total, "schematic", asks=str(request))
    chosen = {spot.name for spot in spots if spot.number in numbers}
    wrong = chosen - set(names)
    hits, misses = len(chosen) - len(wrong), len(wrong)
    line = _line(part, hits, misses, len(names))
    codes_seen = dict.fromkeys(slip.code for slip in part.slips if wrong & set(slip.marks))
    slips = tuple(progress.catalogue[code] for code in codes_seen)
    is_right = hits == len(names) and not misses
    verdict = "right" if is_right else "slip" if slips else "partly right" if hits else "not right"
    items = tuple(Item(str(spot.number), spot.says, spot.name in chosen, spot.name in names) for spot in spots)
    says = " ".join(_says(is_right, slips, hits))
    return MarkedPart(part.name, verdict, ", ".join(map(str, numbers)), right, part.total, "schematic", (line,), slips,
                      says=says, items=items, why=_why(part, shown))  # fmt: skip


def _numbers(text, count):
    numbers = sorted({int(number[:9]) for number in re.findall(r"\d+", text)})
    if not numbers:
        raise Unreadable(f"There is no answer here yet. Mark spots by number: 1 to {count}.")
    for number in numbers:
        if not 1 <= number <= count:
            raise Unreadable(f"There is no spot {number} here. The spots are 1 to {count}.")
    return numbers


def _line(part, hits, misses, wanted):
    said = f"{hits} of {wanted} right spots marked, {misses} wrong"
    if part.safety:
        is_right = hits == wanted and not misses
        why = f"{said}." if is_right else f"{said}; here all must be right."
        return MarkLine("B", part.total * is_right, part.total, why)
    return MarkLine("B", round(part.total * max(hits - misses, 0) / wanted, 2), part.total, f"{said}.")


def _why(part, shown):
    from tlib.installation.schematic_plan import MISTAKES

    return MISTAKES[part.planted(shown)].says if part.mistake else ""


def _says(is_right, slips, hits):
    if is_right:
        yield "Right."
    yield from (f"This looks like: {lowered(slip.feedback)}" for slip in slips)
    if not is_right and not slips:
        yield "Some of it is right." if hits else "That is not it."
