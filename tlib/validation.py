"""Quantities are checked where they enter, and the refusal is a sentence that teaches."""

from math import isfinite
from operator import ge, gt, le, lt

import numpy as np

__all__ = ["OutOfRange", "require"]

_PLAIN = ("", "-", "[-]")


class OutOfRange(ValueError):
    """A quantity lies outside the range for which the formula is stated."""


def require(value, name, unit, *, above=None, at_least=None, below=None, at_most=None):
    """Return `value` as floats, or say plainly what is wrong with it.

    Parameters
    ----------
    value : array_like
        The quantity to check, any shape.
    name, unit : str
        What it is called and its unit, as the sentence will say them; a plain number has unit "" or "[-]".
    above, at_least, below, at_most : float, optional
        The ends of the range; ``above`` and ``below`` leave the end itself out.

    Returns
    -------
    float or ndarray
        `value` as floats in its own shape; a scalar stays a scalar.

    Raises
    ------
    OutOfRange
        If any element is not a finite number or lies outside the range.

    Examples
    --------
    >>> float(require(65, "temperature", "°C", at_least=0))
    65.0
    >>> require(-3, "volume", "m3", above=0)
    Traceback (most recent call last):
    tlib.validation.OutOfRange: volume must be above 0 m3; got -3.
    """
    if (
        isinstance(value, (float, int))
        and (above is None or value > above)
        and (at_least is None or value >= at_least)
        and (below is None or value < below)
        and (at_most is None or value <= at_most)
        and isfinite(value)
    ):
        return np.float64(value)  # most calls: a number in its range
    rules = ((above, gt, "above"), (at_least, ge, "or more"), (below, lt, "below"), (at_most, le, "or less"))
    ends = [(end, keeps, words) for end, keeps, words in rules if end is not None]
    array = _floats(value, name, unit)
    _refuse(value, name, np.isfinite(array), "be a finite number")
    for end, keeps, words in ends:
        bound = f"{end:.10g}{_gap(unit)}"
        _refuse(value, name, keeps(array, end), f"be {bound} {words}" if words[:2] == "or" else f"be {words} {bound}")
    return array[()]


def _floats(value, name, unit):
    """Return a value as an array of floats, or refuse a text, None or anything else that is no number."""
    try:
        array = np.asarray(value)
        if value is not None and array.dtype.kind in "buifO":
            return array.astype(float)
    except (TypeError, ValueError):
        pass
    raise OutOfRange(f"{name} must be a number{_gap(unit, ' in')}; got {value!r}.")


def _gap(unit, before=""):
    return "" if unit in _PLAIN else f"{before} {unit}"


def _refuse(value, name, holds, rule):
    if not holds.all():
        raise OutOfRange(f"{name} must {rule}; got {_said(value, holds)}.")


def _said(value, holds):
    """Say the value that broke the rule: the scalar itself, or the first of an array with its place."""
    if np.ndim(value) == 0:
        return f"{float(value):.10g}"
    place = tuple(int(i) for i in np.argwhere(~np.broadcast_to(holds, np.shape(value)))[0])
    where = place[0] if len(place) == 1 else place
    return f"{float(np.asarray(value, dtype=float)[place]):.10g} at place {where}"
