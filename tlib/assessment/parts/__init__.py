"""The kinds of part an exercise may have, one module each, all with the same few functions.

A kind reads (`Part`, `faults`, `said`, `codes`), draws (`draw`), shows (`show`, `picture`) and marks (`mark`). To add
one, write its module beside these and name it in `KINDS_OF_PART` and `AnyPart`.
"""

from types import MappingProxyType
from typing import Annotated

from pydantic import Field

from tlib.assessment.parts import choice, number, order, schematic, trace, written

__all__ = ["KINDS_OF_PART", "AnyPart", "known_kind"]

KINDS_OF_PART = MappingProxyType({"number": number, "choice": choice, "order": order, "trace": trace,
                                  "schematic": schematic, "written": written})  # fmt: skip
"""The module of each kind of part that can be marked."""

AnyPart = Annotated[
    number.Part | choice.Part | order.Part | trace.Part | schematic.Part | written.Part, Field(discriminator="kind")
]
"""One question of an exercise, of any kind."""


def known_kind(data):
    """Return the table of a part as it is written; raise where it is of no kind that can be marked."""
    kind = data.get("kind") if isinstance(data, dict) else None
    if kind not in KINDS_OF_PART:
        names = ", ".join(f'"{name}"' for name in KINDS_OF_PART)
        if kind is None:
            raise ValueError(f"has no kind; write kind = and one of {names}")
        raise ValueError(f"kind {kind!r} is not a kind that can be marked; the kinds are {names}")
    return data
