"""The fire: batches of logs, each burning on the fire's own clock, which the air setting drives."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from tlib.combustion import bare_burnt_share_with_embers, net_calorific_value, time_scale_with_embers
from tlib.compiled import kernel, records
from tlib.validation import require

__all__ = ["Batch", "batches_of", "burn", "fire_clock"]

SHAPE = 1.8
"""Shape of the burn curve [-]: slow to catch, then strong. Common practice, no source."""
SLOWER = 2.0
"""How much longer the embers take than the flames [-]. Common practice, no source."""
BURNT_OUT = 12.0
"""Age, in time scales, at which the last ten-thousandth of a batch is let go."""
AIR_COSTS = 0.08
"""Efficiency lost for each unit of air setting off the rated one [-]. Common practice, no source."""
DRY_ENOUGH = 0.20
"""Moisture, wet basis, at which a burner is rated [-]."""


class Batch(NamedTuple):
    """One load of logs."""

    lit: float
    """When it caught, on the fire's clock [s]."""
    heat: float
    """Net calorific value of the whole batch [J]."""
    useful: float
    """Share of the heat that reaches water and room, at the rated air [-]."""
    time_scale: float
    """Of its burn [s]."""
    embers: float
    """Share that burns as embers [-]."""
    given: float = 0.0
    """Heat it has given so far [J]."""


def fire_clock(air, time):
    """Return the fire's own time: it runs as fast as the air lets it.

    Parameters
    ----------
    air : sequence of (time [s], setting)
        From each time on, the air setting, 1 at the rated burn; 1 before the first.
    time : array_like
        [s].

    Returns
    -------
    ndarray
        [s], in the shape of `time`.

    Examples
    --------
    >>> fire_clock([(3600.0, 0.5)], [1800.0, 3600.0, 7200.0]).tolist()
    [1800.0, 3600.0, 5400.0]
    """
    begins = np.array([0.0, *(row[0] for row in air)])
    settings = np.array([1.0, *(row[1] for row in air)])
    read = np.concatenate([[0.0], np.cumsum(np.diff(begins) * settings[:-1])])
    time = np.asarray(time, dtype=float)
    place = np.searchsorted(begins, time, side="right") - 1
    return read[place] + settings[place] * (time - begins[place])


def batches_of(firing, air, burner):
    """Return batches of logs for the kernels, in the order in which they are lit.

    Parameters
    ----------
    firing : sequence of (time [s], kilos, moisture)
        Moisture on the wet basis [-].
    air : sequence of (time [s], setting)
        As in `fire_clock`.
    burner : tlib.installation.Burner
        Its efficiency, burn time and ways with damp wood.

    Returns
    -------
    recarray of Batch
        One row a batch.

    Raises
    ------
    OutOfRange
        If a batch cannot be.
    """
    rows = sorted(tuple(batch)[:3] for batch in firing)
    if not rows:
        return records(Batch, [])
    kilos = require([row[1] for row in rows], "logs", "kg", at_least=0, at_most=200)
    moisture = np.array([row[2] for row in rows], dtype=float)
    heat = kilos * net_calorific_value(moisture)
    damp = np.maximum(moisture - DRY_ENOUGH, 0.0)
    lost, slower = (burner.damp_wood.efficiency_lost, burner.damp_wood.slower) if burner.damp_wood else (0.0, 0.0)
    useful = np.maximum(burner.efficiency - lost * damp, 0.0)
    scale = _time_scale(burner.burn_time, burner.embers) * (1.0 + slower * damp)
    lit = fire_clock(air, [row[0] for row in rows])
    return records(Batch, zip(lit, heat, useful, scale, np.full(len(rows), burner.embers), np.zeros(len(rows)),
                              strict=True))  # fmt: skip


@lru_cache
def _time_scale(burn_time, embers):
    return float(time_scale_with_embers(burn_time, SHAPE, embers, SLOWER))


@kernel
def burn(batches, alive, now, air):
    """Let every batch burn on to a time on the fire's clock.

    Parameters
    ----------
    batches : recarray of Batch
        What each has given is brought up to date.
    alive : int
        The first batch that is not burnt out.
    now, air : float
        Time on the fire's clock [s], and the air setting [-].

    Returns
    -------
    (float, float, int)
        Heat given since the last call and the useful part of it [J], and the first batch that still burns.
    """
    given, useful = 0.0, 0.0
    for i in range(alive, batches.size):
        batch = batches[i]
        age = now - batch.lit
        if age <= 0.0:
            break
        share = 1.0
        if age < BURNT_OUT * batch.time_scale:
            share = bare_burnt_share_with_embers(age, batch.time_scale, SHAPE, batch.embers, SLOWER)
        elif i == alive:
            alive += 1
        part = batch.heat * share - batch.given
        batch.given += part
        given += part
        useful += part * max(batch.useful - AIR_COSTS * abs(air - 1.0), 0.0)
    return given, useful, alive
