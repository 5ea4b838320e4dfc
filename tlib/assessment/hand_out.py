"""The hand-out: what a learner gets of a piece of work. No formula, no answer, no slip, no key."""

import hashlib
import json
import re
import textwrap
from dataclasses import asdict, dataclass, field, replace
from itertools import count
from pathlib import Path
from string import ascii_lowercase
from types import MappingProxyType

from tlib.assessment.asked import LETTERS, Question, QuestionPart
from tlib.assessment.filling import holes
from tlib.assessment.own_values import attempt_key, draw
from tlib.assessment.wording import picture, question
from tlib.assessment.work import AT_ONCE

__all__ = ["BadPaper", "Paper", "PaperExercise", "PaperSet", "paper_for", "paper_name", "paper_text", "read_paper",
           "tells_answers", "written"]  # fmt: skip

_FORMAT = 2
_LARGEST = 2_000_000
_ANSWERED_BY = {
    "choice": "The letter, or letters",
    "order": "The letters in order",
    "trace": "A letter and the number of the test",
    "schematic": "The numbers",
}
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=\S)")


class BadPaper(ValueError):
    """A learner's file of a hand-out is missing or is not as it was made; the message is for the learner."""


@dataclass(frozen=True)
class PaperSet:
    """One set of own values.

    Attributes
    ----------
    question : Question
        With its numbers and pictures filled in.
    numbers : mapping of str to float
        The given numbers by name.
    shown : mapping of str to tuple of int
        The order of options and the like, only in work that is told at once on the learner's own page.
    """

    question: Question
    numbers: MappingProxyType
    shown: MappingProxyType = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True)
class PaperExercise:
    """One exercise of a learner's paper, with a set of values for each try."""

    id: str
    version: int
    workbook: str
    sets: tuple


@dataclass(frozen=True)
class Paper:
    """What one learner gets.

    Attributes
    ----------
    work, title : str
        The id and title of the piece of work.
    book : str
        The name of the answer book: the id of the work and of this hand-out.
    learner : str
        The learner number.
    closes : str
        The last day, as year-month-day; empty for none.
    tells : str
        "after return" or "at once".
    exercises : tuple of PaperExercise
        In order.
    """

    work: str
    title: str
    book: str
    learner: str
    closes: str
    tells: str
    exercises: tuple


def paper_name(learner):
    """Return the name of a learner's file, without its ending."""
    return f"learner-{learner}"


def paper_for(work, learner):
    """Return one learner's paper of a piece of work that has been set.

    Parameters
    ----------
    work : SetWork
        From `tlib.assessment.setting`.
    learner : Learner
        Of its class.

    Returns
    -------
    Paper
    """
    exercises = tuple(
        PaperExercise(exercise.id, exercise.version, exercise.workbook, tuple(_sets(work, exercise, learner)))
        for exercise in work.exercises.values()
    )
    closes = work.closes_for(learner)
    return Paper(work.id, work.title, work.book, learner.number, closes.isoformat() if closes else "",
                 work.tells, exercises)  # fmt: skip


def _sets(work, exercise, learner):
    for attempt in range(1, work.tries + 1):
        values = draw(exercise, learner.number, attempt_key(work.key, attempt))
        asked = question(exercise, values)
        parts = tuple(
            replace(shown, hints=shown.hints[: _told_hints(part, exercise, work.hints)],
                    picture=picture(part, values))
            for shown, part in zip(asked.parts, exercise.part, strict=True)
        )  # fmt: skip
        shown = values.shown if work.tells == AT_ONCE else {}
        yield PaperSet(replace(asked, parts=parts), values.numbers, MappingProxyType(dict(shown)))


def _told_hints(part, exercise, allowed):
    """Return how many of a part's hints may be handed out: as many as allowed, none from one that prints an answer."""
    free = 0
    for hint in part.hints[:allowed]:
        if tells_answers(hint, exercise):
            break
        free += 1
    return free


def tells_answers(text, exercise):
    """Return whether a text of an exercise prints the right answer of a part, or a sum with it."""
    named = {name for hole, formula in holes(text) for name in (formula.names if formula else (hole,))}
    return bool(named & exercise.parts.keys())


def written(paper):
    """Return a learner's paper as JSON, closed with a checksum."""
    record = {"format": _FORMAT, **asdict(replace(paper, exercises=()))}
    record["exercises"] = [
        {
            "id": exercise.id,
            "version": exercise.version,
            "workbook": exercise.workbook,
            "sets": [_set_record(one) for one in exercise.sets],
        }
        for exercise in paper.exercises
    ]
    return json.dumps({**record, "sum": _sum(record)}, ensure_ascii=False, indent=1) + "\n"


