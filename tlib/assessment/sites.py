"""The places of the stories as installations, read when an exercise first draws or runs one."""

from functools import cache

__all__ = ["site"]


@cache
def site(name):
    """Return the installation of a place by its short name, a key of `tlib.assessment.fields.SITES`."""
    from tlib import installation
    from tlib.tables import shipped

    return installation.load(shipped("workbooks") / "sites" / f"{name}.toml")
