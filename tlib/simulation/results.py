"""What a run leaves: temperatures, flows, powers, events and books that balance."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from tlib.validation import require

__all__ = ["Event", "Ledger", "Result"]


@dataclass(frozen=True)
class Event:
    """Something that happened during a run."""

    time: float
    """After the start [s]."""
    name: str
    """In plain words, such as ``"charge pump starts"``."""
    temperature: float
    """That the part felt [°C]; NaN where none applies."""


@dataclass(frozen=True)
class Ledger(Mapping):
    """Named heats [J], counted positive into the system, and whether they explain what it now holds.

    Parameters
    ----------
    heats : mapping
        Every heat that crossed the system's edge, by name [J].
    stored : float
        Change of the heat held [J].
    held : float
        Heat held above 0 °C at the start [J], against which rounding is judged.
    notes : mapping, optional
        Heats that stay inside, or outside, and so take no part in the balance [J].
    """

    heats: Mapping
    stored: float
    held: float
    notes: Mapping = field(default_factory=dict)

    def __getitem__(self, name):
        """Return a named heat [J], whether it takes part in the balance or not."""
        return self.heats[name] if name in self.heats else self.notes[name]

    def __iter__(self):
        """Iterate over the names."""
        yield from self.heats
        yield from self.notes

    def __len__(self):
        """Return how many heats are named."""
        return len(self.heats) + len(self.notes)

    @property
    def closure(self):
        """What the booked heats leave unexplained, as a share of all that was booked and held [-]."""
        missing = math.fsum([self.stored, *(-heat for heat in self.heats.values())])
        return abs(missing) / (math.fsum(abs(heat) for heat in self.heats.values()) + abs(self.held))


@dataclass(frozen=True, eq=False)
class Result:
    """A run, frozen. Arrays are (time, layer); series of flows and powers hold one value a step.

    Parameters
    ----------
    time : ndarray, (steps + 1,)
        After the start [s].
    layers : ndarray, (steps + 1, layers)
        Temperatures from the bottom up [°C].
    flows : mapping
        Named mass flows, each (steps,) [kg/s].
    powers : mapping
        Named heat flows, each (steps,) [W].
    readings : mapping
        Named temperatures, each (steps + 1,) [°C], and the pressure of the system [Pa]; a tap that is shut reads NaN.
    states : mapping
        Named on/off states, each (steps,).
    ledger : Ledger
        Heats of the whole run.
    events : tuple of Event
        In order of time.
    begins : float
        Time of day at the start [s after midnight].
    """

    time: np.ndarray
    layers: np.ndarray
    flows: Mapping
    powers: Mapping
    ledger: Ledger
    events: tuple = ()
    readings: Mapping = field(default_factory=dict)
    states: Mapping = field(default_factory=dict)
    begins: float = 0.0

    def __post_init__(self):
        """Close every array and mapping to writing."""
        self.time.flags.writeable = False
        self.layers.flags.writeable = False
        for name in ("flows", "powers", "readings", "states"):
            series = getattr(self, name)
            for values in series.values():
                values.flags.writeable = False
            object.__setattr__(self, name, MappingProxyType(dict(series)))

    @property
    def boiled(self):
        """Whether the run ended because water reached its boiling point."""
        return any(event.name == "boiled" for event in self.events)

    def at(self, time):
        """Return the row that holds a time [s], the last one if the run ended before."""
        require(time, "the time", "s", at_least=0)
        return int(min(np.searchsorted(self.time, time + 1e-6, side="right") - 1, self.time.size - 1))

    def bands(self, time, count=12):
        """Return mean temperatures of equal bands, bottom first, at a time.

        Parameters
        ----------
        time : float
            After the start [s].
        count : int, optional
            How many bands; a band's mean takes in parts of layers by their mass.

        Returns
        -------
        ndarray, (count,)
            [°C].
        """
        layers = self.layers[self.at(time)]
        heights = np.linspace(0.0, layers.size, count + 1)
        heat = np.interp(heights, np.arange(layers.size + 1), np.concatenate([[0.0], np.cumsum(layers)]))
        return np.diff(heat) * count / layers.size
