"""Marking: one learner's answers to one exercise become marks, each with its reason."""

from dataclasses import dataclass, replace

from tlib.assessment.marked import Marked, MarkLine
from tlib.assessment.own_values import si_givens
from tlib.assessment.parts import KINDS_OF_PART
from tlib.assessment.verdicts import Progress

__all__ = ["ASSIGNMENT", "MOCK", "PRACTICE", "Terms", "mark"]


@dataclass(frozen=True)
class Terms:
    """What tries and hints cost.

    Attributes
    ----------
    tries : tuple of float
        The share of the marks on the first, second, third try; the last holds for all after it.
    hints : tuple of float
        What the first, second and third hint take: up to the second a share of the part's marks, then of what is
        left.
    """

    tries: tuple
    hints: tuple = (0.0, 0.25, 0.5)


PRACTICE = Terms(tries=(1.0,))
"""Practice: try as often as you like; the best counts."""

MOCK = Terms(tries=(1.0,))
"""A mock: one try, told at the end."""

ASSIGNMENT = Terms(tries=(1.0, 0.8, 0.6))
"""An assignment that allows three tries, each with new values."""


def mark(exercise, values, answers, terms=PRACTICE):
    """Mark one learner's answers to one exercise.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    values : Values
        The learner's own, from `draw`.
    answers : mapping of str to Answer
        By part name; a part without an answer is asked for.
    terms : Terms, optional
        What tries and hints cost.

    Returns
    -------
    Marked
        The same for the same input on every machine: nothing is read, written or remembered.

    Notes
    -----
    A number is compared in this order: right; right on the learner's own earlier answer; a declared slip on the true
    values; the same on the carried values; a slip of unit or of a power of ten; unknown. Where two apply the one
    that earns more counts. A unit is lost once in an exercise.
    """
    progress = Progress(exercise, values, si_givens(exercise, values.numbers))
    parts = []
    for part in exercise.part:
        answer = answers.get(part.name)
        marked = KINDS_OF_PART[part.kind].mark(part, answer, progress)
        parts.append(replace(_costed(marked, answer, terms), safety=part.safety))
    return Marked(exercise.id, exercise.version, values.learner, tuple(parts))


def _costed(part, answer, terms):
    """Take off what hints and later tries cost."""
    if answer is None or not part.lines:
        return part
    lines, left = list(part.lines), part.earned
    for number, share in enumerate(terms.hints[: answer.hints], start=1):
        cost = min(left, share * (part.available if number < 3 else left))
        left -= cost
        if cost:
            lines.append(MarkLine("hint", -cost, 0, f"Hint {number} costs {100 * share:.0f} % of the {_of(number)}."))
    share = terms.tries[min(answer.tries, len(terms.tries)) - 1]
    if share < 1 and left:
        lines.append(
            MarkLine("try", -round(left * (1 - share), 2), 0, f"Try {answer.tries} counts {100 * share:.0f} %.")
        )
    return replace(part, lines=tuple(lines))


def _of(number):
    return "marks of this part" if number < 3 else "marks that are left"
