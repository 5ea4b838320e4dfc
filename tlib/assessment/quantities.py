"""Kinds of quantity and the trade units of exercises: a small algebra of dimensions, with no library behind it.

Temperature and temperature difference are different kinds, and so are absolute pressure and pressure
difference: the first of each counts from a fixed point, so two of them can be subtracted but not added.
"""

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

__all__ = ["UNITS", "WORDS", "Kind", "Unit", "WrongKind", "unit_written"]

BASES = ("kg", "m", "s", "K", "A")


class WrongKind(ValueError):
    """Two quantities cannot be put together in this way."""


@dataclass(frozen=True)
class Kind:
    """What sort of quantity a number is.

    Attributes
    ----------
    powers : tuple of Fraction
        The power of each of `BASES`.
    point : bool
        Whether it counts from a fixed point: a temperature, an absolute pressure.
    """

    powers: tuple
    point: bool = False

    def __str__(self):
        """Return the trade's words for it, else its base units."""
        if self in WORDS:
            return WORDS[self]
        written = [
            f"{base}{'' if power == 1 else power}" for base, power in zip(BASES, self.powers, strict=True) if power
        ]
        return "something in " + " ".join(written)

    def plus(self, other):
        """Return the kind of the sum."""
        self._same_powers(other, "added")
        if self.point and other.point:
            raise WrongKind(f"two of {self} cannot be added")
        return replace(self, point=self.point or other.point)

    def minus(self, other):
        """Return the kind of the difference."""
        self._same_powers(other, "subtracted")
        if other.point and not self.point:
            raise WrongKind(f"{other} cannot be taken from {self}")
        return replace(self, point=self.point and not other.point)

    def like(self, other):
        """Return this kind if the two can be compared or chosen between."""
        self._same_powers(other, "compared")
        if self.point != other.point:
            raise WrongKind(f"{self} and {other} cannot be compared")
        return self

    def _same_powers(self, other, done):
        if self.powers != other.powers:
            raise WrongKind(f"{self} and {other} cannot be {done}")

    def times(self, other, sign=1):
        """Return the kind of the product, or with a sign of -1 of the quotient."""
        for one in (self, other):
            if one == TEMPERATURE:
                raise WrongKind("a temperature cannot be multiplied or divided; take a difference first")
        powers = tuple(mine + sign * theirs for mine, theirs in zip(self.powers, other.powers, strict=True))
        scaled = self.point and other == NUMBER  # twice an absolute pressure is still one
        return Kind(powers, scaled or (other.point and self == NUMBER and sign == 1))

    def power(self, exponent):
        """Return the kind of a power, for a plain number as exponent."""
        if self == TEMPERATURE:
            raise WrongKind("a temperature cannot be raised to a power; take a difference first")
        return Kind(tuple(power * exponent for power in self.powers))


def _kind(kg=0, m=0, s=0, kelvin=0, ampere=0, point=False):
    return Kind(tuple(Fraction(power) for power in (kg, m, s, kelvin, ampere)), point)


NUMBER = _kind()
TEMPERATURE, DIFFERENCE = _kind(kelvin=1, point=True), _kind(kelvin=1)
PRESSURE, PRESSURE_DIFFERENCE = _kind(1, -1, -2, point=True), _kind(1, -1, -2)
LENGTH, AREA, VOLUME, MASS, TIME = _kind(m=1), _kind(m=2), _kind(m=3), _kind(1), _kind(s=1)
HEAT, POWER, FLOW, CALORIFIC = _kind(1, 2, -2), _kind(1, 2, -3), _kind(1, s=-1), _kind(m=2, s=-2)

WORDS = MappingProxyType({
    NUMBER: "a plain number", TEMPERATURE: "a temperature", DIFFERENCE: "a temperature difference",
    PRESSURE: "an absolute pressure", PRESSURE_DIFFERENCE: "a pressure difference",
    LENGTH: "a length", AREA: "an area", VOLUME: "a volume", MASS: "a mass", TIME: "a time",
    HEAT: "an amount of heat", POWER: "a power", FLOW: "a flow", CALORIFIC: "a calorific value",
    _kind(m=1, s=-1): "a speed", _kind(1, m=-3): "a density", _kind(ampere=1): "a current",
    _kind(1, 2, -3, ampere=-1): "a voltage", _kind(1, s=-3): "a power for each square metre",
    _kind(1, 2, -3, -1): "a heat loss coefficient", _kind(1, 2, -2, -1): "a heat capacity",
    _kind(1, s=-3, kelvin=-1): "a heat transfer coefficient", _kind(1, 1, -3, -1): "a conductivity",
    _kind(s=1, kelvin=1): "a number of degree-days", _kind(m=-2, s=2): "a weight for each unit of heat",
})  # fmt: skip
"""The trade's words for the kinds that have some."""


