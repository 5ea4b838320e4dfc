"""Buttons and text fields, each bound to what it does."""

import asyncio

import ipywidgets as widgets
from IPython import get_ipython

__all__ = ["after_typing", "button", "on_enter", "side_by_side"]

_KEYS_COME = 0.3  # s


def button(words, press, kind="", hint=None):
    """Return a button that calls a function without arguments; the chief one waits for the last keys of a text field.

    Parameters
    ----------
    words : str
        What stands on it.
    press : callable
        What it does.
    kind : str, optional
        "chief" for the one that goes on, "plain" for one that looks like a link.
    hint : str, optional
        What it does in more words, for those who rest on it and for screen readers.

    Returns
    -------
    ipywidgets.Button
    """
    made = widgets.Button(description=words, tooltip=hint)
    if kind:
        made.add_class(f"tlib-{kind}")
    made.on_click(lambda _: after_typing(press) if kind == "chief" else press())
    return made


def side_by_side(*buttons):
    """Return buttons in a row that wraps."""
    row = widgets.HBox(buttons)
    row.add_class("tlib-buttons")
    return row


def on_enter(field, press):
    """Call a function, without arguments, when a reader presses Enter in a text field."""
    field.on_msg(lambda _, content, __: after_typing(press) if content.get("event") == "submit" else None)


def after_typing(press):
    """Call a function, without arguments, once the last keys of a text field have come.

    The page holds back what is typed while the kernel is busy, but never a press: a fast 17 and Enter would be a 1.
    """
    loop = asyncio._get_running_loop() if getattr(get_ipython(), "kernel", None) is not None else None
    if loop is None:  # no page: nothing is held back
        press()
    else:
        loop.call_later(_KEYS_COME, press)
