"""Data with its source, date and how it was obtained, one TOML file a subject."""

import tomllib
from functools import cache
from importlib import resources
from pathlib import Path
from types import MappingProxyType

__all__ = ["shipped", "table"]


@cache
def table(name):
    """Return one table of data by name, read once and never to be changed.

    Parameters
    ----------
    name : str
        A file of this folder without its ending, such as ``"references"`` or ``"fuels"``.

    Returns
    -------
    mapping
        The file's contents.

    Examples
    --------
    >>> table("references")["IAPWS R6-95"]["year"]
    2018
    """
    text = resources.files(__name__).joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


def shipped(folder):
    """Return the folder of workbooks or exercises that came with this package.

    Parameters
    ----------
    folder : str
        ``"workbooks"`` or ``"exercises"``.

    Returns
    -------
    Path
        The clone's own folder where the package runs from a clone, else the copy inside the installed package.

    Raises
    ------
    FileNotFoundError
        If the package came without that folder.

    Examples
    --------
    >>> shipped("workbooks").name
    'workbooks'
    """
    package = Path(__file__).resolve().parent.parent
    clone = package.parent
    for place in (clone / folder if (clone / "pyproject.toml").is_file() else None, package / "shipped" / folder):
        if place is not None and place.is_dir():
            return place
    raise FileNotFoundError(f"This copy of tlib came without its {folder}; install it again.")
