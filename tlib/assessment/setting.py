"""Setting work: a work file becomes one folder to hand out, and a private one with the key and the answers."""

import csv
import hashlib
import io
import secrets
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from tlib.assessment import kept_work
from tlib.assessment.bank import own_or_shipped
from tlib.assessment.checker import FEWEST_FOR_ASSIGNMENTS
from tlib.assessment.hand_out import paper_for, paper_name, paper_text, tells_answers, written
from tlib.assessment.hand_out_page import hand_out_page
from tlib.assessment.kept_work import HAND_INS, HAND_OUT, PRIVATE, SetWork
from tlib.assessment.marking import mark
from tlib.assessment.own_values import attempt_key, draw, variants
from tlib.assessment.replacing import write_whole
from tlib.assessment.work import AT_ONCE, read_work
from tlib.documents import UnreadableDocument

__all__ = ["AlreadySet", "set_work"]

_TRIED = 400
_ALL_HINTS = 3


class AlreadySet(ValueError):
    """The work was set before, in another way; learners may hold that hand-out."""


def set_work(path, out=None, told=None):
    """Set a piece of work for a class.

    Parameters
    ----------
    path : str or Path
        The work file.
    out : str or Path, optional
        The folder to write; by default one beside the work file, named by the id of the work.
    told : callable, optional
        Called with learners done and learners in all, for a progress bar.

    Returns
    -------
    SetWork
        What was set. Its folder holds ``hand-out``, for the learners; ``private``, for the tutor; and ``hand-ins``,
        an empty place to collect in.

    Raises
    ------
    UnreadableDocument
        With every fault of the work file, the class list or the tutor's own exercises, by file and line.
    AlreadySet
        If the folder holds the same work, set in another way. Names, dates and further learners may change: the
        key and everybody's values stay.
    """
    file = read_work(path)
    folder = Path(out) if out is not None else file.path.parent / file.work.id
    if (folder / PRIVATE / kept_work.RECORD).is_file():
        work = _again(file, kept_work.load(folder))
        kept_work.save(work)
    else:
        work, files = _afresh(file, folder)
        kept_work.keep(work, files)
    _write(work, told)
    return work


def _afresh(file, folder):
    key = file.work.key or secrets.token_hex(16)
    chosen = _chosen(file, key)
    work = SetWork(
        folder=folder, id=file.work.id, title=file.work.title, hand_out=secrets.token_hex(3), key=key,
        opens=file.work.opens, closes=file.work.closes, tells=file.work.tells, tries=file.work.tries,
        hints=_hints(file.work), learners=_by_number(file.learners),
        exercises=MappingProxyType({name: file.exercises[name] for name in chosen}),
        open_ids=frozenset(name for name in chosen if file.sources[name].is_open),
    )  # fmt: skip
    files = {}
    for name in chosen:
        source = file.sources[name]
        texts = files.setdefault(source.is_open, _lists(file.folders[source.is_open]))
        texts[f"{name}.toml"] = source.text
    return work, files


def _lists(folder):
    names = ("slips.toml", "outcomes.toml")
    return {name: own_or_shipped(folder, name).read_text(encoding="utf-8-sig") for name in names}


def _hints(work):
    return _ALL_HINTS if work.tells == AT_ONCE else work.hints


def _by_number(learners):
    return MappingProxyType({learner.number: learner for learner in learners})


def _again(file, before):
    """Return the work as set before, with the names, dates and learners of now; refuse any other change."""
    now = file.work
    wanted = len(now.exercises) + sum(also.count for also in now.also)
    changed = [
        what
        for what, is_same in {
            "id": now.id == before.id,
            "exercises": set(now.exercises) <= before.exercises.keys() and wanted == len(before.exercises),
            "tells": now.tells == before.tells,
            "tries": now.tries == before.tries,
            "hints": _hints(now) == before.hints,
            "key": now.key in (None, before.key),
        }.items()
        if not is_same
    ]
    if changed:
        raise AlreadySet(
            f"{before.folder} holds this work already, and learners may have it. In {file.path.name} these have "
            f"changed since: {', '.join(changed)}. Put them back, or give the work another id."
        )
    return replace(
        before, title=now.title, opens=now.opens, closes=now.closes, learners=_by_number(file.learners)
    )  # fmt: skip


# --- which exercises


