"""Trade units at the edges: quantities read as people type them, and written back.

Inside, everything is SI with °C the one exception, and pressure is absolute. Litres, kWh, l/min and bar
gauge exist only where a person reads or writes, and every such place comes through here.
"""

import difflib
import math
import re
import sys
import unicodedata
from fractions import Fraction
from functools import cache

__all__ = ["ATMOSPHERE", "SI_UNITS", "UnreadableQuantity", "read", "write"]

ATMOSPHERE = 101_325.0
"""Standard air pressure [Pa]: what a gauge leaves out."""

SI_UNITS = {
    "degC": "a temperature", "K": "a temperature difference", "Pa": "a pressure", "m": "a length",
    "m2": "an area", "m3": "a volume", "kg": "a mass", "s": "a time", "kg/s": "a flow", "m3/s": "a volume flow",
    "m/s": "a speed", "W": "a power", "J": "an amount of heat", "J/K": "a heat capacity",
    "W/K": "a heat loss or conductance", "W/(m K)": "a conductivity", "W/(m2 K)": "a heat transfer coefficient",
    "W/(m2 K2)": "a W/(m2 K2) coefficient", "m2 K/W": "a thermal resistance", "W/m": "a power for each metre",
    "W/m2": "a power for each square metre", "J/m2": "an amount of heat for each square metre",
    "J/kg": "a calorific value", "J/(m2 K)": "a heat capacity for each square metre",
    "J/(kg K)": "a specific heat", "kg/m3": "a density",
    "kg/J": "a mass for each unit of heat", "Pa/m": "a pressure drop for each metre", "Pa s": "a viscosity",
    "degree": "an angle", "1": "a plain number or share",
}  # fmt: skip
"""The units in which the rest of the package speaks, each with the words for its kind."""

_EXAMPLES = {
    "degC": "60 degC", "m3": "300 litre", "K": "8 K", "Pa": "1.0 bar gauge", "W": "10 kW", "s": "3 hour", "J": "14 kWh",
    "kg/s": "10 l/min", "m3/s": "10 l/min", "J/kg": "4.1 kWh/kg", "m": "28 mm", "kg": "12 kg", "1": "0.65 or 65 %",
}  # fmt: skip

# Each unit's definition, and the other ways in which people spell it. Gallons are imperial: the trade here is.
# Factors as in [NIST SP 811] appendix B; the British thermal unit and the kilocalorie are the International Table ones.
_UNITS = {
    "metre": ("[length]", "m metres meter meters"),
    "millimetre": ("0.001 metre", "mm millimetres millimeter millimeters"),
    "decimetre": ("0.1 metre", "dm"),
    "centimetre": ("0.01 metre", "cm centimetres centimeter centimeters"),
    "kilometre": ("1000 metre", "km kilometres kilometer kilometers"),
    "inch": ("0.0254 metre", "in inches"),
    "foot": ("0.3048 metre", "ft feet"),
    "litre": ("0.001 metre**3", "l litres liter liters ltr ltrs"),
    "millilitre": ("0.001 litre", "ml millilitres milliliter milliliters"),
    "gallon": ("4.54609 litre", "gal gallons"),
    "kilogram": ("[mass]", "kg kgs kilo kilos kilograms kilogramme kilogrammes"),
    "gram": ("0.001 kilogram", "g grams gramme grammes"),
    "tonne": ("1000 kilogram", "t tonnes"),
    "pound": ("0.45359237 kilogram", "lb lbs pounds"),
    "second": ("[time]", "s sec secs seconds"),
    "minute": ("60 second", "min mins minutes"),
    "hour": ("3600 second", "h hr hrs hours"),
    "day": ("86400 second", "d days"),
    "week": ("604800 second", "weeks"),
    "kelvin": ("[temperature]", "k kelvins c °c"),
    "joule": ("kilogram * metre**2 / second**2", "j joules"),
    "kilojoule": ("1000 joule", "kj kilojoules"),
    "megajoule": ("1e6 joule", "mj megajoules"),
    "gigajoule": ("1e9 joule", "gj gigajoules"),
    "watt": ("joule / second", "w watts"),
    "kilowatt": ("1000 watt", "kw kilowatts"),
    "megawatt": ("1e6 watt", "mw megawatts"),
    "watt_hour": ("3600 joule", "wh"),
    "kilowatt_hour": ("3.6e6 joule", "kwh kwhr kwhrs"),
    "megawatt_hour": ("3.6e9 joule", "mwh"),
    "kilocalorie": ("4186.8 joule", "kcal"),
    "btu": ("1055.05585262 joule", "btus"),
    "pascal": ("joule / metre**3", "pa pascals"),
    "kilopascal": ("1000 pascal", "kpa"),
    "megapascal": ("1e6 pascal", "mpa"),
    "hectopascal": ("100 pascal", "hpa"),
    "bar": ("1e5 pascal", "bars"),
    "millibar": ("100 pascal", "mbar millibars"),
    "millipascal": ("0.001 pascal", "mPa"),
    "psi": ("6894.757 pascal", ""),
    "degree": ("[angle]", "deg degrees °"),
    "percent": ("0.01", "%"),
}
_NAMES = {word: name for name, (_, words) in _UNITS.items() for word in [name, *words.split()]}
_SHORT = {"lpm": "l/min", "lph": "l/h", "lps": "l/s", "per cent": "percent"}
_REFUSED = {
    "mW": "mW is a thousandth of a watt; write kW or MW", "mWh": "mWh is a thousandth of a Wh; write kWh or MWh",
    "mJ": "mJ is a thousandth of a joule; write kJ or MJ", "ton": "a ton has three sizes; write tonne or kg",
    "F": "degrees Fahrenheit are not used here; write °C", "°F": "degrees Fahrenheit are not used here; write °C",
}  # fmt: skip
_TIMES = "|".join(f"{name}s?|{_UNITS[name][1].replace(' ', '|')}" for name in ("second", "minute", "hour", "day"))

