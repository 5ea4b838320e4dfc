"""A piece of work as a tutor writes it: ``work.toml``, read strictly."""

import datetime
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, StringConstraints

from tlib.assessment.bank import read_folder
from tlib.assessment.book_lines import WORK_ID
from tlib.assessment.class_list import read_class
from tlib.assessment.reading import place
from tlib.documents import Record, UnreadableDocument, read
from tlib.tables import shipped

__all__ = ["AFTER_RETURN", "AT_ONCE", "Source", "Work", "WorkFile", "read_work"]

AFTER_RETURN, AT_ONCE = "after return", "at once"

_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])$")
_PRACTICE = "book-"
_MOST_EXERCISES = 20


def _work_id(text):
    if not WORK_ID.fullmatch(text) or len(text) > 40:
        raise ValueError(f"must be up to 40 small letters, figures and hyphens; got {text[:60]!r}")
    if _RESERVED.match(text):
        raise ValueError(f"{text!r} is a name that Windows keeps for itself; choose another")
    if text.startswith(_PRACTICE):
        raise ValueError(f"{_PRACTICE}… is kept for practice in the workbooks; choose another")
    return text


def _exercise_ids(ids):
    for number, name in enumerate(ids):
        if name in ids[:number]:
            raise ValueError(f"{name!r} is listed twice")
    return ids


Name = Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
Count = Annotated[int, Field(strict=True, ge=1, le=_MOST_EXERCISES)]


class Also(Record):
    """Exercises to be drawn from the bank: so many for an outcome, the same ones for the whole class."""

    outcome: Name
    count: Count = 1


class Work(Record):
    """One piece of work as its file gives it."""

    format: Literal[1]
    id: Annotated[str, AfterValidator(_work_id)]
    title: Name
    class_list: Name = Field(alias="class")
    exercises: Annotated[tuple[Name, ...], Field(max_length=_MOST_EXERCISES), AfterValidator(_exercise_ids)] = ()
    also: Annotated[tuple[Also, ...], Field(max_length=_MOST_EXERCISES)] = ()
    bank: Name | None = None
    opens: datetime.date | None = None
    closes: datetime.date | None = None
    tells: Literal["after return", "at once"] = AFTER_RETURN
    tries: Annotated[int, Field(strict=True, ge=1, le=3)] = 1
    hints: Annotated[int, Field(strict=True, ge=0, le=3)] = 0
    key: Annotated[str, StringConstraints(min_length=20, max_length=80, pattern=r"^[A-Za-z0-9_-]+$")] | None = None


@dataclass(frozen=True)
class Source:
    """Where an exercise comes from: the text of its file, and whether learners have that file too."""

    text: str
    is_open: bool


@dataclass(frozen=True)
class WorkFile:
    """A work file with all that it names.

    Attributes
    ----------
    path : Path
        The file.
    text : str
        Its text, in which faults find their line.
    work : Work
        Its contents.
    learners : tuple of Learner
        The class.
    exercises : mapping of str to Exercise
        Every exercise that the work may draw on, by id.
    sources : mapping of str to Source
        Where each comes from.
    folders : mapping of bool to Path
        The folder of the open bank, at True, and of the tutor's own, at False.
    """

    path: Path
    text: str
    work: Work
    learners: tuple
    exercises: dict
    sources: dict
    folders: dict

    def fault(self, keys, says):
        """Return a fault at the line of a key."""
        return place(self.path, self.text, keys, says)


def read_work(path):
    """Read a work file, its class list and the banks it draws on.

    Parameters
    ----------
    path : str or Path
        A TOML file; the class list and the tutor's own bank are looked for beside it.

    Returns
    -------
    WorkFile

    Raises
    ------
    UnreadableDocument
        With the faults of the work file, else with those of the class list and of the banks.
    """
    path = Path(path)
    work = read(path, Work)
    text = path.read_text(encoding="utf-8-sig")
    faults = [place(path, text, keys, says) for keys, says in _out_of_order(path, work)]
    try:
        learners = read_class(path.parent / work.class_list) if _is_there(path, work) else ()
    except UnreadableDocument as fault:
        faults += fault.faults
    exercises, sources, folders, unread = _banks(path, work)
    if faults or unread:
        raise UnreadableDocument([*faults, *unread])
    return WorkFile(path, text, work, learners, exercises, sources, folders)


def _is_there(path, work):
    return (path.parent / work.class_list).is_file()


def _out_of_order(path, work):
    if not _is_there(path, work):
        yield ("class",), f"there is no file {work.class_list!r} beside this one"
    if work.bank is not None and not (path.parent / work.bank).is_dir():
        yield ("bank",), f"there is no folder {work.bank!r} beside this file"
    if work.opens and work.closes and work.closes < work.opens:
        yield ("closes",), f"is {work.closes}, before the work opens on {work.opens}"
    if not work.exercises and not work.also:
        yield ("exercises",), "sets nothing; give the ids of exercises here, or outcomes under also"


def _banks(path, work):
    """Return exercises, their texts and folders; where an id stands in both banks the tutor's own counts."""
    folders = {True: shipped("exercises")}
    if work.bank is not None:
        folders[False] = path.parent / work.bank
    exercises, sources, unread = {}, {}, []
    for is_open, folder in folders.items():
        found, texts, faults = read_folder(folder)
        exercises |= found
        sources |= {name: Source(text, is_open) for name, (_, text) in texts.items()}
        unread += () if is_open else faults
    return exercises, sources, folders, unread
