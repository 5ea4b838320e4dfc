"""The one stylesheet of the panels: a calm page, one text face, a focus ring that is seen, targets a finger can hit."""

from functools import cache
from importlib import resources

import ipywidgets as widgets

from tlib.figures import palette

__all__ = ["sheet", "style"]

_COLOURS = {"ink": palette.INK, "quiet": palette.QUIET, "page": palette.PAPER, "rule": palette.RULE,
            "warning": palette.WARNING}  # fmt: skip


@cache
def style():
    """Return the rules as text, with the colours of the palette.

    Returns
    -------
    str
        A stylesheet whose every rule lies under the class ``tlib``.
    """
    colours = " ".join(f"--panel-{name}: {colour};" for name, colour in _COLOURS.items())
    room = resources.files("tlib.panels")
    rules = "\n".join(room.joinpath(name).read_text(encoding="utf-8") for name in ("panels.css", "print.css"))
    return f".tlib {{ {colours} }}\n{rules}"


@cache
def sheet():
    """Return the stylesheet as one widget for the whole session, which every box on the page shows again.

    Returns
    -------
    ipywidgets.HTML
        The same widget at each call, so the rules travel to the page once.
    """
    return widgets.HTML(f"<style>{style()}</style>", layout={"display": "none"})