_GAP = "\u00a0"
_MINUS = ("-", "−", "–")
_DIGITS = r"(?:\d{1,3}(?: \d{3})+(?!\d)|\d+)?(?:[.,]\d+)*"
_NUMBER = re.compile(rf"([-+−–]?) ?(?=[.,]?\d)({_DIGITS})(e[-+−]?\d{{1,3}}(?!\d))? ?", re.IGNORECASE)
_FURTHER = re.compile(rf"({_TIMES})(?: and|,)? ?(\d.*)", re.IGNORECASE)
_CELSIUS = re.compile(r"(?:deg(?:rees?)?|°) ?c(?:elsius)?\b|\bcelsius\b", re.IGNORECASE)
_GAUGE = re.compile(r"(.*?(?:bar|pa|psi)) ?\(?\b(g|gauge)\)?|(m?bar|psi)g", re.IGNORECASE)
_ABSOLUTE = re.compile(r"(.*?(?:bar|pa|psi)) ?\(?\b(a|abs|absolute)\)?|(m?bar|psi)a", re.IGNORECASE)
_WORD = re.compile(r"([^\W\d_]+|°[a-z]?|%)(?:\^|\*\*)?([23]?)[ ·*.]*", re.IGNORECASE)
_LONGEST = 80


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
        The quantity in `unit`. A pressure is absolute; a gauge reading has `ATMOSPHERE` added, and one that says
        neither gauge nor absolute is taken as it stands. A water flow in litres counts one kilogram a litre, as
        the trade does.

    Raises
    ------
    UnreadableQuantity
        If there is no number, no unit, the unit is of another kind, or the text could mean two things.

    Notes
    -----
    Decimals may follow a point or a comma, and thousands may be set apart by a gap. ``"1,500"`` is refused, since it
    is 1500 to one reader and 1.5 to another.

    References
    ----------
    [NIST SP 811] appendix B, conversion factors; [SI Brochure] section 5.4.4, the thousands gap.

    Examples
    --------
    >>> read("300 litre", "m3")
    0.3
    >>> read("1 h 24 min", "s")
    5040.0
    >>> read("1.0 bar gauge", "Pa")
    201325.0
    """
    text, kind = _plain(text), _kind(unit)
    number, spelt = _split(text, unit)
    if spelt == "" and unit != "1":
        raise UnreadableQuantity(f"{text!r} has no unit; {kind} needs one, such as {_example(unit)}.")
    spelt, is_gauge = _pressure(spelt)
    if unit == "degC":
        return float(number * _temperature(text, spelt))
    value = number * _factor(text, spelt, unit) + (Fraction(ATMOSPHERE) if is_gauge else 0)
    if abs(value) > sys.float_info.max:
        raise UnreadableQuantity(f"{text!r} is too large to be {kind}.")
    return float(value)


def write(value, unit, wanted, figures=3):
    """Write a quantity for a person.

    Parameters
    ----------
    value : float
        The quantity [`unit`].
    unit : str
        The unit it is in; a key of `SI_UNITS`.
    wanted : str
        The unit to write, as `read` accepts it; ``"bar gauge"`` takes `ATMOSPHERE` off, ``"h min"`` writes a time
        in whole minutes.
    figures : int, optional
        Significant figures; a temperature has two fewer decimals.

    Returns
    -------
    str
        Number and unit, or "not defined" for a value that is not finite.

    Raises
    ------
    UnreadableQuantity
        If the unit wanted is unknown or of another kind.

    References
    ----------
    [SI Brochure] section 5.4.4: a gap between groups of three digits, none in a number of four.

    Examples
    --------
    >>> write(50.24e6, "J", "kWh")
    '14.0 kWh'
    >>> write(5040, "s", "h min")
    '1 h 24 min'
    """
    _kind(unit)
    if not math.isfinite(value):
        return "not defined"
    if unit == "degC":
        _temperature(wanted, _plain(wanted))
        return f"{_decimals(value, max(figures - 2, 0))} °C"
    if unit == "s" and wanted == "h min":
        hours, minutes = divmod(round(abs(value) / 60), 60)
        return f"{'-' if value < 0 else ''}{hours} h {minutes} min"
    spelt, is_gauge = _pressure(_plain(wanted))
    number = (Fraction(float(value)) - (Fraction(ATMOSPHERE) if is_gauge else 0)) / _factor(wanted, spelt, unit)
    shown = re.sub(r"(?<=[a-zA-Z])[23]", lambda power: "²³"[int(power[0]) - 2], wanted)
    return f"{_significant(float(number), figures)} {shown}".rstrip()


def _kind(unit):
    if unit not in SI_UNITS:
        raise UnreadableQuantity(f"{unit!r} is not a unit of the package; it speaks in {', '.join(SI_UNITS)}.")
    return SI_UNITS[unit]


def _example(unit):
    return _EXAMPLES.get(unit, f"1 {unit}")


def _plain(text):
    """Return a text with one kind of gap, degree sign, minus and small raised figure."""
    return " ".join(unicodedata.normalize("NFKC", re.sub("[º˚]", "°", str(text))).split())


# --- numbers as people type them


def _split(text, unit):
    """Return the number and the unit's spelling; "1 h 24 min" becomes seconds."""
    kind = _kind(unit)
    if len(text) > _LONGEST:
        raise UnreadableQuantity(f"{text[:20]!r}… is too long to be {kind}; write it like {_example(unit)}.")
    match = _NUMBER.match(text)
    if match is None:
        raise UnreadableQuantity(f"{text!r} is not {kind}: it should begin with a number, like {_example(unit)}.")
    number, spelt = _number(text, match), text[match.end() :]
    if re.match(r"[-−–:/x×]? ?\d|to\b", spelt):
        raise UnreadableQuantity(f"{text!r} has more than one number; write one, like {_example(unit)}.")
    if more := _FURTHER.fullmatch(spelt):
        first, further = number * _factor(text, more[1], "s"), Fraction(read(more[2], "s"))
        return (first - further if match[1] in _MINUS else first + further), "second"
    return number, spelt


