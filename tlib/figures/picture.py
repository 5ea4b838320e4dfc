"""A picture: its drawing, its sentence and its table twin, all three from the same data."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from html import escape

from tlib.figures import lettering, palette

__all__ = ["LateRows", "Picture", "captioned", "sentence"]


class LateRows(Sequence):
    """The rows of a table, written when somebody first reads them.

    Parameters
    ----------
    build : callable
        Called once, without arguments; returns the rows, each a tuple of texts, the head row first.

    Examples
    --------
    >>> rows = LateRows(lambda: [("band", "reading"), ("top", "81 °C")])
    >>> rows[1]
    ('top', '81 °C')
    """

    def __init__(self, build):
        self._build = build

    @cached_property
    def _rows(self):
        return tuple(tuple(row) for row in self._build())

    def __getitem__(self, place):
        """Return one row, or a slice of them."""
        return self._rows[place]

    def __len__(self):
        """Return how many rows there are, the head row included."""
        return len(self._rows)

    def __eq__(self, other):
        """Return whether the other rows say the same."""
        return self._rows == tuple(other) if isinstance(other, Sequence) else NotImplemented

    def __hash__(self):
        """Return the hash of the rows as a tuple."""
        return hash(self._rows)


@dataclass(frozen=True)
class Picture:
    """A drawing with its words and its numbers.

    Parameters
    ----------
    markup : str
        The drawing: an ``<svg role="img">`` or an ``<img alt>``, of a fixed size.
    words : str
        What the picture means, in a sentence that stands alone; also its ``aria-label`` or ``alt``.
    rows : sequence of tuple of str
        The table twin, head row first; a `LateRows` writes it only when a reader opens it.
    """

    markup: str
    words: str
    rows: Sequence


def sentence(words, notice=""):
    """Return the words of a picture, with its notice first.

    Parameters
    ----------
    words : str
        What the picture means.
    notice : str, optional
        What it warns of.

    Returns
    -------
    str
        Both as sentences on one line.

    Examples
    --------
    >>> sentence("The bottom is cold.", "boiling: stop here")
    'Boiling: stop here. The bottom is cold.'
    """
    notice, words = lettering.clean(notice), lettering.clean(words)
    return f"{notice[0].upper()}{notice[1:].rstrip('.')}. {words}".strip() if notice else words


def captioned(picture):
    """Return a picture with its sentence below it, for a page that has no live region of its own.

    Parameters
    ----------
    picture : Picture
        Any picture.

    Returns
    -------
    str
        A ``<figure>`` with a ``<figcaption>``.

    Examples
    --------
    >>> captioned(Picture("<svg/>", "All is cold.", ())).endswith("All is cold.</figcaption></figure>")
    True
    """
    faces = ", ".join(f"'{face}'" for face in lettering.FACES)
    faces = ", ".join(f"'{face}'" for face in lettering.FACES)
    style = (
        f"font:{lettering.NAME}px/1.4 {faces},sans-serif;color:{palette.INK};"
        "box-sizing:border-box;max-width:640px;padding:0 24px 12px"
    )
    caption = f'<figcaption style="{style}">{escape(picture.words)}</figcaption>'
    return f'<figure style="margin:0;background:{palette.PAPER}">{picture.markup}{caption}</figure>'
