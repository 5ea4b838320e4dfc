"""The kinds of quantity that an installation file holds, with the limits of sense."""

from tlib.documents import quantity

__all__ = ["Flow", "Height", "Length", "Power", "Share", "Temperature"]

Height = quantity("1", at_least=0, at_most=1)
"""Of a store: 0 at the bottom, 1 at the top."""
Share = quantity("1", above=0, at_most=1)
Temperature = quantity("degC", at_least=-60, at_most=200)
Power = quantity("W", above=0, at_most=1e6)
Flow = quantity("kg/s", above=0, at_most=10)
Length = quantity("m", above=0, at_most=100)
