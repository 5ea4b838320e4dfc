"""The class list: who gets the work, as a spreadsheet program saves it."""

import csv
from dataclasses import dataclass
from pathlib import Path

from tlib.assessment.desk import NoLearner, learner_number
from tlib.documents import Fault, UnreadableDocument

__all__ = ["Learner", "read_class"]

_LARGEST = 1_000_000
_MOST_LEARNERS = 2000
_HEADS = {
    "number": ("number", "learner", "learner number", "no", "no."),
    "name": ("name", "learner name", "full name"),
    "extra days": ("extra days",),
}
_WANTED = "number, name and, where somebody has more time, extra days"


@dataclass(frozen=True)
class Learner:
    """One line of a class list.

    Attributes
    ----------
    number : str
        The learner number, in the form that own values use.
    name : str
        For the tutor's sheets only; nothing that is handed out carries it.
    extra_days : int
        How many days after closing still count as in time.
    """

    number: str
    name: str = ""
    extra_days: int = 0


def read_class(path):
    """Read a class list.

    Parameters
    ----------
    path : str or Path
        A CSV file in UTF-8. Its first line names the columns, in any order: number, name and, where wanted, extra
        days. Cells stand apart by commas, semicolons or tabs; other columns are passed over.

    Returns
    -------
    tuple of Learner
        In the order of the file.

    Raises
    ------
    UnreadableDocument
        With every fault, by line.
    """
    path = Path(path)
    rows = _rows(path)
    places, faults = _columns(path, rows)
    learners, lines = [], {}
    for line, row in rows[1:] if places else ():
        found = _learner(row, places, lines)
        if isinstance(found, Learner):
            learners.append(found)
            lines[found.number] = line
        else:
            faults.append(Fault(str(path), line, *found))
    if not learners and not faults:
        faults.append(Fault(str(path), 1, "class", "names nobody"))
    if len(learners) > _MOST_LEARNERS:
        faults.append(Fault(str(path), 1, "class", f"names more than {_MOST_LEARNERS} learners"))
    if faults:
        raise UnreadableDocument(faults)
    return tuple(learners)


def _rows(path):
    """Return the lines that hold anything, each with its number."""
    text = _text(path)
    head = text.lstrip("\r\n").partition("\n")[0]
    apart = max(",;\t", key=head.count)
    reader = csv.reader(text.splitlines(), delimiter=apart, skipinitialspace=True)
    rows = []
    try:
        for row in reader:
            cells = [" ".join(cell.split()) for cell in row]
            if any(cells):
                rows.append((reader.line_num, cells))
    except csv.Error as fault:
        raise UnreadableDocument([Fault(str(path), reader.line_num, "class", f"cannot be read: {fault}")]) from None
    if not rows:
        raise UnreadableDocument([Fault(str(path), 1, "class", "holds nothing")])
    return rows


def _text(path):
    try:
        if path.stat().st_size > _LARGEST:
            raise UnreadableDocument([Fault(str(path), 0, "class", f"is larger than {_LARGEST} bytes")])
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        says = "there is no such file"
    except UnicodeDecodeError:
        says = "is not text in UTF-8; in the spreadsheet program choose Save as, CSV UTF-8"
    except OSError as fault:
        says = f"cannot be opened: {fault.strerror}"
    raise UnreadableDocument([Fault(str(path), 0, "class", says)])


def _columns(path, rows):
    """Return the place of each column by name, and what is wrong with the first line."""
    line, heads = rows[0]
    heads = [head.lower() for head in heads]
    places, faults = {}, []
    for name, words in _HEADS.items():
        found = [place for place, head in enumerate(heads) if head in words]
        if len(found) > 1:
            faults.append(Fault(str(path), line, name, "is the head of two columns"))
        elif found:
            places[name] = found[0]
    missing = [name for name in ("number", "name") if name not in places and not faults]
    faults += [Fault(str(path), line, name, f"no column has this head; wanted are {_WANTED}") for name in missing]
    return (places if not faults else {}), faults


def _learner(row, places, lines):
    """Return the learner of a line, or the column at fault and why."""
    cells = {name: row[place] if place < len(row) else "" for name, place in places.items()}
    if not cells["number"]:
        return "number", f"is missing{' for ' + cells['name'] if cells['name'] else ''}"
    try:
        number = learner_number(cells["number"])
    except NoLearner as fault:
        return "number", str(fault)
    if number in lines:
        return "number", f"{number} stands on line {lines[number]} already"
    extra = cells.get("extra days", "") or "0"
    if not (extra.isascii() and extra.isdecimal() and int(extra) <= 365):
        return "extra days", f"must be a whole number up to 365; got {extra[:40]!r}"
    return Learner(number, cells["name"][:200], int(extra))
