"""What a learner gave for one part of an exercise."""

from dataclasses import dataclass

__all__ = ["Answer"]


@dataclass(frozen=True)
class Answer:
    """One part's answer, as typed.

    Attributes
    ----------
    text : str
        What was typed: ``"14.0 kWh"``, or ``"14.0"`` with the unit apart.
    unit : str
        The unit where it was given apart; empty when it stands in the text or was left out.
    tries : int
        Which try this is, counting from 1. Costs marks only where the terms of the work say so.
    hints : int
        How many of the part's hints were taken.
    challenge : str
        What the learner wrote after "that cannot be right because"; empty when nothing.
    """

    text: str
    unit: str = ""
    tries: int = 1
    hints: int = 0
    challenge: str = ""