def _number(text, match):
    """Return a matched number exactly, whichever mark its writer uses for decimals."""
    sign, digits, exponent = match.groups()
    digits = digits.replace(" ", "")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", digits) and not exponent:
        either = f"{digits.replace(',', '')} or {digits.replace(',', '.')}"
        raise UnreadableQuantity(f"{text!r} could mean {either}; write it without the comma.")
    if len(re.findall("[.,]", digits)) > 1:
        grouped = re.fullmatch(r"(\d{1,3}(?:([.,])\d{3})+)(?:(?!\2)[.,](\d+))?", digits)
        if grouped is None:
            raise UnreadableQuantity(f"{text!r} has marks in its number that cannot be read; write it like 1234.5.")
        digits = f"{re.sub('[.,]', '', grouped[1])}.{grouped[3] or 0}"
    value = Fraction(f"0{digits.replace(',', '.')}{(exponent or '').replace('−', '-')}")
    return -value if sign in _MINUS else value


def _decimals(number, places):
    """Write a number with so many decimals, never as minus nought, five digits and more with gaps."""
    whole, dot, rest = f"{number:.{places}f}".partition(".")
    if float(f"{whole}{dot}{rest}") == 0:
        whole = whole.lstrip("-")
    grouped = f"{int(whole):,}".replace(",", _GAP) if len(whole.lstrip("-")) > 4 else whole
    return f"{grouped}{dot}{rest}"


def _significant(number, figures):
    exponent = int(f"{number:.{figures - 1}e}".partition("e")[2])
    if not -5 <= exponent <= 14:
        return f"{number:.{figures - 1}e}"
    places = figures - 1 - exponent
    return _decimals(round(number, places), max(places, 0))


