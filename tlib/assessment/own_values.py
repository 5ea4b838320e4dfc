"""Own values: each learner's numbers, rebuilt from a key on every machine and Python."""

import hashlib
from dataclasses import dataclass, field
from functools import cached_property
from math import prod
from types import MappingProxyType

from tlib.assessment.desk import learner_number
from tlib.assessment.formulary import IN_SI, PRINTED
from tlib.assessment.formulas import NoValue
from tlib.assessment.parts import KINDS_OF_PART
from tlib.assessment.verdicts import TELLS

__all__ = ["NoDraw", "Values", "attempt_key", "close_pairs", "draw", "sample", "separable", "values_of", "variants"]

APART = 3.0
"""How many tolerances a slip must lie from the right answer."""

_ATTEMPTS = 2000
_SLACK = 1e-9  # so that a distance of just three tolerances is accepted alike on every machine


class NoDraw(ValueError):
    """An exercise gives no set of values that keeps its slips apart."""


@dataclass(frozen=True)
class Values:
    """The numbers of one exercise for one learner.

    Attributes
    ----------
    exercise : str
        The exercise's id.
    version : int
        Its version.
    learner, key : str
        Whose they are and what they were drawn with; empty for values set by hand.
    numbers : mapping of str to float
        The given numbers as the story prints them, in the units of the file.
    right : mapping of str to float
        The right answer of each part that asks for a number, in the part's unit.
    shown : mapping of str to tuple of int
        For each part with options or steps, the order in which the learner sees them: places in the file, from 0.
    """

    exercise: str
    version: int
    learner: str
    key: str
    numbers: MappingProxyType
    right: MappingProxyType
    shown: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))

    @cached_property
    def printed(self):
        """Givens and right answers together, as slips and workings read them."""
        return MappingProxyType({**self.numbers, **self.right})


def draw(exercise, learner, key):
    """Return a learner's own values for an exercise.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    learner : int or str
        The learner number.
    key : str
        The key of the work; it ends in the try number, so that each try has values of its own.

    Returns
    -------
    Values
        The first set, in the order that the hash gives, in which every slip can be told from the right answer.

    Raises
    ------
    NoDraw
        If no such set turns up; the checker reports such an exercise before a learner meets it.

    Notes
    -----
    The place of a given in its list is the whole number SHA-256 gives for the line ``own values``, key, learner,
    exercise, version, attempt and the given's name, divided by the count of its values. Only whole numbers are
    used, so every machine agrees. Options and steps are shuffled from the same stream.
    """
    learner = learner_number(learner)
    for attempt in range(_ATTEMPTS):
        numbers = {}
        for name, given in exercise.given.items():
            values = given.values
            numbers[name] = values[_place(key, learner, exercise, attempt, name) % len(values)]
        if separable(exercise, numbers):
            return values_of(exercise, numbers, learner, str(key))
    raise NoDraw(f"{exercise.id} gives no set of values that keeps its slips apart from the right answers.")


def values_of(exercise, numbers, learner="", key=""):
    """Return values set by hand, with the right answers worked out.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    numbers : mapping of str to float
        Every given, in the units of the file.
    learner, key : str, optional
        Whose they are.

    Returns
    -------
    Values

    Raises
    ------
    NoValue
        If a right answer has no value for these numbers.
    """
    right = _right_answers(exercise, numbers)
    orders = {part.name: _order(exercise, part, learner, key) for part in exercise.part}
    shown = {name: order for name, order in orders.items() if order}
    return Values(exercise.id, exercise.version, learner, key, MappingProxyType(dict(numbers)),
                  MappingProxyType(right), MappingProxyType(shown))  # fmt: skip


def _order(exercise, part, learner, key):
    def number(turn, name):
        return _place(key, learner, exercise, turn, f"{part.name} {name}")

    return KINDS_OF_PART[part.kind].draw(part, number)


def si_givens(exercise, numbers):
    """Return the given numbers in SI."""
    return {name: given.unit.to_si(numbers[name]) for name, given in exercise.given.items()}


def _right_answers(exercise, numbers):
    """Return the right answer of each part that asks for a number, in the part's unit."""
    known, right = si_givens(exercise, numbers), {}
    for part in exercise.number_parts:
        known[part.name] = part.answer.value(known, IN_SI)
        right[part.name] = part.unit.from_si(known[part.name])
    return right


def attempt_key(work, attempt):
    """Return the key of one set of values: the key of the work and the number of the try, the first being 1.

    Examples
    --------
    >>> attempt_key("book-04", 2)
    'book-04-2'
    """
    return f"{work}-{attempt}"


def separable(exercise, numbers):
    """Return whether every slip can be told from the right answer with these numbers, and every need is met."""
    try:
        everything = {**numbers, **_right_answers(exercise, numbers)}
        if not all(need.value(everything, PRINTED) for need in exercise.needs):
            return False
        return all(_told_apart(part, everything) for part in exercise.number_parts)
    except NoValue:
        return False


def _told_apart(part, printed):
    right = printed[part.name]
    tolerance = part.within.around(right)
    if not tolerance > 0:
        return False
    for slip in part.slips:
        distance = abs(slip.value.value(printed, PRINTED) - right) / tolerance
        if distance > 1 + _SLACK if slip.near else distance < APART - _SLACK:
            return False
    return True


def close_pairs(part, printed):
    """Return the pairs of slip codes that these numbers cannot tell apart."""
    worked = [(slip.code, slip.value.value(printed, PRINTED)) for slip in part.slips]
    return {
        (one, other)
        for place, (one, first) in enumerate(worked)
        for other, second in worked[place + 1 :]
        if abs(first - second) < TELLS * max(part.within.around(first), part.within.around(second)) * (1 - _SLACK)
    }


def sample(exercise, most=2000):
    """Return sets of given numbers: all that an exercise has, or an even sample of so many."""
    lists = [(name, given.values) for name, given in exercise.given.items()]
    total = prod(len(values) for _, values in lists)
    tried = min(total, most)
    for count in range(tried):
        index, numbers = count * total // tried, {}
        for name, values in lists:
            index, place = divmod(index, len(values))
            numbers[name] = values[place]
        yield numbers


def variants(exercise, most=2000):
    """Return how many sets of values an exercise has, how many were tried and how many of those were accepted.

    Parameters
    ----------
    exercise : Exercise
    most : int, optional
        How many to try at most; beyond that an even sample is taken.

    Returns
    -------
    total, tried, accepted : int
    """
    total = prod(len(given.values) for given in exercise.given.values())
    accepted = [separable(exercise, numbers) for numbers in sample(exercise, most)]
    return total, len(accepted), sum(accepted)


def _place(key, learner, exercise, attempt, name):
    words = ("own values", str(key), learner, exercise.id, str(exercise.version), str(attempt), name)
    text = "".join(f"{len(word.encode())}:{word}," for word in words)
    return int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
