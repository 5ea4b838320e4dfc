"""A bar of heat: room left in the store against heat still to come."""

from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.heat_scale import BEGIN, NAMES, WIDE, Scale, marked
from tlib.figures.lettering import JOULES_A_KWH, NAME, READING, kwh
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import require

__all__ = ["Limit", "headroom_bar"]


@dataclass(frozen=True)
class Limit:
    """How much heat the store can still take up to one limit.

    Parameters
    ----------
    name : str
        The limit: "to 90 °C".
    room : float
        Heat up to it [J]; below 0 when it has been passed.
    """

    name: str
    room: float

    def __post_init__(self):
        require(self.room, f"room {self.name}", "J")

    @property
    def says(self):
        """The room as it is printed."""
        return kwh(self.room) if self.room >= 0 else "passed already"


def headroom_bar(limits, to_come, marks=(), *, title, words, brings="still to come", kind="log burner", notice=""):
    """Draw the room left in the store against the heat that is still to come.

    Parameters
    ----------
    limits : sequence of Limit
        One to four limits; the first is the one the heat should keep to.
    to_come : float
        Heat still to come [J]; 0 or more.
    marks : sequence of Mark, optional
        Up to two other amounts, drawn below the heat to come.
    title, words : str
        The one bold line, and the sentence that says what the picture means.
    brings : str, optional
        What the heat to come is called: "8 kg at 20 %".
    kind : str, optional
        The flow that it comes from.
    notice : str, optional
        A warning under the title.

    Returns
    -------
    Picture
        An inline SVG of 640 by 236 px, 40 more with marks, its words, and a row for the heat, each limit and each mark.

    Raises
    ------
    OutOfRange
        If there are no limits or more than four, more than two marks, or `to_come` is below 0.

    Examples
    --------
    >>> picture = headroom_bar([Limit("to 90 °C", 15e6)], 28.7e6, title="Power cut", words="It does not fit.")
    >>> picture.rows[1:]
    (('still to come', '8.0 kWh'), ('room to 90 °C', '4.2 kWh'), ('too much', '3.8 kWh'))
    """
    require(len(limits), "number of limits", "", at_least=1, at_most=4)
    require(len(marks), "number of marks", "", at_most=2)
    to_come = float(require(to_come, "heat to come", "J", at_least=0))
    scale = Scale.over(0.0, to_come, *(limit.room for limit in limits), *(mark.heat for mark in marks))
    said, size = sentence(words, notice), (WIDE, 276 if marks else 236)
    coming = _coming(scale, limits[0].room, to_come, (brings, kind))
    markup = svg.frame(
        size, title, said, _room(scale, limits), coming, marked(scale, marks, 156),
        svg.text(BEGIN, size[1] - 22, _verdict(limits[0].room, to_come)), notice=notice,
    )  # fmt: skip
    return Picture(markup, said, LateRows(lambda: _headroom_rows(limits, to_come, marks, brings)))


def _room(scale, limits):
    """Draw the room as an open bar, with a mark and a label at each limit."""
    most = max(scale.x(limit.room) for limit in limits)
    left = scale.x(0)
    drawn = [
        svg.text(NAMES, 137, "room in the store", text_anchor="end"),
        svg.tag("rect", x=left, y=120, width=max(most - left, 1), height=26, fill=palette.STRIP, stroke=palette.QUIET),
    ]
    ranked = sorted(limits, key=lambda limit: limit.room)
    sizes = [max(lettering.width(limit.name, NAME), lettering.width(limit.says, READING)) for limit in ranked]
    places = [scale.x(limit.room) for limit in ranked]
    for limit, x, middle in zip(ranked, places, lettering.spread(places, sizes, 24, WIDE - 16, gap=12), strict=True):
        weight = 2.4 if limit is limits[0] else 1.2
        drawn.append(svg.line(x, 116, x, 196 if limit is limits[0] else 146, width=weight))
        drawn.append(svg.line(middle, 104, x, 116, stroke=palette.QUIET, width=0.9))
        drawn.append(svg.text(middle, 82, limit.name, text_anchor="middle"))
        drawn.append(svg.text(middle, 99, limit.says, size=READING, fill=palette.QUIET, text_anchor="middle"))
    return "".join(drawn)


def _coming(scale, room, to_come, named):
    """Draw the heat to come: filled as far as it fits, open and striped beyond."""
    fits, left, (brings, kind) = min(max(room, 0.0), to_come), scale.x(0), named
    edge, end = scale.x(fits), scale.x(to_come)
    colour = palette.flow(kind).colour
    stripes = [x for x in range(int(edge) + 7, int(end), 7) if x < end - 3]
    return "".join([
        svg.text(NAMES, 177, f"{brings}, {kwh(to_come)}", text_anchor="end"),
        svg.tag("rect", x=left, y=160, width=max(edge - left, 0), height=26, fill=colour),
        svg.tag("rect", x=edge, y=160, width=end - edge, height=26, fill=palette.PAPER, stroke=palette.WARNING,
                stroke_width=2) if end > edge else "",
        *(svg.line(x, 161, x, 185, stroke=palette.WARNING, width=1.6) for x in stripes),
    ])  # fmt: skip


def _verdict(room, to_come):
    miss = _miss(room, to_come)
    return f"{kwh(miss)} too much" if miss > 0 else f"it fits, with {kwh(-miss)} to spare"


def _miss(room, to_come):
    """Return by how much the heat to come exceeds the room [J], as the printed numbers would have it."""
    return (round(to_come / JOULES_A_KWH, 1) - round(room / JOULES_A_KWH, 1)) * JOULES_A_KWH


def _headroom_rows(limits, to_come, marks, brings):
    yield ("what", "heat")
    yield (brings, kwh(to_come))
    for limit in limits:
        yield (f"room {limit.name}", limit.says)
    miss = _miss(limits[0].room, to_come)
    yield ("too much" if miss > 0 else "to spare", kwh(abs(miss)))
    for mark in marks:
        yield (mark.name, kwh(mark.heat))
