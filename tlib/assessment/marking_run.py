"""Marking what was handed in: a folder of answer books becomes marked scripts, and nothing is lost on the way."""

from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from tlib.assessment.answer_book import BookRead, ForeignFile, answers_in, read, receipt_of
from tlib.assessment.desk import NoLearner, learner_number
from tlib.assessment.marked import worst_gate
from tlib.assessment.marking import PRACTICE, Marked, mark
from tlib.assessment.own_values import NoDraw, Values, attempt_key, draw

__all__ = ["MarkedExercise", "MarkingRun", "Script", "SetAside", "Unfit", "best_try", "hand_ins", "mark_folder",
           "run_over", "set_numbers", "versions_in"]  # fmt: skip

_GATES = ("failed", "open", "", "passed")  # of two tries the safer counts, then the one with more marks
_MOST_TRIES = 50  # sets of values that are looked at; a book that says more is no learner's


@dataclass(frozen=True)
class MarkedExercise:
    """One exercise of a script: the learner's values and the marks, of the best try."""

    exercise: object
    values: Values
    marked: Marked
    attempt: int


@dataclass(frozen=True)
class Script:
    """One learner's hand-in, marked.

    Attributes
    ----------
    path : Path
        The file.
    learner, work, receipt : str
        Whose it is, which piece of work, and the code the learner was given.
    exercises : tuple of MarkedExercise
        In the order in which the learner met them.
    notes : tuple of str
        What a tutor should know about the file: lines cut short, no hand-in line, handed in late.
    title, name : str
        What the work is called and who the learner is, where the work was set for a class; else empty.
    """

    path: Path
    learner: str
    work: str
    receipt: str
    exercises: tuple
    notes: tuple
    title: str = ""
    name: str = ""

    @property
    def earned(self):
        """The marks earned in all."""
        return round(sum(one.marked.earned for one in self.exercises), 2)

    @property
    def available(self):
        """The marks there are in all."""
        return sum(one.marked.available for one in self.exercises)

    @property
    def gate(self):
        """How the safety questions of the script stand: as the worst of them; empty where there are none."""
        return worst_gate(one.marked for one in self.exercises)

    @property
    def for_the_tutor(self):
        """The marks that only a person can give, of answers that were given."""
        return sum(one.marked.for_the_tutor for one in self.exercises)


@dataclass(frozen=True)
class SetAside:
    """A file that was not marked, and why; whose it seems to be, where that can be told."""

    path: Path
    reason: str
    learner: str = ""


@dataclass(frozen=True)
class MarkingRun:
    """All that came of a folder: `scripts` by learner, the files `aside`, and learners with nothing marked."""

    scripts: tuple
    aside: tuple
    missing: tuple = ()


def hand_ins(place):
    """Return the files of a folder, or the one file, in order of name."""
    place = Path(place)
    if not place.is_dir():
        return [place]
    return sorted((path for path in place.rglob("*") if path.is_symlink() or path.is_file()), key=Path.as_posix)


def mark_folder(place, bank, key=None, terms=PRACTICE, told=None):
    """Mark every hand-in of a folder.

    Parameters
    ----------
    place : str or Path
        A folder of hand-ins, or one file.
    bank : Bank
        The exercises.
    key : str, optional
        The key of the work, for own values. Left out, the id of the work is its key, as in practice.
    terms : Terms, optional
        What tries and hints cost.
    told : callable, optional
        Called with files done and files in all, for a progress bar.

    Returns
    -------
    MarkingRun
        Marked scripts, and every other file with its reason. A file that is damaged, foreign or there twice never
        stops the rest.
    """
    return run_over(place, _practice_only, lambda book: _script(book, bank, key, terms), told)


def run_over(place, refuse, script, told=None):
    """Mark every hand-in of a folder by given rules; see `mark_folder`.

    Parameters
    ----------
    place : str or Path
        A folder of hand-ins, or one file.
    refuse : callable
        Called with a sound book before books are compared; raises `Unfit` for one that does not belong here.
    script : callable
        Called with a book that is the only one of its learner; returns a `Script` or raises `Unfit`.
    told : callable, optional
        As for `mark_folder`.

    Returns
    -------
    MarkingRun
    """
    books, aside = [], []
    for path in hand_ins(place):
        found = _guarded(path, "", lambda path=path: _book(path, refuse))
        (books if isinstance(found, BookRead) else aside).append(found)
    books, doubles = _once_each(books)
    aside += doubles
    scripts = []
    for done, book in enumerate(books, start=1):
        found = _guarded(book.path, learner_number(book.header["learner"]), lambda book=book: script(book))
        (scripts if isinstance(found, Script) else aside).append(found)
        if told is not None:
            told(done, len(books))
    by_learner = sorted(scripts, key=lambda script: (script.work, script.learner.zfill(20)))
    return MarkingRun(tuple(by_learner), tuple(sorted(aside, key=lambda one: one.path.as_posix())))