# --- units as people spell them


def _temperature(text, spelt):
    """Return 1 if the unit is degrees Celsius, said in any of its ways."""
    if _CELSIUS.sub("°C", spelt).lower() in ("°c", "c", "°", "deg", "degree", "degrees"):
        return 1
    raise _wrong_kind(text, spelt, "degC")


def _pressure(spelt):
    """Return a pressure unit without its word for gauge or absolute, and whether it said gauge."""
    if match := _GAUGE.fullmatch(spelt) or _ABSOLUTE.fullmatch(spelt):
        return match[1] or match[3], match.re is _GAUGE
    return spelt, False


@cache
def _registry():
    """Return the unit library, told our units alone: a quarter of a second, so only when a unit is first read."""
    import pint

    registry = pint.UnitRegistry(None, non_int_type=Fraction)
    for name, (definition, _) in _UNITS.items():
        registry.define(f"{name} = {definition}")
    return registry


@cache
def _factor_of(spelt, unit):
    """Return what one of the spelt unit is worth in `unit`, exactly, or None if it is of another kind."""
    names, target = _names(spelt), _names("" if unit == "1" else unit)
    if unit == "kg/s" and _dimension(names) == _dimension(["litre", "/second"]):
        names = [*names, "kilogram", "/litre"]  # one kilogram a litre
    if _dimension(names) != _dimension(target):
        return None
    return (_quantity(names) / _quantity(target)).to_base_units().magnitude


def _factor(text, spelt, unit):
    """Return what one of the spelt unit is worth in `unit`, or refuse the text with the reason."""
    try:
        factor = _factor_of(spelt, unit)
    except UnreadableQuantity as reason:
        raise UnreadableQuantity(f"{text!r} is not {_kind(unit)}: {reason}.") from None
    if factor is None:
        raise _wrong_kind(text, spelt, unit)
    return factor


def _quantity(names):
    """Return one of a unit: the product of its names, those with a slash below the line."""
    quantity = _registry().Quantity(Fraction(1))
    for name in names:
        one = _registry().Quantity(Fraction(1), name.strip("/"))
        quantity = quantity / one if name.startswith("/") else quantity * one
    return quantity


def _dimension(names):
    return _quantity(names).dimensionality


def _names(spelt):
    """Return the names of a spelt unit, each below the line with a slash before it: "W/m2K" has three below."""
    plain = _CELSIUS.sub("°C", spelt)
    plain = _SHORT.get(plain.lower(), plain)
    plain = re.sub(r" (?:per|an?|each) ", "/", plain, flags=re.IGNORECASE)
    plain = re.sub(r"/ ?24 ?h(?:ours?|rs?)?$", "/day", plain, flags=re.IGNORECASE)
    above, *below = re.sub(r"[()]", " ", plain).split("/")
    return _words(spelt, above, "") + _words(spelt, " ".join(below), "/")


def _words(spelt, part, line):
    if part.strip() in ("", "1"):
        return []
    if re.fullmatch(rf"(?:{_WORD.pattern})+", part.strip(), re.IGNORECASE) is None:
        raise UnreadableQuantity(f"{spelt!r} is not a unit that is known here")
    found = _WORD.findall(part)
    return [line + name for word, power in found for name in _name(word) * int(power or 1)]


def _name(word):
    """Return the one name of a unit, whatever its spelling or letter case; "mK" below a line is metre and kelvin."""
    if word in _REFUSED:
        raise UnreadableQuantity(_REFUSED[word])
    if name := _NAMES.get(word) or _NAMES.get(word.lower()):
        return [name]
    if word.endswith("K") and word[:-1] in _NAMES:
        return [_NAMES[word[:-1]], "kelvin"]
    near = difflib.get_close_matches(word.lower(), _NAMES, n=1)
    raise UnreadableQuantity(
        f"{word!r} is not a unit{f'; perhaps {near[0]} is meant' if near else ' that is known here'}"
    )


def _wrong_kind(text, spelt, unit):
    """Return the refusal of a known unit of another kind, which says of what kind it is."""
    try:
        dimension = _dimension(_names(spelt))
    except UnreadableQuantity as reason:
        return UnreadableQuantity(f"{text!r} is not {_kind(unit)}: {reason}.")
    kinds = [words for key, words in SI_UNITS.items() if key != "degC" and _dimension(_names(key)) == dimension]
    is_kind = f" is {kinds[0]}, not {_kind(unit)}" if kinds else f" is not {_kind(unit)}"
    return UnreadableQuantity(f"{text!r}{is_kind}; write it like {_example(unit)}.")
