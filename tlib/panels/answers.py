"""The exercise box: a story with the learner's own numbers, a place for each answer, and feedback in practice."""

from functools import cache

import ipywidgets as widgets

from tlib.assessment import PRACTICE, attempt_key, bank, draw, mark, question
from tlib.assessment.wording import picture, working
from tlib.panels.answer_part import answer_parts
from tlib.panels.feedback import marks_said, own_said, said_besides
from tlib.panels.fields import button
from tlib.panels.markup import blank, paragraph, shown, status
from tlib.panels.page import Page
from tlib.panels.sitting import CannotSave, Keeper, sitting
from tlib.panels.style import sheet
from tlib.tables import shipped

__all__ = ["ExerciseBox", "Task", "answer"]


class Task:
    """One exercise as one learner has it: own values, what is kept, and how it is marked.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    place : Sitting
        Whose it is and where it is kept.
    tells : bool
        Whether feedback comes at once, as in practice.
    marked : callable
        Called without arguments after each check.
    """

    hint_shares = PRACTICE.hints

    def __init__(self, exercise, place, tells, marked):
        book = place.book()
        self.id, self.version, self.tells, self.marked = exercise.id, exercise.version, tells, marked
        self.keeper, self._exercise = Keeper(place), exercise
        ours = [e for e in book.events if e.get("exercise") == self.id and e.get("version") == self.version]
        self.attempt = max((event.get("attempt", 1) for event in ours), default=1)
        self.events = [event for event in ours if event.get("attempt", 1) == self.attempt]
        self._values = draw(exercise, place.learner, attempt_key(place.work, self.attempt))
        self.question = question(exercise, self._values)
        self.parts = ()
        if not self.events:
            self.open(self.attempt)

    def open(self, attempt):
        """Record that a set of values is in front of the learner."""
        self.keeper.append("opened", exercise=self.id, version=self.version, attempt=attempt)

    def mark_all(self):
        """Return the whole exercise marked, with what stands in the fields now."""
        answers = {part.question.name: part.answer for part in self.parts}
        return mark(self._exercise, self._values, answers, PRACTICE)

    def mark(self, name):
        """Return one part marked."""
        return next(part for part in self.mark_all().parts if part.name == name)

    def picture(self, name):
        """Return what is drawn for a part in the learner's own values."""
        return picture(self._exercise.parts[name], self._values)

    def worked(self, name):
        """Return the worked sum of a part in the learner's own numbers."""
        return working(self._exercise.parts[name], self._exercise, self._values)


class ExerciseBox:
    """An exercise on the page; it follows whoever sits here.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    place : Sitting, optional
        The page's own by default.
    tells : bool, optional
        Whether feedback comes at once.

    Attributes
    ----------
    parts : tuple of AnswerPart
        Empty while nobody has given a learner number.
    again : ipywidgets.Button
        Begins a new set of values, once a set has taught what it can.
    total : ipywidgets.HTML
        The marks so far.
    """

    def __init__(self, exercise, place=None, tells=True):
        self._exercise, self._place, self._tells, self.parts = exercise, place or sitting(), tells, ()
        has_numbers = bool(exercise.given)
        self.again = button("Try it with new numbers" if has_numbers else "Try it again, anew", self._begin_again)
        self.total = shown()
        self._body = widgets.VBox()
        self._body.add_class("tlib-column")
        self.widget = Page([sheet(), self._body, self.total, self.again], self._draw)
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
        self.parts, self.total.value = (), ""
        blank(self.again, hidden=True)
        try:
            self._task = Task(self._exercise, self._place, self._tells, self._sum_up)
        except CannotSave as fault:
            self._body.children = [shown(status(str(fault)))]
            return
        asked = self._task.question
        self.parts = answer_parts(self._task)
        for part in self.parts:
            part.tell_again()
        story = shown(paragraph(asked.story) + paragraph(self._place_said(), "quiet"))
        self._body.children = [story, *(part.widget for part in self.parts)]
        if any(part.told.value for part in self.parts):
            self._sum_up()

    def _place_said(self):
        turn = f", set {self._task.attempt}" if self._task.attempt > 1 else ""
        return f"Exercise {self._task.id}{turn}. {own_said(self._task.question)}"

    def _sum_up(self):
        marked = self._task.mark_all()
        done = all(part.is_settled for part in self.parts)
        so_far = "" if done else " so far"
        total = f"{marks_said(marked.earned, marked.available)}{so_far}. Your best set counts."
        self.total.value = status(" ".join([total, *said_besides(marked)]))
        blank(self.again, hidden=not any(part.is_settled for part in self.parts))

    def _begin_again(self):
        try:
            self._task.open(self._task.attempt + 1)
        except CannotSave as fault:
            self.total.value = status(str(fault))
            return
        self._refill()


def answer(exercise_id):
    """Return the box of an exercise of the open bank, for practice.

    Parameters
    ----------
    exercise_id : str
        Its id, such as ``"logs-tonight-1"``.

    Returns
    -------
    ipywidgets.VBox
        For the last line of a cell.

    Raises
    ------
    KeyError
        If the bank has no such exercise.
    """
    return ExerciseBox(_bank()[exercise_id]).widget


@cache
def _bank():
    """Return the open bank, without files that have a fault: one of those must not take every box from the learner."""
    return bank.read_folder(shipped("exercises"))[0]
