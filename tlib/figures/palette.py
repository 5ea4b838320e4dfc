"""The one place for colours: paper and ink, the heat ramp, the six flows and the levels of a store.

The hotter, the darker: lightness falls steadily along the ramp, so grey print and every kind of sight keep the
order. A flow has a colour, a line style and a word, so that colour never speaks alone. A test holds all of it.
"""

from dataclasses import dataclass
from itertools import pairwise

from tlib.validation import OutOfRange, require

__all__ = [
    "DASHES",
    "FLOWS",
    "INK",
    "LEVELS",
    "PAPER",
    "QUIET",
    "RAMP",
    "RULE",
    "SHELL",
    "STRIP",
    "WARNING",
    "Stroke",
    "contrast",
    "flow",
    "heat_colour",
    "ink_on",
    "luminance",
    "stroke",
]

INK, QUIET = "#22272b", "#65645d"
"""Words: names and numbers, and what stands second."""

PAPER, RULE, SHELL, STRIP = "#fbf9f4", "#c9c3b6", "#e4ded1", "#f3eadb"
"""Grounds and quiet shapes: the page, rules, the insulation of a store, the strip of a working band."""

WARNING = "#8c1c13"
"""The bar beside a notice; its words stay in ink."""

RAMP = (
    (0, "#f2f7f9"), (10, "#e6eff2"), (30, "#eedbb3"), (45, "#f2c57c"), (60, "#e0904a"), (75, "#b9512f"),
    (90, "#7d2a26"), (100, "#4a1620"), (140, "#1f070d"),
)  # fmt: skip
"""Temperature [°C] and its colour; between two entries the colour is mixed."""

DASHES = {"solid": (), "dashed": (3.4, 1.7), "dotted": (1.0, 1.4), "dashdot": (3.6, 1.3, 1.0, 1.3)}
"""On and off lengths of each line style, in line widths."""


@dataclass(frozen=True)
class Stroke:
    """How one thing is drawn: its word, its colour and its line style (a key of `DASHES`)."""

    word: str
    colour: str
    line: str


def _named(*strokes):
    return {stroke.word: stroke for stroke in strokes}


FLOWS = _named(
    Stroke("log burner", "#5b4010", "solid"),
    Stroke("boiler", "#343537", "dashed"),
    Stroke("sun", "#a05f08", "dotted"),
    Stroke("spare PV", "#181ab2", "dashdot"),
    Stroke("hot water", "#006b61", "solid"),
    Stroke("heating", "#d61576", "dashed"),
)
"""The six flows of heat."""

LEVELS = _named(
    Stroke("top", "#5e141d", "solid"),
    Stroke("upper", "#8c2f1f", "dashdot"),
    Stroke("middle", "#b94f17", "dashed"),
    Stroke("lower", "#676767", "dashdot"),
    Stroke("bottom", "#45708c", "dotted"),
)
"""Temperatures at the levels of a store, on charts: dark red down to a cool blue."""


def flow(kind):
    """Return the `Stroke` of one of the six flows.

    Parameters
    ----------
    kind : str
        A key of `FLOWS`.

    Returns
    -------
    Stroke
        Its word, colour and line style.

    Raises
    ------
    OutOfRange
        If no flow has that name.

    Examples
    --------
    >>> flow("sun").line
    'dotted'
    """
    if kind not in FLOWS:
        raise OutOfRange(f"flow must be one of {', '.join(FLOWS)}; got {kind!r}.")
    return FLOWS[kind]


def stroke(kind):
    """Return the `Stroke` of a flow or of a level of the store.

    Parameters
    ----------
    kind : str
        A key of `LEVELS` or `FLOWS`.

    Returns
    -------
    Stroke
        Its word, colour and line style.

    Raises
    ------
    OutOfRange
        If neither a level nor a flow has that name.

    Examples
    --------
    >>> stroke("bottom").line
    'dotted'
    """
    return LEVELS[kind] if kind in LEVELS else flow(kind)


def heat_colour(temperature):
    """Return the colour of water of one temperature.

    Parameters
    ----------
    temperature : float
        Water temperature [°C]; 0 to 140.

    Returns
    -------
    str
        The colour as ``#rrggbb``; the hotter, the darker.

    Raises
    ------
    OutOfRange
        If the temperature lies outside the ramp or is not finite.

    Examples
    --------
    >>> heat_colour(60), heat_colour(75)
    ('#e0904a', '#b9512f')
    """
    temperature = float(require(temperature, "temperature", "°C", at_least=RAMP[0][0], at_most=RAMP[-1][0]))
    for (cooler, pale), (hotter, dark) in pairwise(RAMP):
        if temperature <= hotter:
            share = (temperature - cooler) / (hotter - cooler)
            return "#" + "".join(
                f"{round(a + share * (b - a)):02x}" for a, b in zip(_rgb(pale), _rgb(dark), strict=True)
            )
    raise OutOfRange(f"temperature must be on the heat ramp; got {temperature:g}.")


def ink_on(ground):
    """Return black or white, whichever reads better on a ground.

    Parameters
    ----------
    ground : str
        The colour behind the words, as ``#rrggbb``.

    Returns
    -------
    str
        ``#000000`` or ``#ffffff``.

    Examples
    --------
    >>> ink_on(heat_colour(20)), ink_on(heat_colour(85))
    ('#000000', '#ffffff')
    """
    return max("#000000", "#ffffff", key=lambda ink: contrast(ink, ground))


def contrast(one, other):
    """Return the contrast ratio of two colours.

    Parameters
    ----------
    one, other : str
        Colours as ``#rrggbb``, in either order.

    Returns
    -------
    float
        The ratio [-], from 1 (the same) to 21 (black on white). Words need 4.5 or more.

    References
    ----------
    [WCAG-2.2] "contrast ratio" and success criterion 1.4.3.

    Examples
    --------
    >>> print(f"{contrast('#000000', '#ffffff'):.0f}")
    21
    """
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour):
    """Return how bright a colour is.

    Parameters
    ----------
    colour : str
        A colour as ``#rrggbb``.

    Returns
    -------
    float
        Relative luminance [-], 0 for black and 1 for white.

    References
    ----------
    [WCAG-2.2] "relative luminance".

    Examples
    --------
    >>> print(f"{luminance('#ffffff'):.2f}")
    1.00
    """
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in _rgb(colour))]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _rgb(colour):
    return tuple(int(colour[place : place + 2], 16) for place in (1, 3, 5))
