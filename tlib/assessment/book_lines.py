"""The lines of an answer book: how one is written, and how a file of them is read back and proved whole."""

import hashlib
import json
import re
from dataclasses import dataclass
from pathlib import Path

__all__ = ["FORMAT", "WORK_ID", "BookRead", "ForeignFile", "chained", "read", "receipt_of"]

FORMAT = 1
START = "0" * 64
_LARGEST_FILE = 16_000_000
_LONGEST_LINE = 100_000
WORK_ID = re.compile(r"[a-z0-9][a-z0-9-]{0,60}")
_SUM = re.compile(r'(?P<body>.*),"sum":"(?P<sum>[0-9a-f]{64})"\}', re.DOTALL)


class ForeignFile(ValueError):
    """A file is not an answer book."""


@dataclass(frozen=True)
class BookRead:
    """An answer book as read back.

    Attributes
    ----------
    path : Path
        The file.
    header : dict
        Its first line: format, tool version, work, learner, exercise versions.
    events : tuple of dict
        Every event after it, in order.
    checksum : str
        The checksum of the last good line.
    dropped : tuple of str
        Lines that were cut short, as by a power failure, and were left out; each as a sentence.
    damage : tuple of str
        Proof that the file is not as it was written; each as a sentence. Empty for a sound book.
    whole : bool
        Whether the file ends with a finished line, so that another may follow it.
    """

    path: Path
    header: dict
    events: tuple
    checksum: str
    dropped: tuple
    damage: tuple
    whole: bool


def chained(record, before):
    """Return the line of a record, and its checksum chained to the line before.

    Parameters
    ----------
    record : dict
        Plain values that JSON can hold.
    before : str
        The checksum of the line before, or the fixed start.

    Returns
    -------
    line : str
        The JSON text, closed with the checksum, without a line end.
    checksum : str
        SHA-256 over the checksum before and the text.
    """
    body = json.dumps(record, ensure_ascii=False, allow_nan=False, separators=(",", ":"))[:-1]
    checksum = _checksum(before, body)
    return f'{body},"sum":"{checksum}"}}', checksum


def receipt_of(checksum):
    """Return the short code a learner keeps: it fits only the book that ends with this checksum."""
    return "-".join(checksum[place : place + 4] for place in (0, 4, 8))


def read(path):
    """Read an answer book and say what is wrong with it, if anything.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    BookRead
        What it holds. A line cut short is dropped and reported; damage is reported, never raised.

    Raises
    ------
    ForeignFile
        If the file is no answer book at all.

    Notes
    -----
    The chain of checksums shows that a line was changed, added, moved or taken out of the middle. It does not
    prove who wrote it, and a cut at the very end shows only against the receipt.
    """
    path = Path(path)
    if path.stat().st_size > _LARGEST_FILE:
        raise ForeignFile(f"{path.name} is far larger than any answer book.")
    lines = path.read_bytes().split(b"\n")
    return _proved(path, lines)


def _proved(path, lines):
    records, dropped, damage, before = [], [], [], START
    for number, raw in enumerate(lines, start=1):
        if not raw.strip():
            continue
        record, body, checksum = _parsed(raw)
        if record is None:
            dropped.append(f"Line {number} was cut short and is left out.")
            continue
        if not damage and (checksum != _checksum(before, body) or record.get("n") != len(records)):
            damage.append(f"Line {number} does not follow from the line before it.")
        records.append(record)
        before = checksum
    header = records[0] if records else {}
    if not _is_header(header):
        raise ForeignFile(f"{path.name} is not an answer book.")
    return BookRead(path, header, tuple(records[1:]), before, tuple(dropped), tuple(damage), not lines[-1])


def _is_header(record):
    texts = all(isinstance(record.get(key), str) for key in ("tool", "work", "learner"))
    named = texts and WORK_ID.fullmatch(record["work"]) is not None
    return record.get("event") == "answer book" and named and isinstance(record.get("exercises"), dict)


def _parsed(raw):
    """Return the record, its text without the checksum, and the checksum; three Nones for a line cut short."""
    try:
        match = _SUM.fullmatch(raw.decode("utf-8")) if len(raw) <= _LONGEST_LINE else None
        record = json.loads(f"{match['body']}}}", parse_constant=_refuse) if match else None
    except (ValueError, RecursionError):
        record = None
    return (record, match["body"], match["sum"]) if isinstance(record, dict) else (None, None, None)


def _refuse(name):
    raise ValueError(f"{name} is not a plain number")


def _checksum(before, body):
    return hashlib.sha256(f"{before}{body}".encode()).hexdigest()
