"""The kinds of part an exercise may have, one module each, all with the same few functions.

A kind reads (`Part`, `faults`, `said`, `codes`), draws (`draw`, `orders`), shows (`show`) and marks (`mark`). To add
one, write its module beside these and name it in `KINDS_OF_PART` and `AnyPart`.
"""

from types import MappingProxyType
from typing import Annotated

from pydantic import Field

from tlib.assessment.parts import number

__all__ = ["KINDS_OF_PART", "AnyPart", "known_kind"]

KINDS_OF_PART = MappingProxyType({"number": number})
"""The module of each kind of part that can be marked."""

AnyPart = Annotated[number.Part, Field()]
"""One question of an exercise, of any kind."""


def known_kind(data):
    """Return the table of a part as it is written; raise where it is of no kind that can be marked."""
    kind = data.get("kind") if isinstance(data, dict) else "number"
    if kind not in KINDS_OF_PART:
        raise ValueError(f'kind {kind!r} is not a kind that can be marked; write kind = "number"')
    return data
