"""Trade units at the edges: quantities read as people type them, and written back.

Inside, everything is SI with °C the one exception, and pressure is absolute. Litres, kWh, l/min and bar
gauge exist only where a person reads or writes, and every such place comes through here.
"""

import math
import re
from functools import cache

__all__ = ["ATMOSPHERE", "SI_UNITS", "UnreadableQuantity", "read", "write"]

ATMOSPHERE = 101_325.0
"""Standard air pressure [Pa]: what a gauge leaves out."""

SI_UNITS = {
    "degC": "a temperature", "K": "a temperature difference", "Pa": "a pressure", "m": "a length",
    "m2": "an area", "m3": "a volume", "kg": "a mass", "s": "a time", "kg/s": "a flow",
    "W": "a power", "J": "an amount of heat", "J/K": "a heat capacity", "W/K": "a heat loss or conductance",
    "W/(m K)": "a conductivity", "W/(m2 K)": "a heat transfer coefficient", "W/(m2 K2)": "a W/(m2 K2) coefficient",
    "W/m2": "a power for each square metre", "J/kg": "a calorific value", "degree": "an angle", "1": "a plain number or share",
}  # fmt: skip
"""The units in which the rest of the package speaks, each with the words for its kind."""

_TEMPERATURE = re.compile(r"(deg(rees?)? ?c(elsius)?|°c|celsius|c)", re.IGNORECASE)
_NUMBER = r"[-+−]?\d[\d   ]*(?:[.,]\d+)?(?:e[-+]?\d+)?"
_QUANTITY = re.compile(rf"\s*({_NUMBER})\s*(.*?)\s*", re.IGNORECASE | re.DOTALL)
_SPELLINGS = {
    "lpm": "litre/minute", "lph": "litre/hour", "l/min": "litre/minute", "l/h": "litre/hour", "l/hr": "litre/hour",
    "ltr": "litre", "ltrs": "litre", "litres": "litre", "liters": "litre", "l": "litre",
    "kwh": "kilowatt_hour", "wh": "watt_hour", "mwh": "megawatt_hour", "kw": "kilowatt", "w": "watt",
    "mj": "megajoule", "kj": "kilojoule", "j": "joule", "hr": "hour", "hrs": "hour", "h": "hour",
    "min": "minute", "mins": "minute", "sec": "second", "secs": "second", "s": "second",
    "kilos": "kilogram", "kilo": "kilogram", "%": "percent", "kpa": "kilopascal", "pa": "pascal", "mbar": "millibar",
}  # fmt: skip


class UnreadableQuantity(ValueError):
    """A text is not a quantity of the kind asked for."""


def read(text, unit):
    """Read a quantity as a person types it.

    Parameters
    ----------
    text : str
        A number and a unit: ``"300 litre"``, ``"12,5 l/min"``, ``"1 h 24 min"``, ``"1.0 bar gauge"``.
    unit : str
        The unit the answer is wanted in; a key of `SI_UNITS`.

    Returns
    -------
    float
        The quantity in `unit`. A pressure is absolute; a gauge reading has `ATMOSPHERE` added. A water flow
        in litres counts one kilogram a litre, as the trade does.

    Raises
    ------
    UnreadableQuantity
        If there is no number, no unit, or the unit is of another kind.

    Examples
    --------
    >>> read("300 litre", "m3")
    0.3
    >>> read("1 h 24 min", "s")
    5040.0
    >>> read("1.0 bar gauge", "Pa")
    201325.0
    """
    kind = SI_UNITS[unit]
    number, spelt = _split(str(text), kind)
    if unit == "degC":
        return _temperature(text, number, spelt)
    if unit == "1" and spelt == "":
        return number
    if spelt == "":
        raise UnreadableQuantity(f"{text!r} has no unit; {kind} needs one, such as {_example(unit)}.")
    gauge = spelt.lower().endswith("gauge") or spelt.lower() in ("barg", "bar g")
    if unit == "K" and _TEMPERATURE.fullmatch(spelt):
        spelt = "K"  # a difference of one °C is a difference of one kelvin
    spelt = re.sub(r"\s*(gauge|absolute)$|(?<=bar)\s*[ga]$", "", spelt, flags=re.IGNORECASE)
    value = _convert(text, number, spelt, unit, kind)
    return value + ATMOSPHERE if gauge and unit == "Pa" else value


