"""Small pieces of markup with every text escaped, for boxes that would show whatever they are given."""

import re
from html import escape

import ipywidgets as widgets

from tlib.panels.glossary import explained

__all__ = ["blank", "heading", "paragraph", "plain", "shown", "status", "unbroken"]


_AFTER_A_NUMBER = re.compile(r"(?<=\d) (?=(?:°C|%|K|kW|kWh|Wh|l|litres?|kg|l/min|bar|m|mm|hours?|minutes?)\b|°C|%)")


def unbroken(text):
    r"""Return a text whose numbers stay with their units at the end of a line.

    Examples
    --------
    >>> unbroken("9.3 kWh above 40 °C").count("\xa0")
    2
    """
    return _AFTER_A_NUMBER.sub("\xa0", text)


def paragraph(text, kind=""):
    """Return a text as a paragraph; each blank line in it begins another, other line ends count as spaces.

    A word of the trade can be asked for its meaning where it first stands, but not in a paragraph of some kind, such as
    the quiet line below a slider.

    Examples
    --------
    >>> paragraph("2 < 3")
    '<p>2 &lt; 3</p>'
    """
    parts, seen = text.strip().split("\n\n"), set()
    if kind:
        return "".join(f'<p class="tlib-{kind}">{escape(part)}</p>' for part in parts)
    return "".join(f"<p>{explained(part, seen)}</p>" for part in parts)


def heading(text):
    """Return a text as the heading of a box."""
    return f"<h3>{escape(text)}</h3>"


def plain(text):
    """Return a text as one paragraph that a screen reader does not speak when it changes."""
    return f"<p>{escape(text)}</p>"


def status(text, kind=""):
    """Return a text as a live region, which a screen reader speaks when it has finished what it was saying.

    Examples
    --------
    >>> status("Saved 07:31:49")
    '<p role="status" aria-live="polite">Saved 07:31:49</p>'
    """
    mark = f' class="tlib-{kind}"' if kind else ""
    return f'<p role="status" aria-live="polite"{mark}>{escape(text)}</p>'


def shown(markup="", kind=""):
    """Return a widget that shows markup made by this file or by a picture."""
    box = widgets.HTML(markup)
    if kind:
        box.add_class(f"tlib-{kind}")
    return box


def blank(box, *, hidden):
    """Take a widget out of sight and out of the reading order, or bring it back."""
    box.layout.display = "none" if hidden else None
