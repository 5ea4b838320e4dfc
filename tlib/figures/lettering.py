"""Words in pictures: the face, the sizes, how wide a text runs, and labels that never meet.

A picture is drawn before any browser has measured its words. Widths are therefore taken from the widest face
that the font list can fall back to, so that a label that fits here fits everywhere.
"""

import math
import re
import unicodedata
from functools import cache
from itertools import pairwise

from tlib.validation import OutOfRange

__all__ = [
    "FACES",
    "JOULES_A_KWH",
    "NAME",
    "READING",
    "SMALL",
    "TITLE",
    "adding_up",
    "clean",
    "clock",
    "fitted",
    "kwh",
    "spread",
    "width",
    "wrap",
]

FACES = ("Source Sans 3", "Segoe UI", "Helvetica Neue", "Arial", "Liberation Sans", "DejaVu Sans")
"""The text faces, first choice first; the style sheet of the charts lists the same."""

TITLE, NAME, READING, SMALL = 17, 15, 14, 13
"""Sizes of letters [px]: the title, a part's name, its reading, and the small words on a chart."""

JOULES_A_KWH = 3.6e6
"""Joules in a kilowatt-hour."""

_WIDTHS = {
    letter: ems
    for ems, letters in (
        (0.30, "'ijl"), (0.35, "I ,./:;\\|·’\xa0"), (0.40, "()-[]ft"), (0.45, "!r²³"), (0.50, '"*J`°'),
        (0.55, "csz“”"), (0.60, "?L_kvxy–"), (0.65, "$0123456789FTabdeghnopqu{}£éèüöä"), (0.70, "ABEKPSVXYZ"),
        (0.75, "CNRU"), (0.80, "&DGHOQ"), (0.85, "#+<=>^w~×−"), (0.90, "M"), (1.00, "%Wm—…½"), (1.05, "@"),
    )
    for letter in letters
}  # fmt: skip
_WIDEST = 1.4
_GLUE = re.compile(r"(?<=\d) (?=(°C|K|kWh|kW|W|l|l/min|kg|mm|m|bar|%|min|h)\b|°C|%)")


def clean(text):
    """Return a text on one line, without characters that no page can show.

    Parameters
    ----------
    text : str
        Any text, a learner's too.

    Returns
    -------
    str
        The text with line breaks and runs of blanks made one blank, and control characters left out.

    Examples
    --------
    >>> clean("hot water  out ")
    'hot water out'
    """
    blanked = "".join(" " if c.isspace() and c != "\xa0" else c for c in str(text))
    return re.sub(" +", " ", "".join(c for c in blanked if unicodedata.category(c)[0] != "C")).strip(" ")


def width(text, size, bold=False):
    """Return how wide a text runs at most.

    Parameters
    ----------
    text : str
        One line.
    size : float
        Size of the letters [px].
    bold : bool, optional
        Whether it is set in bold.

    Returns
    -------
    float
        A width [px] that no face in `FACES` exceeds.

    Examples
    --------
    >>> print(f"{width('81 °C', 15):.0f} px")
    44 px
    """
    return size * sum(map(_ems, text)) * (1.2 if bold else 1.0)


@cache
def _ems(letter):
    """Return how wide a letter is; one with an accent is as wide as without, an unknown sign very wide."""
    return _WIDTHS.get(letter) or _WIDTHS.get(unicodedata.normalize("NFD", letter)[0], _WIDEST)


def wrap(text, room, size, most=99):
    """Break a text into lines that fit.

    Parameters
    ----------
    text : str
        The words; a word longer than a line is broken.
    room : float
        Width of a line [px].
    size : float
        Size of the letters [px].
    most : int, optional
        Number of lines; what does not fit into them is cut with a sign.

    Returns
    -------
    tuple of str
        The lines; empty for an empty text. A number is not parted from its unit.

    Examples
    --------
    >>> wrap("67 °C, before blending", 120, 14)
    ('67 °C, before', 'blending')
    """
    lines, line = [], ""
    for word in _GLUE.sub("\xa0", clean(text)).split(" "):
        longer = f"{line} {word}".strip()
        if width(longer, size) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, room, size)
        lines += whole
    lines = [*lines, line] if line else lines
    if len(lines) > most:
        lines[most - 1 :] = [fitted(" ".join(lines[most - 1 :]), room, size)]
    return tuple(line.replace("\xa0", " ") for line in lines)


