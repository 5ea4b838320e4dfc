"""Marking: one learner's answers to one exercise become marks, each with its reason."""

from dataclasses import dataclass, replace
from types import MappingProxyType

from tlib.assessment.own_values import si_givens
from tlib.assessment.typed import Unreadable, read_typed
from tlib.assessment.verdicts import Carried, Setting, judge, why_impossible, worked_slips
from tlib.assessment.wording import answer_printed

__all__ = ["ASSIGNMENT", "MOCK", "PRACTICE", "MarkLine", "Marked", "MarkedPart", "Terms", "mark"]


@dataclass(frozen=True)
class Terms:
    """What tries and hints cost.

    Attributes
    ----------
    tries : tuple of float
        The share of the marks on the first, second, third try; the last holds for all after it.
    hints : tuple of float
        What the first, second and third hint take: up to the second a share of the part's marks, then of what is
        left.
    """

    tries: tuple
    hints: tuple = (0.0, 0.25, 0.5)


PRACTICE = Terms(tries=(1.0,))
"""Practice: try as often as you like; the best counts."""

MOCK = Terms(tries=(1.0,))
"""A mock: one try, told at the end."""

ASSIGNMENT = Terms(tries=(1.0, 0.8, 0.6))
"""An assignment that allows three tries, each with new values."""


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
class MarkedPart:
    """One part, marked.

    Attributes
    ----------
    name : str
        The part.
    verdict : str
        "right", "too coarse", "follow-through", "own value", "slip", "slip on own value", "unit slip",
        "slip and unit slip", "unknown", or "ask again" for an answer that could not be read.
    typed, right : str
        What was typed, and the right answer as printed.
    lines : tuple of MarkLine
        Every mark with its reason; empty while the answer is asked for again.
    slips : tuple of Slip
        The ideas it looks like.
    says : str
        The sentence for the learner.
    asks : str
        A question back to the learner; empty for none.
    notes : tuple of str
        Remarks that cost nothing.
    available : int
        The part's marks.
    """

    name: str
    verdict: str
    typed: str
    right: str
    lines: tuple
    slips: tuple
    says: str
    asks: str
    notes: tuple
    available: int

    @property
    def earned(self):
        """The marks earned, costs taken off; never below 0."""
        return max(round(sum(line.earned for line in self.lines), 2), 0)


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


def mark(exercise, values, answers, terms=PRACTICE):
    """Mark one learner's answers to one exercise.

    Parameters
    ----------
    exercise : Exercise
        From the bank.
    values : Values
        The learner's own, from `draw`.
    answers : mapping of str to Answer
        By part name; a part without an answer is asked for.
    terms : Terms, optional
        What tries and hints cost.

    Returns
    -------
    Marked
        The same for the same input on every machine: nothing is read, written or remembered.

    Notes
    -----
    A number is compared in this order: right; right on the learner's own earlier answer; a declared slip on the true
    values; the same on the carried values; a slip of unit or of a power of ten; unknown. Where two apply the one
    that earns more counts. A unit is lost once in an exercise.
    """
    state = _State(exercise, values)
    parts = [_costed(_marked(state, part, answers.get(part.name)), answers.get(part.name), terms)
             for part in exercise.part]  # fmt: skip
    return Marked(exercise.id, exercise.version, values.learner, tuple(parts))


class _State:
    """What marking learns on its way through the parts of one exercise."""

    def __init__(self, exercise, values):
        givens = si_givens(exercise, values.numbers)
        self.catalogue = exercise.catalogue
        right = {part.name: part.unit.to_si(values.right[part.name]) for part in exercise.part}
        self.si = MappingProxyType({**givens, **right})
        self.printed = values.printed
        self.own_si, self.own_printed, self.carried = dict(givens), dict(values.numbers), {}
        self.unit_lost = False

    def setting(self, part):
        return Setting(part, self.catalogue, self.si, self.printed, self.own_si, self.own_printed, self.carried)

    def carry(self, part, reading, answer, setting):
        """Remember what later parts may go on from: the learner's number, or else what theirs would lead to."""
        if reading is not None:
            self.own_printed[part.name] = reading.number
            self.own_si[part.name] = part.unit.to_si(reading.number)
            self.carried[part.name] = Carried(
                self.own_si[part.name],
                reading.half_step * part.unit.factor,
                why_impossible(part, reading.number),
                bool(answer.challenge.strip()),
            )
        else:
            number = setting.follow_through[0] if setting.follow_through else setting.right
            self.own_printed[part.name], self.own_si[part.name] = number, part.unit.to_si(number)


def _marked(state, part, answer):
    setting = state.setting(part)
    typed = " ".join(f"{answer.text} {answer.unit}".split()) if answer else ""
    right = answer_printed(part, setting.right)
    try:
        readings = read_typed(answer.text if answer else "", answer.unit if answer else "", part.unit)
    except Unreadable as request:
        state.carry(part, None, answer, setting)
        return MarkedPart(part.name, "ask again", typed, right, (), (), "", str(request), (), part.marks.total)
    judged = [(judge(reading, setting), reading) for reading in readings]
    verdict, reading = max(judged, key=lambda pair: (pair[0].marks, pair[0].kind != "unknown"))
    lines = tuple(_lines(state, part, verdict, reading))
    state.carry(part, reading, answer, setting)
    slips = verdict.slips or tuple(state.catalogue[code] for code in [reading.idea] if code in state.catalogue)
    notes = (*reading.notes, *_figure_notes(part, verdict, reading), *_near_notes(setting, verdict, reading))
    return MarkedPart(part.name, verdict.kind, typed, right, lines, slips, _says(verdict, slips),
                      _asks(verdict, slips), notes, part.marks.total)  # fmt: skip


