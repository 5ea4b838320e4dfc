"""The slips of a class: which wrong ideas turned up in which question, the most frequent first."""

from collections import Counter, defaultdict
from dataclasses import dataclass, field

from tlib.assessment.marked import FOR_THE_TUTOR
from tlib.papers.spreadsheet import csv_bytes

__all__ = ["slip_sheet"]


@dataclass
class _Asked:
    """What a class did with one part of one exercise."""

    available: int = 0
    given: int = 0
    right: int = 0
    waiting: int = 0
    earned: float = 0.0
    unknown: int = 0
    slips: Counter = field(default_factory=Counter)


def slip_sheet(run):
    """Return how a class did in each question, as CSV in UTF-8 with its mark in front.

    Parameters
    ----------
    run : MarkingRun
        From `tlib.assessment.marking_run.mark_folder`.

    Returns
    -------
    bytes
        A row for each part of each exercise, whatever numbers each learner had; those with the most slips first. All
        are counts, never shares: in a class of ten a share says more than is known. Answers that wait for a tutor
        count as given, not as wrong.
    """
    asked, ideas = defaultdict(_Asked), {}
    for script in run.scripts:
        for one in script.exercises:
            for part in one.marked.parts:
                _count(asked[one.exercise.id, part.name], part)
                ideas |= {slip.code: slip.idea for slip in part.slips}
    head = ["exercise", "part", "learners", "answered", "right", "for the tutor", "marks earned", "of", "slips",
            "which", "wrong, not known"]  # fmt: skip
    rows = sorted(asked.items(), key=lambda row: -sum(row[1].slips.values()))
    learners = len(run.scripts)
    return csv_bytes([head, *(_row(name, counted, learners, ideas) for name, counted in rows)])


def _count(counted, part):
    if part.verdict == "ask again":
        counted.available += part.available
        return
    counted.given += 1
    counted.available += part.available
    counted.earned += part.earned
    counted.right += part.verdict == "right"
    counted.waiting += part.verdict == FOR_THE_TUTOR
    counted.unknown += part.verdict in ("unknown", "not right", "partly right")
    counted.slips.update(slip.code for slip in part.slips)


def _row(name, counted, learners, ideas):
    which = "; ".join(f"{code} ({count}): {ideas[code]}" for code, count in counted.slips.most_common())
    return [*name, learners, counted.given, counted.right, counted.waiting, f"{counted.earned:g}", counted.available,
            sum(counted.slips.values()), which, counted.unknown]  # fmt: skip
