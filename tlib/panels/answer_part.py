"""One part of an exercise: what is asked, where the answer goes, hints, and what became of it."""

from string import ascii_lowercase

import ipywidgets as widgets

from tlib.assessment import Answer
from tlib.assessment.marked import FOR_THE_TUTOR
from tlib.assessment.typing_pace import TypingPace
from tlib.panels.answering import PICTURED, field_for
from tlib.panels.feedback import hint_offer, part_told
from tlib.panels.fields import button, side_by_side
from tlib.panels.markup import blank, paragraph, shown, status
from tlib.panels.sitting import CannotSave, saved_at

__all__ = ["SETTLED", "AnswerPart", "answer_parts"]

SETTLED = ("right", "follow-through", "own value", FOR_THE_TUTOR)
"""Verdicts after which there is nothing left to find with these numbers."""

_NOT_DRAWN = "The picture could not be drawn. You did nothing wrong. Show this line to your tutor: "
_TRIES = 2  # wrong answers before the sum is shown; after that, new numbers


def answer_parts(task):
    """Return the parts of a task, lettered where there are several; the task marks with what stands in them."""
    asked = task.question.parts
    letters = [f"({letter})" for letter in ascii_lowercase] if len(asked) > 1 else [""]
    task.parts = tuple(AnswerPart(part, task, letter) for part, letter in zip(asked, letters, strict=False))
    return task.parts


class AnswerPart:
    """The widgets of one part, bound to the answer book.

    Attributes
    ----------
    field : TextField or another of `tlib.panels.answering`
        Where the learner answers; its `value` is the answer as text.
    check, hint : ipywidgets.Button
        Have it marked; take the next hint.
    saved, told, hints : ipywidgets.HTML
        When it was saved; what marking said; the hints taken.
    taken : int
        How many hints were taken.
    wrong : int
        How many checks were not right.
    """

    def __init__(self, question, task, letter=""):
        self.question, self._task, self.taken, self.wrong, self._settled = question, task, 0, 0, False
        self._fields = {"exercise": task.id, "part": question.name, "attempt": task.attempt, "version": task.version}
        self.field = field_for(question, f"Your answer to {letter}" if letter else "Your answer")
        self.check = button("Check", self.mark, "chief")
        self.hint = button("", self.take_hint)
        self.saved, self.told, self.hints = shown(), shown(), shown()
        self._pace = TypingPace(task.keeper, self._say_saved, failed=self._say_not_saved)
        self._restore()
        self.field.on_change(lambda text: self._pace.typed(**self._fields, text=text, unit=""))
        if question.kind == "number":
            self.field.on_enter(self.mark if task.tells else self._pace.left)
        self._buttons = side_by_side(self.check, self.hint)
        self.widget = widgets.VBox(
            [shown(self._asked(letter)), self.field.widget, self.saved, self._buttons, self.hints, self.told]
        )
        self.widget.add_class("tlib-part")

    @property
    def answer(self):
        """What stands in the field now."""
        return Answer(self.field.value, tries=self._task.attempt, hints=self.taken)

    @property
    def is_settled(self):
        """Whether the sum has been shown, so that only new numbers can still teach."""
        return self._settled

    def draw(self):
        """Draw the picture that belongs to the question, if there is one."""
        if self.question.kind not in PICTURED:
            return
        try:
            self.field.draw(lambda: self.question.picture or self._task.picture(self.question.name))
        except Exception as fault:  # a learner must never meet a traceback
            self.saved.value = status(f"{_NOT_DRAWN}{type(fault).__name__}: {fault}")

    def mark(self):
        """Have the answer marked and say what was found; nothing happens where the work tells nothing yet."""
        if not self._task.tells or self._settled:
            return
        self._pace.left()
        found = self._task.mark(self.question.name)
        self.wrong += found.verdict not in (*SETTLED, "ask again")
        try:
            self._task.keeper.append("answered", **self._fields, text=self.field.value, unit="", checked=found.verdict)
        except CannotSave as fault:
            self._say_not_saved(fault)
            return
        self._tell(found)
        self._task.marked()

    def take_hint(self):
        """Show the next hint; it counts from the moment it is kept."""
        try:
            self._task.keeper.append("hint taken", **self._fields, hint=self.taken + 1)
        except CannotSave as fault:
            self._say_not_saved(fault)
            return
        self.taken += 1
        self._show_hints()

    def _asked(self, letter):
        return paragraph(f"{letter} {self.question.ask} {self.question.marks_said}")

    def _restore(self):
        ours = [e for e in self._task.events if e.get("part") == self.question.name]
        typed = [e for e in ours if e["event"] == "answered"]
        self.taken = sum(e["event"] == "hint taken" for e in ours)
        checks = [e["checked"] for e in typed if "checked" in e]
        self.wrong = sum(verdict not in (*SETTLED, "ask again") for verdict in checks)
        if typed:
            self.field.value = typed[-1]["text"]
            self._say_saved(typed[-1])
        self._again = bool(typed) and "checked" in typed[-1]
        self._show_hints()

    def tell_again(self):
        """After a restart, say again what marking found, if nothing was typed since."""
        if self._again:
            self._tell(self._task.mark(self.question.name))

    def _tell(self, found):
        self._settled = found.verdict in SETTLED or self.wrong >= _TRIES
        worked = self._task.worked(self.question.name) if self._settled else ""
        self.told.value = part_told(found, worked, asks=not self._settled)
        self.field.disabled = self._settled
        self._show_hints()

    def _show_hints(self):
        hints = self.question.hints
        taken = [paragraph(f"Hint {number}. {hint}") for number, hint in enumerate(hints[: self.taken], start=1)]
        self.hints.value = f'<div role="status" aria-live="polite">{"".join(taken)}</div>' if taken else ""
        blank(self.check, hidden=not self._task.tells or self._settled)
        blank(self.hint, hidden=self.taken >= len(hints) or self._settled)
        if self.taken < len(hints):
            self.hint.description = hint_offer(self.taken + 1, len(hints), self._task.hint_shares)

    def _say_saved(self, event):
        self.saved.value = status(f"Saved {saved_at(event)}", "quiet")

    def _say_not_saved(self, fault):
        self.saved.value = status(str(fault))
