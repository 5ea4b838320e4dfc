"""The bank: every exercise of a folder, read once and frozen."""

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from tlib.assessment.catalogue import read_outcomes, read_slips
from tlib.assessment.reading import place, read_exercise
from tlib.documents import UnreadableDocument
from tlib.tables import shipped

__all__ = ["Bank", "exercise_files", "load", "own_or_shipped", "read_folder"]


class Bank(Mapping):
    """Exercises by id, with the slips and outcomes they name; nothing in it can be changed.

    Attributes
    ----------
    slips : mapping of str to Slip
        The catalogue of slips by code.
    outcomes : mapping of str to Outcome
        The outcomes by id.
    """

    __slots__ = ("_exercises", "outcomes", "slips")

    def __init__(self, exercises, slips, outcomes):
        object.__setattr__(self, "_exercises", MappingProxyType(dict(exercises)))
        object.__setattr__(self, "slips", slips)
        object.__setattr__(self, "outcomes", outcomes)

    def __setattr__(self, name, value):
        raise AttributeError("a bank cannot be changed")

    def __getitem__(self, exercise_id):
        return self._exercises[exercise_id]

    def __iter__(self):
        return iter(self._exercises)

    def __len__(self):
        return len(self._exercises)


def exercise_files(folder):
    """Return the exercise files of a folder and its folders, in order of name."""
    found = Path(folder).rglob("*.toml")
    return sorted((path for path in found if path.name not in ("slips.toml", "outcomes.toml")), key=Path.as_posix)


def load(folder=None):
    """Read every exercise of a folder.

    Parameters
    ----------
    folder : str or Path, optional
        A folder of exercise files; the open bank when left out. A private folder may leave out ``slips.toml`` or
        ``outcomes.toml`` and then uses those of the open bank.

    Returns
    -------
    Bank
        Exercises by id.

    Raises
    ------
    UnreadableDocument
        If any file has a fault; every fault of every file is listed.
    """
    bank, _, faults = read_folder(shipped("exercises") if folder is None else folder)
    if faults:
        raise UnreadableDocument(faults)
    return bank


def read_folder(folder):
    """Return the bank of a folder's sound files, the text of each by id, and every fault of the others."""
    folder = Path(folder)
    slips, outcomes = (
        read_slips(own_or_shipped(folder, "slips.toml")),
        read_outcomes(own_or_shipped(folder, "outcomes.toml")),
    )
    exercises, texts, faults = {}, {}, []
    for path in exercise_files(folder):
        try:
            exercise, text = read_exercise(path, slips, outcomes)
        except UnreadableDocument as fault:
            faults.extend(fault.faults)
            continue
        if exercise.id in exercises:
            faults.append(place(path, text, ("id",), f"{exercise.id!r} is already the id of {texts[exercise.id][0]}"))
            continue
        exercises[exercise.id], texts[exercise.id] = exercise, (path, text)
    return Bank(exercises, slips, outcomes), texts, faults


def own_or_shipped(folder, name):
    """Return a folder's own list of slips or outcomes, or the open bank's where it has none."""
    return folder / name if (folder / name).is_file() else shipped("exercises") / name
