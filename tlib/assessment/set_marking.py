"""Marking a class's hand-ins of work that was set: by its key, its class list and its dates."""

import re
from dataclasses import replace
from datetime import datetime

from tlib.assessment.answer_book import receipt_of
from tlib.assessment.desk import learner_number
from tlib.assessment.marking_run import Script, Unfit, best_try, run_over, set_numbers, versions_in

__all__ = ["mark_set_work"]


def mark_set_work(place, work, told=None):
    """Mark every hand-in of a piece of work that was set.

    Parameters
    ----------
    place : str or Path
        A folder of hand-ins, or one file.
    work : SetWork
        From `tlib.assessment.kept_work.load`.
    told : callable, optional
        Called with files done and files in all, for a progress bar.

    Returns
    -------
    MarkingRun
        One script for each learner of the class who handed in; every other file with its reason; and the learners
        of whom nothing was marked. All exercises of the work count, answered or not. Of two hand-ins of one book
        the later counts. A late hand-in is marked, and says so.
    """
    run = run_over(place, lambda book: _refuse(book, work), lambda book: _script(book, work), told)
    came = {script.learner for script in run.scripts}
    return replace(run, missing=tuple(learner for learner in work.learners.values() if learner.number not in came))


def _refuse(book, work):
    """Raise for a book that belongs to other work or to nobody here, before it can be taken for a second one."""
    said = book.header["work"]
    if said != work.book:
        again = re.fullmatch(rf"{work.id}-[0-9a-f]{{6}}", said)
        raise Unfit(
            f"This is {work.id} as it was set for another class or at another time ({said}, not {work.book})."
            if again
            else f"This is other work: {said}, not {work.id}."
        )
    learner = learner_number(book.header["learner"])
    if learner not in work.learners:
        raise Unfit(f"Learner {learner} is not on the class list.")


def _script(book, work):
    learner = work.learners[learner_number(book.header["learner"])]
    for name, version in versions_in(book).items():
        if name not in work.exercises:
            raise Unfit(f"The book answers {name!r}, which is not part of this work.")
        if version not in (None, work.exercises[name].version):
            raise Unfit(f"The book was made with version {version} of {name}; set was {work.exercises[name].version}.")
    exercises = tuple(
        best_try(book, exercise, learner.number, work.key, work.terms, work.tries)
        for exercise in work.exercises.values()
    )
    notes = (*book.dropped, *_late(book, work, learner), *_beyond(book, work))
    return Script(book.path, learner.number, work.id, receipt_of(book.checksum), exercises, notes,
                  work.title, learner.name)  # fmt: skip


def _late(book, work, learner):
    """Say when it was handed in, where that was too late or cannot be told."""
    times = [event.get("at") for event in book.events if event.get("event") == "handed in"]
    if not times:
        yield "The file has no hand-in line; it may have been copied by hand."
        return
    closes = work.closes_for(learner)
    try:
        when = datetime.fromisoformat(times[-1]).astimezone()
    except (TypeError, ValueError, OverflowError, OSError):
        yield "The file does not say when it was handed in."
        return
    if closes is not None and when.date() > closes:
        yield f"Handed in late: on {when:%Y-%m-%d at %H:%M} by the learner's clock. The last day was {closes}."


def _beyond(book, work):
    beyond = {number for name in work.exercises for number in set_numbers(book, name) if number > work.tries}
    if beyond:
        yield f"Only {work.tries} of the sets of values that it answers were handed out; the others do not count."
