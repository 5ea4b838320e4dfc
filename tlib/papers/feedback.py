"""The feedback sheet: one page or two for each learner, in plain HTML that prints on A4."""

import re
from dataclasses import dataclass
from functools import cache
from string import ascii_lowercase

from tlib.assessment.marked import GATE_SAYS
from tlib.assessment.wording import question, working

__all__ = ["feedback_page", "next_steps"]

KINDS = {
    "M": "Method",
    "A": "Number",
    "B": "Fact",
    "U": "Unit",
    "E": "Explanation",
    "hint": "Hint taken",
    "try": "Later try",
}
_MOST_STEPS = 6
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=[^\s\d])")


@dataclass(frozen=True)
class _Part:
    ask: str
    marked: object
    working: str
    given: str
    right: str


@dataclass(frozen=True)
class _Page:
    story: str
    marked: object
    parts: tuple


def feedback_page(script):
    """Return a learner's feedback sheet.

    Parameters
    ----------
    script : Script
        A marked hand-in, from `tlib.assessment.marking_run.mark_folder`.

    Returns
    -------
    str
        A whole HTML page. Everything a learner or a tutor wrote is escaped.
    """
    pages = [_page(one) for one in script.exercises]
    return _template().render(script=script, pages=pages, steps=next_steps(script), kinds=KINDS, marks=_marks, got=_got,
                              letters=ascii_lowercase, in_full=_in_full, gates=GATE_SAYS)  # fmt: skip


def next_steps(script):
    """Return what a learner should do next, the most useful first, as sentences."""
    again, steps_of_safety, slips, unknown = [], [], {}, []
    for one in script.exercises:
        asks = {part.name: part.ask for part in question(one.exercise, one.values).parts}
        for part in one.marked.parts:
            if part.verdict == "ask again":
                again.append(f"Answer this part: {asks[part.name]}")
            elif part.gate == "failed":
                steps_of_safety.append(f"Talk this over with your tutor, then do it again: {asks[part.name]}")
            elif part.verdict == "unknown":
                unknown.append(f"Bring one line of your working to your tutor for: {asks[part.name]}")
            for slip in part.slips:
                slips.setdefault(
                    slip.feedback, f"Go over {slip.topic} in workbook {one.exercise.workbook}: {slip.feedback}"
                )
    steps = [*steps_of_safety, *again, *slips.values(), *unknown][:_MOST_STEPS]
    return tuple(steps) or ("All right so far. Do it again in a week, to keep it.",)


def _page(one):
    asked = question(one.exercise, one.values)
    parts = tuple(
        _Part(shown.ask, marked, working(part, one.exercise, one.values), _given(marked), _right(marked))
        for shown, part, marked in zip(asked.parts, one.exercise.part, one.marked.parts, strict=True)
    )
    return _Page(asked.story, one.marked, parts)


def _given(part):
    """Return what a learner answered, in words where it was letters or numbers of things."""
    if part.kind in ("number", "written"):
        return part.typed
    return _listed([item for item in part.items if item.chosen], part.kind) or part.typed


def _right(part):
    """Return the right answer, in words where it is letters or numbers of things."""
    if part.kind == "order":
        says = {item.mark: item for item in part.items}
        return _listed([says[letter] for letter in part.right.split(", ") if letter in says], part.kind)
    return _listed([item for item in part.items if item.right], part.kind) if part.kind != "number" else part.right


def _listed(items, kind):
    between = " → " if kind == "order" else "; "
    return between.join(f"{item.mark}: {item.says.rstrip('.')}" for item in items)


def _marks(number):
    return f"{number:g}"


def _got(line):
    return f"{line.earned:g} of {line.available}" if line.available else f"{line.earned:g}".replace("-", "−")


def _in_full(part):
    """Return whether a right number earned every mark, so that each reason would only say that again."""
    return part.verdict in ("right", "follow-through") and part.earned == part.available


def _tied(text):
    """Return a text in which no line can end between a number and its unit."""
    return _NUMBER_AND_UNIT.sub("\u00a0", text)


@cache
def _template():
    import jinja2

    pages = jinja2.Environment(loader=jinja2.PackageLoader("tlib.papers"), autoescape=True, trim_blocks=False,
                               undefined=jinja2.StrictUndefined)  # fmt: skip
    pages.filters["tied"] = _tied
    return pages.get_template("feedback.html")
