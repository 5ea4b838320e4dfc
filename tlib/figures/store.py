"""The store picture: bands of water, and every part at its true height with its name and its reading."""

from dataclasses import dataclass

import numpy as np

from tlib import units
from tlib.figures import palette, svg, tank
from tlib.figures.callouts import Callout, arrow, column
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.figures.tank import TANK
from tlib.validation import OutOfRange, require

__all__ = ["Bracket", "Coil", "Element", "Marker", "Plume", "Port", "banded", "hot_water_coil", "store_picture"]

_PAGE = (640, 484)
_LANES = {0: (), 1: ((80, 142),), 2: ((112, 146), (72, 100))}
_SIDES, _DIRECTIONS = ("left", "right"), ("in", "out", "resting")


def _one_of(value, name, choices):
    if value not in choices:
        raise OutOfRange(f"{name} must be one of {', '.join(choices)}; got {value!r}.")


def _height(value, name="height"):
    require(value, name, "", at_least=0, at_most=1)


@dataclass(frozen=True)
class Port:
    """A connection of the store.

    Parameters
    ----------
    name : str
        What is connected: "log burner".
    height : float
        Its height [-]; 0 (bottom) to 1 (top).
    flow : str
        ``"in"``, ``"out"`` or ``"resting"``, seen from the store.
    reading : str, optional
        What it reads: "flow 82 °C"; a resting port without one says "resting".
    kind : str, optional
        One of the six flows (`tlib.figures.palette.FLOWS`).
    side : str, optional
        ``"left"`` or ``"right"``.
    """

    name: str
    height: float
    flow: str
    reading: str = ""
    kind: str = "heating"
    side: str = "left"

    def __post_init__(self):
        _height(self.height)
        _one_of(self.flow, "flow", _DIRECTIONS)
        _one_of(self.side, "side", _SIDES)
        palette.flow(self.kind)

    @property
    def says(self):
        """The reading, or that it rests."""
        return self.reading or ("resting" if self.flow == "resting" else "")

    def callouts(self):
        """Return its label."""
        return (Callout(self.height, self.side, self.name, self.says),)

    def drawn(self, at):
        """Draw it on a tank."""
        return arrow(at, self.height, self.side, self.flow, palette.flow(self.kind))

    def rows(self):
        """Return its line of the table."""
        way = {"in": "in", "out": "out", "resting": ""}[self.flow]
        return ((self.name, _share(self.height), ", ".join(filter(None, (way, self.says)))),)


@dataclass(frozen=True)
class Coil:
    """A coil inside the store, drawn between the heights of its two ports, on the right.

    Parameters
    ----------
    lower, upper : Port
        Its ends, both on the right; their heights are the coil's.
    """

    lower: Port
    upper: Port

    def __post_init__(self):
        if not self.lower.height < self.upper.height:
            raise OutOfRange(
                f"coil must have its lower end below its upper; got {self.lower.height:g} and {self.upper.height:g}."
            )
        if (self.lower.side, self.upper.side) != ("right", "right"):
            raise OutOfRange("coil must have both ends on the right; the numbers stand on the left.")

    def callouts(self):
        """Return the labels of both ends."""
        return self.lower.callouts() + self.upper.callouts()

    def drawn(self, at, lane=_LANES[1][0]):
        """Draw it on a tank, its turns between the two edges of a lane."""
        colour = palette.flow(self.upper.kind).colour
        turns = tank.coil(at, self.lower.height, self.upper.height, colour, lane)
        return turns + self.lower.drawn(at) + self.upper.drawn(at)

    def rows(self):
        """Return the lines of both ends."""
        return self.upper.rows() + self.lower.rows()


def hot_water_coil(bottom, top, *, cold="", outlet="", drawing=True):
    """Return the coil that heats mains water on its way to the taps.

    Parameters
    ----------
    bottom, top : float
        Its heights [-]; 0 (bottom) to 1 (top).
    cold, outlet : str, optional
        What its two ends read: "10 °C", "67 °C, before blending".
    drawing : bool, optional
        Whether a tap runs; if not, both ends rest and the readings given say so themselves.

    Returns
    -------
    Coil
        With the mains at its lower end.

    Examples
    --------
    >>> hot_water_coil(0.08, 0.97, cold="10 °C", outlet="67 °C").upper.flow
    'out'
    """
    into, out = ("in", "out") if drawing else ("resting", "resting")
    lower = Port("cold mains in", bottom, into, cold, "hot water", "right")
    return Coil(lower, Port("hot water out", top, out, outlet, "hot water", "right"))