@dataclass(frozen=True)
class Unit:
    """A unit as exercise files name it, learners type it and papers print it.

    Attributes
    ----------
    name : str
        The name in exercise files.
    kind : Kind
        What it measures.
    factor, offset : float
        The SI value is ``number * factor + offset``; temperatures stay in °C.
    one, many : str
        As printed after 1 and after other numbers.
    spellings : tuple of str
        Other ways a person writes it that need no remark.
    """

    name: str
    kind: Kind
    factor: float
    one: str
    many: str
    spellings: tuple = ()
    offset: float = 0.0

    def to_si(self, number):
        """Return the SI value of a number in this unit."""
        return number * self.factor + self.offset

    def from_si(self, value):
        """Return the number in this unit of an SI value."""
        return (value - self.offset) / self.factor

    def printed(self, text):
        """Return a number, already written, with the unit behind it."""
        if self.name == "share":
            return text
        return f"{text} {self.one if text == '1' else self.many}"


_LOSS, _CAPACITY = _kind(1, 2, -3, -1), _kind(1, 2, -2, -1)
_FILM, _CONDUCTIVITY, _IRRADIANCE = _kind(1, s=-3, kelvin=-1), _kind(1, 1, -3, -1), _kind(1, s=-3)
_ROWS = [
    ("share", NUMBER, 1, "", "", ("1",)), ("%", NUMBER, 0.01, "%", "%", ("percent", "per cent", "pc")),
    ("degC", TEMPERATURE, 1, "°C", "°C", ("°c", "C", "deg C", "degrees", "degrees C", "Celsius", "degree Celsius")),
    ("K", DIFFERENCE, 1, "K", "K", ("kelvin", "kelvins")),
    ("litre", VOLUME, 1e-3, "litre", "litres", ("l", "L", "liter", "liters", "ltr", "ltrs", "dm3", "dm³")),
    ("m3", VOLUME, 1, "m³", "m³", ("cubic metre", "cubic metres")),
    ("kg", MASS, 1, "kg", "kg", ("kilo", "kilos", "kilogram", "kilograms", "kgs")),
    ("g", MASS, 1e-3, "g", "g", ("gram", "grams")), ("tonne", MASS, 1000, "tonne", "tonnes", ("t",)),
    ("second", TIME, 1, "second", "seconds", ("s", "sec", "secs")),
    ("minute", TIME, 60, "minute", "minutes", ("min", "mins")),
    ("hour", TIME, 3600, "hour", "hours", ("h", "hr", "hrs")), ("day", TIME, 86400, "day", "days", ("d",)),
    ("W", POWER, 1, "W", "W", ("watt", "watts")), ("kW", POWER, 1000, "kW", "kW", ("kilowatt", "kilowatts")),
    ("kWh/day", POWER, 3.6e6 / 86400, "kWh a day", "kWh a day", ("kWh/24h", "kWh per day", "kWh/24 h", "kWh/d")),
    ("J", HEAT, 1, "J", "J", ("joule", "joules")), ("kJ", HEAT, 1e3, "kJ", "kJ", ("kilojoule", "kilojoules")),
    ("MJ", HEAT, 1e6, "MJ", "MJ", ("megajoule", "megajoules")),
    ("Wh", HEAT, 3600, "Wh", "Wh", ("watt hours", "watt-hours", "W h")),
    ("kWh", HEAT, 3.6e6, "kWh", "kWh", ("kW h", "kW·h", "kilowatt hours", "kilowatt-hours")),
    ("MWh", HEAT, 3.6e9, "MWh", "MWh", ("MW h",)),
    ("Pa", PRESSURE_DIFFERENCE, 1, "Pa", "Pa", ("pascal", "pascals")),
    ("kPa", PRESSURE_DIFFERENCE, 1000, "kPa", "kPa", ()), ("mbar", PRESSURE_DIFFERENCE, 100, "mbar", "mbar", ()),
    ("bar", PRESSURE_DIFFERENCE, 1e5, "bar", "bar", ("bars",)),
    ("bar gauge", PRESSURE, 1e5, "bar gauge", "bar gauge", ("barg", "bar g", "bar(g)"), 101_325.0),
    ("bar absolute", PRESSURE, 1e5, "bar absolute", "bar absolute", ("bara", "bar a", "bar(a)")),
    ("mm", LENGTH, 1e-3, "mm", "mm", ()), ("cm", LENGTH, 1e-2, "cm", "cm", ()),
    ("m", LENGTH, 1, "m", "m", ("metre", "metres", "meter", "meters")),
    ("m2", AREA, 1, "m²", "m²", ("sq m", "square metres")), ("m/s", _kind(m=1, s=-1), 1, "m/s", "m/s", ()),
    ("litre/second", FLOW, 1, "l/s", "l/s", ("litres/second", "kg/s")),
    ("litre/minute", FLOW, 1 / 60, "l/min", "l/min", ("litres/minute", "lpm", "litres per minute")),
    ("litre/hour", FLOW, 1 / 3600, "l/h", "l/h", ("litres/hour", "l/hr", "lph", "litres per hour")),
    ("kWh/kg", CALORIFIC, 3.6e6, "kWh/kg", "kWh/kg", ()), ("MJ/kg", CALORIFIC, 1e6, "MJ/kg", "MJ/kg", ()),
    ("kg/m3", _kind(1, m=-3), 1, "kg/m³", "kg/m³", ()), ("W/K", _LOSS, 1, "W/K", "W/K", ()),
    ("kWh/K", _CAPACITY, 3.6e6, "kWh/K", "kWh/K", ()), ("W/m2", _IRRADIANCE, 1, "W/m²", "W/m²", ()),
    ("W/(m K)", _CONDUCTIVITY, 1, "W/(m K)", "W/(m K)", ("W/mK", "W/(mK)")),
    ("W/(m2 K)", _FILM, 1, "W/(m² K)", "W/(m² K)", ("W/m2K", "W/(m2K)", "W/m²K")),
    ("W/(m2 K2)", _kind(1, s=-3, kelvin=-2), 1, "W/(m² K²)", "W/(m² K²)", ("W/m2K2", "W/(m2K2)", "W/m²K²")),
    ("K day", _kind(s=1, kelvin=1), 86400, "degree-day", "degree-days", ("degree day", "degree days", "K d")),
    ("kg/kWh", _kind(m=-2, s=2), 1 / 3.6e6, "kg/kWh", "kg/kWh", ("kg per kWh",)),
    ("A", _kind(ampere=1), 1, "A", "A", ("amp", "amps", "ampere", "amperes")),
    ("V", _kind(1, 2, -3, ampere=-1), 1, "V", "V", ("volt", "volts")),
]  # fmt: skip