def write(value, unit, wanted, figures=3):
    """Write a quantity for a person.

    Parameters
    ----------
    value : float
        The quantity [`unit`].
    unit : str
        The unit it is in; a key of `SI_UNITS`.
    wanted : str
        The unit to write, as `read` accepts it; ``"bar gauge"`` takes `ATMOSPHERE` off.
    figures : int, optional
        Significant figures.

    Returns
    -------
    str
        Number and unit.

    Examples
    --------
    >>> write(50.24e6, "J", "kWh")
    '14.0 kWh'
    """
    if unit == "degC":
        return f"{value:.{max(figures - 2, 0)}f} °C"
    shown = value - ATMOSPHERE if wanted.endswith("gauge") else value
    number = shown / _convert(wanted, 1.0, wanted.removesuffix("gauge").strip(), unit, SI_UNITS[unit])
    places = max(figures - 1 - (math.floor(math.log10(abs(number))) if number else 0), 0)
    return f"{number:,.{places}f} {wanted}"


def _split(text, kind):
    """Return number and unit of a text; "1 h 24 min" becomes seconds."""
    match = _QUANTITY.fullmatch(text)
    if match is None:
        raise UnreadableQuantity(f"{text!r} is not {kind}: it should begin with a number.")
    parts = re.findall(rf"({_NUMBER})\s*(h|hr|hrs|hours?|min|mins|minutes?|s|sec|secs|seconds?)\b", text, re.IGNORECASE)
    if len(parts) > 1:
        return sum(_float(number) * _convert(text, 1.0, name, "s", kind) for number, name in parts), "second"
    return _float(match[1]), match[2]


def _float(text):
    return float(re.sub(r"[   ]", "", text).replace(",", ".").replace("−", "-"))


def _temperature(text, number, spelt):
    if not _TEMPERATURE.fullmatch(spelt):
        raise UnreadableQuantity(f"{text!r} is not a temperature; write it like 60 degC.")
    return number


def _example(unit):
    return {"m3": "300 litre", "K": "8 K", "Pa": "1.0 bar gauge", "W": "10 kW", "s": "3 hour", "kg/s": "10 l/min"}.get(
        unit, f"1 {unit}"
    )


@cache
def _registry():
    """Return the unit library's registry: a quarter of a second, so only when a unit is first read."""
    import pint

    registry = pint.UnitRegistry(cache_folder=None)
    registry.define("@alias degree = deg")
    return registry


def _convert(text, number, spelt, unit, kind):
    import pint

    registry = _registry()
    plain = _SPELLINGS.get(spelt.strip().lower().replace(" per ", "/"), spelt.strip())
    plain = re.sub(r"\bl\b", "litre", re.sub(r"\bl(?=/)", "litre", plain)).replace("m2", "m**2").replace("m3", "m**3")
    plain = (
        plain.replace("K2", "K**2")
        .replace("m**2 K**2", "m**2*K**2")
        .replace("m**2 K", "m**2*K")
        .replace("(m K)", "(m*K)")
    )
    target = {"1": "dimensionless", "m2": "m**2", "m3": "m**3", "W/(m K)": "W/(m*K)", "W/m2": "W/m**2",
              "W/(m2 K)": "W/(m**2*K)", "W/(m2 K2)": "W/(m**2*K**2)"}.get(unit, unit)  # fmt: skip
    try:
        quantity = registry.Quantity(number, plain)
        if unit == "kg/s" and quantity.check("[volume]/[time]"):
            quantity = quantity * registry.Quantity(1.0, "kg/litre")
        return float(f"{quantity.to(target).magnitude:.13g}")  # no trailing 0.30000000000000004
    except pint.DimensionalityError:
        raise UnreadableQuantity(f"{text!r} is not {kind}; write it like {_example(unit)}.") from None
    except (pint.UndefinedUnitError, pint.PintError, AttributeError, TypeError, ValueError, SyntaxError):
        raise UnreadableQuantity(
            f"{text!r} has a unit that is not known; write {kind} like {_example(unit)}."
        ) from None