def _book(path, refuse):
    """Return a sound answer book that belongs here, or why the file is set aside."""
    if path.is_symlink():
        return SetAside(path, "This is a link to another file, not a hand-in.")
    try:
        book = read(path)
        learner = learner_number(book.header["learner"])
    except FileNotFoundError:
        return SetAside(path, "There is no such file.")
    except (ForeignFile, NoLearner) as fault:
        return SetAside(path, str(fault))
    except OSError as fault:
        return SetAside(path, f"The file could not be read: {fault.strerror or fault}.")
    if book.damage:
        return SetAside(path, f"The file is not as it was written. {book.damage[0]}", learner)
    try:
        refuse(book)
    except Unfit as fault:
        return SetAside(path, str(fault), learner)
    return book


def _once_each(books):
    """Keep the longest book of each learner and work; set aside its earlier copies, and all where two disagree."""
    kept, aside, groups = [], [], defaultdict(list)
    for book in books:
        groups[book.header["work"], learner_number(book.header["learner"])].append(book)
    for (work, learner), group in groups.items():
        longest = max(group, key=lambda book: len(book.events))
        if any(book.header != longest.header or book.events != longest.events[: len(book.events)] for book in group):
            reason = f"Two different books claim learner {learner} and {work}; find out whose each one is."
            aside += [SetAside(book.path, reason, learner) for book in group]
            continue
        kept.append(longest)
        reason = f"This is an earlier or second copy; {longest.path.name} is marked."
        aside += [SetAside(book.path, reason, learner) for book in group if book is not longest]
    return kept, aside


class Unfit(ValueError):
    """A book cannot be marked here; the message is the reason that a tutor reads."""


def _guarded(path, learner, work):
    try:
        return work()
    except Unfit as fault:
        return SetAside(path, str(fault), learner)
    except Exception as fault:  # whatever a file holds, the others are still marked
        return SetAside(path, f"The file could not be marked: {type(fault).__name__}: {fault}", learner)


def _practice_only(book):
    if any("hand_out" in event for event in book.events):
        raise Unfit("This is set work. Mark it in the folder that was made when the work was set.")


def _script(book, bank, key, terms):
    learner, work = learner_number(book.header["learner"]), book.header["work"]
    versions = versions_in(book)
    if not versions:
        raise Unfit("The book holds no answers yet.")
    for name, version in versions.items():
        if name not in bank:
            raise Unfit(f"The book answers {name!r}, which is not among these exercises.")
        if version not in (None, bank[name].version):
            raise Unfit(f"The book was made with version {version} of {name}; here it is {bank[name].version}.")
    exercises = tuple(best_try(book, bank[name], learner, key or work, terms) for name in versions)
    notes = [*book.dropped]
    if None in versions.values():
        notes.append("The book does not say which version of an exercise it used; the present one is marked.")
    if not any(event.get("event") == "handed in" for event in book.events):
        notes.append("The file has no hand-in line; it may have been copied by hand.")
    return Script(book.path, learner, work, receipt_of(book.checksum), exercises, tuple(notes))


def versions_in(book):
    """Return the version of each exercise that a book meets, in order; raise `Unfit` where it names two."""
    versions = {str(name): version for name, version in book.header["exercises"].items()}
    for event in book.events:
        name, said = event.get("exercise"), event.get("version")
        if event.get("event") not in ("opened", "answered") or not isinstance(name, str):
            continue
        known = versions.get(name)
        if None not in (said, known) and said != known:
            raise Unfit(f"The book was made with two versions of {name}.")
        versions[name] = known if said is None else said
    return versions


def best_try(book, exercise, learner, key, terms, most=_MOST_TRIES):
    """Return one exercise of a book, marked: the best of the first so many tries, safety before marks."""
    tries = sorted(number for number in set_numbers(book, exercise.id) if number <= most) or [1]
    marked = []
    for attempt in tries[:_MOST_TRIES]:
        try:
            values = draw(exercise, learner, attempt_key(key, attempt))
        except NoDraw as fault:
            raise Unfit(str(fault)) from None
        answers = answers_in(book.events, exercise.id, attempt)
        marked.append(MarkedExercise(exercise, values, mark(exercise, values, answers, terms), attempt))
    return max(marked, key=lambda one: (_GATES.index(one.marked.gate), one.marked.earned))


def set_numbers(book, exercise_id):
    """Return which sets of values a book answers, for one exercise."""
    return {
        event["attempt"]
        for event in book.events
        if event.get("exercise") == exercise_id
        and event.get("event") == "answered"
        and isinstance(event.get("attempt"), int)
        and not isinstance(event["attempt"], bool)
        and 1 <= event["attempt"] < 1000
    }
