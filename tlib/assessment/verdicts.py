"""What a number may be: right, right by follow-through, a declared slip, a slip of unit, or unknown."""

from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from tlib.assessment.filling import filled, flowing
from tlib.assessment.formulary import IN_SI, PRINTED
from tlib.assessment.formulas import NoValue
from tlib.assessment.quantities import AREA, FLOW, LENGTH, MASS, NUMBER, TEMPERATURE, TIME, VOLUME

__all__ = ["TELLS", "Carried", "Progress", "Setting", "Verdict", "judge", "why_impossible", "worked_slips"]

TELLS = 2.0
"""How many tolerances apart two slips must lie to be told one from the other."""

BOILING = 100.0
_NEVER_NEGATIVE = {VOLUME, MASS, TIME, LENGTH, AREA, FLOW, NUMBER}
_FACTORS = {10.0**power: f"{10**power:,} times" for power in range(1, 7)} | {
    3.6: "3.6 times", 24.0: "24 times", 60.0: "60 times", 3600.0: "3600 times"}  # fmt: skip
_WITH_SLIP = (10.0, 1000.0, 3.6, 60.0, 3600.0)
_THREE_FIGURES = 0.005  # rounding to three figures moves a number by no more than this share
_SLACK = 1 + 1e-9  # both ends of a tolerance are included, on every machine


@dataclass(frozen=True)
class Carried:
    """A learner's own answer to an earlier part, as later parts may carry it forward."""

    value: float  # SI
    half_step: float  # of the last figure shown, SI
    impossible: str = ""  # why it cannot be true; empty when it can
    challenged: bool = False  # whether the learner said so


@dataclass(frozen=True)
class Verdict:
    """What one number was taken for, and the method and accuracy marks that earns."""

    kind: str
    method: int
    accuracy: int
    why: str
    slips: tuple = ()
    inferred: bool = False
    blocked: str = ""  # why nothing was carried forward, where that is so
    challenged: bool = False  # whether the learner said that the earlier value cannot be

    @property
    def marks(self):
        """The marks it earns."""
        return self.method + self.accuracy


@dataclass(frozen=True)
class Setting:
    """All that a part's number is compared with.

    `si` and `printed` hold the true givens and right answers; `own_si` and `own_printed` the same with the
    learner's own earlier answers in place of the right ones; `carried` those that the learner gave.
    """

    part: object
    catalogue: dict
    si: dict
    printed: dict
    own_si: dict
    own_printed: dict
    carried: dict

    @cached_property
    def right(self):
        """The right answer, in the part's unit."""
        return self.printed[self.part.name]

    @cached_property
    def follow_through(self):
        """The right answer to the learner's own earlier answers and its tolerance; None when nothing is carried."""
        used = self.part.answer.names & self.carried.keys()
        if not used and all(self.own_si[name] == self.si[name] for name in self.part.answer.names):
            return None
        try:
            value = self.part.unit.from_si(self.part.answer.value(self.own_si, IN_SI))
            widened = sum(self._rounding(name) for name in used)
        except NoValue:
            return None
        return value, self.part.within.around(value) + widened

    @cached_property
    def slips(self):
        """What each declared slip gives on the true values."""
        return tuple(worked_slips(self, self.printed))

    @cached_property
    def own_slips(self):
        """What each declared slip gives on the learner's own earlier answers; none when nothing is carried."""
        if self.follow_through is None:
            return ()
        return tuple(worked_slips(self, {**self.own_printed, self.part.name: self.follow_through[0]}))

    def _rounding(self, name):
        """Return how far the last figure of a carried answer can move the result."""
        ends = []
        for sign in (-1, 1):
            moved = {**self.own_si, name: self.carried[name].value + sign * self.carried[name].half_step}
            ends.append(self.part.answer.value(moved, IN_SI))
        return abs(ends[1] - ends[0]) / 2 / self.part.unit.factor


