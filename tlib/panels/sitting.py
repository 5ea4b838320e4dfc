"""One learner at one piece of work: where what they give is kept, and who is told when another sits down."""

from datetime import datetime
from functools import cache

from tlib.assessment import AnswerBook, desk
from tlib.assessment.answer_book import BookInUse

__all__ = ["CannotSave", "Keeper", "Sitting", "saved_at", "sitting"]


class CannotSave(OSError):
    """What was given is not kept; the message is a sentence for the learner."""


class Sitting:
    """The learner and the work of one page.

    Attributes
    ----------
    work : str
        The id of the piece of work, which names its answer book; empty before `begin`.
    learner : str
        The number of the learner whose answers the page shows; empty when nobody has said.
    before : str
        Whose answers it showed before. If empty, what stands in a field was typed by the learner who sits here now, and
        stays; else it was another's, and goes.
    """

    def __init__(self):
        self.work, self.learner, self.before, self._listeners = "", "", "", []

    def begin(self, work):
        """Begin a piece of work for whoever works here now."""
        self.work, self.before, self.learner = work, self.learner, desk.current_learner()
        self._tell()

    def switch(self, number):
        """Let another learner sit down; raise `NoLearner` if that is no number."""
        self.close()
        self.before, self.learner = self.learner, desk.switch_learner(number)
        self._tell()

    def close(self):
        """Let go of the answer book, so that another window may open it."""
        if self.work and self.learner:
            try:
                AnswerBook.open(desk.books_folder(self.learner), self.learner, self.work).close()
            except (BookInUse, OSError):
                return  # not ours to close

    def on_switch(self, listener):
        """Call a function, without arguments, each time the page must show another learner's answers."""
        self._listeners.append(listener)

    def book(self):
        """Return the learner's answer book for this work; raise `CannotSave` if there can be none now."""
        if not self.work:
            raise CannotSave("This page has not been run from its first line yet, so answers have no place.")
        if desk.current_learner() != self.learner:
            self.close()
            self.before, self.learner = self.learner, desk.current_learner()
            self._tell()
            raise CannotSave(f"Learner {self.learner} works here now, so this page has changed. Please answer again.")
        if not self.learner:
            raise CannotSave("Give your learner number at the top of this page. Then your answers have a place.")
        try:
            return AnswerBook.open(desk.books_folder(self.learner), self.learner, self.work)
        except BookInUse as fault:
            raise CannotSave(str(fault)) from None
        except OSError as fault:
            raise CannotSave(_refused(fault)) from None

    def record(self, event, **fields):
        """Write one event into the answer book and return it once it is safe; raise `CannotSave` if it is not."""
        book = self.book()
        try:
            return book.append(event, **fields)
        except (OSError, ValueError) as fault:
            raise CannotSave(_refused(fault)) from None

    def events(self):
        """Return every event of the book so far; none when there is no book."""
        try:
            return self.book().events
        except CannotSave:
            return ()

    def _tell(self):
        for listener in tuple(self._listeners):
            listener()


class Keeper:
    """The answer book of the learner who sits here now, and of nobody who comes after.

    What one learner typed in the last half second must never reach the book of the next.
    """

    def __init__(self, place):
        self._place, self._learner = place, place.learner

    def append(self, event, **fields):
        """Write one event and return it once it is safe; raise `CannotSave` if it is not."""
        if self._place.learner != self._learner:
            raise CannotSave("Another learner works here now.")
        return self._place.record(event, **fields)


@cache
def sitting():
    """Return the sitting of this page: one for each kernel."""
    return Sitting()


def saved_at(event):
    """Return the clock time of an event where the learner is."""
    return f"{datetime.fromisoformat(event['at']).astimezone():%H:%M:%S}"


def _refused(fault):
    return f"This is NOT saved ({fault}). Write it on paper, and tell your tutor."
