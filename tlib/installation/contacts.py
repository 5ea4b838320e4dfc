"""The two kinds of thermostat, and runs of pipe."""

from typing import Literal

from pydantic import Field, model_validator

from tlib.documents import Record
from tlib.installation.quantities import Length, Temperature

__all__ = ["OffRise", "OnRise", "Run"]


class OnRise(Record):
    """A thermostat that makes as the temperature rises, and breaks some way below."""

    makes: Temperature
    breaks: Temperature

    @model_validator(mode="after")
    def _gap(self):
        if self.breaks >= self.makes:
            raise ValueError(
                f"it makes on the rise, so 'breaks' must be below 'makes'; got {self.breaks:g} and {self.makes:g}"
            )
        return self


class OffRise(Record):
    """A thermostat that breaks as the temperature rises, and makes again some way below."""

    breaks: Temperature
    makes: Temperature

    @model_validator(mode="after")
    def _gap(self):
        if self.makes >= self.breaks:
            raise ValueError(
                f"it breaks on the rise, so 'makes' must be below 'breaks'; got {self.makes:g} and {self.breaks:g}"
            )
        return self


class Run(Record):
    """A run of pipe."""

    tube: Literal["8 mm", "10 mm", "15 mm", "22 mm", "28 mm", "35 mm", "42 mm", "54 mm"]
    length: Length
    fittings: int = Field(ge=0, le=200)
