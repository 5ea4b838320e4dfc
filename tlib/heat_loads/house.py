"""The house: one temperature, one heat capacity, one loss to the weather."""

import math
from typing import NamedTuple

from tlib.compiled import kernel, records

__all__ = ["House", "house_of", "step_house"]


class House(NamedTuple):
    """A house, and how it stands."""

    loss: float
    """To the outside [W/K]."""
    capacity: float
    """[J/K]."""
    gains: float
    """From people, lights and windows [W]."""
    is_kept: int
    """Whether its rooms stay at one temperature, whatever comes in."""
    holds_burner: int
    holds_store: int
    holds_boiler: int
    temperature: float
    """[°C]."""
    lost: float = 0.0
    """To the outside in the last step [J]; all that came in, if its rooms are kept."""


def house_of(heating, room, is_kept):
    """Return a house for the kernels.

    Parameters
    ----------
    heating : tlib.installation.Heating
        As read from a file.
    room : float
        Temperature of its rooms at the start [°C].
    is_kept : bool
        Whether they stay at it.

    Returns
    -------
    recarray of House
        One row.
    """
    house, holds = heating.house, heating.house.holds
    inside = (int(not is_kept and part in holds) for part in ("burner", "store", "boiler"))
    return records(House, [House(house.loss, house.capacity, house.gains, int(is_kept), *inside, room)])


@kernel
def step_house(house, heat, outside, step):
    """Warm and cool a house for a step, exactly for heat that comes evenly.

    Parameters
    ----------
    house : record of House
        Brought to the end of the step.
    heat : float
        That comes into it in the step, its own gains aside [J].
    outside, step : float
        [°C], and [s].
    """
    if house.is_kept:
        house.lost = heat
        return
    heat += house.gains * step
    settled = outside + heat / (step * house.loss)
    rise = (settled - house.temperature) * -math.expm1(-house.loss * step / house.capacity)
    house.temperature += rise
    house.lost = heat - rise * house.capacity
