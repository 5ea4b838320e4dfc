"""The answer book: one append-only file for each learner and piece of work."""

import os
import threading
from datetime import UTC, datetime
from pathlib import Path

from tlib.assessment.answers import Answer
from tlib.assessment.book_lines import FORMAT, START, WORK_ID, BookRead, ForeignFile, chained, read, receipt_of
from tlib.assessment.desk import learner_number
from tlib.assessment.replacing import write_whole

__all__ = ["EVENTS", "AnswerBook", "BookInUse", "BookRead", "ForeignFile", "answers_in", "read", "receipt_of"]

EVENTS = ("opened", "predicted", "answered", "hint taken", "said", "handed in")
"""What a line can record; "said" is a sentence in the learner's own words, kept as evidence."""

_LONGEST_TEXT = 5000
_OPEN = {}


class BookInUse(RuntimeError):
    """Another window or program has this answer book open."""


class AnswerBook:
    """One learner's answers to one piece of work, kept line by line and never rewritten.

    Open one with `AnswerBook.open`; the same book opened twice in one program is one object.

    Attributes
    ----------
    path : Path
        The file.
    header : dict
        Its first line.
    reports : tuple of str
        Sentences for the learner about lines that were cut short or books that were set aside.
    """

    def __init__(self, path, header, reports, lock):
        self.path, self._lock, self._writing = path, lock, threading.RLock()
        # Nothing is kept back to be written later, and other users of the computer may not read it.
        self._file = open(path, "ab", buffering=0, opener=_own_only)  # noqa: SIM115 - open until close()
        self._events, self._checksum, self._needs_new_line, self._sure = [], START, False, True
        if path.stat().st_size:
            self.header, dropped = self._look_again()
            self.reports = (*reports, *dropped)
        else:
            self.header, self.reports = self._write({"n": 0, "event": "answer book", **header}), tuple(reports)

    @classmethod
    def open(cls, folder, learner, work, exercises=None):
        """Open a learner's book for a piece of work, or begin it.

        Parameters
        ----------
        folder : str or Path
            The learner's own folder, as `desk.books_folder` gives it.
        learner : int or str
            The learner number.
        work : str
            The id of the piece of work: small letters, figures and hyphens.
        exercises : mapping of str to int, optional
            The versions of the exercises it begins with, by id.

        Returns
        -------
        AnswerBook

        Raises
        ------
        BookInUse
            If another window or program has it open.
        ValueError
            If `work` is not such an id.
        """
        if not WORK_ID.fullmatch(work):
            raise ValueError(f"a piece of work is named with small letters, figures and hyphens; got {work[:70]!r}.")
        learner, folder = learner_number(learner), Path(folder)
        folder.mkdir(parents=True, exist_ok=True)
        key = (folder.resolve(), learner, work)
        if key not in _OPEN:
            lock = _locked(folder / f"{work}.lock")
            try:
                path, reports = _sound_path(folder, learner, work)
                _OPEN[key] = cls(path, _header(learner, work, exercises or {}), reports, lock)
            except BaseException:
                lock.release()
                raise
        return _OPEN[key]

    def append(self, event, **fields):
        """Write one event and return it once it is safe on the disk.

        Parameters
        ----------
        event : str
            One of `EVENTS`.
        **fields
            Plain values: texts, numbers, lists of them. An answer carries ``exercise``, ``part``, ``text``,
            ``unit`` and ``attempt``; a hint carries ``exercise``, ``part``, ``hint`` and ``attempt``.

        Returns
        -------
        dict
            The event as kept, with its number and time. Only now may the learner read "saved".

        Raises
        ------
        ValueError
            If the event is unknown, a text is too long, or a field is one that the book fills.
        OSError
            If the disk refuses; nothing counts as saved then.
        """
        if event not in EVENTS:
            raise ValueError(f"an answer book records {', '.join(EVENTS)}; got {event!r}.")
        if fields.keys() & {"n", "at", "sum"}:
            raise ValueError("the book itself gives an event its number, time and checksum.")
        if any(isinstance(value, str) and len(value) > _LONGEST_TEXT for value in fields.values()):
            raise ValueError(f"an answer can have up to {_LONGEST_TEXT} signs.")
        with self._writing:
            if not self._sure:
                self._look_again()
            kept = self._write({"n": len(self._events) + 1, "at": _now(), "event": event, **fields})
            self._events.append(kept)
        return kept

    def _write(self, record):
        line, checksum = chained(record, self._checksum)
        data = (b"\n" if self._needs_new_line else b"") + line.encode() + b"\n"
        self._sure = False  # until the whole line is known to be on the disk
        if self._file.write(data) != len(data):
            raise OSError("the disk took only a part of the line")
        os.fsync(self._file.fileno())
        self._sure, self._needs_new_line, self._checksum = True, False, checksum
        return record

    def _look_again(self):
        """Take up what the file holds, as on opening or after the disk refused a line."""
        book = read(self.path)
        self._events, self._checksum = list(book.events), book.checksum
        self._needs_new_line, self._sure = not book.whole, True
        return book.header, book.dropped

    @property
    def events(self):
        """Every event so far, in order."""
        return tuple(self._events)

    @property
    def receipt(self):
        """The short code of the book as it stands now."""
        return receipt_of(self._checksum)

    def latest_answers(self, exercise_id, attempt=None):
        """Return the last answer to each part of an exercise.

        Parameters
        ----------
        exercise_id : str
            The exercise.
        attempt : int, optional
            Which set of own values; the latest that has an event when left out.

        Returns
        -------
        dict of str to Answer
            By part name, with the hints taken.
        """
        return answers_in(self._events, exercise_id, attempt)

    def hand_in(self, folder):
        """Record the hand-in and copy the book to a folder.

        Parameters
        ----------
        folder : str or Path
            Where the tutor collects.

        Returns
        -------
        Path
            The copy. Its name carries the receipt, so a later hand-in never replaces an earlier one.
        """
        folder = Path(folder)
        folder.mkdir(parents=True, exist_ok=True)
        with self._writing:
            self.append("handed in")
            copy = folder / f"{self.header['work']}--learner-{self.header['learner']}--{self.receipt}.jsonl"
            write_whole(copy, self.path.read_bytes())
        return copy

    def close(self):
        """Let go of the file, so that another program may open it."""
        for key in [key for key, book in _OPEN.items() if book is self]:
            del _OPEN[key]
            self._file.close()
            self._lock.release()


