"""Mains water through the coil in the store, and the blending valve after it."""

from typing import NamedTuple

import numpy as np

from tlib.compiled import kernel
from tlib.heat_transfer.layered_coil import outlet_of_coil
from tlib.stratification.column import layer_at, spanned_shares

__all__ = ["HotWater", "coil_flow", "hot_water_of"]


class HotWater(NamedTuple):
    """The hot-water coil and the blending valve."""

    conductance: np.ndarray
    """Of the coil in each layer [W/K], (layer,)."""
    first: int
    last: int
    cold: float
    blending: float


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
