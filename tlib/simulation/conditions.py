"""What happens to an installation during a run: how it starts, fire, taps, heating hours, weather."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from tlib.simulation.overrides import Fault, checked_faults
from tlib.solar_radiation import Weather
from tlib.validation import OutOfRange, require

__all__ = ["Air", "Conditions", "Day", "Draw", "Firing", "Heating", "Hours", "Start", "profile"]

HOUR = 3600.0
DAY = 24 * HOUR


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


class Air(NamedTuple):
    """The fire's air, set anew."""

    time: float
    """After the start of the run [s]."""
    setting: float
    """How fast the fire burns against its rated burn [-]; 0.3 to 1.2."""


class Heating(NamedTuple):
    """Hours in which the clock lets the heating run.

    Either the rooms then want a set power, whatever the weather, and stay at the temperature for which the radiators
    are rated; or the room thermostat is set, and the house warms and cools with the weather.
    """

    begins: float
    """After the start of the run [s]."""
    ends: float
    """After the start of the run [s]."""
    power: float | None = None
    """[W]."""
    room: float | None = None
    """Setting of the room thermostat [°C]."""


class Hours(NamedTuple):
    """Hours in which something is allowed."""

    begins: float
    """After the start of the run [s]."""
    ends: float
    """After the start of the run [s]."""


class Day(NamedTuple):
    """Weather that is the same every day: coldest at 03:00, warmest at 15:00, a sun that rises and sets."""

    coldest: float
    """Outside [°C]."""
    warmest: float
    """Outside [°C]."""
    sun: float = 0.0
    """On the slope of the collectors at the middle of the day [W/m2]."""
    rises: float = 6 * HOUR
    """Time of day [s]."""
    sets: float = 18 * HOUR
    """Time of day [s]."""


class Start(NamedTuple):
    """Temperatures at the start; a burner or boiler left out starts as warm as the room it stands in."""

    store: float | tuple = 35.0
    """One for the whole store, or one a layer from the bottom [°C]."""
    burner: float | None = None
    """Of its water and body [°C]."""
    room: float | None = None
    """Of the heated rooms and the floor [°C]; if left out, that for which the radiators are rated."""


ROWS = {"draws": Draw, "firing": Firing, "air": Air, "programme": Heating, "boiler": Hours}


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
    day : int, optional
        Day of the year on which it begins, 0 for the first of January; for a year of weather.
    weather : float, Day or Weather, optional
        Outside temperature [°C] without sun, a day that comes again, or a year hour by hour.
    draws : sequence of Draw, optional
        At the taps.
    firing : sequence of Firing, optional
        Batches of logs.
    air : sequence of Air, optional
        Settings of the fire's air; 1 until the first.
    programme : sequence of Heating, optional
        Heating hours.
    boiler : sequence of (begins, ends), optional
        When the boiler may run [s].
    resets : sequence of float, optional
        Times at which somebody presses the resets of every cut-out and limit [s]; one clears only if it has cooled.
    faults : sequence of Fault, optional
        What is broken, and when; a name alone stands for the whole run.

    Raises
    ------
    OutOfRange
        If a value cannot be, or a time lies outside the run.
    """

    start: Start | float | tuple = 35.0
    duration: float = DAY
    begins: float = 17 * HOUR
    day: int = 0
    weather: float | Day | Weather = 5.0
    draws: tuple[Draw, ...] = ()
    firing: tuple[Firing, ...] = ()
    air: tuple[Air, ...] = ()
    programme: tuple[Heating, ...] = ()
    boiler: tuple[Hours, ...] = ()
    resets: tuple[float, ...] = ()
    faults: tuple[Fault, ...] = ()

    def __post_init__(self):
        """Check what can be checked without knowing the installation."""
        if not isinstance(self.start, Start):
            store = self.start if np.ndim(self.start) == 0 else tuple(float(t) for t in self.start)
            object.__setattr__(self, "start", Start(store=store))
        for part in ("burner", "room"):
            if getattr(self.start, part) is not None:
                what = f"the {part}'s temperature at the start"
                require(getattr(self.start, part), what, "°C", at_least=0, at_most=150)
        require(self.duration, "the duration", "s", above=0, at_most=400 * DAY)
        require(self.begins, "the time of day at the start", "s", at_least=0, below=DAY)
        require(self.day, "the day of the year at the start", "", at_least=0, at_most=365)
        for name, kind in ROWS.items():
            object.__setattr__(self, name, tuple(kind(*row) for row in getattr(self, name)))
        object.__setattr__(self, "resets", tuple(float(time) for time in self.resets))
        for time in self.resets:
            require(time, "the time of a reset", "s", at_least=0, below=self.duration)
        self._check_rows()
        _check_weather(self.weather)
        object.__setattr__(self, "faults", checked_faults(self.faults, self.duration))

    def _check_rows(self):
        for name in ROWS:
            rows = getattr(self, name)
            if not rows:
                continue
            what = f"the time of a {type(rows[0]).__name__.lower()}"
            require([row[0] for row in rows], what, "s", at_least=0, at_most=self.duration)
        for setting in self.air:
            require(setting.setting, "the air setting", "", at_least=0.3, at_most=1.2)
        if any(later.time <= earlier.time for earlier, later in zip(self.air, self.air[1:], strict=False)):
            raise OutOfRange("the air settings must come in order of time, each at a time of its own.")
        for period in self.boiler:
            require(period.ends, "the end of the boiler's hours", "s", at_least=period.begins)
        for period in self.programme:
            _check_heating(period)
        if self.programme and len({period.power is None for period in self.programme}) > 1:
            raise OutOfRange("the heating hours must all give a power, or all set the room thermostat.")

    @property
    def house_is_kept(self):
        """Whether the rooms stay at one temperature, because the heating hours ask for a power or for nothing."""
        return not any(period.room is not None for period in self.programme)


def _check_heating(period):
    require(period.ends, "the end of a heating period", "s", at_least=period.begins)
    if (period.power is None) == (period.room is None):
        raise OutOfRange("a heating period must have either a power or a room temperature, and not both.")
    if period.power is not None:
        require(period.power, "the heating power", "W", at_least=0, at_most=1e6)
    else:
        require(period.room, "the setting of the room thermostat", "°C", at_least=5, at_most=35)


def _check_weather(weather):
    if isinstance(weather, Weather):
        return
    if not isinstance(weather, Day):
        require(weather, "the outside temperature", "°C", at_least=-60, at_most=60)
        return
    require(weather.coldest, "the coldest of the day", "°C", at_least=-60, at_most=60)
    require(weather.warmest, "the warmest of the day", "°C", at_least=weather.coldest, at_most=60)
    require(weather.sun, "the sun at the middle of the day", "W/m2", at_least=0, at_most=1400)
    require(weather.rises, "sunrise", "s", at_least=0, below=DAY)
    require(weather.sets, "sunset", "s", above=weather.rises, at_most=DAY)


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
