"""Words as stamps: a line of words is drawn once, kept as a mask, and pressed onto the page in its colour.

Words are most of what a chart costs to draw, and most of them come back at the next slider position.
"""

from functools import lru_cache

import numpy as np

__all__ = ["Stamps"]

_MARGIN = 8  # clear room left of a line of words, for letters that reach back [device px]
_WIDE, _HIGH, _FOOT = 1400, 72, 48  # the sheet a stamp is cut from, and where its letters stand [device px]


class Stamps:
    """A sheet on which words are drawn, and the masks that were cut from it.

    Parameters
    ----------
    scale : float
        Device pixels a CSS pixel.
    """

    def __init__(self, scale):
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        self._scale = scale
        self._figure = Figure(figsize=(_WIDE / 100, _HIGH / 100), dpi=100, facecolor="white")
        self._canvas = FigureCanvasAgg(self._figure)
        self._canvas.draw()
        self._blank = self._canvas.copy_from_bbox(self._figure.bbox)
        self._faces = {bold: _face(bold) for bold in (False, True)}
        self.cut = lru_cache(maxsize=512)(self._cut)

    def _cut(self, text, size, bold):
        """Return how much ink each pixel of a line of words holds, 0 to 255, from its left margin on."""
        from matplotlib.text import Text

        renderer = self._canvas.get_renderer()
        renderer.restore_region(self._blank)
        face = self._faces[bold].copy()
        face.set_size(0.72 * size * self._scale)
        words = Text(_MARGIN, _HIGH - _FOOT, text, color="black", fontproperties=face, parse_math=False)
        words.set_figure(self._figure)
        words.draw(renderer)
        mask = 255 - np.asarray(self._canvas.buffer_rgba())[:, :, 0]
        inked = np.flatnonzero(mask.any(axis=0))
        return mask[:, : inked[-1] + 1 if len(inked) else 0].astype(np.uint16)

    def press(self, pixels, words):
        """Press a line of words onto pixels.

        Parameters
        ----------
        pixels : ndarray of uint8
            The page, shape (height, width, 4); changed in place.
        words : Words
            What to write, and where.
        """
        mask = self.cut(words.text, words.size, words.bold)
        share = {"left": 0.0, "center": 0.5, "right": 1.0}[words.anchor]
        left = round(words.x * self._scale - share * (mask.shape[1] - _MARGIN)) - _MARGIN
        top = round((words.y + 0.36 * words.size) * self._scale) - _FOOT  # the foot of letters round their middle
        rows = slice(max(top, 0), min(top + _HIGH, pixels.shape[0]))
        columns = slice(max(left, 0), min(left + mask.shape[1], pixels.shape[1]))
        ink = mask[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left, None]
        colour = np.array([int(words.colour[place : place + 2], 16) for place in (1, 3, 5)], dtype=np.uint16)
        ground = pixels[rows, columns, :3]
        ground[:] = (ground * (255 - ink) + colour * ink + 127) // 255


def _face(bold):
    """Return the first face of the style sheet that this machine has."""
    from matplotlib.font_manager import FontProperties, findfont

    return FontProperties(fname=findfont(FontProperties(family="sans-serif", weight="bold" if bold else "normal")))
