"""Work that a tutor has set: the learner's own paper on the page, answers kept, nothing told before its time."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import ipywidgets as widgets

from tlib.assessment import ASSIGNMENT, bank, mark
from tlib.assessment.hand_out import BadPaper, read_paper
from tlib.assessment.own_values import values_of
from tlib.assessment.wording import working
from tlib.assessment.work import AT_ONCE
from tlib.panels.answer_part import answer_parts
from tlib.panels.feedback import marks_said, own_said, said_besides
from tlib.panels.fields import button
from tlib.panels.learner import LearnerBox
from tlib.panels.markup import blank, paragraph, shown, status
from tlib.panels.page import Page
from tlib.panels.sitting import CannotSave, Keeper, sitting
from tlib.panels.style import sheet
from tlib.tables import shipped

__all__ = ["SetBox", "SetTask", "set_exercise", "set_work"]


class SetTask:
    """One exercise of a learner's paper: what is asked, what is kept, and, where work tells at once, how it is marked.

    Parameters
    ----------
    paper : Paper
        The learner's own.
    exercise_id : str
        Which exercise of it.
    place : Sitting
        Whose it is and where it is kept.
    marked : callable
        Called without arguments after each check.
    """

    hint_shares = ASSIGNMENT.hints

    def __init__(self, paper, exercise_id, place, marked):
        exercise = next((one for one in paper.exercises if one.id == exercise_id), None)
        if exercise is None:
            raise BadPaper(f"Your paper has no exercise {exercise_id}. Copy the hand-out folder again.")
        self.id, self.version, self.tells, self.marked = exercise.id, exercise.version, paper.tells == AT_ONCE, marked
        self.keeper, self._book, self.sets = Keeper(place), paper.book, len(exercise.sets)
        ours = [e for e in place.book().events if e.get("exercise") == self.id]
        self.attempt = min(max((event.get("attempt", 1) for event in ours), default=1), self.sets)
        self.events = [event for event in ours if event.get("attempt", 1) == self.attempt]
        self._set = exercise.sets[self.attempt - 1]
        self.question, self.parts = self._set.question, ()
        if self.tells:
            self._exercise = _open_exercise(self.id, self.version)
            self._values = replace(values_of(self._exercise, self._set.numbers, paper.learner), shown=self._set.shown)
        if not self.events:
            self.open(self.attempt)

    def open(self, attempt):
        """Record that a set of values is in front of the learner."""
        self.keeper.append(
            "opened", exercise=self.id, version=self.version, attempt=attempt, hand_out=self._book
        )  # fmt: skip

    def mark_all(self):
        """Return the whole exercise marked, with what stands in the fields now; only where the work tells at once."""
        answers = {part.question.name: part.answer for part in self.parts}
        return mark(self._exercise, self._values, answers)

    def mark(self, name):
        """Return one part marked."""
        return next(part for part in self.mark_all().parts if part.name == name)

    def worked(self, name):
        """Return the worked sum of a part in the learner's own numbers."""
        return working(self._exercise.parts[name], self._exercise, self._values)


def _open_exercise(exercise_id, version):
    found = _bank().get(exercise_id)
    if found is None or found.version != version:
        raise BadPaper(f"This page needs version {version} of {exercise_id}. Ask your tutor which tlib to install.")
    return found


@cache
def _bank():
    return bank.read_folder(shipped("exercises"))[0]


class SetBox:
    """An exercise of set work on the page; it follows whoever sits here.

    Parameters
    ----------
    papers : str or Path
        The folder of the learners' papers.
    exercise_id : str
        Which exercise of them.
    place : Sitting, optional
        The page's own by default.

    Attributes
    ----------
    parts : tuple of AnswerPart
        Empty while nobody has given a learner number, or where there is no paper for it.
    again : ipywidgets.Button
        Begins the next set of values, where the work has more than one.
    says : ipywidgets.HTML
        What is wrong, or the marks so far where the work tells at once.
    """

    def __init__(self, papers, exercise_id, place=None):
        self._papers, self._id, self._place, self.parts = Path(papers), exercise_id, place or sitting(), ()
        self.again = button("", self._begin_again, "plain")
        self.says = shown()
        self._body = widgets.VBox()
        self._body.add_class("tlib-column")
        self.widget = Page([sheet(), self._body, self.says, self.again], self._draw)
        self.widget.add_class("tlib")
        self._place.on_switch(self._refill)
        self._fill()

    def _refill(self):
        self._fill()
        self._draw()

    def _draw(self):
        """Draw the pictures of the questions, once the page shows the rest."""
        for part in self.parts:
            part.draw()

    def _fill(self):
        self.parts, self.says.value, self._body.children = (), "", ()
        blank(self.again, hidden=True)
        try:
            self._place.book()  # asks for the learner number first, in the words that every box uses
            paper = read_paper(self._papers, self._place.learner)
            self._task = SetTask(paper, self._id, self._place, self._sum_up)
        except (CannotSave, BadPaper) as fault:
            self.says.value = status(str(fault))
            return
        asked = self._task.question
        self.parts = answer_parts(self._task)
        if self._task.tells:
            for part in self.parts:
                part.tell_again()
        story = shown(paragraph(asked.story) + paragraph(self._set_said(), "quiet"))
        self._body.children = [story, *(part.widget for part in self.parts)]
        self._offer_next()

    def _set_said(self):
        turn = f"This is set {self._task.attempt} of {self._task.sets}. " if self._task.sets > 1 else ""
        return f"{turn}{own_said(self._task.question)} Each answer is saved as you give it."

    def _offer_next(self):
        following = self._task.attempt + 1
        blank(self.again, hidden=following > self._task.sets)
        shares = ASSIGNMENT.tries
        cost = "" if self._task.tells else f": it counts {100 * shares[min(following, len(shares)) - 1]:.0f} %"
        self.again.description = f"Begin set {following}{cost}"

    def _sum_up(self):
        marked = self._task.mark_all()
        total = f"{marks_said(marked.earned, marked.available)} so far. Your best set counts."
        self.says.value = status(" ".join([total, *said_besides(marked)]))

    def _begin_again(self):
        try:
            self._task.open(self._task.attempt + 1)
        except CannotSave as fault:
            self.says.value = status(str(fault))
            return
        self._refill()


def set_work(papers):
    """Return the first box of a hand-out, and begin its work.

    Parameters
    ----------
    papers : str
        The name of the folder of papers beside the page, which is also the name of the answer book.

    Returns
    -------
    ipywidgets.VBox
        For the last line of the first cell.
    """
    sitting().begin(Path(papers).name)
    return LearnerBox(sitting()).widget


def set_exercise(papers, exercise_id):
    """Return the box of one exercise of a hand-out.

    Parameters
    ----------
    papers : str
        The name of the folder of papers beside the page.
    exercise_id : str
        The exercise.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.
    """
    return SetBox(papers, exercise_id).widget
