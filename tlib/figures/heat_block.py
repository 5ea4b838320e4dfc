"""Stored heat as an area: litres across, degrees up, so that twice both is seen to be four times."""

from dataclasses import dataclass

from tlib.figures import lettering, palette, svg
from tlib.figures.lettering import NAME, READING
from tlib.figures.picture import LateRows, Picture, sentence
from tlib.validation import require

__all__ = ["Block", "heat_block"]

_LEFT, _TOP, _WIDE = 84, 62, 440
_STEP = 26  # of 10 K [px]


@dataclass(frozen=True)
class Block:
    """Water that may cool from one temperature to another.

    Parameters
    ----------
    volume : float
        Its water [m3]; above 0.
    hot : float
        Its temperature [°C].
    says : str
        What its heat is, such as "14.0 kWh".
    """

    volume: float
    hot: float
    says: str

    def __post_init__(self):
        require(self.volume, "volume of the block", "m3", above=0)


@dataclass(frozen=True)
class _Field:
    """The ground of the picture: where litres and degrees stand."""

    most: float
    low: float
    high: float

    @property
    def bottom(self):
        return _TOP + (self.high - self.low) / 10 * _STEP

    def x(self, volume):
        return _LEFT + _WIDE * volume / self.most

    def y(self, temperature):
        return self.bottom - (temperature - self.low) / 10 * _STEP

    def box(self, volume, bottom, top, **look):
        """Draw the area of some water between two temperatures."""
        high = self.y(bottom) - self.y(top)
        return svg.tag("rect", x=_LEFT, y=self.y(top), width=self.x(volume) - _LEFT, height=high, **look)


def heat_block(whole, part, useful, *, most, span, title, words):
    """Draw the useful heat of a store as an area, and a part of it inside.

    Parameters
    ----------
    whole, part : Block
        The store, and a smaller amount of water that is less hot; the part lies inside the whole.
    useful : float
        Lowest temperature at which the heat is of use [°C].
    most : float
        Volume at the right edge [m3], in whole squares of 0.1 m3.
    span : tuple of float
        Lowest and highest temperature of the picture [°C], in whole squares of 10 K.
    title, words : str
        The one bold line, and the sentence that says what the picture means.

    Returns
    -------
    Picture
        An inline SVG, 640 px wide, its words, and a row for the whole and the part.

    Raises
    ------
    OutOfRange
        If a temperature lies outside the span, or a block outside the picture or the whole.

    Examples
    --------
    >>> picture = heat_block(Block(0.3, 80.0, "14.0 kWh"), Block(0.15, 60.0, "3.5 kWh"), 40.0, most=0.5,
    ...                      span=(20.0, 90.0), title="Area", words="The area is the heat.")
    >>> picture.rows[1]
    ('the whole', '300 l', '80 to 40 °C', '14.0 kWh')
    """
    field = _Field(most, *span)
    require(whole.volume, "volume of the whole", "m3", at_most=most)
    require(part.volume, "volume of the part", "m3", at_most=whole.volume)
    require([whole.hot, useful], "temperature", "°C", at_least=span[0], at_most=span[1])
    require(part.hot, "temperature of the part", "°C", at_least=span[0], at_most=max(whole.hot, useful))
    said = sentence(words)
    inside = [_cool(field, whole, useful)]
    if whole.hot > useful:
        inside += [field.box(whole.volume, useful, whole.hot, fill=palette.heat_colour(whole.hot))]
    inside += [_grid(field), _edges(field, whole, part, useful)]
    markup = svg.frame((640, field.bottom + 58), title, said, *inside)
    return Picture(markup, said, LateRows(lambda: _rows(whole, part, useful)))


def _cool(field, whole, useful):
    """Draw what lies below the lowest useful temperature, and is not counted."""
    return field.box(whole.volume, field.low, min(useful, whole.hot), fill=palette.STRIP)


def _grid(field):
    """Draw the squares, and write what litres and degrees they stand for."""
    across = [number / 10 for number in range(round(field.most * 10) + 1)]
    up = [field.low + 10 * number for number in range(round((field.high - field.low) / 10) + 1)]
    look = {"stroke": palette.RULE, "width": 0.9}
    return "".join(
        [
            *(svg.line(field.x(v), _TOP, field.x(v), field.bottom, **look) for v in across),
            *(svg.line(_LEFT, field.y(t), field.x(field.most), field.y(t), **look) for t in up),
            *(_small(field.x(v), field.bottom + 20, f"{1000 * v:g} l", "middle") for v in across),
            *(_small(_LEFT - 10, field.y(t) + 5, f"{t:g} °C", "end") for t in up),
        ]
    )


def _edges(field, whole, part, useful):
    """Draw the outlines, the line of use, and each amount where it has room."""
    level, right = field.y(useful), field.x(field.most)
    drawn = [
        field.box(whole.volume, field.low, whole.hot, fill="none", stroke=palette.INK, stroke_width=1.2),
        svg.line(_LEFT, level, right + 8, level, width=1.6),
        _small(right + 12, level + 5, "lowest useful", "start"),
    ]
    if whole.hot > useful:
        ink = palette.ink_on(palette.heat_colour(whole.hot))
        high, wide = level - field.y(part.hot), field.x(part.volume) - _LEFT
        dashes = svg.path(f"M{_LEFT} {level - high:.1f}h{wide:.1f}v{high:.1f}", stroke=ink, width=1.8, line="dashed")
        drawn += [dashes, *_amounts(field, whole, part, useful, ink)]
    return "".join(drawn)


def _amounts(field, whole, part, useful, ink):
    """Write the heat of the part inside it where it fits, and that of the whole beside the part or beside the block."""
    edge, inner, level = field.x(whole.volume), field.x(part.volume), field.y(useful)
    middle = (level + field.y(part.hot)) / 2 + 5
    if _fits(part.says, inner - _LEFT, level - field.y(part.hot)):
        yield _amount(part.says, (_LEFT + inner) / 2, middle, palette.heat_colour(whole.hot), ink)
    top = (field.y(whole.hot) + field.y(part.hot)) / 2 + 5
    if _fits(whole.says, edge - inner, field.y(part.hot) - field.y(whole.hot)):
        yield _amount(whole.says, (inner + edge) / 2, top, palette.heat_colour(whole.hot), ink)
    else:
        place = min((level + field.y(whole.hot)) / 2 - 6, level - 16)
        yield _amount(whole.says, edge + 12 + lettering.width(whole.says, NAME) / 2, place, palette.PAPER, palette.INK)


def _amount(says, x, y, ground, ink):
    """Write an amount on a plate of its ground, so that no line of the squares runs through it."""
    wide = lettering.width(says, NAME) + 6
    plate = svg.tag("rect", x=x - wide / 2, y=y - 15, width=wide, height=19, fill=ground)
    return plate + svg.text(x, y, says, fill=ink, text_anchor="middle")


def _fits(says, wide, high):
    return lettering.width(says, NAME) + 10 <= wide and high >= 22


def _small(x, y, words, anchor):
    return svg.text(x, y, words, size=READING, fill=palette.QUIET, text_anchor=anchor)


def _rows(whole, part, useful):
    yield ("what", "water", "cools from and to", "heat")
    for name, block in (("the whole", whole), ("the dashed part", part)):
        yield (name, f"{1000 * block.volume:g} l", f"{block.hot:g} to {useful:g} °C", block.says)
