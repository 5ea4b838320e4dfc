"""One exercise file read, with every fault named by file and line."""

from pathlib import Path

from tlib.assessment.exercises import Exercise
from tlib.assessment.formulary import KINDS
from tlib.assessment.naming import hole_faults, unknown_names
from tlib.assessment.parts import KINDS_OF_PART
from tlib.documents import Fault, UnreadableDocument, line_of, parse
from tlib.tables import table

__all__ = ["place", "read_exercise"]

_LARGEST = 60_000
_LONGEST_LINE = 500


def read_exercise(path, slips, outcomes):
    """Read an exercise file.

    Parameters
    ----------
    path : str or Path
        The file.
    slips : mapping of str to Slip
        The catalogue of slips.
    outcomes : mapping of str to Outcome
        The outcomes an exercise may serve.

    Returns
    -------
    exercise : Exercise
        Joined with the catalogue's entries for its slips.
    text : str
        The file's text, in which faults find their line.

    Raises
    ------
    UnreadableDocument
        With every fault found.
    """
    path = Path(path)
    text = _text(path)
    try:
        exercise = parse(text, Exercise, str(path))
    except RecursionError:
        raise UnreadableDocument([Fault(str(path), 1, "layout", "is nested far too deep")]) from None
    found = [*_name_faults(exercise), *_formula_faults(exercise), *_wording_faults(exercise),
             *_catalogue_faults(exercise, slips, outcomes)]  # fmt: skip
    if found:
        faults = [place(path, text, keys, says) for keys, says in found]
        raise UnreadableDocument(sorted(faults, key=lambda fault: fault.line))
    return exercise.joined(slips), text


def place(path, text, keys, says):
    """Return a fault at the line of a key path."""
    return Fault(str(path), line_of(text, list(keys)), ".".join(map(str, keys)), says)


def _text(path):
    try:
        if path.stat().st_size > _LARGEST:
            raise UnreadableDocument([Fault(str(path), 1, "file", f"is larger than {_LARGEST} bytes")])
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise UnreadableDocument([Fault(str(path), 0, "file", "there is no such file")]) from None
    except UnicodeDecodeError:
        raise UnreadableDocument([Fault(str(path), 0, "file", "is not text in UTF-8")]) from None
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > _LONGEST_LINE:  # also keeps away keys that take the reader minutes
            says = f"has more than {_LONGEST_LINE} signs; break it up"
            raise UnreadableDocument([Fault(str(path), number, "line", says)])
    return text


def _name_faults(exercise):
    taken = {"site"}
    wordless = {part.name for part in exercise.part if part.kind != "number"}  # no formula can name these
    places = [(("given", name), name) for name in exercise.given]
    places += [(("part", number, "name"), part.name) for number, part in enumerate(exercise.part)]
    for keys, name in places:
        if name in taken:
            yield keys, f"{name!r} is already the name of something else here"
        if name in KINDS and name not in wordless:
            yield keys, f"{name!r} is a function of the formulary; choose another name"
        taken.add(name)


def _formula_faults(exercise):
    kinds = {name: given.unit.kind for name, given in exercise.given.items()}
    parts = {part.name: part.kind for part in exercise.part}
    for number, part in enumerate(exercise.part):
        for keys, says in KINDS_OF_PART[part.kind].faults(part, kinds, parts):
            yield ("part", number, *keys), says
        if part.kind == "number":
            kinds[part.name] = part.unit.kind
    for count, need in enumerate(exercise.needs):
        for says in unknown_names(need, kinds, {}):
            yield ("needs", count), says


def _wording_faults(exercise):
    known = set(exercise.given)
    for says in hole_faults(exercise.story, known):
        yield ("story",), says
    for number, part in enumerate(exercise.part):
        before, after = KINDS_OF_PART[part.kind].said(part)
        yield from _texts_faults(number, before, known)
        known |= {part.name} if part.kind == "number" else set()
        yield from _texts_faults(number, after, known)


def _texts_faults(number, texts, known):
    for keys, text in texts:
        for says in hole_faults(text, known):
            yield ("part", number, *keys), says


def _catalogue_faults(exercise, slips, outcomes):
    for number, part in enumerate(exercise.part):
        for keys, code in KINDS_OF_PART[part.kind].codes(part):
            if code not in slips:
                yield ("part", number, *keys), f"{code} is not in the catalogue, slips.toml"
    if exercise.outcome not in outcomes:
        yield ("outcome",), f"{exercise.outcome!r} is not in outcomes.toml"
    for reference in exercise.references:
        if not any(reference == key or reference.startswith(f"{key} ") for key in table("references")):
            yield ("references",), f"{reference!r} does not begin with a key of the bibliography"