@dataclass(frozen=True)
class Element:
    """An immersion element, a rod from the left wall.

    Parameters
    ----------
    name : str
        What it is called: "element".
    height : float
        Its height [-]; 0 (bottom) to 1 (top).
    reading : str, optional
        What it does: "1.8 kW from spare PV".
    working : bool, optional
        Whether it heats now.
    """

    name: str
    height: float
    reading: str = ""
    working: bool = True

    def __post_init__(self):
        _height(self.height)

    @property
    def _port(self):
        return Port(self.name, self.height, "in" if self.working else "resting", self.reading, "spare PV")

    def callouts(self):
        """Return its label."""
        return self._port.callouts()

    def drawn(self, at):
        """Draw it on a tank."""
        rod = tank.rod(at, self.height, palette.flow("spare PV").colour, self.working)
        return rod + self._port.drawn(at)

    def rows(self):
        """Return its line of the table."""
        return ((self.name, _share(self.height), self._port.says),)


@dataclass(frozen=True)
class Marker:
    """A level to compare with: a learner's guess, a thermostat's height.

    Parameters
    ----------
    name : str
        What it says: "your guess".
    height : float
        Its height [-]; 0 (bottom) to 1 (top).
    reading : str, optional
        Its value: "70 °C here".
    side : str, optional
        ``"left"`` or ``"right"``.
    """

    name: str
    height: float
    reading: str = ""
    side: str = "right"

    def __post_init__(self):
        _height(self.height)
        _one_of(self.side, "side", _SIDES)

    def callouts(self):
        """Return its label."""
        return (Callout(self.height, self.side, self.name, self.reading),)

    def drawn(self, at):
        """Draw it on a tank."""
        return tank.level(at, self.height, self.side)

    def rows(self):
        """Return its line of the table."""
        return ((self.name, _share(self.height), self.reading),)


@dataclass(frozen=True)
class Plume:
    """Water that rises or sinks inside the store, from the port by which it came to where it belongs.

    Parameters
    ----------
    port : Port
        By which it comes in.
    home : float
        The height at which the store's water is as warm as it is [-]; 0 (bottom) to 1 (top).
    reading : str, optional
        What the place says: "45 °C".

    Examples
    --------
    >>> Plume(Port("inlet", 1.0, "in"), home=0.6).says
    'it sinks to here'
    """

    port: Port
    home: float
    reading: str = ""

    def __post_init__(self):
        _height(self.home, "home")

    @property
    def says(self):
        """Whether it rises, sinks or stays."""
        way = self.home - self.port.height
        return "it stays here" if abs(way) < 0.03 else f"it {'rises' if way > 0 else 'sinks'} to here"

    def callouts(self):
        """Return the label of its place, on the other side of its port, and that of the port."""
        other = "right" if self.port.side == "left" else "left"
        return (*self.port.callouts(), Callout(self.home, other, self.says, self.reading))

    def drawn(self, at):
        """Draw it on a tank."""
        stroke = palette.flow(self.port.kind)
        return tank.plume(at, self.port.height, self.home, self.port.side, stroke) + self.port.drawn(at)

    def rows(self):
        """Return the lines of the port and of its place."""
        return (*self.port.rows(), (self.says, _share(self.home), self.reading))


@dataclass(frozen=True)
class Bracket:
    """A quiet bracket over a part of the store: "120 l above 40 °C".

    Parameters
    ----------
    name : str
        What that part holds.
    bottom, top : float
        Its heights [-]; 0 (bottom) to 1 (top).
    side : str, optional
        ``"left"`` or ``"right"``.
    """

    name: str
    bottom: float
    top: float = 1.0
    side: str = "left"

    def __post_init__(self):
        _height(self.bottom, "bottom")
        _height(self.top, "top")
        _one_of(self.side, "side", _SIDES)
        if not self.bottom < self.top:
            raise OutOfRange(f"bracket must have its bottom below its top; got {self.bottom:g} and {self.top:g}.")

    def callouts(self):
        """Return its label, in quiet ink, at the middle of the bracket."""
        return (Callout((self.bottom + self.top) / 2, self.side, "", self.name),)

    def drawn(self, at):
        """Draw it on a tank."""
        return tank.bracket(at, self.bottom, self.top, self.side)

    def rows(self):
        """Return its line of the table."""
        return ((self.name, f"{_share(self.bottom)} to {_share(self.top)}", ""),)


