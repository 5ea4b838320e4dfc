"""Texts of an exercise with a learner's own numbers filled in."""

import re
from functools import cache

from tlib.assessment.fields import SITES, printed_number
from tlib.assessment.formulary import PRINTED
from tlib.assessment.formulas import FormulaFault, NoValue, parse

__all__ = ["answer_printed", "figures", "filled", "flowing", "holes"]

_HOLE = re.compile(r"\{([^{}]*)\}")


@cache
def holes(text):
    """Return what a text leaves to be filled: pairs of the hole's words and its formula, None for a plain name.

    Raises
    ------
    FormulaFault
        If a formula cannot be read or a bracket stands alone.
    """
    found = [hole.strip() for hole in _HOLE.findall(text)]
    if "{" in _HOLE.sub("", text) or "}" in _HOLE.sub("", text):
        raise FormulaFault("a curly bracket stands alone; write {name} or {= formula}")
    return tuple((hole, parse(hole[1:]) if hole.startswith("=") else None) for hole in found)


def filled(text, exercise, values):
    """Return a text of an exercise with one learner's numbers in its holes."""
    formulas = iter(holes(text))

    def fill(_):
        name, formula = next(formulas)
        if formula is not None:
            try:
                return _short(figures(formula.value(values.printed, PRINTED), 4))
            except NoValue:
                return "?"
        if name == "site":
            return SITES[exercise.site]
        if name in exercise.given:
            return exercise.given[name].unit.printed(printed_number(values.numbers[name]))
        return answer_printed(exercise.parts[name], values.printed[name])

    return _HOLE.sub(fill, text)


def flowing(text):
    """Return a text with its line ends as blanks; an empty line still parts two paragraphs."""
    return "\n\n".join(" ".join(line.strip() for line in paragraph.split("\n")) for paragraph in text.split("\n\n"))


def answer_printed(part, number):
    """Return the answer of a part that asks for a number: as many figures as its sort deserves, and the unit."""
    if part.within.exact or part.unit.name == "degC":
        return part.unit.printed(f"{number:,.{0 if part.within.exact else 1}f}")
    if part.unit.name == "share":
        return f"{number:.3f}"
    return part.unit.printed(figures(number, 3))


def figures(number, count):
    """Return a number rounded to a count of figures, written out plainly; from 1000 up one figure more.

    Examples
    --------
    >>> figures(13.956, 3), figures(0.0738, 3), figures(12851.0, 3)
    ('14.0', '0.0738', '12,850')
    """
    count += abs(number) >= 1000
    rounded = float(f"{number:.{count - 1}e}")
    places = count - 1 - int(f"{rounded:e}".partition("e")[2])
    return f"{rounded:,.{max(places, 0)}f}"


def _short(text):
    return text.rstrip("0").rstrip(".") if "." in text else text
