"""The hand-in box: makes the file for the tutor, and shows the receipt and where the file is."""

import ipywidgets as widgets

from tlib.assessment import desk
from tlib.panels.fields import button
from tlib.panels.markup import paragraph, shown, status
from tlib.panels.sitting import CannotSave, saved_at, sitting
from tlib.panels.style import sheet

__all__ = ["HandInBox", "hand_in"]

_WHAT = (
    "This makes a file with your predictions, your answers and the hints you took. "
    "It shows if anyone changes it afterwards. It cannot show who wrote it. You can go on and hand in again."
)


class HandInBox:
    """A button that copies the answer book for the tutor.

    Attributes
    ----------
    press : ipywidgets.Button
        Makes the file.
    says : ipywidgets.HTML
        How much is answered, or the receipt and where the file is.
    """

    def __init__(self, place=None):
        self._place = place or sitting()
        self.press = button("Hand in", self._hand_in, "chief")
        self.says = shown()
        self.widget = widgets.VBox([sheet(), shown(paragraph(_WHAT)), self.press, self.says])
        self.widget.add_class("tlib")
        self._place.on_switch(self._restore)
        self._restore()

    def _hand_in(self):
        try:
            book = self._place.book()
            copy = book.hand_in(desk.folder() / "hand-in")
        except CannotSave as fault:
            self.says.value = status(str(fault))
        except OSError as fault:
            self.says.value = status(f"This is NOT handed in ({fault}). Tell your tutor.")
        else:
            self._tell(book, copy)

    def _tell(self, book, copy):
        self.says.value = (
            status(
                f"Handed in at {saved_at(book.events[-1])} by learner {self._place.learner}, "
                f"with {_answered(book.events)}."
            )
            + paragraph(f"Your receipt is {book.receipt} – write it down.")
            + paragraph(f"The file is {copy}")
            + paragraph("Send this file to your tutor, or copy it to where your tutor collects.")
        )

    def _restore(self):
        events = self._place.events()
        done = [event for event in events if event["event"] == "handed in"]
        since = "" if done and events[-1] is done[-1] else " You have gone on since; hand in again when you are done."
        self.says.value = status(f"You handed in at {saved_at(done[-1])}.{since}") if done else ""


def _answered(events):
    last = {(e["exercise"], e["part"]): e["text"] for e in events if e["event"] == "answered"}
    count = sum(bool(text.strip()) for text in last.values())
    return f"{count} answer{'s' * (count != 1)}"


def hand_in():
    """Return the hand-in box of this page's work, for the last line of a cell."""
    return HandInBox().widget
