"""A part whose answer is a number with its unit."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from tlib.assessment.asked import QuestionPart
from tlib.assessment.fields import Arithmetic, Code, Hints, Name, Number, Text, UnitName
from tlib.assessment.filling import answer_printed
from tlib.assessment.formulary import KINDS
from tlib.assessment.formulas import FormulaFault
from tlib.assessment.looks_like import looks_like, lowered, which_is_it
from tlib.assessment.marked import MarkedPart, MarkLine
from tlib.assessment.naming import texts_in_sight, unknown_names
from tlib.assessment.typed import Unreadable, read_typed
from tlib.assessment.verdicts import judge, worked_slips
from tlib.documents import Record

__all__ = ["DeclaredSlip", "Marks", "Part", "Possible", "Within", "codes", "draw", "faults", "mark", "picture",
           "said", "show"]  # fmt: skip


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


class DeclaredSlip(Record):
    """A slip that this part looks for: its code, and what it gives on the printed numbers."""

    code: Code
    value: Arithmetic
    near: Literal["right"] | None = None


class Part(Record):
    """One question whose answer is a number."""

    name: Name
    kind: Literal["number"]
    ask: Text
    answer: Arithmetic
    unit: UnitName
    within: Within
    marks: Marks = Marks(method=1, accuracy=1, unit=1)
    slips: Annotated[tuple[DeclaredSlip, ...], Field(max_length=30)] = ()
    hints: Hints = ()
    working: Text | None = None
    possible: Possible = Possible()
    safety: bool = False

    @property
    def total(self):
        """All its marks."""
        return self.marks.total


# --- read


def faults(part, kinds, parts):
    """Yield where, by key, and what is wrong with the sums of a part.

    Parameters
    ----------
    part : Part
    kinds : mapping of str to Kind
        What the givens and the earlier numbers measure.
    parts : mapping of str to str
        The kind of every part of the exercise, by name.
    """
    unknown = [(("answer",), says) for says in unknown_names(part.answer, kinds, parts)]
    yield from unknown or _dimension_faults(part, kinds)
    for count, slip in enumerate(part.slips):
        for says in unknown_names(slip.value, {*kinds, part.name}, parts):
            yield ("slips", count), says


def _dimension_faults(part, kinds):
    try:
        kind = part.answer.kind(kinds, KINDS)
    except FormulaFault as fault:
        yield ("answer",), str(fault)
        return
    if kind != part.unit.kind:
        yield ("answer",), f"gives {kind}, but the unit {part.unit.name!r} measures {part.unit.kind}"


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    return texts_in_sight(part), [(("working",), part.working or "")]


def codes(part):
    """Yield the key and the code of each slip that a part names."""
    for count, slip in enumerate(part.slips):
        yield ("slips", count), slip.code


# --- draw


def draw(part, number):
    """Return nothing: a number is not shuffled, its givens are drawn."""
    return ()


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it."""
    return QuestionPart(part.name, words(part.ask), part.unit.many, part.total, tuple(map(words, part.hints)),
                        part.safety)  # fmt: skip


def picture(part, shown):
    """Return nothing: a number has no picture."""
    return None


# --- mark


def mark(part, answer, progress):
    """Mark what was typed for a part, and let later parts go on from it.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        None when nothing was given.
    progress : Progress
        What marking knows so far; the learner's number is added to it.

    Returns
    -------
    MarkedPart
    """
    setting = progress.setting(part)
    typed = " ".join(f"{answer.text} {answer.unit}".split()) if answer else ""
    right = answer_printed(part, setting.right)
    try:
        readings = read_typed(answer.text if answer else "", answer.unit if answer else "", part.unit)
    except Unreadable as request:
        progress.carry(part, None, answer, setting)
        return MarkedPart(part.name, "ask again", typed, right, part.total, asks=str(request))
    judged = [(judge(reading, setting), reading) for reading in readings]
    verdict, reading = max(judged, key=lambda pair: (pair[0].marks, pair[0].kind != "unknown"))
    lines = tuple(_lines(progress, part, verdict, reading))
    progress.carry(part, reading, answer, setting)
    catalogue = progress.catalogue
    slips = verdict.slips or tuple(catalogue[code] for code in [reading.idea] if code in catalogue)
    notes = (*reading.notes, *_figure_notes(part, verdict, reading), *_near_notes(setting, verdict, reading))
    return MarkedPart(part.name, verdict.kind, typed, right, part.total, "number", lines, slips,
                      says=_says(verdict, slips), asks=_asks(verdict, slips), notes=notes)  # fmt: skip


