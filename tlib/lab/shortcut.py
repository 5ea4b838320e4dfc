"""A file to double-click that opens the workbooks, so that day two needs no typed command."""

import shlex
import sys
from pathlib import Path

__all__ = ["place_shortcut", "shortcut"]

_TITLE = "Thermal store workbooks"


def shortcut(platform, python, folder):
    """Return the name and text of the file to double-click.

    Parameters
    ----------
    platform : str
        As `sys.platform` names it: ``"win32"``, ``"darwin"``, or anything else for a Linux desktop.
    python : str
        The full path of the Python that runs tlib.
    folder : str
        The learner's folder.

    Returns
    -------
    name, text : str
        The file's name and what it holds.

    Examples
    --------
    >>> name, text = shortcut("darwin", "/opt/desk/bin/python", "/Users/noor/tlib answers")
    >>> print(name)
    Thermal store workbooks.command
    >>> print(text.splitlines()[-1])
    exec /opt/desk/bin/python -m tlib open --folder '/Users/noor/tlib answers'
    """
    if platform == "win32":
        return f"{_TITLE}.bat", _batch(python, folder)
    if platform == "darwin":
        line = shlex.join([python, "-m", "tlib", "open", "--folder", folder])
        return f"{_TITLE}.command", f"#!/bin/sh\nexec {line}\n"
    return f"{_TITLE}.desktop", _desktop_entry(python, folder)


def place_shortcut(place=None, python=sys.executable, folder=None):
    """Put the file to double-click on the desktop, in the form this computer's system opens.

    Parameters
    ----------
    place : Path, optional
        The folder to put it in; by default the user's desktop.
    python : str
        The Python that runs tlib.
    folder : Path, optional
        The learner's folder; by default the one in use.

    Returns
    -------
    Path
        The file.
    """
    from tlib.assessment import desk

    if place is None:
        import platformdirs

        place = platformdirs.user_desktop_path()
    name, text = shortcut(sys.platform, str(python), str(folder or desk.folder()))
    file = Path(place) / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8", newline="")
    file.chmod(0o755)
    return file


def _batch(python, folder):
    """Return a batch file: UTF-8 first, for names such as Zoë; a doubled % is a plain one."""
    line = f'"{python}" -m tlib open --folder "{folder}"'.replace("%", "%%")
    return "\r\n".join(["@echo off", "chcp 65001 >nul", line, "if errorlevel 1 pause", ""])


def _desktop_entry(python, folder):
    """Return a desktop entry; inside its quotes four signs need a backslash, which the file format doubles."""

    def quoted(text):
        for sign in '\\"`$':
            text = text.replace(sign, f"\\{sign}")
        return f'"{text}"'.replace("\\", "\\\\").replace("%", "%%")

    line = f"{quoted(python)} -m tlib open --folder {quoted(folder)}"
    return f"[Desktop Entry]\nType=Application\nName={_TITLE}\nTerminal=true\nExec={line}\n"