def _broken(word, room, size):
    """Return a word in pieces that fit, each at least one letter."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and width(pieces[-1] + letter, size) > room:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def fitted(text, room, size, bold=False):
    """Return a text on one line, cut with a sign where it does not fit.

    Parameters
    ----------
    text : str
        The words.
    room : float
        Width of the line [px].
    size : float
        Size of the letters [px].
    bold : bool, optional
        Whether it is set in bold.

    Returns
    -------
    str
        The text, or its beginning and an ellipsis.

    Examples
    --------
    >>> fitted("Larkrigg Farm at 21:10", 120, 17)
    'Larkrigg Fa…'
    """
    text = clean(text)
    if width(text, size, bold) <= room:
        return text
    while text and width(text + "…", size, bold) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def spread(wanted, sizes, low, high, gap=0.0):
    """Place boxes along a line so that none meet, each as near as it can be to where it belongs.

    Parameters
    ----------
    wanted : sequence of float
        Where the middle of each box belongs, in rising order.
    sizes : sequence of float
        Their lengths along the line.
    low, high : float
        The ends of the line; every box stays between them.
    gap : float, optional
        Clear room between two boxes.

    Returns
    -------
    list of float
        The middles, in the same order; the sum of the squared shifts is the least there can be.

    Raises
    ------
    OutOfRange
        If the boxes are together longer than the line.

    Notes
    -----
    With each box's own room taken off, keeping the order is a monotonic regression: neighbours that would
    meet are pooled and share their mean.

    Examples
    --------
    >>> spread([50, 52, 90], [20, 20, 20], 0, 100)
    [41.0, 61.0, 90.0]
    """
    if not wanted:
        return []
    if sum(sizes) + gap * (len(sizes) - 1) > high - low + 1e-9:
        raise OutOfRange(f"labels on one side must fit into {high - low:g} px; {len(sizes)} of them do not.")
    offsets = [0.0]
    for before, after in pairwise(sizes):
        offsets.append(offsets[-1] + (before + after) / 2 + gap)
    least, most = low + sizes[0] / 2, high - sizes[-1] / 2 - offsets[-1]
    pooled = _monotonic([place - offset for place, offset in zip(wanted, offsets, strict=True)])
    return [min(max(place, least), most) + offset for place, offset in zip(pooled, offsets, strict=True)]


def _monotonic(values):
    """Return the rising sequence nearest to `values` (pool adjacent violators)."""
    pools = []
    for value in values:
        total, count = value, 1
        while pools and pools[-1][0] / pools[-1][1] > total / count:
            last = pools.pop()
            total, count = total + last[0], count + last[1]
        pools.append((total, count))
    return [total / count for total, count in pools for _ in range(count)]


def adding_up(parts, total):
    """Round numbers so that what is printed of them adds up.

    Parameters
    ----------
    parts : sequence of float
        Numbers, 0 or more.
    total : int
        What they come to, rounded.

    Returns
    -------
    list of int
        Each rounded up or down, those up that lose most by rounding down.

    Examples
    --------
    >>> adding_up([72.6, 14.7], 87)
    [72, 15]
    """
    whole = [math.floor(part) for part in parts]
    by_loss = sorted(range(len(whole)), key=lambda place: (whole[place] - parts[place], -parts[place]))
    for place in by_loss[: total - sum(whole)]:
        whole[place] += 1
    return whole


def kwh(heat):
    """Write an amount of heat as the trade does.

    Parameters
    ----------
    heat : float
        Heat [J].

    Returns
    -------
    str
        Kilowatt-hours with one decimal, so that a column of them adds up by eye.

    Examples
    --------
    >>> kwh(57.2e6)
    '15.9 kWh'
    """
    rounded = round(heat / JOULES_A_KWH, 1) + 0.0  # the sum turns a negative zero into a plain one
    return f"{rounded:,.1f} kWh".replace("-", "−")


def clock(seconds):
    """Write a time of day as a clock shows it.

    Parameters
    ----------
    seconds : float
        Time since a midnight [s]; whole days are left out.

    Returns
    -------
    str
        Hours and minutes, to the nearest minute.

    Examples
    --------
    >>> clock(21 * 3600 + 600)
    '21:10'
    """
    minutes = math.floor(seconds / 60 + 0.5) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
