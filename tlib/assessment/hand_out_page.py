"""The page of a hand-out: a notebook that shows each learner their own paper."""

import json

from tlib.assessment.work import AT_ONCE

__all__ = ["hand_out_page"]

_LOCKED = {"editable": False, "deletable": False}
_HIDDEN = {**_LOCKED, "jupyter": {"source_hidden": True}}


def hand_out_page(work):
    """Return the notebook of a piece of work as JSON.

    Parameters
    ----------
    work : SetWork
        What was set.

    Returns
    -------
    str
        A page of calls to `tlib.panels`. It holds no numbers: those are in the learners' papers beside it.
    """
    cells = [_text("title", _beginning(work)), _code("learner", f"from tlib import panels\n\n{_call(work)}")]
    for number, exercise in enumerate(work.exercises.values(), start=1):
        cells.append(_text(f"heading-{number}", f"## Exercise {number}"))
        cells.append(_code(f"exercise-{number}", _call(work, exercise.id)))
    books = sorted({exercise.workbook for exercise in work.exercises.values()})
    cells += [_code(f"caution-{book}", f'panels.caution("{book}")') for book in books]
    cells += [_text("ending", "## Hand in"), _code("hand-in", "panels.hand_in()")]
    page = {
        "cells": cells,
        "metadata": {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
            "tlib": {"workbook": work.book},
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    return json.dumps(page, ensure_ascii=False, indent=1) + "\n"


def _call(work, exercise=None):
    if exercise is None:
        return f'panels.set_work("{work.book}")'
    return f'panels.set_exercise("{work.book}", "{exercise}")'


def _beginning(work):
    when = "as soon as you check an answer" if work.tells == AT_ONCE else "when your tutor gives the work back"
    return (
        f"# {' '.join(work.title.split())}\n\n"
        "Everybody has the same questions, with numbers of their own. You need a calculator and some paper. "
        f"You hear what was right {when}.\n\n"
        "If nothing but text is here, choose **Run**, then **Run All Cells**."
    )


def _text(name, source):
    return {"cell_type": "markdown", "id": name, "metadata": _LOCKED, "source": _lines(source)}


def _code(name, source):
    return {"cell_type": "code", "id": name, "metadata": _HIDDEN, "execution_count": None, "outputs": [],
            "source": _lines(source)}  # fmt: skip


def _lines(source):
    return source.splitlines(keepends=True)
