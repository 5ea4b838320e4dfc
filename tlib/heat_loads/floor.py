"""A heated floor behind its mixing valve: a slab that is slow to warm and slow to cool."""

import math
from typing import NamedTuple

from tlib.compiled import kernel, records
from tlib.heat_transfer.floors import output_behind
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT

__all__ = ["Floor", "floor_of", "settle_floor", "step_floor"]


class Floor(NamedTuple):
    """A heated floor, and how it stands."""

    area: float
    """[m2]."""
    mixed: float
    """Temperature that the mixing valve holds [°C]."""
    limit: float
    """Flow temperature at which the floor limit stops the pump [°C]."""
    rate: float
    """Capacity rate of its pump's flow [W/K]."""
    exchange: float
    """From the water in the pipes to the slab [W/K]."""
    covering: float
    """Resistance from the slab to the floor's surface [m2 K/W]."""
    capacity: float
    """Of the slab [J/K]."""
    temperature: float
    """Of the slab [°C]."""
    to_room: float = 0.0
    """In the last step [J]."""
    planned: float = 0.0
    """Meant to be drawn from the store in the last step [J]."""


def floor_of(underfloor, room):
    """Return a heated floor for the kernels, as warm as its room [°C].

    Parameters
    ----------
    underfloor : tlib.installation.Underfloor or None
        As read from a file.
    room : float
        [°C].

    Returns
    -------
    recarray of Floor
        One row, or none.
    """
    if underfloor is None:
        return records(Floor, [])
    return records(Floor, [Floor(
        area=underfloor.area, mixed=underfloor.mixed, limit=underfloor.limit,
        rate=underfloor.pump * SPECIFIC_HEAT, exchange=underfloor.area / underfloor.pipes,
        covering=underfloor.covering, capacity=underfloor.slab * underfloor.area, temperature=room,
    )])  # fmt: skip


@kernel
def step_floor(floor, loop, supply, is_on, room, step):
    """Plan a step of a heated floor: set its loop's flow and inlet, and what it gives to the room.

    The mixing valve blends store water into the floor's own return up to its setting; a cooler store is passed on
    as it is. A floor cooler than its room gives it nothing.

    Parameters
    ----------
    floor : record of Floor
        Brought to the end of the step.
    loop : record of Loop
        Its flow and inlet temperature are set.
    supply : float
        Store water on offer [°C].
    is_on : int
        Whether its pump runs.
    room, step : float
        [°C], and [s].
    """
    entry = min(floor.mixed, supply)
    loop.flow, floor.planned = 0.0, 0.0
    if is_on and floor.temperature < entry < floor.limit:
        back = floor.temperature + (entry - floor.temperature) * math.exp(-floor.exchange / floor.rate)
        heat = floor.rate * (entry - back)
        loop.flow, loop.inlet = heat / (SPECIFIC_HEAT * (supply - back)), back
        floor.planned = heat * step
    floor.to_room = floor.area * output_behind(floor.temperature - room, floor.covering) * step
    floor.temperature += (floor.planned - floor.to_room) / floor.capacity


@kernel
def settle_floor(floor, loop):
    """Set right the slab by what was in fact drawn from the store against what was planned."""
    floor.temperature -= (loop.heat + floor.planned) / floor.capacity