def _lines(progress, part, verdict, reading):
    followed = verdict.kind in ("follow-through", "own value")
    if part.marks.method:
        yield MarkLine(
            "M",
            verdict.method,
            part.marks.method,
            _method_reason(verdict, part.marks.method),
            verdict.inferred,
            followed,
        )
    if part.marks.accuracy and verdict.challenged:
        why = "You said that the earlier value cannot be right."
        yield MarkLine("B", 1, part.marks.accuracy, why, True)
    elif part.marks.accuracy:
        why = verdict.blocked or _accuracy_reason(verdict)
        yield MarkLine("A", verdict.accuracy, part.marks.accuracy, why, False, followed and verdict.accuracy > 0)
    if part.marks.fact:
        right = verdict.kind == "right"
        yield MarkLine(
            "B", part.marks.fact * right, part.marks.fact, verdict.why if right else "The fact is not right."
        )
    if part.marks.unit:
        yield _unit_line(progress, part, reading)


def _method_reason(verdict, available):
    if verdict.kind not in ("slip", "slip on own value"):
        return verdict.why
    share = "all" if verdict.method == available else "part" if verdict.method else "none"
    return f"The working that fits this number earns {share} of the method marks."


def _accuracy_reason(verdict):
    if verdict.kind == "follow-through":
        return "The number is right for your own earlier answer."
    return verdict.why if verdict.accuracy or verdict.kind == "too coarse" else "The number is not the right one."


def _unit_line(progress, part, reading):
    if reading.unit_right:
        return MarkLine("U", 1, 1, reading.unit_says)
    if progress.unit_lost:
        return MarkLine("U", 1, 1, f"{reading.unit_says} The unit mark was lost once already, so not again.")
    progress.unit_lost = True
    return MarkLine("U", 0, 1, reading.unit_says)


def _says(verdict, slips):
    if verdict.kind == "right":
        return f"Right. But the unit looks like this: {lowered(slips[0].feedback)}" if slips else "Right."
    if verdict.kind == "follow-through":
        return "Right for your own earlier answer."
    if verdict.kind == "own value":
        return f"The sum is right for your own earlier answer. {verdict.blocked}"
    return looks_like(slips, "number") if slips else verdict.why


def _asks(verdict, slips):
    if len(slips) > 1 and verdict.kind != "right":
        return which_is_it(slips, "number")
    if verdict.kind == "own value" and verdict.blocked and not verdict.challenged:
        return "Look at your earlier answer. Is there something that cannot be right, and why?"
    if verdict.kind == "unknown":
        return "Write one line of your working, or take a hint, and try again."
    return ""


def _figure_notes(part, verdict, reading):
    if part.unit.name == "degC":
        return ("One figure after the point is enough for a temperature.",) if reading.decimals > 1 else ()
    if part.unit.name == "share":
        return ("Three figures after the point are enough for a share.",) if reading.decimals > 3 else ()
    if reading.fewest > 4 and verdict.accuracy:
        return ("These are more figures than the sum can carry: three are enough.",)
    return ()


def _near_notes(setting, verdict, reading):
    """Return the remark on a slip that lies so near that it counts as right, where the number is nearer to it."""
    if verdict.kind != "right":
        return ()
    return tuple(
        setting.catalogue[code].feedback
        for code, value, _ in worked_slips(setting, setting.printed, near=True)
        if abs(reading.number - value) < abs(reading.number - setting.right)
    )
