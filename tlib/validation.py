"""Quantities are checked where they enter, and the refusal is a sentence that teaches."""

import numpy as np

__all__ = ["OutOfRange", "require"]


class OutOfRange(ValueError):
    """A quantity lies outside the range for which the formula is stated."""


def require(value, name, unit, *, above=None, at_least=None, below=None, at_most=None):
    """Return `value` as floats, or say plainly what is wrong with it.

    Parameters
    ----------
    value : array_like
        The quantity to check, any shape.
    name, unit : str
        What it is called and its unit, as the sentence will say them.
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
    try:
        array = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise OutOfRange(f"{name} must be a number in {unit}; got {value!r}.") from None
    _refuse(value, name, np.isfinite(array), "be a finite number")
    if above is not None:
        _refuse(value, name, array > above, f"be above {above:g} {unit}")
    if at_least is not None:
        _refuse(value, name, array >= at_least, f"be {at_least:g} {unit} or more")
    if below is not None:
        _refuse(value, name, array < below, f"be below {below:g} {unit}")
    if at_most is not None:
        _refuse(value, name, array <= at_most, f"be {at_most:g} {unit} or less")
    return array[()]


def _refuse(value, name, holds, rule):
    if not np.all(holds):
        raise OutOfRange(f"{name} must {rule}; got {_said(value, holds)}.")


def _said(value, holds):
    """Say the value that broke the rule: the scalar itself, or the first of an array with its place."""
    if np.ndim(value) == 0:
        return f"{float(value):.10g}" if isinstance(value, np.generic | float | int) else repr(value)
    place = tuple(int(i) for i in np.argwhere(~np.broadcast_to(holds, np.shape(value)))[0])
    where = place[0] if len(place) == 1 else place
    return f"{float(np.asarray(value, dtype=float)[place]):.10g} at place {where}"
