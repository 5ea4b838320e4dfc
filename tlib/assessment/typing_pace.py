"""Saving while a learner types: not at every key, and never later than half a second after the last."""

import threading
import time

__all__ = ["TypingPace"]


class TypingPace:
    """Keeps one field's typing in an answer book, at most one line every half second and one on leaving.

    Parameters
    ----------
    book : AnswerBook
        Where it is kept.
    told : callable
        Called with the kept event when a text is safe on the disk; from then on the page may say "saved".
    pause : float, optional
        The least time between two lines [s].
    clock : callable, optional
        Returns the time [s]; for tests.
    failed : callable, optional
        Called with the error when the disk refuses.
    """

    def __init__(self, book, told, pause=0.5, clock=time.monotonic, failed=None):
        self._book, self._told, self._pause, self._clock, self._failed = book, told, pause, clock, failed
        self._turn = threading.RLock()
        self._waiting, self._timer, self._last, self._kept = None, None, None, None

    def typed(self, **fields):
        """Keep a change now if the last line is old enough, else soon; the newest change wins."""
        with self._turn:
            self._waiting = fields
            wait = 0.0 if self._last is None else self._last + self._pause - self._clock()
            if wait <= 0:
                self.left()
            elif self._timer is None:
                self._timer = threading.Timer(wait, self.left)
                self._timer.daemon = True
                self._timer.start()

    def left(self):
        """Keep what still waits, as when the learner leaves the field."""
        with self._turn:
            if self._timer is not None:
                self._timer.cancel()
                self._timer = None
            fields, self._waiting = self._waiting, None
            if fields is None or fields == self._kept:
                return
            try:
                event = self._book.append("answered", **fields)
            except (OSError, ValueError) as fault:
                if self._failed is None:
                    raise
                self._failed(fault)
                return
            self._last, self._kept = self._clock(), fields
            self._told(event)
