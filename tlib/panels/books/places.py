"""The three invented places, as their files describe them."""

from functools import cache

from tlib import installation, tables

__all__ = ["larkrigg", "quillbeck", "tansy_wharf"]


def _load(name):
    return installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")


@cache
def larkrigg():
    """Return Larkrigg Farm, a hill farmhouse with a log burner, an oil boiler and a solar collector."""
    return _load("larkrigg")


@cache
def quillbeck():
    """Return Quillbeck Hall, a village hall with a log burner, spare PV and an LPG boiler."""
    return _load("quillbeck")


@cache
def tansy_wharf():
    """Return 3 Tansy Wharf, a terraced house with a gas boiler, spare PV and a small solar coil."""
    return _load("tansy")
