"""One job described: a written file read into frozen, checked data, and nothing more.

What a table holds is said in `exercises/README.md` and by the files in `workbooks/sites/`. Heights in a store run
from 0 (bottom) to 1 (top). Read values are SI, temperatures °C, pressures absolute.
"""

from pathlib import Path
from typing import Literal

from pydantic import ConfigDict, Field, model_validator

from tlib import documents
from tlib.documents import Record, quantity

__all__ = ["Installation", "load"]

Height = quantity("1", at_least=0, at_most=1)
Share = quantity("1", above=0, at_most=1)
Temperature = quantity("degC", at_least=-60, at_most=200)
Power = quantity("W", above=0, at_most=1e6)
Flow = quantity("kg/s", above=0, at_most=10)
Length = quantity("m", above=0, at_most=100)


class Wall(Record):
    """What the tank is made of; its wall conducts between layers."""

    material: Literal["steel", "stainless steel", "copper"]
    thickness: quantity("m", above=0, at_most=0.02)


class Insulation(Record):
    """Insulation all round, from which the standing loss is worked out."""

    insulation: quantity("m", above=0, at_most=0.5)
    conductivity: quantity("W/(m K)", above=0, at_most=1)
    fittings: quantity("W/K", at_least=0, at_most=20) = 0.0


class Store(Record):
    """The tank, its connections and its sensors."""

    volume: quantity("m3", at_least=0.05, at_most=5)
    height: quantity("m", at_least=0.2, at_most=5)
    wall: Wall
    loss: quantity("W/K", at_least=0, at_most=50) | Insulation
    room: Temperature
    connections: dict[str, Height] = Field(default_factory=dict)
    sensors: dict[str, Height] = Field(default_factory=dict)


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


class LoadingValve(Record):
    """The valve that keeps store water out of the burner until it is hot."""

    opens: quantity("degC", at_least=30, at_most=80)
    band: quantity("K", above=0, at_most=30)


class ChargePump(Record):
    """The pump between burner and store, and the thermostat on the burner's flow pipe that starts it."""

    flow: Flow
    pipe_thermostat: OnRise


class Run(Record):
    """A run of pipe."""

    tube: Literal["8 mm", "10 mm", "15 mm", "22 mm", "28 mm", "35 mm", "42 mm", "54 mm"]
    length: Length
    fittings: int = Field(ge=0, le=200)


class Burner(Record):
    """A log burner with a water jacket."""

    to_water: Power
    to_room: Power
    efficiency: Share
    share_to_water: Share
    fuel: Literal["wood"]
    burn_time: quantity("s", at_least=600, at_most=86400)
    water: quantity("m3", above=0, at_most=0.5)
    body: quantity("kg", at_least=0, at_most=2000)
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


class Boiler(Record):
    """The boiler that can wait."""

    fuel: Literal["heating oil", "natural gas", "liquid gas"]
    output: Power
    least: Power
    thermostat: OffRise
    overrun: quantity("s", at_least=0, at_most=3600)


class SolarControl(Record):
    """When the solar pump runs."""

    starts: quantity("K", above=0, at_most=30)
    stops: quantity("K", above=0, at_most=30)
    store_limit: Temperature
    collector_limit: Temperature


class Solar(Record):
    """Collector, coil and pump."""

    area: quantity("m2", above=0, at_most=100)
    eta0: Share
    a1: quantity("W/(m2 K)", at_least=0, at_most=20)
    a2: quantity("W/(m2 K2)", at_least=0, at_most=1)
    slope: quantity("degree", at_least=0, at_most=90)
    azimuth: quantity("degree", at_least=0, at_most=360)
    coil: Coil
    flow: Flow
    control: SolarControl


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


class House(Record):
    """The house as one heat loss and one heat capacity."""

    loss: quantity("W/K", above=0, at_most=5000)
    capacity: quantity("J/K", above=0, at_most=1e9)


class Main(Record):
    """The heating main and its branches."""

    tube: Literal["15 mm", "22 mm", "28 mm", "35 mm", "42 mm", "54 mm"]
    branches: Literal["15 mm", "22 mm", "28 mm"]


class Heating(Record):
    """The closed heating circuit."""

    radiators: Radiators
    house: House
    enough_heat: OnRise
    main: Main


class ThermalValve(Record):
    """The valve that cools with mains water and needs no power."""

    opens: Temperature
    closes: Temperature
    sensor: Literal["burner", "store top"]
    flow: Flow


class Safety(Record):
    """What keeps it safe, by setting."""

    high_limit: OnRise
    thermal_valve: ThermalValve
    relief: quantity("Pa", above=101_325, at_most=1.2e6)


class Installation(Record):
    """One installation: `load` reads it from a file."""

    format: Literal[1]
    name: str
    system: Literal["vented", "sealed"]
    static_head: quantity("m", above=0, at_most=30)
    store: Store
    hot_water: HotWater | None = None
    burner: Burner | None = None
    heat_leak: HeatLeak | None = None
    boiler: Boiler | None = None
    solar: Solar | None = None
    heating: Heating | None = None
    safety: Safety | None = None

    @model_validator(mode="after")
    def _every_part_is_connected(self):
        wanted = [
            (f"{part}_{leg}", part)
            for part in ("burner", "boiler", "heating")
            if getattr(self, part) is not None
            for leg in ("flow", "return")
        ]
        missing = [f"'{port}' (there is a [{part}])" for port, part in wanted if port not in self.store.connections]
        if missing:
            raise ValueError(f"store.connections lacks {', '.join(missing)}")
        used = {port for port, _ in wanted}
        spare = [f"'{port}'" for port in self.store.connections if port not in used]
        if spare:
            raise ValueError(f"store.connections has {', '.join(spare)}, which nothing in this file joins")
        return self

    @model_validator(mode="after")
    def _controls_can_feel(self):
        wanted = {"top": "the pictures"}
        if self.heating is not None:
            wanted["middle"] = "the enough-heat thermostat"
        if self.safety is not None:
            wanted["high_limit"] = "the high limit"
        if self.boiler is not None:
            wanted["boiler_thermostat"] = "the boiler"
        missing = [f"'{name}' (for {why})" for name, why in wanted.items() if name not in self.store.sensors]
        if missing:
            raise ValueError(f"store.sensors lacks {', '.join(missing)}")
        return self


def load(path):
    """Read an installation file.

    Parameters
    ----------
    path : str or Path
        A TOML file, such as those in ``workbooks/sites``.

    Returns
    -------
    Installation
        Frozen and checked.

    Raises
    ------
    UnreadableDocument
        With file, line and key of every fault.
    """
    return documents.read(Path(path), Installation)
