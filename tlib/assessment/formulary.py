"""The formulary: the functions that formulas of exercise files may call.

Each is a function of the library, with the kinds of its arguments and result declared for right answers (worked
in SI) and the printed units declared for slips (worked as on a calculator). The library is loaded when a function
is first worked out, not before.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, reduce
from importlib import import_module
from types import MappingProxyType

from tlib.assessment.quantities import NUMBER, UNITS, Kind, WrongKind

__all__ = ["IN_SI", "KINDS", "PRINTED", "Entry"]


@dataclass(frozen=True)
class Entry:
    """One function of the formulary.

    Attributes
    ----------
    name : str
        As formulas call it.
    arguments : tuple of str
        For each argument its name and its printed unit, as ``"volume [litre]"``.
    unit : str
        The printed unit of the result; with the arguments' units it also tells the kinds.
    load : callable
        Returns the function of SI numbers.
    """

    name: str
    arguments: tuple
    unit: str
    load: Callable

    def in_si(self, *numbers):
        """Work it out on SI numbers."""
        return float(_loaded(self)(*numbers))

    def printed(self, *numbers):
        """Work it out on the numbers printed in a story, in the declared units."""
        self._counted(numbers)
        units = [UNITS[argument.partition("[")[2].rstrip("]")] for argument in self.arguments]
        return UNITS[self.unit].from_si(
            self.in_si(*[unit.to_si(number) for unit, number in zip(units, numbers, strict=True)])
        )

    def kind(self, *given):
        """Return the kind of the result, once the kinds of the arguments are right."""
        self._counted(given)
        for argument, kind in zip(self.arguments, given, strict=True):
            name, _, unit = argument.rstrip("]").partition(" [")
            if kind != UNITS[unit].kind:
                raise WrongKind(f"{self.name} wants {UNITS[unit].kind} for {name}, not {kind}")
        return UNITS[self.unit].kind

    def _counted(self, given):
        if len(given) != len(self.arguments):
            raise WrongKind(f"{self.name} wants {', '.join(self.arguments)}; got {len(given)} values")


@cache
def _loaded(entry):
    return entry.load()


def _library(room, name):
    """Return what loads a function of the library by its room and name."""
    return lambda: getattr(import_module(f"tlib.{room}"), name)


def _volume_for():
    from tlib.heat_transfer import stored_heat

    return lambda heat, rise: heat / stored_heat(1.0, rise)


def _rise_for():
    from tlib.heat_transfer import stored_heat

    return lambda heat, volume: heat / stored_heat(volume, 1.0)


def _power_of_flow():
    from tlib.hydraulics import flow_for_power

    return lambda flow, rise: flow / flow_for_power(1.0, rise)


def _pipe_speed():
    from tlib.hydraulics import bore_area

    return lambda flow, bore: flow / _TAUGHT_DENSITY / bore_area(bore)


_TAUGHT_DENSITY = 1000.0
"""Taught sums count a litre of water as a kilogram [kg/m3]."""

_ENTRIES = {
    entry.name: entry
    for entry in (
        Entry("stored_heat", ("volume [litre]", "rise [K]"), "kWh", _library("heat_transfer", "stored_heat")),
        Entry("volume_for", ("heat [kWh]", "rise [K]"), "litre", _volume_for),
        Entry("rise_for", ("heat [kWh]", "volume [litre]"), "K", _rise_for),
        Entry("power_of_flow", ("flow [litre/minute]", "rise [K]"), "kW", _power_of_flow),
        Entry("flow_for_power", ("power [kW]", "drop [K]"), "litre/hour", _library("hydraulics", "flow_for_power")),
        Entry("hot_share", ("hot [degC]", "cold [degC]", "mixed [degC]"), "share",
              _library("hydraulics", "hot_share")),
        Entry("net_calorific_value", ("moisture [%]",), "kWh/kg", _library("combustion", "net_calorific_value")),
        Entry("buffer_volume", ("burn_time [hour]", "rated [kW]", "house [kW]", "turn_down [kW]"), "litre",
              _library("combustion", "buffer_volume")),
        Entry("cooling_loss", ("volume [litre]", "start [degC]", "end [degC]", "room [degC]", "time [hour]"), "W/K",
              _library("heat_transfer", "cooling_loss_coefficient")),
        Entry("time_constant", ("volume [litre]", "loss [W/K]"), "hour", _library("heat_transfer", "time_constant")),
        Entry("cool_down", ("volume [litre]", "loss [W/K]", "start [degC]", "room [degC]", "time [hour]"), "degC",
              _library("heat_transfer", "cool_down")),
        Entry("side_loss", ("diameter [m]", "height [m]", "insulation [mm]", "conductivity [W/(m K)]",
                            "film [W/(m2 K)]"), "W/K", _library("heat_transfer", "cylinder_loss_coefficient")),
        Entry("end_loss", ("diameter [m]", "insulation [mm]", "conductivity [W/(m K)]", "film [W/(m2 K)]"), "W/K",
              _library("heat_transfer", "end_loss_coefficient")),
        Entry("radiator_output", ("rated [W]", "excess [K]"), "W", _library("heat_transfer", "radiator_output")),
        Entry("radiator_size", ("needed [W]", "excess [K]"), "W", _library("heat_transfer", "radiator_size")),
        Entry("pipe_speed", ("flow [litre/hour]", "bore [mm]"), "m/s", _pipe_speed),
        Entry("tube_content", ("bore [mm]", "length [m]"), "litre", _library("hydraulics", "tube_content")),
        Entry("water_density", ("temperature [degC]",), "kg/m3", _library("water_properties", "density")),
        Entry("gravity_head", ("hot [degC]", "cold [degC]", "height [m]"), "Pa",
              _library("hydraulics", "gravity_head")),
        Entry("collector_efficiency", ("sun [W/m2]", "excess [K]", "best [share]", "loss [W/(m2 K)]",
                                       "curve [W/(m2 K2)]"), "share",
              _library("solar_radiation", "collector_efficiency")),
        Entry("critical_sun", ("excess [K]", "best [share]", "loss [W/(m2 K)]", "curve [W/(m2 K2)]"), "W/m2",
              _library("solar_radiation", "critical_irradiance")),
        Entry("static_pressure", ("height [m]",), "bar", _library("thermal_expansion", "static_pressure")),
        Entry("expanded_fraction", ("cold [degC]", "hot [degC]"), "share",
              _library("thermal_expansion", "expanded_fraction")),
        Entry("reserve", ("content [litre]",), "litre", _library("thermal_expansion", "water_reserve")),
        Entry("sealed_vessel", ("growth [litre]", "reserve [litre]", "charge [bar gauge]", "top [bar gauge]"),
              "litre", _library("thermal_expansion", "sealed_vessel")),
        Entry("next_stock_size", ("vessel [litre]",), "litre", _library("thermal_expansion", "next_stock_size")),
        Entry("fill_pressure", ("vessel [litre]", "reserve [litre]", "charge [bar gauge]"), "bar gauge",
              _library("thermal_expansion", "fill_pressure")),
        Entry("hot_pressure", ("vessel [litre]", "reserve [litre]", "growth [litre]", "charge [bar gauge]"),
              "bar gauge", _library("thermal_expansion", "hot_pressure")),
    )
}  # fmt: skip


def _of_one_kind(*kinds: Kind) -> Kind:
    if not kinds:
        raise WrongKind("min, max and mean want at least one value")
    return reduce(Kind.like, kinds)


def _when_kind(*kinds):
    if len(kinds) != 3 or kinds[0] != NUMBER:
        raise WrongKind("when wants a comparison, the value if it holds, and the value if not")
    return kinds[1].like(kinds[2])


def _mean(*numbers):
    return sum(numbers) / len(numbers)


def _when(holds, then, otherwise):
    return then if holds else otherwise


_CHOOSERS = {"min": min, "max": max, "mean": _mean, "when": _when}
_CHOOSER_KINDS = {"min": _of_one_kind, "max": _of_one_kind, "mean": _of_one_kind, "when": _when_kind}

KINDS = MappingProxyType({name: entry.kind for name, entry in _ENTRIES.items()} | _CHOOSER_KINDS)
"""For each function, the kind of its result from the kinds of its arguments."""

IN_SI = MappingProxyType({name: entry.in_si for name, entry in _ENTRIES.items()} | _CHOOSERS)
"""For each function, its work on SI numbers."""

PRINTED = MappingProxyType({name: entry.printed for name, entry in _ENTRIES.items()} | _CHOOSERS)
"""For each function, its work on printed numbers in its declared printed units."""
