"""The conditions of a run as a written file: the same keys, times of day by the clock, quantities with their unit."""

import re
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, ConfigDict, Field, model_validator

from tlib import documents
from tlib.documents import Record, quantity
from tlib.heat_loads import draw_off_profile, every_day
from tlib.simulation.conditions import Air, Conditions, Day, Draw, Firing, Heating, Hours, Start
from tlib.solar_radiation import invented_year, read_weather
from tlib.validation import OutOfRange

__all__ = ["DayRecord", "conditions_of", "load_conditions"]

DAY = 86_400.0
PROFILES = ("S", "M", "L", "XL")
Temperature = quantity("degC", at_least=-60, at_most=150)
Span = quantity("s", above=0, at_most=400 * DAY)


def _clock(text):
    """Return a time of day [s after midnight] from a text such as ``"06:30"``."""
    found = re.fullmatch(r"(\d{1,2}):(\d{2})", text) if isinstance(text, str) else None
    if found is None or int(found[1]) > 24 or int(found[2]) > 59 or (int(found[1]) == 24 and int(found[2])):
        raise ValueError(f'{text!r} must be a time of day, written like "06:30"')
    return 3600.0 * int(found[1]) + 60.0 * int(found[2])


Clock = Annotated[float, BeforeValidator(_clock)]


class _StartRecord(Record):
    store: Temperature | tuple[Temperature, ...] = 35.0
    burner: Temperature | None = None
    room: Temperature | None = None


class _WeatherRecord(Record):
    coldest: Temperature
    warmest: Temperature
    sun: quantity("W/m2", at_least=0, at_most=1400) = 0.0
    rises: Clock = 6 * 3600.0
    sets: Clock = 18 * 3600.0


class _DrawRecord(Record):
    time: Clock
    volume: quantity("m3", at_least=0, at_most=5)
    temperature: Temperature
    flow: quantity("kg/s", above=0, at_most=2)


class _FiringRecord(Record):
    time: Clock
    kilos: quantity("kg", at_least=0, at_most=200)
    moisture: quantity("1", at_least=0, at_most=0.7)


class _AirRecord(Record):
    time: Clock
    setting: quantity("1", at_least=0.3, at_most=1.2)


class _HoursRecord(Record):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    begins: Clock = Field(alias="from")
    ends: Clock = Field(alias="to")


class _HeatingRecord(_HoursRecord):
    power: quantity("W", at_least=0, at_most=1e6) | None = None
    room: Temperature | None = None


class DayRecord(Record):
    """The conditions of a run as they are written, in a file or in a table of another one."""

    start: _StartRecord = _StartRecord()
    duration: Span = DAY
    begins: Clock = 17 * 3600.0
    day: int = Field(default=1, ge=1, le=366)
    weather: Temperature | _WeatherRecord | str = 5.0
    draws: Literal[PROFILES] | tuple[_DrawRecord, ...] = ()
    warmest_draw: Temperature | None = None
    firing: tuple[_FiringRecord, ...] = ()
    air: tuple[_AirRecord, ...] = ()
    programme: tuple[_HeatingRecord, ...] = ()
    boiler: tuple[_HoursRecord, ...] = ()
    repeat: Literal["once", "every day"] = "once"

    @model_validator(mode="after")
    def _only_a_profile_is_capped(self):
        if self.warmest_draw is not None and self.draws not in PROFILES:
            raise ValueError("'warmest_draw' belongs to a named profile; own draws carry their own temperature")
        return self


class _ConditionsFile(DayRecord):
    format: Literal[1]


def load_conditions(path):
    """Read the conditions of a run from a file.

    Parameters
    ----------
    path : str or Path
        A TOML file. Times are times of day; what lies before the run's beginning comes on the next day. `day` counts
        from 1 for the first of January, and `repeat` says whether the rows come again every day. `weather` is a
        temperature, a day, ``"invented year"`` or the name of a weather file that stands beside it.

    Returns
    -------
    Conditions
        Checked.

    Raises
    ------
    UnreadableDocument
        With file, line and key of every fault.
    OutOfRange
        If the conditions cannot be together.
    """
    path = Path(path)
    return conditions_of(documents.read(path, _ConditionsFile), path.parent)


def conditions_of(record, folder=None, faults=()):
    """Return the conditions of a run from their written record.

    Parameters
    ----------
    record : DayRecord
        As read.
    folder : Path, optional
        Where a weather file that it names stands.
    faults : sequence of Fault, optional
        What is broken, and when.

    Returns
    -------
    Conditions

    Raises
    ------
    OutOfRange
        If the conditions cannot be together.
    """
    return Conditions(
        start=Start(**record.start.model_dump()),
        duration=record.duration,
        begins=record.begins % DAY,
        day=record.day - 1,
        weather=_weather(record.weather, folder),
        draws=_repeated(record, _draws(record), times=1),
        firing=_repeated(record, [Firing(row.time, row.kilos, row.moisture) for row in record.firing], times=1),
        air=_repeated(record, [Air(row.time, row.setting) for row in record.air], times=1),
        programme=_repeated(record, [Heating(row.begins, row.ends, row.power, row.room) for row in record.programme]),
        boiler=_repeated(record, [Hours(row.begins, row.ends) for row in record.boiler]),
        faults=faults,
    )


def _weather(weather, folder):
    if isinstance(weather, _WeatherRecord):
        return Day(**weather.model_dump())
    if weather == "invented year":
        return invented_year()
    if not isinstance(weather, str):
        return weather
    if folder is None:
        raise OutOfRange(f'the weather must be a temperature, a day or "invented year"; got {weather!r}.')
    return read_weather(folder / weather)


def _draws(record):
    if record.draws in PROFILES:
        return [Draw(*row) for row in draw_off_profile(record.draws, warmest=record.warmest_draw)]
    return [Draw(row.time, row.volume, row.temperature, row.flow) for row in record.draws]


def _repeated(record, rows, times=2):
    """Return rows by the run's own time, as often as they come in it; the first `times` fields are times of day."""
    moved = [_after(record.begins, row) if times == 2 else _at(record.begins, row) for row in rows]
    moved.sort(key=lambda row: row[0])
    running = [row._replace(begins=0.0, ends=row.ends - DAY) for row in moved if times == 2 and row.ends > DAY]
    if record.repeat == "once":
        return tuple(running + [row for row in moved if row[0] <= record.duration and (times == 1 or row.ends <= DAY)])
    days = int(-(-record.duration // DAY))
    later = every_day(moved, days, times) if moved else ()
    return tuple(running) + tuple(row for row in later if row[0] <= record.duration)


def _at(begins, row):
    """Return a row with its time of day as time after the beginning of the run."""
    return row._replace(time=(row.time - begins) % DAY)


def _after(begins, row):
    """Return a period by the time after the beginning of the run; one that runs as the run begins ends in its time."""
    first = (row.begins - begins) % DAY
    return row._replace(begins=first, ends=first + (row.ends - row.begins) % DAY)
