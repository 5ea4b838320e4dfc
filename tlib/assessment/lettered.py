"""Options and steps by their letters: shuffled for each learner, read back from what was ticked or typed."""

import re

from tlib.assessment.asked import LETTERS
from tlib.assessment.typed import Unreadable

__all__ = ["letters", "places_read", "shuffled"]

_LONGEST = 80


def shuffled(count, number, turn=0):
    """Return the places 0 to `count` - 1 in an order of the learner's own.

    Parameters
    ----------
    count : int
        How many there are.
    number : callable
        Called with a turn and a name; returns a whole number that the learner's key gives for them.
    turn : int, optional
        Another turn gives another order.

    Examples
    --------
    >>> shuffled(3, lambda turn, name: 4)
    (2, 0, 1)
    """
    places = list(range(count))
    for last in range(count - 1, 0, -1):
        other = number(turn, f"place {last}") % (last + 1)
        places[last], places[other] = places[other], places[last]
    return tuple(places)


def letters(places):
    """Return places as a learner writes them.

    Examples
    --------
    >>> letters([1, 3])
    'B, D'
    """
    return ", ".join(LETTERS[place] for place in places)


def places_read(text, count, what):
    """Return the places that a text of letters names, in its order: "B, D", "b and d" and "BD" are the same.

    Parameters
    ----------
    text : str
        What was ticked or typed.
    count : int
        How many things have a letter.
    what : str
        What those are, for the sentence: "option" or "step".

    Returns
    -------
    tuple of int

    Raises
    ------
    Unreadable
        If it names none, one twice, or one that is not there.
    """
    words = [word for word in re.findall(r"[^\W_]+", text[:_LONGEST]) if word.lower() != "and"]
    named = "".join(words).upper()
    if not named:
        raise Unreadable(f"There is no answer here yet. Choose by letter: A to {LETTERS[count - 1]}.")
    for letter in named:
        if letter not in LETTERS[:count]:
            raise Unreadable(f"There is no {what} {letter!r} here. The {what}s are A to {LETTERS[count - 1]}.")
        if named.count(letter) > 1:
            raise Unreadable(f"{what.capitalize()} {letter} is named twice. Name it once.")
    return tuple(map(LETTERS.index, named))
