"""What happens to an installation during a run: how it starts, the fire, the taps, the heating hours."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from tlib.validation import OutOfRange, require

__all__ = ["Conditions", "Draw", "Firing", "Heating", "Start", "profile"]

HOUR = 3600.0


class Draw(NamedTuple):
    """Water drawn at the taps."""

    time: float
    """After the start of the run [s]."""
    volume: float
    """Of blended water [m3]."""
    temperature: float
    """As wanted at the tap [°C]."""
    flow: float
    """Of blended water [kg/s]."""


class Firing(NamedTuple):
    """A batch of logs, lit."""

    time: float
    """After the start of the run [s]."""
    kilos: float
    """As put on the fire [kg]."""
    moisture: float
    """Water in the logs, wet basis [-]."""


class Heating(NamedTuple):
    """Hours in which the clock lets the heating run, and the heat that the rooms then want."""

    begins: float
    """After the start of the run [s]."""
    ends: float
    """After the start of the run [s]."""
    power: float
    """[W]."""


class Start(NamedTuple):
    """Temperatures at the start; a burner left out starts as warm as the room it stands in."""

    store: float | tuple = 35.0
    """One for the whole store, or one a layer from the bottom [°C]."""
    burner: float | None = None
    """Of its water and body [°C]."""


@dataclass(frozen=True)
class Conditions:
    """The conditions of a run; every field has a default, and the default run is a quiet day.

    Parameters
    ----------
    start : Start, float or sequence, optional
        How it starts; a number or one number a layer stands for the store alone [°C].
    duration : float, optional
        Of the run [s].
    begins : float, optional
        Time of day at which the run begins [s after midnight].
    weather : float, optional
        Outside temperature [°C].
    draws : sequence of Draw, optional
        At the taps.
    firing : sequence of Firing, optional
        Batches of logs.
    programme : sequence of Heating, optional
        Heating hours.
    faults : sequence, optional
        Named faults with their times; none is known yet, so any name is refused.

    Raises
    ------
    OutOfRange
        If a value cannot be, or a time lies outside the run.
    """

    start: Start | float | tuple = 35.0
    duration: float = 24 * HOUR
    begins: float = 17 * HOUR
    weather: float = 5.0
    draws: tuple[Draw, ...] = ()
    firing: tuple[Firing, ...] = ()
    programme: tuple[Heating, ...] = ()
    faults: tuple = ()

    def __post_init__(self):
        """Check what can be checked without knowing the installation."""
        if not isinstance(self.start, Start):
            store = self.start if np.ndim(self.start) == 0 else tuple(float(t) for t in self.start)
            object.__setattr__(self, "start", Start(store=store))
        if self.start.burner is not None:
            require(self.start.burner, "the burner's temperature at the start", "°C", at_least=0, at_most=150)
        require(self.duration, "the duration", "s", above=0, at_most=400 * 24 * HOUR)
        require(self.begins, "the time of day at the start", "s", at_least=0, below=24 * HOUR)
        require(self.weather, "the outside temperature", "°C", at_least=-60, at_most=60)
        for name, kind in (("draws", Draw), ("firing", Firing), ("programme", Heating)):
            object.__setattr__(self, name, tuple(kind(*row) for row in getattr(self, name)))
        for row in (*self.draws, *self.firing, *self.programme):
            require(row[0], f"the time of a {type(row).__name__.lower()}", "s", at_least=0, at_most=self.duration)
        for period in self.programme:
            require(period.power, "the heating power", "W", at_least=0, at_most=1e6)
            require(period.ends, "the end of a heating period", "s", at_least=period.begins)
        for name in self.faults:
            raise OutOfRange(f"no fault is known by the name {name!r}.")


def profile(store, layers):
    """Return a starting temperature, or profile, as one number a layer [°C]."""
    given = np.asarray(require(store, "the store's temperature at the start", "°C", at_least=0, at_most=150))
    if given.ndim == 0:
        return np.full(layers, float(given))
    if given.shape != (layers,):
        raise OutOfRange(
            f"the starting profile must have one temperature for each of {layers} layers; got {given.size}."
        )
    return given.astype(float).copy()