def _lines(state, part, verdict, reading):
    followed = verdict.kind in ("follow-through", "own value")
    if part.marks.method:
        yield MarkLine(
            "M",
            verdict.method,
            part.marks.method,
            _method_reason(verdict, part.marks.method),
            verdict.inferred,
            followed,
        )
    if part.marks.accuracy and verdict.challenged:
        why = "You said that the earlier value cannot be right."
        yield MarkLine("B", 1, part.marks.accuracy, why, True)
    elif part.marks.accuracy:
        why = verdict.blocked or _accuracy_reason(verdict)
        yield MarkLine("A", verdict.accuracy, part.marks.accuracy, why, False, followed and verdict.accuracy > 0)
    if part.marks.fact:
        right = verdict.kind == "right"
        yield MarkLine(
            "B", part.marks.fact * right, part.marks.fact, verdict.why if right else "The fact is not right."
        )
    if part.marks.unit:
        yield _unit_line(state, part, reading)


def _method_reason(verdict, available):
    if verdict.kind not in ("slip", "slip on own value"):
        return verdict.why
    share = "all" if verdict.method == available else "part" if verdict.method else "none"
    return f"The working that fits this number earns {share} of the method marks."


def _accuracy_reason(verdict):
    if verdict.kind == "follow-through":
        return "The number is right for your own earlier answer."
    return verdict.why if verdict.accuracy or verdict.kind == "too coarse" else "The number is not the right one."


def _unit_line(state, part, reading):
    if reading.unit_right:
        return MarkLine("U", 1, 1, reading.unit_says)
    if state.unit_lost:
        return MarkLine("U", 1, 1, f"{reading.unit_says} The unit mark was lost once already, so not again.")
    state.unit_lost = True
    return MarkLine("U", 0, 1, reading.unit_says)


def _says(verdict, slips):
    if verdict.kind == "right":
        return f"Right. But the unit looks like this: {_lowered(slips[0].feedback)}" if slips else "Right."
    if verdict.kind == "follow-through":
        return "Right for your own earlier answer."
    if verdict.kind == "own value":
        return f"The sum is right for your own earlier answer. {verdict.blocked}"
    if len(slips) == 1:
        return f"This looks like: {_lowered(slips[0].feedback)}"
    return "More than one slip gives this number." if slips else verdict.why


def _asks(verdict, slips):
    if len(slips) > 1 and verdict.kind != "right":
        count = {2: "Two", 3: "Three"}.get(len(slips), "Several")
        ideas = "; or that ".join(slip.idea for slip in slips)
        return f"{count} slips give this number. Which is it: working that {ideas}?"
    if verdict.kind == "own value" and verdict.blocked and not verdict.challenged:
        return "Look at your earlier answer. Is there something that cannot be right, and why?"
    if verdict.kind == "unknown":
        return "Write one line of your working, or take a hint, and try again."
    return ""


def _lowered(line):
    return line[0].lower() + line[1:] if line[1:2].islower() or line[1:2] == " " else line


def _figure_notes(part, verdict, reading):
    if part.unit.name == "degC":
        return ("One figure after the point is enough for a temperature.",) if reading.decimals > 1 else ()
    if part.unit.name == "share":
        return ("Three figures after the point are enough for a share.",) if reading.decimals > 3 else ()
    if reading.fewest > 4 and verdict.accuracy:
        return ("These are more figures than the sum can carry: three are enough.",)
    return ()


def _near_notes(setting, verdict, reading):
    """Return the remark on a slip that lies so near that it counts as right, where the number is nearer to it."""
    if verdict.kind != "right":
        return ()
    return tuple(
        setting.catalogue[code].feedback
        for code, value, _ in worked_slips(setting, setting.printed, near=True)
        if abs(reading.number - value) < abs(reading.number - setting.right)
    )


def _costed(part, answer, terms):
    """Take off what hints and later tries cost."""
    if answer is None or not part.lines:
        return part
    lines, left = list(part.lines), part.earned
    for number, share in enumerate(terms.hints[: answer.hints], start=1):
        cost = min(left, share * (part.available if number < 3 else left))
        left -= cost
        if cost:
            lines.append(MarkLine("hint", -cost, 0, f"Hint {number} costs {100 * share:.0f} % of the {_of(number)}."))
    share = terms.tries[min(answer.tries, len(terms.tries)) - 1]
    if share < 1 and left:
        lines.append(
            MarkLine("try", -round(left * (1 - share), 2), 0, f"Try {answer.tries} counts {100 * share:.0f} %.")
        )
    return replace(part, lines=tuple(lines))


def _of(number):
    return "marks of this part" if number < 3 else "marks that are left"
