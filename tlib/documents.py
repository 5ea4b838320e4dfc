"""Files that people write, read strictly: each fault is named with its file, line and a sentence."""

import re
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, TypeAdapter, ValidationError

from tlib import units
from tlib.validation import OutOfRange, require

__all__ = ["Fault", "Record", "UnreadableDocument", "fitted", "line_of", "parse", "quantity", "read"]

_LAYOUT = {
    "Cannot overwrite": "a key is written twice",
    "Duplicate inline table key": "a key is written twice",
    "Cannot declare": "a table is written twice",
    "Invalid value": "a value cannot be read; a text or a quantity stands in quotes",
    "Expected newline": "there is more after a value; a text or a quantity stands in quotes",
    "Expected '=' after a key": "a key, in quotes if it is not plain letters, is followed by = and its value",
    "Expected ']' at the end": "the name of a table is not closed by ]",
    "Expected \"'\"": "a text is not closed by its quote",
    "Unterminated string": "a text is not closed by its quotes",
    "Illegal character": "a text is not closed by a quote on its line",
    "Unclosed array": "a list is not closed by ] or lacks a comma",
    "Unclosed inline table": "a table in braces is not closed by } or lacks a comma",
    "Unescaped '\\'": "a backslash in a text in double quotes must be doubled",
    "Invalid statement": "a line begins with neither a key nor a table",
    "Invalid initial character": "a key is missing; a table in braces stands on one line, with no comma at its end",
}  # fmt: skip
_TOKEN = re.compile(
    r"""[ \t]+|\#[^\n]*|(?P<newline>\r?\n)|(?P<mark>[\[\]{}=,.])|(?P<bare>[^\s\[\]{}=,.\#"']+)
    |(?P<text>\"{3}(?:\\.|[^\\])*?\"{3,5}|'{3}.*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*')""",
    re.DOTALL | re.VERBOSE,
)


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
    kind = units.SI_UNITS[unit]

    def convert(value: Any) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and unit == "1":
            number = float(value)
        elif isinstance(value, str):
            number = units.read(value, unit)
        else:
            raise ValueError(f"{value!r} must be a text with a number and a unit, for {kind}")
        try:
            return float(require(number, kind, "" if unit == "1" else unit, **limits))
        except OutOfRange as fault:  # say what was written, not what it came to
            raise OutOfRange(f"{str(fault).partition('; got')[0]}; got {value!r}.") from None

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
    except OSError as fault:
        raise UnreadableDocument([Fault(str(path), 0, "file", f"cannot be opened: {fault.strerror}")]) from None
    return parse(text, model, str(path))


def parse(text, model, path="text"):
    """Read the text of a written file into a model.

    Parameters
    ----------
    text : str
        TOML.
    model : type
        A `Record`, or any type that pydantic can validate.
    path : str, optional
        The name that faults will carry.

    Returns
    -------
    model
        The text's contents, checked.

    Raises
    ------
    UnreadableDocument
        With every fault found, each by line and key.

    Examples
    --------
    >>> class Tank(Record):
    ...     volume: quantity("m3", above=0)
    >>> parse('name = "Larkrigg"', Tank, "tank.toml")
    Traceback (most recent call last):
    tlib.documents.UnreadableDocument: tank.toml, line 1: volume: is missing
    tank.toml, line 1: name: is not a key that is known here
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise UnreadableDocument([_layout_fault(path, text, str(fault))]) from None
    except RecursionError:
        raise UnreadableDocument([Fault(path, 1, "layout", "is nested far too deep")]) from None
    try:
        return TypeAdapter(model).validate_python(data)
    except ValidationError as problem:
        errors = problem.errors(include_url=False)
        found = [(_known(text, error), error) for error in errors]
        faults = [_fault(path, text, keys, error) for keys, error in found if not _is_echo(keys, error, found)]
        raise UnreadableDocument(sorted(faults, key=lambda fault: fault.line)) from None


def fitted(data, model):
    """Fit a table that was read already into a model.

    Parameters
    ----------
    data : mapping
        As TOML gives it.
    model : type
        A `Record`, or any type that pydantic can validate.

    Returns
    -------
    value : model or None
        The table's contents, checked; None where it does not fit.
    faults : tuple of (tuple, str)
        The keys and the sentence of everything that does not fit.

    Examples
    --------
    >>> class Tank(Record):
    ...     volume: quantity("m3", above=0)
    >>> fitted({"volume": "300 litre"}, Tank)[0].volume
    0.3
    >>> fitted({}, Tank)
    (None, ((('volume',), 'is missing'),))
    """
    try:
        return TypeAdapter(model).validate_python(data), ()
    except ValidationError as problem:
        return None, tuple((error["loc"], _sentence(error)) for error in problem.errors(include_url=False))


def line_of(text, keys):
    r"""Return the line on which a key stands.

    Parameters
    ----------
    text : str
        TOML that can be read.
    keys : sequence of str or int
        The path to the key; a place in a list, or in an array of tables, counts from 0.

    Returns
    -------
    int
        The line, counting from 1, of the deepest part of the path that is there.

    Examples
    --------
    >>> line_of('name = "hall"\n[store]\nvolume = "300 litre"', ["store", "volume"])
    3
    """
    return _lines(text).get(_there(text, keys), 1)


# --- faults, from what the readers report


def _layout_fault(path, text, report):
    """Return the fault of a text that is no TOML, in plain words before the reader's own."""
    line = re.search(r"at line (\d+)", report)
    said = report.partition(" (at")[0]
    plain = next((words for start, words in _LAYOUT.items() if said.startswith(start)), "cannot be read")
    number = int(line[1]) if line else len(text.splitlines()) or 1
    return Fault(path, number, "layout", f"{plain} ({said[:1].lower()}{said[1:]})")