def _unit(name, kind, factor, one, many, spellings, offset=0.0):
    return Unit(name, kind, float(factor), one, many, spellings, offset)


UNITS = MappingProxyType({row[0]: _unit(*row) for row in _ROWS})
"""Every unit an exercise may use, by its name in exercise files. A litre of flow counts one kilogram."""


def _spelt(text):
    text = re.sub(r"\s+", " ", text.strip()).rstrip(".")
    return re.sub(r"\s*/\s*", "/", text.replace("²", "2").replace("³", "3").replace("º", "°"))


def _dictionary():
    exact, loose = {}, {}
    for unit in UNITS.values():
        for spelling in (unit.name, unit.one, unit.many, *unit.spellings):
            if spelling:
                exact[_spelt(spelling)] = unit
                loose.setdefault(_spelt(spelling).lower(), unit)
    return exact, loose


_EXACT, _LOOSE = _dictionary()


def unit_written(text):
    """Return the unit a person wrote, and whether the spelling is the usual one.

    Parameters
    ----------
    text : str
        What stands behind the number.

    Returns
    -------
    unit : Unit or None
        None when no unit is known by this text.
    usual : bool
        False for a capital or small letter out of place, as in ``"kwh"``.

    Examples
    --------
    >>> unit, usual = unit_written("kwh")
    >>> unit.name, usual
    ('kWh', False)
    """
    spelt = _spelt(text)
    if spelt in _EXACT:
        return _EXACT[spelt], True
    unit = _LOOSE.get(spelt.lower())
    return unit, unit is not None and unit.name in (
        "litre",
        "hour",
        "minute",
        "second",
        "day",
        "degC",
        "kg",
        "tonne",
        "K",
    )
