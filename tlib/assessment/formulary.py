"""The formulary: the functions that formulas of exercise files may call.

Each is a function of the library, with the kinds of its arguments and result declared for right answers (worked
in SI) and the printed units declared for slips (worked as on a calculator). The library is loaded when a function
is first worked out, not before.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, reduce
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


def _stored_heat():
    from tlib.heat_transfer import stored_heat

    return stored_heat


def _volume_for():
    from tlib.heat_transfer import stored_heat

    return lambda heat, rise: heat / stored_heat(1.0, rise)


def _rise_for():
    from tlib.heat_transfer import stored_heat

    return lambda heat, volume: heat / stored_heat(volume, 1.0)


def _net_calorific_value():
    from tlib.combustion import net_calorific_value

    return net_calorific_value


def _buffer_volume():
    from tlib.combustion import buffer_volume

    return buffer_volume


_ENTRIES = {
    entry.name: entry
    for entry in (
        Entry("stored_heat", ("volume [litre]", "rise [K]"), "kWh", _stored_heat),
        Entry("volume_for", ("heat [kWh]", "rise [K]"), "litre", _volume_for),
        Entry("rise_for", ("heat [kWh]", "volume [litre]"), "K", _rise_for),
        Entry("net_calorific_value", ("moisture [%]",), "kWh/kg", _net_calorific_value),
        Entry("buffer_volume", ("burn_time [hour]", "rated [kW]", "house [kW]", "turn_down [kW]"), "litre",
              _buffer_volume),
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
