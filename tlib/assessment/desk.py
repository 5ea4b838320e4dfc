"""The learner's desk: where answers are kept, and whose they are."""

import os
import re
from pathlib import Path

from tlib.assessment.replacing import write_whole

__all__ = ["NoLearner", "books_folder", "current_learner", "folder", "learner_number", "switch_learner"]

_CURRENT = "current-learner.txt"
_NUMBER = re.compile(r"[a-z0-9]([a-z0-9-]{0,18}[a-z0-9])?")


class NoLearner(ValueError):
    """Nobody has given a learner number yet, or it is not one."""


def folder():
    """Return the folder that holds every learner's answers on this computer.

    Returns
    -------
    Path
        The folder named by ``TLIB_ANSWERS``, else ``tlib-answers`` in the user's documents. It is made if it is
        not there.
    """
    named = os.environ.get("TLIB_ANSWERS")
    if named:
        place = Path(named)
    else:
        import platformdirs

        place = Path(platformdirs.user_documents_dir()) / "tlib-answers"
    place.mkdir(parents=True, exist_ok=True)
    return place


def learner_number(given):
    """Return a learner number in the one form that folders and own values use.

    Parameters
    ----------
    given : int or str
        What the learner typed.

    Returns
    -------
    str
        Small letters, figures and hyphens; leading noughts of a plain number are left out.

    Raises
    ------
    NoLearner
        If it is empty, too long, or holds any other sign.

    Examples
    --------
    >>> learner_number(" 017 ")
    '17'
    """
    text = str(given).strip().lower()
    if text.isdecimal() and text.isascii():
        text = text.lstrip("0") or "0"
    if not _NUMBER.fullmatch(text):
        raise NoLearner(f"A learner number has up to 20 letters, figures or hyphens; got {str(given)[:40]!r}.")
    return text


def current_learner():
    """Return the number of the learner who works here now, or an empty text when nobody has said."""
    try:
        said = (folder() / _CURRENT).read_text(encoding="utf-8-sig").strip()
        return learner_number(said) if said else ""
    except (FileNotFoundError, UnicodeDecodeError, NoLearner):
        return ""


def switch_learner(number):
    """Make another learner the current one, and return the number as kept."""
    number = learner_number(number)
    write_whole(folder() / _CURRENT, f"{number}\n".encode())
    return number


def books_folder(learner=None):
    """Return the folder of one learner's answer books; of the current learner when none is named.

    Parameters
    ----------
    learner : int or str, optional
        The learner number.

    Returns
    -------
    Path
        A folder that holds this learner's books and nobody else's.

    Raises
    ------
    NoLearner
        If no learner is named and none is current.
    """
    number = learner_number(learner) if learner is not None else current_learner()
    if not number:
        raise NoLearner("Give your learner number on the first page; then your answers have a place.")
    place = folder() / "learners" / f"learner-{number}"  # the prefix keeps clear of names that Windows refuses
    place.mkdir(parents=True, exist_ok=True)
    return place
