"""What takes heat out of the store: radiators on the heating circuit, and taps through the hot-water coil."""

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from tlib.compiled import kernel
from tlib.heat_transfer import log_mean_excess
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT, outlet_of_coil
from tlib.heat_transfer.radiators import RATED_EXCESS, output, return_temperature
from tlib.stratification.column import layer_at, spanned_shares
from tlib.validation import require

__all__ = ["HotWater", "Radiators", "Taps", "coil_flow", "hot_water_of", "radiator_loop", "radiators_of", "taps_of"]

EXPONENT = 1.3
"""Radiator exponent [-], EN 442."""


class Radiators(NamedTuple):
    """Radiators as the kernels need them."""

    rated: float
    """Output at 50 K logarithmic mean excess [W]."""
    exponent: float
    most_flow: float
    """With every valve open [kg/s]."""
    room: float
    """[°C]."""


class HotWater(NamedTuple):
    """The hot-water coil and the blending valve."""

    conductance: np.ndarray
    """Of the coil in each layer [W/K], (layer,)."""
    first: int
    last: int
    cold: float
    blending: float


class Taps(NamedTuple):
    """What all taps ask together, in pieces of time during which it does not change."""

    begins: np.ndarray
    """[s], (piece,)."""
    ends: np.ndarray
    """[s], (piece,)."""
    flow: np.ndarray
    """Of blended water [kg/s], (piece,)."""
    wanted: np.ndarray
    """Its temperature [°C], (piece,)."""


def radiators_of(radiators):
    """Return a heating circuit's radiators for the kernels.

    Parameters
    ----------
    radiators : tlib.installation.Radiators
        Rated output at their own flow, return and room temperatures.

    Returns
    -------
    Radiators
        With the flow that the rating implies as the most.
    """
    excess = float(log_mean_excess(radiators.flow, radiators.back, radiators.room))
    return Radiators(
        rated=radiators.output * (RATED_EXCESS / excess) ** EXPONENT,
        exponent=EXPONENT,
        most_flow=radiators.output / (SPECIFIC_HEAT * (radiators.flow - radiators.back)),
        room=radiators.room,
    )


def hot_water_of(hot_water, layers):
    """Return the hot-water coil and valve for the kernels, for a store of so many layers."""
    coil = hot_water.coil
    return HotWater(
        conductance=coil.conductance * spanned_shares(coil.bottom, coil.top, layers),
        first=layer_at(coil.bottom, layers),
        last=layer_at(coil.top, layers) if coil.top < 1.0 else layers - 1,
        cold=hot_water.cold,
        blending=hot_water.blending,
    )


def taps_of(draws, cold, blending):
    """Return draws as pieces of time during which the taps ask the same.

    Parameters
    ----------
    draws : sequence of (time [s], volume [m3], temperature [°C], flow [kg/s])
        Each a draw-off; they may overlap.
    cold, blending : float
        Of the mains, and the highest that the blending valve lets through [°C].

    Returns
    -------
    Taps
        Flows of overlapping draws add up; their temperatures mix.
    """
    for _, volume, wanted, flow in draws:
        require(volume, "the volume of a draw", "m3", at_least=0, at_most=5)
        require(flow, "the flow of a draw", "kg/s", above=0, at_most=2)
        require(wanted, "the temperature of a draw", "°C", above=cold, at_most=blending)
    spans = [(time, time + 1000.0 * volume / flow, flow, wanted) for time, volume, wanted, flow in draws if volume > 0]
    marks = sorted({mark for begin, end, _, _ in spans for mark in (begin, end)})
    pieces = []
    for begin, end in pairwise(marks):
        on = [(flow, wanted) for starts, stops, flow, wanted in spans if starts <= begin and stops >= end]
        flow = sum(flow for flow, _ in on)
        if flow > 0:
            pieces.append((begin, end, flow, sum(flow * wanted for flow, wanted in on) / flow))
    return Taps(*np.array(pieces, dtype=float).reshape(-1, 4).T.copy())


@kernel
def radiator_loop(supply, demand, radiators):
    """Return the flow [kg/s] and the return temperature [°C] at which radiators give what is asked, or all they can.

    Thermostatic valves throttle the flow until the radiators give the demand; a cooler store needs more flow.

    Parameters
    ----------
    supply : float
        Temperature of the water sent out [°C].
    demand : float
        Heat wanted [W].
    radiators : Radiators
        Their numbers.

    Returns
    -------
    (float, float)
        Mass flow and return temperature; no flow if the water is no warmer than the room.
    """
    excess = supply - radiators.room
    if excess <= 0.0 or demand <= 0.0:
        return 0.0, supply
    if output(radiators.rated, excess, radiators.exponent) > demand:
        mean = RATED_EXCESS * (demand / radiators.rated) ** (1.0 / radiators.exponent)
        ratio = _ratio_for_mean(mean / excess)
        flow = demand / (SPECIFIC_HEAT * max(excess * (1.0 - ratio), 1e-9))
        if flow <= radiators.most_flow:
            return flow, radiators.room + excess * ratio
    rate = radiators.most_flow * SPECIFIC_HEAT
    back = return_temperature(radiators.rated, supply, radiators.room, rate, radiators.exponent)
    return radiators.most_flow, back


@kernel
def _mean_of_ratio(ratio):
    """Return the logarithmic mean of 1 and a ratio below 1."""
    gap = 1.0 - ratio
    if gap < 1e-6:
        return 1.0 - 0.5 * gap
    return gap / -math.log(ratio)


@kernel
def _ratio_for_mean(mean):
    """Return the ratio (0 to 1) whose logarithmic mean with 1 is as given."""
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        if middle > 0.0 and _mean_of_ratio(middle) > mean:
            high = middle
        else:
            low = middle
    return 0.5 * (low + high)


@kernel
def coil_flow(layers, hot_water, flow, wanted, span, capacity):
    """Return the part of the tap's flow that must pass the coil [kg/s].

    The blending valve mixes coil water with cold until the tap is as warm as wanted; if the coil is not warm
    enough even then, everything goes through the coil.
    """
    asked = flow * (wanted - hot_water.cold)
    low, high, side = 0.0, flow, 0
    low_miss, high_miss = asked, asked - _lift(layers, hot_water, high, span, capacity)
    if high_miss >= 0.0:
        return flow
    guess = flow
    for _ in range(60):  # false position, each end's weight halved when it stays twice
        guess = (low * high_miss - high * low_miss) / (high_miss - low_miss)
        miss = asked - _lift(layers, hot_water, guess, span, capacity)
        if abs(miss) <= 1e-10 * asked:
            break
        if miss > 0.0:
            low, low_miss = guess, miss
            high_miss = 0.5 * high_miss if side == 1 else high_miss
            side = 1
        else:
            high, high_miss = guess, miss
            low_miss = 0.5 * low_miss if side == -1 else low_miss
            side = -1
    return guess


@kernel
def _lift(layers, hot_water, flow, span, capacity):
    """Return what the coil would lift at a flow: flow times rise [kg K/s]."""
    outlet = outlet_of_coil(
        layers, hot_water.conductance, hot_water.first, hot_water.last, flow, hot_water.cold, span, capacity
    )
    return flow * (outlet - hot_water.cold)