def store_picture(bands, parts=(), *, title, words, before=None, notice=""):
    """Draw a store with its water and its parts.

    Parameters
    ----------
    bands : sequence of float
        Temperature of each equal band [°C], the bottom one first; 1 to 15 bands, drawn with 12.
    parts : sequence of Port, Coil, Element, Marker, Plume or Bracket, optional
        What is drawn in and around it.
    title : str
        The one bold line, such as place and time.
    words : str
        What the picture means, in one sentence.
    before : sequence of float, optional
        The bands a moment ago [°C]; the colours fade from them, once.
    notice : str, optional
        A warning under the title: "boiling: the sum no longer describes what happens".

    Returns
    -------
    Picture
        An inline SVG of 640 by 484 px, its words, and a row for each band and part.

    Raises
    ------
    OutOfRange
        If there are no bands or too many, a temperature lies off the heat ramp, `before` has another number
        of bands, there are more than two coils, or one side has more labels than fit.

    Examples
    --------
    >>> picture = store_picture([40, 80], [Port("boiler", 0.95, "resting")], title="Noon", words="Half is hot.")
    >>> picture.rows[1], picture.rows[3]
    (('water, band 2 of 2, at the top', '50 to 100 %', '80 °C'), ('boiler', '95 %', 'resting'))
    """
    bands, before = _temperatures(bands, before)
    coils = [part for part in parts if isinstance(part, Coil)]
    if len(coils) > max(_LANES):
        raise OutOfRange(f"parts must hold {max(_LANES)} coils or fewer; got {len(coils)}.")
    lanes = reversed(list(zip(coils, _LANES[len(coils)], strict=True)))  # the inner one lies behind
    labels = [label for part in parts for label in part.callouts()]
    said = sentence(words, notice)
    markup = svg.frame(
        _PAGE, title, said,
        "" if bands == before else tank.FADE,
        tank.shell(TANK), tank.bands(TANK, bands, before), tank.outline(TANK),
        *(part.drawn(TANK) for part in parts if isinstance(part, Bracket)),
        *(coil.drawn(TANK, lane) for coil, lane in lanes),
        *(part.drawn(TANK) for part in parts if not isinstance(part, Coil | Bracket)),
        tank.plates(TANK, bands, before) if any(isinstance(part, Element | Marker) for part in parts) else "",
        tank.numbers(TANK, bands, before),
        column(TANK, "left", labels, _PAGE), column(TANK, "right", labels, _PAGE),
        notice=notice,
    )  # fmt: skip
    return Picture(markup, said, LateRows(lambda: _rows(bands, parts)))


def _temperatures(bands, before):
    """Return both states as tuples of float, or say what is wrong with them."""
    now = tuple(float(value) for value in np.ravel(bands))
    require(len(now), "number of bands", "", at_least=1, at_most=15)
    was = now if before is None else tuple(float(value) for value in np.ravel(before))
    if len(was) != len(now):
        raise OutOfRange(f"before must have {len(now)} bands, as the store has now; got {len(was)}.")
    return now, was


def _rows(bands, parts):
    """Return the table twin: the water from the top down, then every part."""
    count = len(bands)
    place = {count: ", at the top", 1: ", at the bottom"} if count > 1 else {}
    yield ("what", "height in the store", "reading")
    for band in range(count, 0, -1):
        name = f"water, band {band} of {count}{place.get(band, '')}"
        span = f"{100 * (band - 1) / count:.0f} to {_share(band / count)}"
        yield (name, span, units.write(bands[band - 1], "degC", "degC", figures=2))
    for part in parts:
        yield from part.rows()


def _share(height):
    return f"{100 * height:.0f} %"


def banded(layers, count=12):
    """Return the means of equal bands of a layered store.

    Parameters
    ----------
    layers : array_like
        Layer temperatures [°C], the bottom one first; all layers hold the same mass.
    count : int, optional
        Number of bands; need not divide the number of layers.

    Returns
    -------
    ndarray
        Mass-weighted mean temperature of each band [°C], shape (count,). Their mean is the store's mean.

    Raises
    ------
    OutOfRange
        If a temperature is not finite, or `count` is below 1.

    Examples
    --------
    >>> print(banded([30.0, 50.0, 70.0], count=2).round(2))
    [36.67 63.33]
    """
    layers = np.atleast_1d(require(layers, "layers", "°C"))
    require(count, "count", "", at_least=1)
    filled = np.concatenate([[0.0], np.cumsum(layers)])
    edges = np.linspace(0.0, len(layers), int(count) + 1)
    return np.diff(np.interp(edges, np.arange(len(layers) + 1), filled)) * count / len(layers)
