"""What keeps an installation safe, by setting; and what takes up the growth of its water."""

from typing import Literal

from tlib.documents import Record, quantity
from tlib.installation.contacts import OnRise
from tlib.installation.quantities import Flow, Temperature

__all__ = ["Cistern", "Safety", "ThermalValve", "Vessel"]


class ThermalValve(Record):
    """The valve that cools with mains water and needs no power."""

    opens: Temperature
    closes: Temperature
    sensor: Literal["burner", "store top"]
    flow: Flow


class Safety(Record):
    """What keeps it safe, by setting."""

    high_limit: OnRise
    thermal_valve: ThermalValve | None = None
    relief: quantity("Pa", above=101_325, at_most=1.2e6)


class Vessel(Record):
    """The expansion vessel of a sealed system, and how it was charged and filled."""

    volume: quantity("m3", above=0, at_most=2)
    charge: quantity("Pa", above=101_325, at_most=1.2e6)
    fill: quantity("Pa", above=101_325, at_most=1.2e6)


class Cistern(Record):
    """The feed-and-expansion cistern of a vented system."""

    volume: quantity("m3", above=0, at_most=2)