class Progress:
    """What marking learns on its way through the parts of one exercise."""

    def __init__(self, exercise, values, givens):
        self.exercise, self.values, self.catalogue = exercise, values, exercise.catalogue
        right = {part.name: part.unit.to_si(values.right[part.name]) for part in exercise.number_parts}
        self.si = MappingProxyType({**givens, **right})
        self.printed = values.printed
        self.own_si, self.own_printed, self.carried = dict(givens), dict(values.numbers), {}
        self.unit_lost = False

    def words(self, text):
        """Return a text of the exercise with the learner's own numbers in it, for feedback."""
        return flowing(filled(text, self.exercise, self.values))

    def setting(self, part):
        """Return all that a part's number is compared with."""
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


def judge(reading, setting):
    """Return the best verdict on a number; of two that earn alike, the one that stands first in the order of marking.

    A declared slip that fits is named even where a mere slip of the point, or a right answer rounded far too
    coarsely, would fit too and earn more.

    Parameters
    ----------
    reading : Typed
        The number in the part's unit, and the figures shown.
    setting : Setting
        What it is compared with.

    Returns
    -------
    Verdict
    """
    best = None
    for look in (_right, _followed, _slips_on_true, _slips_on_own, _coarse, _unit_slip, _slip_and_unit):
        verdict = look(reading, setting)
        if verdict is not None and (best is None or verdict.marks > best.marks):
            best = replace(verdict, slips=best.slips) if best and best.slips and not verdict.slips else verdict
            if best.kind == "right":
                return best
    return best or Verdict("unknown", 0, 0, "We cannot tell from the number how it was found.")


def _near(number, target, tolerance):
    return abs(number - target) <= tolerance * _SLACK


def _right(reading, setting):
    part, marks = setting.part, setting.part.marks
    if _near(reading.number, setting.right, part.within.around(setting.right)):
        return Verdict("right", marks.method, marks.accuracy, "The number is right.")
    for _, value, tolerance in worked_slips(setting, setting.printed, near=True):
        if _near(reading.number, value, tolerance):
            return Verdict("right", marks.method, marks.accuracy, "The number is near enough to count as right.")
    if part.within.relative and _rounds_to(reading, setting.right) >= 2:
        return Verdict("right", marks.method, marks.accuracy, "The number is right to the figures given.")
    return None


def _coarse(reading, setting):
    if not setting.part.within.relative or not _rounds_to(reading, setting.right):
        return None
    return Verdict("too coarse", setting.part.marks.method, 0, "One figure is too coarse here: give three.")


def _rounds_to(reading, right):
    """Return to how many figures the right answer rounds to the number given; 0 for none."""
    for figures in range(min(reading.most, 4), reading.fewest - 1, -1):
        if float(f"{right:.{figures - 1}e}") == float(f"{reading.number:.12e}"):
            return figures
    return 0


def _followed(reading, setting):
    if setting.follow_through is None:
        return None
    value, tolerance = setting.follow_through
    if not _near(reading.number, value, tolerance):
        return None
    marks, blocked = setting.part.marks, _blocked(setting, value)
    why = "The method is right for your own earlier answer."
    if blocked:
        return Verdict("own value", marks.method, 0, why, (), True, blocked, _challenged(setting))
    return Verdict("follow-through", marks.method, marks.accuracy, why, inferred=True)


def _blocked(setting, value):
    """Return why a right sum on a carried value earns its method only; empty when it earns all."""
    used = [setting.carried[name] for name in sorted(setting.part.answer.names & setting.carried.keys())]
    if setting.part.safety:
        return "In a safety question a wrong value is not carried on."
    for one in used:
        if one.impossible:
            return one.impossible
    if value == 0 or any(one.value == 0 for one in used):
        return "The earlier slip leaves nothing to work out here."
    return ""


def _challenged(setting):
    carried = [setting.carried[name] for name in setting.part.answer.names & setting.carried.keys()]
    return any(one.impossible and one.challenged for one in carried)


