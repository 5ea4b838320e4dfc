"""Labels beside the store: each at its true height where it can be, pushed apart where it must be."""

from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.tank import REACH, SPAN

__all__ = ["Callout", "arrow", "column"]

_GUTTER = 16  # room for a thin leader between arrow and label [px]
_LINE, _LINES = 17, 2  # height of a line [px]; lines of a name, and of a reading, at most
_MARGIN = 16  # clear paper at the sides of the picture [px]
_HEAD = 10


@dataclass(frozen=True)
class Callout:
    """A name and a reading that belong to one height of the store."""

    height: float
    side: str
    name: str
    reading: str


def arrow(tank, height, side, direction, stroke):
    """Draw a connection that touches the wall at its true height.

    Parameters
    ----------
    tank : Tank
        The store.
    height : float
        0 (bottom) to 1 (top).
    side : str
        ``"left"`` or ``"right"``.
    direction : str
        ``"in"``, ``"out"`` or ``"resting"``; a resting one has no head.
    stroke : Stroke
        Its colour and line style.

    Returns
    -------
    str
        Markup.
    """
    y, wall, sign = tank.y(height), tank.wall(side), -1 if side == "left" else 1
    near, far = wall + sign, wall + sign * REACH
    casing = svg.line(wall + sign * 2, y, far, y, stroke=palette.PAPER, width=7)
    if direction == "resting":
        return casing + svg.line(near, y, far, y, stroke=palette.QUIET, width=1.3)
    tip, tail, point = (near, far, -sign) if direction == "in" else (far, near, sign)
    shaft = svg.line(tail, y, tip - point * (_HEAD - 2), y, stroke=stroke.colour, width=3, line=stroke.line)
    head = svg.tag("path", d=f"M{tip:g} {y:.2f}l{-point * _HEAD} -5.6v11.2z", fill=stroke.colour)
    return casing + shaft + head


def column(tank, side, callouts, page):
    """Write all labels of one side.

    Parameters
    ----------
    tank : Tank
        The store.
    side : str
        ``"left"`` or ``"right"``.
    callouts : sequence of Callout
        What to write; those of the other side are left out.
    page : tuple of int
        Width and height of the picture [px].

    Returns
    -------
    str
        Markup.

    Raises
    ------
    OutOfRange
        If the labels need more room than the picture is high.
    """
    mine = sorted((c for c in callouts if c.side == side), key=lambda c: -c.height)
    sign = -1 if side == "left" else 1
    edge = tank.wall(side) + sign * (REACH + _GUTTER)
    room = edge - _MARGIN if side == "left" else page[0] - _MARGIN - edge
    blocks = [_lines(c, room) for c in mine]
    sizes = [len(lines) * _LINE for lines in blocks]
    wanted = [tank.y(c.height) for c in mine]
    centres = lettering.spread(wanted, sizes, tank.top - SPAN - 4, page[1] - 8, gap=8)
    drawn = []
    for lines, size, true, centre in zip(blocks, sizes, wanted, centres, strict=True):
        drawn.append(_leader(tank.wall(side) + sign * REACH, true, edge - sign * 4, centre))
        drawn.append(_block(lines, edge, centre - size / 2, "end" if side == "left" else "start"))
    return "".join(drawn)


def _lines(callout, room):
    """Return (text, size, ink) of each line: the name first, the reading second."""
    name = [(line, lettering.NAME, palette.INK) for line in lettering.wrap(callout.name, room, lettering.NAME, _LINES)]
    quiet = [
        (line, lettering.READING, palette.QUIET)
        for line in lettering.wrap(callout.reading, room, lettering.READING, _LINES)
    ]
    return name + quiet


def _block(lines, x, top, anchor):
    return "".join(
        svg.text(x, top + _LINE * place + 13, content, size=size, fill=ink, text_anchor=anchor)
        for place, (content, size, ink) in enumerate(lines)
    )


def _leader(x, true, end, centre):
    """Join an arrow to a label that had to move; one that stands where it belongs needs no line."""
    if abs(true - centre) < 3:
        return ""
    return svg.line(x, true, end, centre, stroke=palette.QUIET, width=0.9)
