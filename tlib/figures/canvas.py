"""One drawing surface for all charts: plain shapes in, a sharp PNG out.

The surface is kept from chart to chart, without pyplot, so nothing piles up. What stands still from one slider
position to the next (rules, clock times, title) is drawn once and restored; only the rest is drawn again.
"""

import base64
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from threading import Lock

from tlib.figures import palette
from tlib.figures.indexed_png import indexed_png
from tlib.figures.stamps import Stamps

__all__ = ["SCALE", "STYLE", "Box", "Diamond", "Trace", "Words", "png"]

STYLE = Path(__file__).with_name("tlib.mplstyle")
"""The style sheet of the charts."""

SCALE = 2
"""Device pixels a CSS pixel, so that charts stay sharp on fine screens."""

_POINTS = 0.72  # points a CSS pixel, at 100 px an inch
_KEPT = 4
_LOCK = Lock()


@dataclass(frozen=True)
class Words:
    """One line of words; `y` is the middle of its height, counted downward [px]."""

    x: float
    y: float
    text: str
    size: float
    colour: str = palette.INK
    anchor: str = "left"
    bold: bool = False


@dataclass(frozen=True)
class Box:
    """A filled rectangle; `y` is its upper edge [px]."""

    x: float
    y: float
    width: float
    height: float
    colour: str


@dataclass(frozen=True)
class Trace:
    """A line through points [px]; a point that is not a number leaves a gap."""

    x: tuple
    y: tuple
    colour: str
    line: str = "solid"
    width: float = 2.2


@dataclass(frozen=True)
class Diamond:
    """A diamond [px]: open it is a guess, filled it is the result."""

    x: float
    y: float
    fill: str = palette.PAPER
    edge: str = palette.INK
    half: float = 6.0


def png(size, still, moving):
    """Paint shapes and return the picture as the bytes of a PNG, in base64.

    Parameters
    ----------
    size : tuple of int
        Width and height [px].
    still : tuple
        Shapes that will be the same next time; painted once and kept.
    moving : tuple
        Shapes on top of them.

    Returns
    -------
    str
        Base64 text of a PNG of `SCALE` times the size.
    """
    with _LOCK:
        painted = indexed_png(_surface(size).paint(still, moving))
    return base64.b64encode(painted).decode("ascii")


@cache
def _surface(size):
    return _Surface(size)


class _Surface:
    """A figure without pyplot, its renderer, and the few grounds painted last."""

    def __init__(self, size):
        import matplotlib
        import numpy as np
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        with matplotlib.rc_context(fname=STYLE):
            self.figure = Figure(figsize=(size[0] / 100, size[1] / 100), dpi=100 * SCALE)
            self.stamps = Stamps(SCALE)
        self.canvas = FigureCanvasAgg(self.figure)
        self.canvas.draw()
        self.pixels = np.asarray(self.canvas.buffer_rgba())
        self.to_pixels = Affine2D().scale(SCALE, -SCALE).translate(0, SCALE * size[1])
        self.grounds = {(): self.pixels.copy()}

    def paint(self, still, moving):
        """Paint moving shapes over still ones; return the pixels as an array (height, width, 4)."""
        if still not in self.grounds:
            self.pixels[:] = self.grounds[()]
            self._draw(still)
            self.grounds[still] = self.pixels.copy()
            if len(self.grounds) > _KEPT + 1:
                del self.grounds[list(self.grounds)[1]]  # the oldest but for the empty page
        self.pixels[:] = self.grounds[still]
        self._draw(moving)
        return self.pixels

    def _draw(self, shapes):
        for shape in shapes:
            if isinstance(shape, Words):
                self.stamps.press(self.pixels, shape)
                continue
            artist = _ARTISTS[type(shape)](shape)
            artist.set_figure(self.figure)
            artist.set_transform(self.to_pixels)
            artist.draw(self.canvas.get_renderer())


def _box(shape):
    from matplotlib.patches import Rectangle

    return Rectangle((shape.x, shape.y), shape.width, shape.height, facecolor=shape.colour, edgecolor="none")


def _trace(shape):
    from matplotlib.lines import Line2D

    dashes = (0, palette.DASHES[shape.line]) if palette.DASHES[shape.line] else "-"
    return Line2D(
        shape.x, shape.y, color=shape.colour, linewidth=shape.width * _POINTS, linestyle=dashes, marker="",
        solid_capstyle="butt", dash_capstyle="butt", solid_joinstyle="round", dash_joinstyle="round",
    )  # fmt: skip


def _diamond(shape):
    from matplotlib.patches import Polygon

    h = shape.half
    corners = [(shape.x, shape.y - h), (shape.x + h, shape.y), (shape.x, shape.y + h), (shape.x - h, shape.y)]
    return Polygon(corners, facecolor=shape.fill, edgecolor=shape.edge, linewidth=1.8 * _POINTS)


_ARTISTS = {Box: _box, Trace: _trace, Diamond: _diamond}
