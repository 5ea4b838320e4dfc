"""Writing our own inline drawings: elements, words, and the frame that every one of them shares.

No element has an id, so any number of pictures can stand on one page. Every text goes through `escape`.
"""

from html import escape

from tlib.figures import lettering, palette

__all__ = ["frame", "line", "path", "tag", "text"]

_LEFT = 24


def tag(name, *inside, **attributes):
    """Write one element.

    Parameters
    ----------
    name : str
        The element.
    *inside : str
        Markup inside it.
    **attributes : str, float or None
        Its attributes; ``_`` is written as ``-``, None is left out, a number is written to 0.01.

    Returns
    -------
    str
        Markup.

    Examples
    --------
    >>> tag("rect", x=1.5, stroke_width=2.0)
    '<rect x="1.5" stroke-width="2"/>'
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{''.join(inside)}</{name}>" if inside else f"<{name}{written}/>"


def _value(value):
    return f"{round(value, 2) + 0.0:g}" if isinstance(value, int | float) else escape(value, quote=True)


def text(x, y, content, *, size=lettering.NAME, fill=palette.INK, **attributes):
    """Write words at a place; a browser sets them, whatever they hold, as words."""
    return tag("text", escape(lettering.clean(content)), x=x, y=y, font_size=size, fill=fill, **attributes)


def path(steps, *, stroke=palette.INK, width=1.0, line="solid", **attributes):
    """Draw a line along SVG path steps, in one of the line styles of the palette."""
    dashes = " ".join(f"{part * width:.1f}" for part in palette.DASHES[line]) or None
    return tag("path", d=steps, stroke=stroke, stroke_width=width, stroke_dasharray=dashes, fill="none", **attributes)


def line(x1, y1, x2, y2, **attributes):
    """Draw a straight line; the keywords are those of `path`."""
    return path(f"M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}", **attributes)


def frame(size, title, words, *inside, notice=""):
    """Put a drawing on its page: ground, title, notice, and the words for those who cannot see it.

    Parameters
    ----------
    size : tuple of int
        Width and height [px]; both are stated, so that a page never jumps.
    title : str
        The one bold line.
    words : str
        The sentence that says what the picture means.
    *inside : str
        The drawing.
    notice : str, optional
        A line under the title where the picture must warn.

    Returns
    -------
    str
        An ``<svg role="img">`` element.
    """
    wide, high = size
    title = lettering.clean(title)
    shown = lettering.fitted(title, wide - 2 * _LEFT, lettering.TITLE, bold=True)
    heading = text(_LEFT, 28, shown, size=lettering.TITLE, font_weight=600) if title else ""
    return tag(
        "svg",
        tag("title", escape(title)),
        tag("rect", width=wide, height=high, fill=palette.PAPER),
        heading,
        _notice(notice, wide),
        *inside,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {wide} {high}",
        width=wide,
        height=high,
        role="img",
        aria_label=lettering.clean(words),
        font_family=", ".join(f"'{face}'" for face in lettering.FACES) + ", sans-serif",
        style="max-width:100%;height:auto;font-variant-numeric:tabular-nums",
    )


def _notice(notice, wide):
    if not notice:
        return ""
    shown = lettering.fitted(notice, wide - 2 * _LEFT - 12, lettering.NAME)
    return tag("rect", x=_LEFT, y=38, width=4, height=19, fill=palette.WARNING) + text(_LEFT + 12, 53, shown)
