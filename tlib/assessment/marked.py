"""What marking found: one exercise, its parts, and each mark with its reason."""

from dataclasses import dataclass

__all__ = ["FOR_THE_TUTOR", "GATE_SAYS", "Item", "MarkLine", "Marked", "MarkedPart", "worst_gate"]

FOR_THE_TUTOR = "for the tutor"
"""The verdict on an answer that only a person can mark."""

GATE_SAYS = {
    "passed": "Safety question: right.",
    "failed": "Safety question: not right yet. Talk it over with your tutor, then do it again. "
    "High marks elsewhere do not make up for it.",
    "open": "Safety question: still open. It must be right before the work is passed.",
}
"""What a learner and a tutor read of a safety question, by how its gate stands."""


@dataclass(frozen=True)
class MarkLine:
    """One decision.

    Attributes
    ----------
    kind : str
        M method, A accuracy, B fact, U unit, E explanation; "hint" and "try" for what those cost.
    earned, available : float
        Marks; a cost is below 0.
    reason : str
        Why, in one sentence.
    inferred : bool
        Whether it was concluded from the number alone, so that a tutor may want to look.
    follow_through : bool
        Whether it was earned on the learner's own earlier answer.
    """

    kind: str
    earned: float
    available: int
    reason: str
    inferred: bool = False
    follow_through: bool = False


@dataclass(frozen=True)
class Item:
    """One option, step, spot or point of a rubric, as the answer left it.

    Attributes
    ----------
    mark : str
        Its letter or number; of a rubric, what it earns.
    says : str
        What it says, with the learner's own numbers.
    chosen : bool
        Whether the learner chose it.
    right : bool
        Whether it belongs to the right answer; of a step, whether it stands at its place.
    """

    mark: str
    says: str
    chosen: bool
    right: bool


@dataclass(frozen=True)
class MarkedPart:
    """One part, marked.

    Attributes
    ----------
    name : str
        The part.
    verdict : str
        "right", or "ask again" for an answer that could not be read, or `FOR_THE_TUTOR`. Of a number also "too
        coarse", "follow-through", "own value", "slip", "slip on own value", "unit slip", "slip and unit slip",
        "unknown"; of options and steps also "slip", "partly right", "not right".
    typed, right : str
        What was typed or chosen, and the right answer as printed; empty where there is no one right answer.
    available : int
        The part's marks.
    kind : str
        The kind of part.
    lines : tuple of MarkLine
        Every mark with its reason; empty while the answer is asked for again or waits for the tutor.
    slips : tuple of Slip
        The ideas it looks like.
    says : str
        The sentence for the learner.
    asks : str
        A question back to the learner; empty for none.
    notes : tuple of str
        Remarks that cost nothing.
    items : tuple of Item
        Options, steps, spots or points of a rubric; empty for a number.
    why : str
        Why the right answer is right, where the exercise says so beside its working.
    safety : bool
        Whether the part is about safety.
    """

    name: str
    verdict: str
    typed: str
    right: str
    available: int
    kind: str = "number"
    lines: tuple = ()
    slips: tuple = ()
    says: str = ""
    asks: str = ""
    notes: tuple = ()
    items: tuple = ()
    why: str = ""
    safety: bool = False

    @property
    def earned(self):
        """The marks earned, costs taken off; never below 0."""
        return max(round(sum(line.earned for line in self.lines), 2), 0)

    @property
    def gate(self):
        """How a safety part stands: "passed" only when it is right in full; empty for any other part."""
        if not self.safety:
            return ""
        if self.verdict in ("ask again", FOR_THE_TUTOR):
            return "open"
        in_full = all(line.earned >= line.available for line in self.lines if line.available)
        return "passed" if self.verdict == "right" and in_full else "failed"


def worst_gate(marked):
    """Return how the safety of parts, or of exercises, stands: as the worst of them; empty when none has any."""
    gates = {one.gate for one in marked}
    return next((gate for gate in ("failed", "open", "passed") if gate in gates), "")


@dataclass(frozen=True)
class Marked:
    """One exercise, marked."""

    exercise: str
    version: int
    learner: str
    parts: tuple

    @property
    def earned(self):
        """The marks earned in all."""
        return round(sum(part.earned for part in self.parts), 2)

    @property
    def available(self):
        """The marks there are in all."""
        return sum(part.available for part in self.parts)

    @property
    def awaiting(self):
        """The names of parts that are asked for again, and so cost nothing yet."""
        return tuple(part.name for part in self.parts if part.verdict == "ask again")

    @property
    def for_the_tutor(self):
        """The marks that only a tutor can give, of answers that were given."""
        return sum(part.available for part in self.parts if part.verdict == FOR_THE_TUTOR)

    @property
    def gate(self):
        """How the safety of the exercise stands: as its worst safety part; empty when it has none."""
        return worst_gate(self.parts)
