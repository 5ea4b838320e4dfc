"""The store: its tank, connections and sensors, and the coils in it."""

from typing import Literal

from pydantic import ConfigDict, Field, model_validator

from tlib.documents import Record, quantity
from tlib.installation.quantities import Height, Temperature

__all__ = ["Coil", "HotWater", "Insulation", "JetMixing", "Store", "Wall"]


class Wall(Record):
    """What the tank is made of; its wall conducts between layers."""

    material: Literal["steel", "stainless steel", "copper"]
    thickness: quantity("m", above=0, at_most=0.02)


class Insulation(Record):
    """Insulation all round, from which the standing loss is worked out."""

    insulation: quantity("m", above=0, at_most=0.5)
    conductivity: quantity("W/(m K)", above=0, at_most=1)
    fittings: quantity("W/K", at_least=0, at_most=20) = 0.0


class JetMixing(Record):
    """How much a jet that enters the store stirs it: an assumption, to be calibrated against measurements."""

    opening: quantity("m", above=0, at_most=0.2)
    exchange: quantity("1", at_least=0, at_most=2)


class Store(Record):
    """The tank, its connections and its sensors."""

    volume: quantity("m3", at_least=0.05, at_most=5)
    height: quantity("m", at_least=0.2, at_most=5)
    wall: Wall
    loss: quantity("W/K", at_least=0, at_most=50) | Insulation
    room: Temperature
    connections: dict[str, Height] = Field(default_factory=dict)
    sensors: dict[str, Height] = Field(default_factory=dict)
    stratifiers: tuple[str, ...] = ()
    jet_mixing: JetMixing | None = None

    @model_validator(mode="after")
    def _stratifiers_are_connections(self):
        unknown = [name for name in self.stratifiers if name not in self.connections]
        if unknown:
            raise ValueError(f"stratifiers names {', '.join(map(repr, unknown))}, which is not among the connections")
        return self


class Coil(Record):
    """A coil in the store, from its lower to its upper end."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    bottom: Height = Field(alias="from")
    top: Height = Field(alias="to")
    conductance: quantity("W/K", above=0, at_most=20_000)

    @model_validator(mode="after")
    def _upright(self):
        if self.top <= self.bottom:
            raise ValueError(f"a coil runs upward: 'to' must be above 'from'; got {self.bottom:g} to {self.top:g}")
        return self


class HotWater(Record):
    """Mains water through a coil in the store, and the blending valve after it."""

    coil: Coil
    cold: quantity("degC", at_least=0, at_most=30)
    blending: quantity("degC", at_least=30, at_most=70)