def why_impossible(part, number):
    """Return why a number, in the part's unit, cannot be true at all; empty when it can."""
    shown, kind = part.unit.printed(f"{number:.4g}"), part.unit.kind
    if kind == TEMPERATURE and number > BOILING:
        return f"{shown} is above boiling, so it cannot be carried on."
    if kind == NUMBER and part.unit.to_si(number) > 1 and part.unit.name in ("share", "%"):
        return f"{shown} is more than the whole, so it cannot be carried on."
    low, high = part.possible.at_least, part.possible.at_most
    if (kind in _NEVER_NEGATIVE and number < 0) or (low is not None and number < low):
        return f"{shown} is less than there can be, so it cannot be carried on."
    if high is not None and number > high:
        return f"{shown} is more than there can be, so it cannot be carried on."
    return ""


def _slips_on_true(reading, setting):
    return _matched(reading.number, setting, setting.slips, "slip", "")


def _slips_on_own(reading, setting):
    return _matched(reading.number, setting, setting.own_slips, "slip on own value", ", on your own earlier answer")


def worked_slips(setting, numbers, near=False):
    """Return code, value and tolerance of each slip that has a value: of the near ones, or of the others."""
    for slip in setting.part.slips:
        if bool(slip.near) is near:
            try:
                value = slip.value.value(numbers, PRINTED)
            except NoValue:
                continue
            yield slip.code, value, _around_slip(setting.part.within, value)


def _around_slip(within, value):
    """Return how near a number must lie to a slip: a slip may be far bigger than the right answer, and be rounded."""
    return within.around(value) if within.exact else max(within.around(value), _THREE_FIGURES * abs(value))


def _matched(number, setting, worked, kind, where):
    hit = [(code, value, tolerance) for code, value, tolerance in worked if _near(number, value, tolerance)]
    if not hit:
        return None
    codes = dict.fromkeys(code for code, _, _ in hit)
    for code, value, tolerance in worked:  # a slip too close to a matched one cannot be told from it
        if any(abs(value - other) < TELLS * max(tolerance, theirs) for _, other, theirs in hit):
            codes.setdefault(code)
    slips = tuple(setting.catalogue[code] for code in codes)
    method = max(setting.catalogue[code].method_marks(setting.part.marks.method) for code, _, _ in hit)
    return Verdict(kind, method, 0, f"The number fits a known slip{where}.", slips, inferred=True)


def _unit_slip(reading, setting):
    part = setting.part
    if part.unit.kind == TEMPERATURE:
        return None
    own = setting.follow_through[0] if setting.follow_through else setting.right
    for target in dict.fromkeys((setting.right, own)):
        if says := _factor_between(reading.number, target, part.within.around(target), tuple(_FACTORS)):
            why = f"The number is {says} the right one: a point or a unit has slipped."
            return Verdict("unit slip", part.marks.method, 0, why, inferred=True)
    return None


def _slip_and_unit(reading, setting):
    """Name a slip and a factor together, where the number fits to three figures; two guesses earn no method mark.

    With many slips and factors some pair lies within a wide tolerance of almost any number: only rounding is allowed.
    """
    if setting.part.unit.kind == TEMPERATURE:
        return None
    found = {
        code: says
        for code, value, _ in setting.slips
        if (says := _factor_between(reading.number, value, _THREE_FIGURES * abs(value), _WITH_SLIP))
    }
    if not 1 <= len(found) <= 2:
        return None
    slips = tuple(setting.catalogue[code] for code in found)
    why = f"The number fits a known slip and a unit slip: it is {next(iter(found.values()))} what that slip gives."
    return Verdict("slip and unit slip", 0, 0, why, slips)


def _factor_between(number, target, tolerance, factors):
    tolerance *= _SLACK
    for factor in factors:
        if abs(number / factor - target) <= tolerance:
            return _FACTORS[factor]
        if abs(number * factor - target) <= tolerance:
            return f"{_FACTORS[factor].removesuffix(' times')} times smaller than"
    return ""
