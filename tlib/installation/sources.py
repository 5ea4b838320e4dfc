"""The sources that can be told what to do: boiler, solar loop, PV and immersion heaters."""

from typing import Literal

from pydantic import ConfigDict, Field, model_validator

from tlib.documents import Record, quantity
from tlib.installation.contacts import OffRise, Run
from tlib.installation.quantities import Flow, Height, Length, Power, Share, Temperature
from tlib.installation.store import Coil

__all__ = ["Boiler", "Immersion", "Immersions", "Photovoltaics", "Solar", "SolarControl"]


class Boiler(Record):
    """The boiler: of all sources the only one that can wait."""

    fuel: Literal["heating oil", "natural gas", "bottled gas"]
    output: Power
    least: Power
    thermostat: OffRise
    flow: quantity("degC", at_least=30, at_most=95) = 80.0
    pump: Flow | None = None
    limit: quantity("degC", at_least=60, at_most=120) = 95.0
    efficiency: Share = 0.88
    water: quantity("m3", above=0, at_most=0.5) = 0.004
    body: quantity("kg", at_least=0, at_most=2000) = 40.0
    standing: quantity("W/K", at_least=0, at_most=50) = 1.0
    least_run: quantity("s", at_least=0, at_most=3600) = 240.0
    least_rest: quantity("s", at_least=0, at_most=3600) = 180.0
    overrun: quantity("s", at_least=0, at_most=3600)

    @model_validator(mode="after")
    def _settings_stand_in_order(self):
        if self.least > self.output:
            raise ValueError(f"'least' must not be above 'output'; got {self.least:g} and {self.output:g} W")
        if not self.thermostat.breaks <= self.flow < self.limit:
            raise ValueError(
                "the store thermostat, the boiler's own flow temperature and its limit must rise in that order; got "
                f"{self.thermostat.breaks:g}, {self.flow:g} and {self.limit:g} °C"
            )
        return self


class SolarControl(Record):
    """When the solar pump runs."""

    starts: quantity("K", above=0, at_most=30)
    stops: quantity("K", above=0, at_most=30)
    store_limit: Temperature
    collector_limit: Temperature

    @model_validator(mode="after")
    def _gap(self):
        if self.stops >= self.starts:
            raise ValueError(f"'stops' must be below 'starts'; got {self.stops:g} and {self.starts:g} K")
        return self


class Solar(Record):
    """Collector, coil and pump."""

    area: quantity("m2", above=0, at_most=100)
    eta0: Share
    a1: quantity("W/(m2 K)", above=0, at_most=20)
    a2: quantity("W/(m2 K2)", at_least=0, at_most=1)
    slant: quantity("1", at_least=0, at_most=0.21) = 0.2
    capacity: quantity("J/(m2 K)", above=0, at_most=1e5) = 6500.0
    slope: quantity("degree", at_least=0, at_most=90)
    azimuth: quantity("degree", at_least=0, at_most=360)
    coil: Coil
    flow: Flow
    glycol: quantity("1", at_least=0, at_most=0.5) = 0.4
    rise: Length = 4.0
    pipes: Run = Run(tube="15 mm", length="20 m", fittings=16)
    non_return: bool = True
    control: SolarControl


class Photovoltaics(Record):
    """PV modules, and the power that the house takes before anything is left over."""

    peak: Power
    slope: quantity("degree", at_least=0, at_most=90)
    azimuth: quantity("degree", at_least=0, at_most=360)
    house: quantity("W", at_least=0, at_most=1e5)
    inverter: Share = 0.96


class Immersion(Record):
    """An immersion heater: where its element lies, its thermostat and its cut-out with a manual reset."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    bottom: Height = Field(alias="from")
    top: Height = Field(alias="to")
    power: Power
    thermostat: OffRise
    cut_out: quantity("degC", at_least=60, at_most=110)

    @model_validator(mode="after")
    def _in_order(self):
        if self.top <= self.bottom:
            raise ValueError(f"'to' must be above 'from'; got {self.bottom:g} to {self.top:g}")
        if self.cut_out <= self.thermostat.breaks:
            raise ValueError(
                f"the cut-out must be above the thermostat; got {self.cut_out:g} and {self.thermostat.breaks:g} °C"
            )
        return self


class Immersions(Record):
    """One or two immersion heaters on surplus PV, and how the surplus is shared."""

    control: Literal["on/off", "matched"]
    starts: Power | None = None
    margin: quantity("W", at_least=0, at_most=5000) = 0.0
    together: bool = False
    low: Immersion | None = None
    high: Immersion | None = None

    @model_validator(mode="after")
    def _at_least_one(self):
        if self.low is None and self.high is None:
            raise ValueError("needs 'low' or 'high', or both")
        if self.low and self.high and self.low.bottom >= self.high.bottom:
            raise ValueError(f"'low' must lie below 'high'; got {self.low.bottom:g} and {self.high.bottom:g}")
        return self
