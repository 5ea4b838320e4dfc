"""The words of an exercise with a learner's own numbers in them."""

from functools import partial

from tlib.assessment.asked import Question
from tlib.assessment.filling import filled, flowing
from tlib.assessment.parts import KINDS_OF_PART

__all__ = ["picture", "question", "working"]


def question(exercise, values):
    """Return an exercise in the words and numbers of one learner.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    values : Values
        The learner's own, from `draw`.

    Returns
    -------
    Question
        Story, and for each part what is asked, the unit or the options, the marks and the hints, all with the
        numbers filled in.
    """
    words = partial(_words, exercise=exercise, values=values)
    parts = tuple(KINDS_OF_PART[part.kind].show(part, words, values.shown.get(part.name, ())) for part in exercise.part)
    return Question(exercise.id, exercise.version, words(exercise.story), parts)


def picture(part, values):
    """Return what is drawn for a part in a learner's values, as a mapping that a hand-out can hold; None for nothing.

    A logged day is simulated here, so this is the one slow call.
    """
    return KINDS_OF_PART[part.kind].picture(part, values.shown.get(part.name, ()))


def working(part, exercise, values):
    """Return the worked answer of a part in the learner's own numbers; empty when the file gives none."""
    text = filled(part.working, exercise, values) if part.working else ""
    return text if part.kind == "number" else flowing(text.strip())  # the lines of a sum are kept


def _words(text, exercise, values):
    return flowing(filled(text, exercise, values))
