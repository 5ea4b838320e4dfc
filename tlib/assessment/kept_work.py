"""Work that has been set: the private half of it, which a tutor keeps and marking needs."""

import datetime
import json
from dataclasses import asdict, dataclass
from pathlib import Path
from types import MappingProxyType

from pydantic import ValidationError

from tlib.assessment.bank import read_folder
from tlib.assessment.class_list import Learner
from tlib.assessment.marking import ASSIGNMENT, PRACTICE, Terms
from tlib.assessment.replacing import write_whole
from tlib.assessment.work import AT_ONCE
from tlib.documents import Record, UnreadableDocument

__all__ = ["HAND_INS", "HAND_OUT", "PRIVATE", "RECORD", "NoSetWork", "SetWork", "find", "keep", "load", "save"]

PRIVATE, HAND_OUT, HAND_INS = "private", "hand-out", "hand-ins"
RECORD = "set-work.json"
_BANKS = MappingProxyType({True: "open-exercises", False: "own-exercises"})


class NoSetWork(ValueError):
    """A folder holds no work that was set, or what it holds cannot be used; the message says why."""


class _Learner(Record):
    number: str
    name: str
    extra_days: int


class _Exercise(Record):
    id: str
    version: int
    is_open: bool


class _Kept(Record):
    format: int
    id: str
    title: str
    hand_out: str
    key: str
    opens: datetime.date | None
    closes: datetime.date | None
    tells: str
    tries: int
    hints: int
    learners: tuple[_Learner, ...]
    exercises: tuple[_Exercise, ...]


@dataclass(frozen=True)
class SetWork:
    """A piece of work that has been set for a class.

    Attributes
    ----------
    folder : Path
        Where its private and its handed-out half stand.
    id, title : str
        As the work file gives them.
    hand_out : str
        A short mark of this hand-out, so that another class's is not taken for it.
    key : str
        What the own values are drawn with. Whoever has it and the exercises has the answers.
    opens, closes : datetime.date or None
        The first and the last day.
    tells : str
        "after return" or "at once".
    tries, hints : int
        How many sets of values each learner has, and how many hints a part may give.
    learners : mapping of str to Learner
        The class, by number.
    exercises : mapping of str to Exercise
        As they were when the work was set, by id, in order.
    open_ids : frozenset of str
        Those whose files every learner has.
    """

    folder: Path
    id: str
    title: str
    hand_out: str
    key: str
    opens: datetime.date | None
    closes: datetime.date | None
    tells: str
    tries: int
    hints: int
    learners: MappingProxyType
    exercises: MappingProxyType
    open_ids: frozenset

    @property
    def book(self):
        """The name of the answer books: the work, and this hand-out of it."""
        return f"{self.id}-{self.hand_out}"

    @property
    def terms(self):
        """What tries and hints cost."""
        return PRACTICE if self.tells == AT_ONCE else Terms(ASSIGNMENT.tries[: self.tries], ASSIGNMENT.hints)

    def closes_for(self, learner):
        """Return the last day for one learner; None where the work stays open."""
        return self.closes and self.closes + datetime.timedelta(days=learner.extra_days)


def keep(work, files):
    """Write the private half of a piece of work: the exercises as used, then the record with the key.

    Parameters
    ----------
    work : SetWork
        What was set.
    files : mapping of bool to mapping of str to str
        The texts of exercise files, slips and outcomes by file name: the open bank's at True, the tutor's own at
        False.
    """
    for is_open, texts in files.items():
        folder = work.folder / PRIVATE / _BANKS[is_open]
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            write_whole(folder / name, text.encode())
    save(work)


def save(work):
    """Write the record of a piece of work."""
    names = ("id", "title", "hand_out", "key", "tells", "tries", "hints")
    dates = {name: value and value.isoformat() for name, value in (("opens", work.opens), ("closes", work.closes))}
    record = {
        "format": 1,
        **{name: getattr(work, name) for name in names},
        **dates,
        "learners": [asdict(learner) for learner in work.learners.values()],
        "exercises": [
            {"id": name, "version": exercise.version, "is_open": name in work.open_ids}
            for name, exercise in work.exercises.items()
        ],
    }
    text = json.dumps(record, ensure_ascii=False, indent=1) + "\n"
    (work.folder / PRIVATE).mkdir(parents=True, exist_ok=True)
    write_whole(work.folder / PRIVATE / RECORD, text.encode())


def find(place):
    """Return the folder of the set work to which a folder of hand-ins belongs, or None.

    Parameters
    ----------
    place : str or Path
        The folder of hand-ins or a file in it, the folder of the work, or its private folder.

    Returns
    -------
    Path or None
    """
    place = Path(place).resolve()
    for folder in (place, place.parent, place.parent.parent):
        if (folder / PRIVATE / RECORD).is_file():
            return folder
    return None


def load(folder):
    """Read the work that was set into a folder.

    Parameters
    ----------
    folder : str or Path
        The folder that `setting.set_work` wrote.

    Returns
    -------
    SetWork

    Raises
    ------
    NoSetWork
        If there is none, or its private half is not as it was written.
    """
    folder = Path(folder)
    path = folder / PRIVATE / RECORD
    try:
        kept = _Kept.model_validate_json(path.read_text(encoding="utf-8"))
        exercises = _exercises(folder, kept)
    except FileNotFoundError:
        raise NoSetWork(f"{folder} holds no work that was set: there is no {path.name} in {PRIVATE}.") from None
    except (OSError, ValidationError, UnicodeDecodeError):
        raise NoSetWork(f"{path} cannot be read. Bring it back from where you keep copies.") from None
    except UnreadableDocument as fault:
        raise NoSetWork(f"The slips or outcomes of {folder} cannot be read: {fault}") from None
    learners = {one.number: Learner(one.number, one.name, one.extra_days) for one in kept.learners}
    return SetWork(
        folder=folder,
        **{name: getattr(kept, name) for name in _Kept.model_fields if name not in ("format", "learners", "exercises")},
        learners=MappingProxyType(learners),
        exercises=MappingProxyType(exercises),
        open_ids=frozenset(one.id for one in kept.exercises if one.is_open),
    )


def _exercises(folder, kept):
    banks = {is_open: folder / PRIVATE / name for is_open, name in _BANKS.items()}
    read = {is_open: read_folder(place) for is_open, place in banks.items() if place.is_dir()}
    exercises = {}
    for one in kept.exercises:
        bank, _, faults = read.get(one.is_open, ({}, {}, ()))
        if one.id not in bank or bank[one.id].version != one.version:
            why = f": {faults[0]}" if faults else "."
            raise NoSetWork(f"{banks[one.is_open]} lacks version {one.version} of {one.id}, as it was set{why}")
        exercises[one.id] = bank[one.id]
    return exercises
