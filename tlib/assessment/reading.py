"""One exercise file read, with every fault named by file and line."""

from pathlib import Path

from tlib.assessment.exercises import Exercise
from tlib.assessment.formulary import KINDS
from tlib.assessment.formulas import FormulaFault
from tlib.assessment.wording import holes
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
    places = [(("given", name), name) for name in exercise.given]
    places += [(("part", number, "name"), part.name) for number, part in enumerate(exercise.part)]
    for keys, name in places:
        if name in taken:
            yield keys, f"{name!r} is already the name of something else here"
        if name in KINDS:
            yield keys, f"{name!r} is a function of the formulary; choose another name"
        taken.add(name)


def _formula_faults(exercise):
    kinds = {name: given.unit.kind for name, given in exercise.given.items()}
    parts = [part.name for part in exercise.part]
    for number, part in enumerate(exercise.part):
        yield from _answer_faults(("part", number, "answer"), part, kinds, parts)
        kinds[part.name] = part.unit.kind
        for count, slip in enumerate(part.slips):
            yield from _unknown(("part", number, "slips", count), slip.value, kinds, parts)
    for need in exercise.needs:
        yield from _unknown(("needs",), need, kinds, ())


def _answer_faults(keys, part, kinds, parts):
    unknown = list(_unknown(keys, part.answer, kinds, parts))
    yield from unknown
    if unknown:
        return
    try:
        kind = part.answer.kind(kinds, KINDS)
    except FormulaFault as fault:
        yield keys, str(fault)
        return
    if kind != part.unit.kind:
        yield keys, f"gives {kind}, but the unit {part.unit.name!r} measures {part.unit.kind}"


def _unknown(keys, formula, known, parts):
    for name in sorted(formula.names - set(known)):
        if name in parts:
            yield keys, f"names the part {name!r}, which does not come earlier"
        else:
            yield keys, f"names {name!r}, which is neither a given nor an earlier part"
    for name in sorted(formula.functions - KINDS.keys()):
        yield keys, f"calls {name!r}, which is not in the formulary; it has {', '.join(sorted(KINDS))}"
    for name in sorted(formula.names & KINDS.keys()):
        yield keys, f"names the function {name!r} without its brackets"


def _wording_faults(exercise):
    earlier = set(exercise.given)
    yield from _holes_faults(("story",), exercise.story, earlier)
    for number, part in enumerate(exercise.part):
        for key, texts in (("ask", (part.ask,)), ("hints", part.hints)):
            for text in texts:
                yield from _holes_faults(("part", number, key), text, earlier)
        earlier.add(part.name)
        yield from _holes_faults(("part", number, "working"), part.working or "", earlier)


def _holes_faults(keys, text, known):
    try:
        found = holes(text)
    except FormulaFault as fault:
        yield keys, str(fault)
        return
    for name, formula in found:
        if formula is not None:
            yield from _unknown(keys, formula, known, ())
        elif name not in known | {"site"}:
            yield keys, f"leaves room for {{{name}}}, which is neither a given nor an earlier part"


def _catalogue_faults(exercise, slips, outcomes):
    for number, part in enumerate(exercise.part):
        for count, slip in enumerate(part.slips):
            if slip.code not in slips:
                yield ("part", number, "slips", count), f"{slip.code} is not in the catalogue, slips.toml"
    if exercise.outcome not in outcomes:
        yield ("outcome",), f"{exercise.outcome!r} is not in outcomes.toml"
    for reference in exercise.references:
        if not any(reference == key or reference.startswith(f"{key} ") for key in table("references")):
            yield ("references",), f"{reference!r} does not begin with a key of the bibliography"
