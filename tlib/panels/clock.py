"""The time of day as a learner reads it and types it."""

import re

from tlib.figures.lettering import clock
from tlib.validation import OutOfRange

__all__ = ["in_words", "minute_of"]

DAY = 1440
_PARTS = ((5, "at night"), (12, "in the morning"), (18, "in the afternoon"), (22, "in the evening"), (24, "at night"))
_NAMED = {0: "midnight", DAY // 2: "noon"}
_TYPED = re.compile(r"\s*(\d{1,2})\s*[:.,h ]?\s*(\d\d)?\s*", re.IGNORECASE)


def in_words(minute, begins=0.0):
    """Return the time of day some minutes after a start, with the part of the day in words.

    Parameters
    ----------
    minute : int
        Minutes after the start.
    begins : float, optional
        Time of day at the start [s after midnight].

    Returns
    -------
    str
        Such as ``"20:10, in the evening"``.

    Examples
    --------
    >>> in_words(130, 18 * 3600.0)
    '20:10, in the evening'
    >>> in_words(750, 18 * 3600.0)
    '06:30, in the morning, the next day'
    """
    days, now = divmod(round(minute + begins / 60), DAY)
    part = _NAMED.get(now) or next(words for hour, words in _PARTS if now < 60 * hour)
    later = {0: "", 1: ", the next day"}.get(days, f", {days} days on") if now else ""
    return f"{clock(60 * now)}, {part}{later}"


def minute_of(typed, last, begins=0.0):
    """Return how many minutes after a start the clock first shows a time that somebody typed.

    Parameters
    ----------
    typed : str
        Such as ``"06:30"``, ``"6.30"``, ``"630"`` or ``"6"``.
    last : int
        The last minute there is.
    begins : float, optional
        Time of day at the start [s after midnight].

    Returns
    -------
    int
        From 0 to `last`.

    Raises
    ------
    OutOfRange
        If that is no time of day, or the clock does not show it before the end.

    Examples
    --------
    >>> minute_of("6.30", 1440, 18 * 3600.0)
    750
    """
    found = _TYPED.fullmatch(typed)
    hour, minutes = (int(found[1]), int(found[2] or 0)) if found else (99, 0)
    if hour > 24 or minutes > 59:
        raise OutOfRange(f"a time must be written like 06:30; got {typed.strip()!r}.")
    after = (60 * hour + minutes - round(begins / 60)) % DAY
    if after > last:
        ends = f"from {in_words(0, begins)} to {in_words(last, begins)}"
        raise OutOfRange(f"the time must lie {ends}; got {typed.strip()}.")
    return after