def _chosen(file, key):
    """Return the ids of the exercises, those named first; raise with every fault by line."""
    chosen, faults = [], []
    for number, name in enumerate(file.work.exercises):
        says = _unfit(file, name)
        if says:
            faults.append(file.fault(("exercises", number), f"{name}: {says}"))
        chosen.append(name)
    for number, also in enumerate(file.work.also):
        fit = [name for name in _in_turn(file, key, also.outcome) if name not in chosen and not _unfit(file, name)]
        if len(fit) < also.count:
            says = f"{len(fit)} more exercises for {also.outcome!r} can be set; {also.count} are wanted"
            faults.append(file.fault(("also", number), says))
        chosen += fit[: also.count]
    if faults:
        raise UnreadableDocument(faults)
    return chosen


def _in_turn(file, key, outcome):
    """Return the exercises for an outcome in an order that only the key knows, the same on every machine."""
    found = [name for name, exercise in file.exercises.items() if exercise.outcome == outcome]
    return sorted(found, key=lambda name: hashlib.sha256(f"also {key} {name}".encode()).digest())


def _unfit(file, name):
    """Return why an exercise cannot be set; empty when it can."""
    if name not in file.exercises:
        return "is not the id of a sound exercise in the bank; run the check to see what there is"
    exercise = file.exercises[name]
    if file.work.tells == AT_ONCE:
        return (
            "" if file.sources[name].is_open else "is not in the open bank, so a learner's page cannot mark it at once"
        )
    if any(tells_answers(text, exercise) for text in (exercise.story, *(part.ask for part in exercise.part))):
        return "prints the right answer of one question in another, so it is for practice only"
    if not exercise.number_parts:
        return ""
    total, tried, accepted = variants(exercise, _TRIED)
    draws = total * accepted // tried
    if draws < FEWEST_FOR_ASSIGNMENTS:
        return f"gives {draws} sets of values; work that counts wants {FEWEST_FOR_ASSIGNMENTS}"
    return ""


# --- what is written


def _write(work, told):
    papers = work.folder / HAND_OUT / work.book
    papers.mkdir(parents=True, exist_ok=True)
    (work.folder / HAND_INS).mkdir(exist_ok=True)
    for done, learner in enumerate(work.learners.values(), start=1):
        paper = paper_for(work, learner)
        write_whole(papers / f"{paper_name(learner.number)}.json", written(paper).encode())
        write_whole(papers / f"{paper_name(learner.number)}.txt", paper_text(paper).encode("utf-8-sig"))
        if told is not None:
            told(done, len(work.learners))
    write_whole(work.folder / HAND_OUT / f"{work.book}.ipynb", hand_out_page(work).encode())
    write_whole(work.folder / HAND_OUT / "how-to-start.txt", _HOW_TO_START.format(book=work.book).encode("utf-8-sig"))
    write_whole(work.folder / PRIVATE / "answer-key.csv", _answer_key(work))


_HOW_TO_START = """\
How to start

1. Copy this whole folder to your computer.
2. Open a command prompt where the thermal store workbooks are, and run
       .venv\\Scripts\\python -m tlib open PLACE
   or, on Linux and macOS,
       .venv/bin/python -m tlib open PLACE
   PLACE is where this folder is now.
   Or copy {book}.ipynb and the folder {book} into your folder tlib-answers, and open the page from there.
3. Give your learner number. Answer. Press Hand in at the end, and send your tutor the file it makes.

Your numbers are your own. To read them without the page, open the text file with your number in the folder {book}.
"""


def _answer_key(work):
    """Return every learner's numbers and right answers as a table; for the tutor only."""
    page = io.StringIO(newline="")
    rows = csv.writer(page, quoting=csv.QUOTE_ALL)
    rows.writerow(["learner", "exercise", "version", "set", "part", "right answer", "numbers"])
    for number in work.learners:
        for exercise in work.exercises.values():
            for attempt in range(1, work.tries + 1):
                values = draw(exercise, number, attempt_key(work.key, attempt))
                numbers = "; ".join(f"{name} {value:g}" for name, value in values.numbers.items())
                for part in mark(exercise, values, {}).parts:
                    rows.writerow([number, exercise.id, exercise.version, attempt, part.name, part.right, numbers])
    return page.getvalue().encode("utf-8-sig")
