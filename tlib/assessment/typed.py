"""What a learner typed, read forgivingly: number, unit, figures shown, and what to say about the spelling."""

import math
import re
from dataclasses import dataclass, replace

from tlib.assessment.catalogue import UNIT_IDEA
from tlib.assessment.quantities import DIFFERENCE, HEAT, POWER, PRESSURE, PRESSURE_DIFFERENCE, TIME, UNITS, unit_written

__all__ = ["Typed", "Unreadable", "read_typed"]

_LONGEST = 80
_GAP = "   '’"
_ANSWER = re.compile(
    r"[=≈~\s]*(?P<sign>[+\-−]?)\s*(?P<body>[0-9][0-9.,   '’]*|[.,][0-9]+)"
    r"(?:\s*[x×*]\s*10\s*\^?\s*(?P<ten>[+\-−]?[0-9]{1,2})|e(?P<power>[+\-−]?[0-9]{1,2}))?\s*(?P<rest>.*)",
    re.IGNORECASE | re.DOTALL,
)
_CLOCK = re.compile(r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*(?P<unit>[a-z]+|$)\s*", re.IGNORECASE)
_DIGITS = re.compile(r"[0-9]")
_HEAT_UNITS, _POWER_UNITS = {"J", "kJ", "MJ", "Wh", "kWh", "MWh"}, {"W", "kW"}
_ASK = "Give one number and its unit, such as {example}."


class Unreadable(ValueError):
    """A typed answer is no number; the sentence asks for one."""


@dataclass(frozen=True)
class Typed:
    """One reading of a typed answer.

    Attributes
    ----------
    number : float
        The number, turned into the unit asked for.
    half_step : float
        Half of the last figure shown, in the same unit.
    fewest, most : int
        Significant figures shown; noughts at the end of a whole number may count or not.
    decimals : int
        Figures after the point, as typed.
    unit_right : bool
        Whether the unit earns its mark.
    unit_says : str
        Why.
    notes : tuple of str
        Remarks that cost nothing.
    idea : str
        The code of the slip that the unit itself shows; empty for none.
    """

    number: float
    half_step: float
    fewest: int
    most: int
    decimals: int
    unit_right: bool = False
    unit_says: str = ""
    notes: tuple = ()
    idea: str = ""


def read_typed(text, unit_text, asked):
    """Read a typed answer in every way it can be meant.

    Parameters
    ----------
    text, unit_text : str
        What was typed, and the unit if it was given apart.
    asked : Unit
        The unit asked for.

    Returns
    -------
    tuple of Typed
        Mostly one; two where a comma may be a decimal point or a mark for thousands.

    Raises
    ------
    Unreadable
        If it is empty, a range, or no number.

    Examples
    --------
    >>> reading, = read_typed("1 h 24 min", "", UNITS["hour"])
    >>> print(f"{reading.number:.2f} {reading.unit_right}")
    1.40 True
    """
    ask = _ASK.format(example=asked.printed("12.5"))
    text = str(text).strip()
    if not text:
        raise Unreadable(f"Nothing is typed here yet. {ask}")
    if len(text) > _LONGEST:
        raise Unreadable(f"This is too long for a number. {ask}")
    if asked.kind == TIME and (clock := _clock(text, asked)):
        return (clock,)
    match = _ANSWER.fullmatch(text)
    if match is None:
        raise Unreadable(f"We could not find a number in this. {ask}")
    rest = match["rest"].strip()
    unit, _ = unit_written(rest)
    if unit is None and _DIGITS.search(rest):
        raise Unreadable(f"There is more than one number here. {ask}")
    shapes = _shapes(match["body"].strip())
    if not shapes:
        raise Unreadable(f"We could not read this as one number. {ask}")
    power = int((match["ten"] or match["power"] or "0").replace("−", "-"))
    sign = -1.0 if match["sign"] in ("-", "−") else 1.0
    readings = [_with_unit(_plain(shape, sign, power), rest or str(unit_text).strip(), asked) for shape in shapes]
    if not all(math.isfinite(reading.number) for reading in readings):
        raise Unreadable(f"This number is too big to be read. {ask}")
    return tuple(readings)


def _shapes(body):
    """Return the ways a row of figures can be meant, each with a point for decimals and nothing else."""
    if any(sign in _GAP for sign in body):
        if not re.fullmatch(rf"[0-9]{{1,3}}(?:[{_GAP}][0-9]{{3}})+(?:[.,][0-9]*)?", body):
            return ()
        body = re.sub(rf"[{_GAP}]", "", body)
    points, commas = body.count("."), body.count(",")
    if points + commas == 0 or (points == 1 and commas == 0):
        return (body,)
    if commas == 1 and points == 0:
        both = re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", body)
        return (body.replace(",", "."), body.replace(",", "")) if both else (body.replace(",", "."),)
    for group, point in ((",", "."), (".", ",")):
        if re.fullmatch(rf"[0-9]{{1,3}}(?:\{group}[0-9]{{3}})+(?:\{point}[0-9]+)?", body):
            return (body.replace(group, "").replace(point, "."),)
    return ()


def _plain(shape, sign, power):
    number = sign * float(f"{shape}e{power}")
    whole, _, decimals = shape.partition(".")
    digits = (whole + decimals).lstrip("0")
    fewest = len(digits) if decimals else len(digits.rstrip("0"))
    return Typed(number, 0.5 * 10.0 ** (power - len(decimals)), max(fewest, 1), max(len(digits), 1), len(decimals))


def _clock(text, asked):
    """Return the reading of a time in several units, such as 1 h 24 min; None for anything else."""
    pieces, place = [], 0
    while match := _CLOCK.match(text, place):
        pieces.append(match)
        place = match.end()
        if place == len(text):
            break
    if len(pieces) < 2 or place != len(text):
        return None
    names, seconds = [], 0.0
    for piece in pieces:
        names.append(_clock_unit(piece["unit"], names))
        if names[-1] is None or (len(names) > 1 and UNITS[names[-1]].factor >= UNITS[names[-2]].factor):
            return None
        seconds += float(piece["number"].replace(",", ".")) * UNITS[names[-1]].factor
    step = 0.5 * UNITS[names[-1]].factor
    return Typed(asked.from_si(seconds), asked.from_si(step), 3, 4, 0, True, "The time is clear.")


def _clock_unit(spelt, before):
    if not spelt or spelt.lower() == "m":
        return "minute" if before and before[-1] == "hour" else None
    unit, _ = unit_written(spelt)
    return unit.name if unit is not None and unit.kind == TIME else None


def _with_unit(reading, written, asked):
    """Return a reading with its number in the unit asked for, and the verdict on the unit."""
    unit, usual = unit_written(written) if written else (None, True)
    if asked.name == "share" and not written:
        return replace(reading, unit_right=True, unit_says="A share needs no unit.")
    if not written:
        return replace(reading, unit_says=f"No unit is written; {asked.many} was wanted.")
    if unit is None:
        return replace(reading, unit_says=f"“{written}” is not a unit we know; {asked.many} was wanted.")
    if unit == asked:
        note = () if usual else (f"The unit is written {unit.many}.",)
        return replace(reading, unit_right=True, unit_says="The unit is right.", notes=note)
    return _other_unit(reading, unit, asked)


def _other_unit(reading, unit, asked):
    if unit.name == "degC" and asked.kind == DIFFERENCE:
        note = ("A difference is better written in K; the number is the same.",)
        return replace(reading, unit_right=True, unit_says="°C for a difference is accepted.", notes=note)
    if asked.name == "bar gauge" and unit.name == "bar":
        return replace(reading, unit_right=True, unit_says="Bar is read as the gauge shows it.")
    if asked.kind == PRESSURE and unit.kind == PRESSURE_DIFFERENCE:  # a pressure without more is as a gauge reads
        unit = replace(unit, kind=PRESSURE, offset=UNITS["bar gauge"].offset)
    if unit.kind == asked.kind:
        same = unit.kind == TIME or {unit.name, asked.name} == {"share", "%"}
        says = (
            "The unit is clear." if same else f"The amount counts as written, in {unit.many}; {asked.many} was wanted."
        )
        return replace(
            reading,
            number=asked.from_si(unit.to_si(reading.number)),
            half_step=reading.half_step * unit.factor / asked.factor,
            unit_right=same,
            unit_says=says,
        )
    mixed = {unit.kind, asked.kind} == {HEAT, POWER} and {unit.name, asked.name} <= _HEAT_UNITS | _POWER_UNITS
    says = f"{unit.many} measures {unit.kind}; {asked.many}, for {asked.kind}, was wanted."
    return replace(reading, unit_says=says, idea=UNIT_IDEA if mixed else "")
