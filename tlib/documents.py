"""Files that people write, read strictly: each fault is named with its file, line and a sentence."""

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, TypeAdapter, ValidationError

from tlib import units
from tlib.validation import OutOfRange, require

__all__ = ["Fault", "Record", "UnreadableDocument", "parse", "quantity", "read"]


class Record(BaseModel):
    """A table of a written file: frozen once read, and no key goes unread."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=False)


@dataclass(frozen=True)
class Fault:
    """One thing wrong in a written file, and where."""

    path: str
    line: int
    key: str
    says: str

    def __str__(self):
        """Return the sentence as the checker prints it."""
        return f"{self.path}, line {self.line}: {self.key}: {self.says}"


class UnreadableDocument(ValueError):
    """A written file has faults; `faults` lists every one."""

    def __init__(self, faults):
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))


def quantity(unit, **limits):
    """Return the type of a field that holds a quantity written with its unit.

    Parameters
    ----------
    unit : str
        The unit the field holds once read; a key of `tlib.units.SI_UNITS`.
    **limits : float
        The limits of `tlib.validation.require`, in that unit.

    Returns
    -------
    type
        An annotation for a field of a `Record`.

    Examples
    --------
    >>> class Tank(Record):
    ...     volume: quantity("m3", above=0)
    >>> parse('volume = "300 litre"', Tank, "tank.toml").volume
    0.3
    """

    def convert(value: Any) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and unit == "1":
            number = float(value)
        elif isinstance(value, str):
            number = units.read(value, unit)
        else:
            raise ValueError(f"{value!r} must be a text with a number and a unit, for {units.SI_UNITS[unit]}")
        return float(require(number, units.SI_UNITS[unit], "" if unit == "1" else unit, **limits))

    return Annotated[float, BeforeValidator(convert)]


def read(path, model):
    """Read a written file into a model.

    Parameters
    ----------
    path : str or Path
        A TOML file.
    model : type
        A `Record`, or any type that pydantic can validate.

    Returns
    -------
    model
        The file's contents, checked.

    Raises
    ------
    UnreadableDocument
        With every fault found, each by file, line and key.
    """
    path = Path(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise UnreadableDocument([Fault(str(path), 0, "file", "there is no such file")]) from None
    except UnicodeDecodeError:
        raise UnreadableDocument([Fault(str(path), 0, "file", "is not text in UTF-8")]) from None
    return parse(text, model, str(path))


def parse(text, model, path="text"):
    """Read the text of a written file into a model; `path` is the name that faults will carry."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        line = re.search(r"line (\d+)", str(fault))
        raise UnreadableDocument(
            [Fault(path, int(line[1]) if line else text.count("\n") + 1, "layout", f"{fault}".split(" (at")[0])]
        ) from None
    try:
        return TypeAdapter(model).validate_python(data)
    except ValidationError as problem:
        faults = [_fault(path, text, error) for error in problem.errors(include_url=False)]
        raise UnreadableDocument(sorted(faults, key=lambda fault: fault.line)) from None


def _fault(path, text, error):
    keys = [part for part in error["loc"] if not (isinstance(part, str) and "[" in part)]
    key = ".".join(str(part) for part in keys) or "file"
    return Fault(path, line_of(text, keys), key, _sentence(error))


def _sentence(error):
    kind, value = error["type"], error.get("input")
    if kind == "missing":
        return "is missing"
    if kind == "extra_forbidden":
        return "is not a key that is known here"
    cause = error.get("ctx", {}).get("error")
    if isinstance(cause, OutOfRange | units.UnreadableQuantity | ValueError):
        return str(cause)
    said = error["msg"]
    return f"{said[0].lower()}{said[1:]}; got {value!r}" if not isinstance(value, dict) else said


def line_of(text, keys):
    """Return the line on which the deepest known part of a key path stands, counting from 1."""
    found, tables = 1, _table_lines(text)
    lines = text.splitlines()
    for depth in range(len(keys), 0, -1):
        head = _dotted(keys[:depth])
        if head in tables:
            return _key_line(lines, tables[head], keys[depth:]) or tables[head]
    return _key_line(lines, 0, keys) or found


def _dotted(keys):
    return tuple(str(key) for key in keys)


def _table_lines(text):
    """Return the line of each [table] and [[table]] header, keyed by its path with array places."""
    lines, counts, current = {}, {}, ()
    for number, line in enumerate(text.splitlines(), start=1):
        if match := re.match(r"\s*\[\[\s*([^\]]+?)\s*\]\]", line):
            name = tuple(part.strip().strip('"') for part in match[1].split("."))
            counts[name] = counts.get(name, -1) + 1
            current = (*name, str(counts[name]))
            lines[current] = number
        elif match := re.match(r"\s*\[\s*([^\[\]]+?)\s*\]\s*(#.*)?$", line):
            name = tuple(part.strip().strip('"') for part in match[1].split("."))
            parent = current if current[: len(name) - 1] == name[:-1] and len(current) > len(name) - 1 else None
            lines[(*parent, name[-1]) if parent and current[-1].isdigit() and name[:-1] == current[:-1] else name] = (
                number
            )
    return lines


def _key_line(lines, start, keys):
    """Return the line of the first key below a header, before the next header."""
    if not keys:
        return None
    for number, line in enumerate(lines[start:], start=start + 1):
        if re.match(r"\s*\[", line):
            return None
        if re.match(rf'\s*"?{re.escape(str(keys[0]))}"?\s*[=.]', line):
            return number
    return None