def _set_record(one):
    parts = [asdict(part) for part in one.question.parts]
    return {"story": one.question.story, "numbers": dict(one.numbers), "shown": dict(one.shown), "parts": parts}


def _sum(record):
    text = json.dumps(record, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def read_paper(folder, learner):
    """Read a learner's paper.

    Parameters
    ----------
    folder : str or Path
        The folder of papers in a hand-out.
    learner : str
        The learner number.

    Returns
    -------
    Paper

    Raises
    ------
    BadPaper
        If there is none for this learner, or it is not as the tutor's tool made it.
    """
    path = Path(folder) / f"{paper_name(learner)}.json"
    try:
        if path.stat().st_size > _LARGEST:
            raise ValueError
        record = json.loads(path.read_text(encoding="utf-8"))
        said = record.pop("sum")
        if said != _sum(record):
            raise ValueError
        if record.pop("format") != _FORMAT:
            raise BadPaper(f"{path.name} was made by another version of tlib. Ask your tutor which one to install.")
        paper = _paper(record)
    except FileNotFoundError:
        raise BadPaper(f"There is no paper here for learner {learner}. Ask your tutor for your number.") from None
    except BadPaper:
        raise
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise BadPaper(f"{path.name} is not as your tutor made it. Copy the hand-out folder again.") from None
    if paper.learner != learner:
        raise BadPaper(f"{path.name} is the paper of another learner. Copy the hand-out folder again.")
    return paper


def _paper(record):
    exercises = tuple(
        PaperExercise(
            one["id"], one["version"], one["workbook"],
            tuple(_paper_set(one, given) for given in one["sets"]),
        )
        for one in record.pop("exercises")
    )  # fmt: skip
    return Paper(**record, exercises=exercises)


def _paper_set(exercise, given):
    parts = tuple(QuestionPart(**{key: _frozen(value) for key, value in part.items()}) for part in given["parts"])
    asked = Question(exercise["id"], exercise["version"], given["story"], parts)
    shown = {name: _frozen(order) for name, order in given["shown"].items()}
    return PaperSet(asked, MappingProxyType(given["numbers"]), MappingProxyType(shown))


def _frozen(value):
    return tuple(map(_frozen, value)) if isinstance(value, list) else value


def paper_text(paper):
    """Return a learner's paper as plain text, to read or print without the tool; hints are only on the page."""
    closes = f" Hand in by {paper.closes}." if paper.closes else ""
    lines = [paper.title, "=" * len(paper.title), "", f"Learner {paper.learner}.{closes}"]
    for number, exercise in enumerate(paper.exercises, start=1):
        for attempt, one in enumerate(exercise.sets, start=1):
            turn = f", set {attempt}" if len(exercise.sets) > 1 else ""
            lines += [
                "",
                "",
                f"Exercise {number}{turn}",
                "-" * len(f"Exercise {number}{turn}"),
                *_set_lines(one.question),
            ]
    return "\n".join(lines) + "\n"


def _set_lines(asked):
    yield from _flowing(asked.story)
    for letter, part in zip(ascii_lowercase, asked.parts, strict=False):
        yield ""
        yield from _flowing(f"({letter}) {part.ask} {part.marks_said}")
        yield from _place_to_answer(part)


def _place_to_answer(part):
    if part.kind == "number":
        yield f"    Answer, in {part.unit}: ____________"
        return
    if part.kind == "written":
        yield from [""] * 6
        return
    if part.picture is not None:
        yield "    The picture is on the page."
    marks = LETTERS if part.kind != "schematic" else map(str, count(1))
    yield from _listed(marks, part.things)
    if part.tests:
        yield "    The test:"
        yield from _listed(map(str, count(1)), part.tests)
    yield f"    {_ANSWERED_BY[part.kind]}: ____________"


def _listed(marks, things):
    for mark, thing in zip(marks, things, strict=False):
        first, *rest = textwrap.wrap(thing, 80)
        yield f"    {mark}  {first}"
        yield from (f"       {line}" for line in rest)


def _flowing(text):
    """Return the lines of a text; no number is parted from its unit."""
    tied = _NUMBER_AND_UNIT.sub("\u00a0", text)
    lines = [line for block in tied.split("\n") for line in textwrap.wrap(block, 90) or [""]]
    return [line.replace("\u00a0", " ") for line in lines]