def _known(text, error):
    """Return an error's path without the names of types that the checker puts into it."""
    loc = [part for part in error["loc"] if not (isinstance(part, str) and "[" in part)]
    if error["type"] == "missing":
        return (*_there(text, loc[:-1]), loc[-1])
    return _there(text, loc)


def _is_echo(keys, error, found):
    """Say whether an error only repeats that the other form of a field, a quantity or a table, does not fit either."""
    others = [path for path, other in found if other is not error and path[: len(keys)] == keys]
    if error["type"] in ("model_type", "dict_type"):
        return keys in others
    return isinstance(error.get("input"), dict) and any(len(path) > len(keys) for path in others)


def _fault(path, text, keys, error):
    return Fault(path, line_of(text, keys), ".".join(map(str, keys)) or "file", _sentence(error))


def _sentence(error):
    kind, value = error["type"], error.get("input")
    if kind == "missing":
        return "is missing"
    if kind == "extra_forbidden":
        return "is not a key that is known here"
    cause = error.get("ctx", {}).get("error")
    if isinstance(cause, ValueError):
        return str(cause)
    said = error["msg"]
    return f"{said[0].lower()}{said[1:]}; got {value!r}" if not isinstance(value, dict) else said


# --- lines, from the text itself: the reader of TOML does not tell them


def _there(text, keys):
    """Return the part of a key path that stands in the text; names in between that do not are passed over."""
    lines, path = _lines(text), ()
    for key in keys:
        if (*path, key) in lines:
            path = (*path, key)
    return path


@lru_cache(maxsize=8)
def _lines(text):
    """Return the line of every key, table and place in a list, by its path."""
    return _Lines(text).found


class _Lines:
    """A walk over text that is known to be TOML, noting where each key path begins."""

    def __init__(self, text):
        self.tokens, self.at, self.found, self.arrays = list(_tokens(text)), 0, {}, {}
        table = ()
        while self._skip_newlines():
            if self._next == "[":
                table = self._header()
            else:
                self._pair(table)

    @property
    def _next(self):
        return self.tokens[self.at][1]

    def _take(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def _skip_newlines(self):
        while self._next == "\n":
            self.at += 1
        return self._next != ""

    def _header(self):
        """Take ``[table]`` or ``[[table]]``; return its path, with its place in each array of tables."""
        line = self._take()[2]
        is_array = self._next == "["
        self.at += is_array
        *above, last = self._key()
        self.at += 1 + is_array
        path = (*self._inside(above), last)
        self._note(path, line)
        if is_array:
            self.arrays[path] = self.arrays.get(path, -1) + 1
            path = (*path, self.arrays[path])
            self.found[path] = line
        return path

    def _inside(self, parts):
        """Return the path of named tables, each array of tables standing for the last of its members."""
        path = ()
        for part in parts:
            path = (*path, part)
            path = (*path, self.arrays[path]) if path in self.arrays else path
        return path

    def _note(self, path, line):
        for depth in range(1, len(path) + 1):
            self.found.setdefault(path[:depth], line)

    def _key(self):
        """Take a dotted key; return its parts."""
        parts = []
        while not parts or self._next == ".":
            self.at += bool(parts)
            kind, said, _ = self._take()
            parts.append(tomllib.loads(f"key = {said}")["key"] if kind == "text" else said)
        return parts

    def _pair(self, table):
        line = self.tokens[self.at][2]
        path = (*table, *self._key())
        self._note(path, line)
        self.at += 1  # the equals sign
        self._value(path)

    def _value(self, path):
        if self._next == "[":
            self._members(path, "]", self._place)
        elif self._next == "{":
            self._members(path, "}", lambda path, _: self._pair(path))
        else:
            while self._next not in ("\n", ",", "]", "}", ""):
                self.at += 1

    def _members(self, path, end, take):
        """Take what stands between brackets or braces, set apart by commas and new lines."""
        self.at += 1
        place = 0
        while self._skip_newlines() and self._next != end:
            take(path, place)
            place += 1
            self._skip_newlines()
            self.at += self._next == ","
        self.at += 1

    def _place(self, path, place):
        self.found[(*path, place)] = self.tokens[self.at][2]
        self._value((*path, place))


def _tokens(text):
    """Yield kind, text and line of each mark, word, quoted text and new line; last an empty one."""
    line = 1
    for match in _TOKEN.finditer(text):
        if match.lastgroup:
            yield match.lastgroup, match[0] if match.lastgroup != "newline" else "\n", line
        line += match[0].count("\n")
    yield "end", "", line
