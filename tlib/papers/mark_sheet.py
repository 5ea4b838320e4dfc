"""The mark sheet: one row a learner, as a table that any spreadsheet program opens."""

from pathlib import Path

from tlib.assessment.marked import FOR_THE_TUTOR
from tlib.assessment.replacing import write_whole
from tlib.assessment.wording import question
from tlib.papers.feedback import feedback_page
from tlib.papers.slip_sheet import slip_sheet
from tlib.papers.spreadsheet import csv_bytes

__all__ = ["answer_sheet", "mark_sheet", "set_aside_sheet", "write_papers", "written_sheet"]


def mark_sheet(run):
    """Return the mark sheet of a marking run.

    Parameters
    ----------
    run : MarkingRun
        From `tlib.assessment.marking_run.mark_folder`.

    Returns
    -------
    bytes
        CSV in UTF-8 with its mark in front, every cell quoted. A text that a spreadsheet could take for a formula
        has an apostrophe before it.
    """
    names = list(dict.fromkeys(one.exercise.id for script in run.scripts for one in script.exercises))
    head = ["learner", "name", "work", "marks", "out of", "per cent", "for the tutor", "safety", *names,
            "looks like", "not answered", "inferred marks", "notes", "receipt", "file"]  # fmt: skip
    missing = [_missing_row(learner, run, names) for learner in run.missing]
    return csv_bytes([head, *(_row(script, names) for script in run.scripts), *missing])


def answer_sheet(run):
    """Return every answer of a marking run, a row each: what was typed, what it earned, what it looks like and why."""
    head = ["learner", "name", "exercise", "version", "set", "part", "typed", "right answer", "marks", "out of",
            "looks like", "said", "reasons"]  # fmt: skip
    return csv_bytes(
        [head, *(row for script in run.scripts for one in script.exercises for row in _answers(script, one))]
    )


def written_sheet(run):
    """Return the written answers that wait for a tutor, a row each, with their rubric and room for the marks."""
    head = ["learner", "name", "exercise", "version", "set", "part", "asked", "answer", "earns", "out of", "marks",
            "reason", "initials"]  # fmt: skip
    return csv_bytes(
        [head, *(row for script in run.scripts for one in script.exercises for row in _written(script, one))]
    )


def set_aside_sheet(run):
    """Return the files that were not marked, each with its reason, as CSV like `mark_sheet`."""
    return csv_bytes([["file", "reason"], *([one.path.name, one.reason] for one in run.aside)])


def write_papers(run, folder):
    """Write the mark sheet, every answer, those that a tutor must mark, the slips, and a feedback page each.

    Parameters
    ----------
    run : MarkingRun
        From `tlib.assessment.marking_run.mark_folder`.
    folder : str or Path
        Where to; it is made if it is not there.

    Returns
    -------
    list of Path
        The files, the mark sheet first.
    """
    folder = Path(folder)
    (folder / "feedback").mkdir(parents=True, exist_ok=True)
    sheets = {"mark-sheet.csv": mark_sheet, "answers.csv": answer_sheet, "to-mark.csv": written_sheet,
              "slips.csv": slip_sheet, "set-aside.csv": set_aside_sheet}  # fmt: skip
    pages = {folder / name: sheet(run) for name, sheet in sheets.items()}
    for script in run.scripts:
        page = folder / "feedback" / f"{script.work}--learner-{script.learner}.html"
        pages[page] = feedback_page(script).encode()
    for path, data in pages.items():
        write_whole(path, data)
    return list(pages)


def _rows_of(run, rows):
    """Yield the rows that a function gives for each exercise of each script."""
    for script in run.scripts:
        for one in script.exercises:
            yield from rows(script, one)


def _row(script, names):
    marked = {one.exercise.id: one.marked for one in script.exercises}
    parts = [part for one in script.exercises for part in one.marked.parts]
    scores = [f"{marked[name].earned:g}" if name in marked else "" for name in names]
    share = f"{100 * script.earned / script.available:.0f}" if script.available else ""
    waiting = sum(part.verdict == "ask again" for part in parts)
    inferred = sum(line.earned for part in parts for line in part.lines if line.inferred)
    return [script.learner, script.name, script.work, f"{script.earned:g}", script.available, share,
            script.for_the_tutor or "", script.gate, *scores, _ideas(parts), waiting, f"{inferred:g}",
            " ".join(script.notes), script.receipt, script.path.name]  # fmt: skip


def _missing_row(learner, run, names):
    """Return the row of somebody of whom nothing was marked: no marks, not even a nought, and what came instead."""
    aside = [one for one in run.aside if one.learner == learner.number]
    note = " ".join(f"Set aside: {one.path.name}. {one.reason}" for one in aside) or "Nothing was handed in."
    return [learner.number, learner.name, *[""] * (9 + len(names)), note, "", ""]


def _answers(script, one):
    for part in one.marked.parts:
        reasons = " ".join(f"{line.kind}{line.earned:g}: {line.reason}" for line in part.lines)
        yield [script.learner, script.name, one.exercise.id, one.exercise.version, one.attempt, part.name, part.typed,
               part.right, f"{part.earned:g}", part.available, _ideas([part]), part.says or part.asks,
               reasons]  # fmt: skip


def _written(script, one):
    asked = {part.name: part.ask for part in question(one.exercise, one.values).parts}
    for part in one.marked.parts:
        if part.verdict == FOR_THE_TUTOR:
            points = "; ".join(f"{item.mark} for {item.says}" for item in part.items)
            yield [script.learner, script.name, one.exercise.id, one.exercise.version, one.attempt, part.name,
                   asked[part.name], part.typed, points, part.available, "", "", ""]  # fmt: skip


def _ideas(parts):
    """Return the slips that parts look like, each once: its code and the idea behind it."""
    slips = {slip.code: slip.idea for part in parts for slip in part.slips}
    return "; ".join(f"{code} {idea}" for code, idea in slips.items())
