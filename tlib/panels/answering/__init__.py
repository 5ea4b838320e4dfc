"""Where an answer is given: a field for each kind of part, all with the same few names.

A field has a `widget` for the page, its answer as text in `value`, which may be set, and `disabled`; `on_change` tells
each change by the learner or by setting. The line for a number also has `on_enter`, and the fields in `PICTURED` have
`draw`, which draws what a function returns.
"""

from types import MappingProxyType

from tlib.panels.answering import choice, order, schematic, text, trace

__all__ = ["FIELDS", "PICTURED", "field_for"]

FIELDS = MappingProxyType({"number": text.number_field, "choice": choice.ChoiceField, "order": order.OrderField,
                           "trace": trace.TraceField, "schematic": schematic.SchematicField,
                           "written": text.written_field})  # fmt: skip
"""The field of each kind of part."""

PICTURED = ("trace", "schematic")
"""The kinds whose field has a picture."""


def field_for(question, said):
    """Return the field for a part.

    Parameters
    ----------
    question : QuestionPart
        What is asked.
    said : str
        How it is called by a screen reader, such as "Your answer to (a)".

    Returns
    -------
    TextField or another of this package
    """
    return FIELDS[question.kind](question, said)
