"""Mains water through the coil in the store, and the blending valve after it."""

from typing import NamedTuple

from tlib.compiled import kernel
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT, march_coil, outlet_of_coil
from tlib.stratification.column import layer_at, spanned_shares

__all__ = ["HotWater", "Tap", "coil_flow", "hot_water_of", "serve_taps"]


class HotWater(NamedTuple):
    """The hot-water coil's ends, and the blending valve; its conductance stands beside it, one number a layer."""

    first: int
    """Layer where the cold water enters."""
    last: int
    """Layer where it leaves."""
    cold: float
    """[°C]."""
    blending: float
    """The warmest water that the valve lets through [°C]."""


class Tap(NamedTuple):
    """A piece of time during which the taps together ask the same."""

    begins: float
    """[s]."""
    ends: float
    """[s]."""
    flow: float
    """Of blended water [kg/s]."""
    wanted: float
    """Its temperature [°C]."""


def hot_water_of(hot_water, layers):
    """Return the hot-water coil and valve for the kernels.

    Parameters
    ----------
    hot_water : tlib.installation.HotWater
        As read from a file.
    layers : int
        How many the store has.

    Returns
    -------
    (HotWater, ndarray (layer,))
        And the coil's conductance in each layer [W/K].
    """
    coil = hot_water.coil
    last = layer_at(coil.top, layers) if coil.top < 1.0 else layers - 1
    valve = HotWater(layer_at(coil.bottom, layers), last, hot_water.cold, hot_water.blending)
    return valve, coil.conductance * spanned_shares(coil.bottom, coil.top, layers)


@kernel
def serve_taps(layers, conductance, water, taps, piece, override, begins, step, capacity, row):
    """Serve the taps for a step; return the piece of the list of draws that is reached.

    Parameters
    ----------
    layers : ndarray, (layer,)
        [°C]; changed in place.
    conductance : ndarray, (layer,)
        Of the coil in each layer [W/K].
    water : HotWater
        Coil and valve.
    taps : recarray of Tap
        What the taps ask, piece by piece.
    piece : int
        The first that is not yet over.
    override : record
        Its ``mains`` say whether water comes at all, ``blends`` whether the blending valve mixes cold water in, and
        ``warmest`` what it lets through at most [°C].
    begins, step, capacity : float
        Start and length of the step [s], and the heat capacity of one layer [J/K].
    row : record
        Its ``hot_water`` and ``hot_water_short`` [J], ``tap_mass`` and ``coil_mass`` [kg], ``tap_warmth`` and
        ``coil_warmth`` (mass times temperature) grow by what was drawn.

    Returns
    -------
    int
        The piece to begin with next time.
    """
    while piece < taps.size and taps[piece].begins < begins + step:
        tap = taps[piece]
        span = min(tap.ends, begins + step) - max(tap.begins, begins)
        asked = tap.flow * span * SPECIFIC_HEAT * (tap.wanted - water.cold)
        flow = tap.flow * override.mains
        if override.mains and override.blends:
            wanted = min(tap.wanted, override.warmest)
            flow = coil_flow(layers, conductance, water, tap.flow, wanted, span, capacity)
        outlet, heat = march_coil(layers, conductance, water.first, water.last, flow, water.cold, span, capacity)
        row.hot_water -= heat
        row.hot_water_short += max(asked - heat, 0.0)
        if override.mains:
            row.tap_mass += tap.flow * span
            row.coil_mass += flow * span
            row.tap_warmth += span * (tap.flow * water.cold + flow * (outlet - water.cold))
            row.coil_warmth += span * tap.flow * outlet
        if tap.ends > begins + step:
            break
        piece += 1
    return piece


@kernel
def coil_flow(layers, conductance, water, flow, wanted, span, capacity):
    """Return the part of the tap's flow that must pass the coil [kg/s].

    The blending valve mixes coil water with cold until the tap is as warm as wanted; if the coil is not warm
    enough even then, everything goes through the coil.
    """
    asked = flow * (wanted - water.cold)
    low, high, side = 0.0, flow, 0
    low_miss, high_miss = asked, asked - _lift(layers, conductance, water, high, span, capacity)
    if high_miss >= 0.0:
        return flow
    guess = flow
    for _ in range(60):  # false position, each end's weight halved when it stays twice
        guess = (low * high_miss - high * low_miss) / (high_miss - low_miss)
        miss = asked - _lift(layers, conductance, water, guess, span, capacity)
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
def _lift(layers, conductance, water, flow, span, capacity):
    """Return what the coil would lift at a flow: flow times rise [kg K/s]."""
    outlet = outlet_of_coil(layers, conductance, water.first, water.last, flow, water.cold, span, capacity)
    return flow * (outlet - water.cold)
