"""Data with its source, date and how it was obtained, one TOML file a subject."""

import tomllib
from functools import cache
from importlib import resources
from types import MappingProxyType

__all__ = ["table"]


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
