"""The log burner: its water, its loading valve and pump, and the radiator that carries its heat by gravity."""

from typing import Literal

from pydantic import Field, model_validator

from tlib.documents import Record, quantity
from tlib.installation.contacts import OffRise, OnRise, Run
from tlib.installation.quantities import Flow, Length, Power, Share

__all__ = ["Burner", "ChargePump", "DampWood", "HeatLeak", "Lining", "LoadingValve"]


class LoadingValve(Record):
    """The valve that keeps store water out of the burner until it is hot."""

    opens: quantity("degC", at_least=30, at_most=80)
    band: quantity("K", above=0, at_most=30)
    lag: quantity("s", above=0, at_most=600) = 30.0


class ChargePump(Record):
    """The pump between burner and store, and the thermostat on the burner's flow pipe that starts it."""

    flow: Flow
    pipe_thermostat: OnRise


class Lining(Record):
    """Fire bricks and castings that take up the room's share of the heat, and give it off slowly."""

    mass: quantity("kg", above=0, at_most=2000)
    release: quantity("W/K", above=0, at_most=100)


class DampWood(Record):
    """How much worse and slower logs burn for each unit of moisture above 20 %, wet basis."""

    efficiency_lost: quantity("1", at_least=0, at_most=2)
    slower: quantity("1", at_least=0, at_most=10)


class Burner(Record):
    """A log burner with a water jacket."""

    to_water: Power
    to_room: Power
    efficiency: Share
    share_to_water: Share
    fuel: Literal["wood"]
    burn_time: quantity("s", at_least=600, at_most=86400)
    embers: quantity("1", at_least=0, at_most=0.6) = 0.3
    damp_wood: DampWood | None = None
    water: quantity("m3", above=0, at_most=0.5)
    body: quantity("kg", at_least=0, at_most=2000)
    lining: Lining | None = None
    standing: quantity("W/K", above=0, at_most=50)
    loading_valve: LoadingValve
    bypass: Literal["6 mm", "8 mm", "10 mm"] | None = None
    pump: ChargePump
    wiring: Literal["pipe thermostat", "pipe thermostat and store limit"]
    store_limit: OffRise | None = None
    primaries: Run

    @model_validator(mode="after")
    def _limit_when_wired(self):
        if self.wiring.endswith("store limit") and self.store_limit is None:
            raise ValueError("wiring 'pipe thermostat and store limit' needs the key 'store_limit'")
        return self


class HeatLeak(Record):
    """The radiator that the burner heats by gravity alone."""

    output: Power
    rise: Length
    tube: Literal["15 mm", "22 mm", "28 mm", "35 mm"]
    length: Length
    fittings: int = Field(ge=0, le=200)
