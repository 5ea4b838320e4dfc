"""Names that formulas and texts of an exercise may use, and what is said of one that they may not."""

from tlib.assessment.filling import holes
from tlib.assessment.formulary import KINDS
from tlib.assessment.formulas import FormulaFault

__all__ = ["hole_faults", "texts_in_sight", "unknown_names"]


def unknown_names(formula, known, parts):
    """Yield a sentence for each name or function of a formula that has no meaning where it stands.

    Parameters
    ----------
    formula : Formula
        What was read.
    known : collection of str
        The givens, and the parts before this one whose answer is a number.
    parts : mapping of str to str
        The kind of every part of the exercise, by name.
    """
    for name in sorted(formula.names - set(known)):
        if parts.get(name, "number") != "number":
            yield f"names the part {name!r}, whose answer is not a number"
        elif name in parts:
            yield f"names the part {name!r}, which does not come earlier"
        else:
            yield f"names {name!r}, which is neither a given nor an earlier part"
    for name in sorted(formula.functions - KINDS.keys()):
        yield f"calls {name!r}, which is not in the formulary; it has {', '.join(sorted(KINDS))}"
    for name in sorted(formula.names & KINDS.keys()):
        yield f"names the function {name!r} without its brackets"


def texts_in_sight(part):
    """Return the texts that every kind of part shows before an answer, each with its key: what is asked, and hints."""
    return [(("ask",), part.ask), *((("hints",), hint) for hint in part.hints)]


def hole_faults(text, known):
    """Yield a sentence for each hole of a text that cannot be filled."""
    try:
        found = holes(text)
    except FormulaFault as fault:
        yield str(fault)
        return
    for name, formula in found:
        if formula is not None:
            yield from unknown_names(formula, known, {})
        elif name not in {*known, "site"}:
            yield f"leaves room for {{{name}}}, which is neither a given nor an earlier part"
