"""The closed heating circuit: radiators, heated floor, the house, and the main."""

from typing import Literal

from pydantic import ConfigDict, Field, model_validator

from tlib.documents import Record, quantity
from tlib.installation.contacts import OffRise, OnRise
from tlib.installation.quantities import Flow, Power, Temperature

__all__ = ["Heating", "House", "Main", "Radiators", "Underfloor"]


class Radiators(Record):
    """Radiators by their output at their own flow, return and room temperatures."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    output: Power
    flow: Temperature
    back: Temperature = Field(alias="return")
    room: Temperature

    @model_validator(mode="after")
    def _falls(self):
        if not self.flow > self.back > self.room:
            raise ValueError(
                f"flow, return and room must fall in that order; got {self.flow:g}, {self.back:g} and {self.room:g}"
            )
        return self


class Underfloor(Record):
    """A heated floor behind its mixing valve."""

    area: quantity("m2", above=0, at_most=1000)
    mixed: quantity("degC", at_least=25, at_most=55)
    limit: quantity("degC", at_least=30, at_most=60)
    pump: Flow
    pipes: quantity("m2 K/W", above=0, at_most=1) = 0.05
    covering: quantity("m2 K/W", at_least=0, at_most=0.3)
    slab: quantity("J/(m2 K)", at_least=5e3, at_most=1e6)

    @model_validator(mode="after")
    def _limit_above(self):
        if self.limit <= self.mixed:
            raise ValueError(f"'limit' must be above 'mixed'; got {self.limit:g} and {self.mixed:g} °C")
        return self


class House(Record):
    """The house as one heat loss and one heat capacity."""

    loss: quantity("W/K", above=0, at_most=5000)
    capacity: quantity("J/K", above=0, at_most=1e9)
    gains: quantity("W", at_least=0, at_most=1e5) = 0.0
    holds: tuple[Literal["burner", "store", "boiler"], ...] = ("burner",)


class Main(Record):
    """The heating main and its branches."""

    tube: Literal["15 mm", "22 mm", "28 mm", "35 mm", "42 mm", "54 mm"]
    branches: Literal["15 mm", "22 mm", "28 mm"]


class Heating(Record):
    """The closed heating circuit."""

    radiators: Radiators
    underfloor: Underfloor | None = None
    house: House
    room_gap: quantity("K", above=0, at_most=5) = 0.5
    frost: OffRise | None = None
    enough_heat: OnRise
    main: Main