def answers_in(events, exercise_id, attempt=None):
    """Return the last answer to each part of one exercise among events; see `AnswerBook.latest_answers`."""
    ours = [event for event in events if event.get("exercise") == exercise_id]
    attempts = [event.get("attempt", 1) for event in ours if event.get("event") in ("answered", "hint taken")]
    wanted = attempt if attempt is not None else (attempts[-1] if attempts else 1)
    ours = [event for event in ours if event.get("attempt", 1) == wanted]
    ours = [event for event in ours if isinstance(event.get("part"), str)]
    hints, answers = {}, {}
    for event in ours:
        part = event["part"]
        if event.get("event") == "hint taken":
            hints[part] = max(hints.get(part, 0), _whole(event.get("hint")))
        elif event.get("event") == "answered":
            answers[part] = Answer(
                text=str(event.get("text", "")),
                unit=str(event.get("unit", "")),
                tries=max(_whole(event.get("attempt", 1)), 1),
                hints=hints.get(part, 0),  # a hint looked at after the answer costs nothing
                challenge=str(event.get("challenge", "")),
            )
    return answers


def _own_only(path, flags):
    return os.open(path, flags, 0o600)


def _whole(value):
    return value if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 1000 else 0


def _now():
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _header(learner, work, exercises):
    from importlib import metadata

    try:
        version = metadata.version("thermal-store-workbook")
    except metadata.PackageNotFoundError:
        version = "not installed"
    return {"format": FORMAT, "tool": version, "at": _now(), "work": work, "learner": learner,
            "exercises": dict(exercises)}  # fmt: skip


def _locked(path):
    import filelock

    lock = filelock.FileLock(path, is_singleton=True, thread_local=False)
    try:
        lock.acquire(blocking=False)
    except filelock.Timeout:
        raise BookInUse(
            "This work is open in another window. Close that window, then open this page again. Nothing is lost."
        ) from None
    return lock


def _sound_path(folder, learner, work):
    """Return the first file of this work that is sound or new, and a sentence for each one passed over."""
    reports = []
    for number in range(1, 1000):
        path = folder / (f"{work}.jsonl" if number == 1 else f"{work}-{number}.jsonl")
        if not path.exists() or path.stat().st_size == 0:
            break
        try:
            book = read(path)
            trouble = book.damage[0] if book.damage else ""
            if not trouble and book.header["learner"] != learner:
                trouble = "It belongs to another learner."
        except ForeignFile as fault:
            trouble = str(fault)
        if not trouble:
            break
        reports.append(f"{path.name} is kept as it is. {trouble} Your answers go on in a new file.")
    return path, reports
