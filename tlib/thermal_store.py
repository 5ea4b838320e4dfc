"""The layered tank: what moves heat between its layers, and in and out of them.

A store is a stack of equal layers, counted from the bottom, each of fixed mass. Kernels work in place on an
array of layer temperatures [°C] and return the heat that they moved [J], with the very number that changed a
layer, so that the books balance. The fixed order of a step stands in `tlib.simulation`.
"""

import math
from typing import NamedTuple

import numpy as np

from tlib.compiled import kernel
from tlib.heat_transfer import store_loss_coefficient
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.installation import Insulation
from tlib.stratification import merge_inversions
from tlib.validation import OutOfRange, require

__all__ = [
    "Coils",
    "Loops",
    "Tank",
    "Work",
    "advect",
    "conduct_and_lose",
    "merge",
    "tank_of",
    "work_for",
    "write_down",
]

FILL_DENSITY = 999.7
"""Density of water at 10 °C [kg/m3], IAPWS R6-95: a layer keeps the mass with which it was filled."""

WALL_CONDUCTIVITY = {"steel": 50.0, "stainless steel": 15.0, "copper": 380.0}
"""[W/(m K)]; handbook values, from memory, within a tenth of the tables."""

WATER_CONDUCTIVITY = 0.651
"""Thermal conductivity of still water at 60 °C [W/(m K)], IAPWS R15-11."""


class Tank(NamedTuple):
    """A tank as the kernels need it."""

    mass: float
    """Of one layer [kg]."""
    capacity: float
    """Heat capacity of one layer [J/K]."""
    link: float
    """Conductance through a face between neighbours, water and wall together [W/K]."""
    loss: np.ndarray
    """Of each layer to the room, (layer,) [W/K]."""


class Loops(NamedTuple):
    """Circuits that draw water from one layer and return it to another."""

    drawn_from: np.ndarray
    """Layer numbers, (loop,)."""
    returned_to: np.ndarray
    """Layer numbers, (loop,)."""
    flow: np.ndarray
    """Mass flows through the step, (loop,) [kg/s]."""
    inlet: np.ndarray
    """Temperature of the water that enters the store, (loop,) [°C]."""
    heat: np.ndarray
    """Heat brought in by the step just done, (loop,) [J]."""
    outlet: np.ndarray
    """Mean temperature of the water that left in the step just done, (loop,) [°C]."""


class Coils(NamedTuple):
    """Closed coils in the store, marched from the end where their water enters."""

    conductance: np.ndarray
    """Of each coil in each layer, (coil, layer) [W/K]."""
    first: np.ndarray
    """Layer where the water enters, (coil,)."""
    last: np.ndarray
    """Layer where the water leaves, (coil,)."""
    flow: np.ndarray
    """Mass flows, (coil,) [kg/s]."""
    inlet: np.ndarray
    """[°C], (coil,)."""


class Work(NamedTuple):
    """Room to work in, made once so that a step makes nothing."""

    face: np.ndarray
    """Net upward flow through each face, the outer two included, (layer + 1,) [kg/s]."""
    gross: np.ndarray
    """Flow that loops bring into each layer, (layer + 1,) [kg/s]."""
    carried: np.ndarray
    """What crosses each face; the outer two stay 0, (layer + 1,)."""
    slope: np.ndarray
    """One number a layer, (layer,)."""
    leaving: np.ndarray
    """One number a loop, (loop,)."""
    sums: np.ndarray
    sizes: np.ndarray


def tank_of(store, layers):
    """Return a store's numbers for the kernels.

    Parameters
    ----------
    store : tlib.installation.Store
        As read from a file.
    layers : int
        How many equal layers, 2 to 1000.

    Returns
    -------
    Tank
        With the standing loss shared out by outer surface: sides to all, ends to the two end layers.
    """
    require(layers, "layers", "", at_least=2, at_most=1000)
    if layers != int(layers):
        raise OutOfRange(f"layers must be a whole number; got {layers!r}.")
    area = store.volume / store.height
    girth = math.sqrt(4.0 * math.pi * area)
    slice_height = store.height / layers
    wall = WALL_CONDUCTIVITY[store.wall.material] * girth * store.wall.thickness
    outside = np.full(layers, girth * slice_height)
    outside[[0, -1]] += area
    mass = FILL_DENSITY * store.volume / layers
    return Tank(
        mass=mass,
        capacity=mass * SPECIFIC_HEAT,
        link=(WATER_CONDUCTIVITY * area + wall) / slice_height,
        loss=_standing_loss(store) * outside / outside.sum(),
    )


def _standing_loss(store):
    if not isinstance(store.loss, Insulation):
        return store.loss
    diameter = math.sqrt(4.0 * store.volume / store.height / math.pi)
    shell = store_loss_coefficient(diameter, store.height, store.loss.insulation, store.loss.conductivity, 8.0)
    return shell + store.loss.fittings


def work_for(layers, loops=2):
    """Return the working arrays for a store of so many layers and loops."""
    face, gross, carried = (np.zeros(layers + 1) for _ in range(3))
    return Work(face, gross, carried, np.zeros(layers), np.zeros(loops), np.zeros(layers), np.zeros(layers, np.int64))


@kernel
def advect(layers, tank, loops, step, work):
    """Move water round every loop at once, in as many sub-steps as keep each below one layer's mass.

    Only the net flow crosses a face; the ports see the gross flows. A face carries the second-order upwind value
    with a monotonised-central slope and Courant correction, so that a front stays sharp and nothing overshoots.
    A loop's outlet is the layer's temperature at the start of each sub-step.
    """
    total = 0.0
    for k in range(loops.flow.size):
        loops.heat[k], loops.outlet[k] = 0.0, 0.0
        total += loops.flow[k]
    if total <= 0.0:
        return
    most = _face_flows(loops, work)
    pieces = max(math.ceil(most * step / tank.mass - 1e-9), 1)
    part = step / pieces
    share = part / tank.mass
    for _ in range(pieces):
        _set_slopes(layers, work.slope)
        for k in range(loops.flow.size):
            work.slope[loops.drawn_from[k]] = 0.0  # what leaves by a port and by a face must be the same water
        _set_carried(layers, share, work)
        for k in range(loops.flow.size):
            work.leaving[k] = layers[loops.drawn_from[k]]
        for i in range(layers.size):
            layers[i] += share * (work.carried[i] - work.carried[i + 1])
        for k in range(loops.flow.size):
            flow, inlet, leaving = loops.flow[k], loops.inlet[k], work.leaving[k]
            layers[loops.drawn_from[k]] -= share * flow * leaving
            layers[loops.returned_to[k]] += share * flow * inlet
            loops.heat[k] += flow * part * SPECIFIC_HEAT * (inlet - leaving)
            loops.outlet[k] += leaving / pieces


@kernel
def _face_flows(loops, work):
    """Fill `work.face` with the net upward flow through each face; return the largest flow through a layer."""
    count = work.slope.size
    for i in range(count + 1):
        work.face[i], work.gross[i] = 0.0, 0.0
    most = 0.0
    for k in range(loops.flow.size):
        low, high, sign = loops.drawn_from[k], loops.returned_to[k], -1.0
        work.gross[high] += loops.flow[k]
        if low > high:
            low, high, sign = high, low, 1.0
        for i in range(low + 1, high + 1):
            work.face[i] += sign * loops.flow[k]
    for i in range(count):
        most = max(most, work.gross[i] + max(work.face[i], 0.0) - min(work.face[i + 1], 0.0))
    return most


@kernel
def _set_slopes(layers, slope):
    """Fill in each layer's monotonised-central slope, per layer; none at a crest, a dip or an end."""
    last = layers.size - 1
    slope[0], slope[last] = 0.0, 0.0
    for i in range(1, last):
        below, above = layers[i] - layers[i - 1], layers[i + 1] - layers[i]
        least = min(2.0 * min(abs(below), abs(above)), 0.5 * abs(below + above))
        slope[i] = 0.5 * (math.copysign(1.0, below) + math.copysign(1.0, above)) * least


@kernel
def _set_carried(layers, share, work):
    """Fill in what crosses each face, flow times temperature [kg K/s], upward positive; nothing at the two ends."""
    for i in range(1, layers.size):
        up, down = max(work.face[i], 0.0), min(work.face[i], 0.0)
        rising = layers[i - 1] + 0.5 * (1.0 - up * share) * work.slope[i - 1]
        sinking = layers[i] - 0.5 * (1.0 + down * share) * work.slope[i]
        work.carried[i] = up * rising + down * sinking


@kernel
def conduct_and_lose(layers, tank, room, step, work):
    """Conduct between layers and lose heat to the room; return the heat lost [J].

    Explicit, in as many parts as keep the Fourier number of a layer at or below a quarter.
    """
    last = layers.size - 1
    worst = 2.0 * tank.link + max(tank.loss[0], tank.loss[last])
    parts = max(math.ceil(2.0 * worst * step / tank.capacity), 1)
    part = step / parts
    lost = 0.0
    for _ in range(parts):
        for i in range(1, layers.size):
            work.carried[i] = tank.link * (layers[i - 1] - layers[i])
        for i in range(layers.size):
            work.slope[i] = tank.loss[i] * (layers[i] - room)
            layers[i] += part / tank.capacity * (work.carried[i] - work.carried[i + 1] - work.slope[i])
        for i in range(layers.size):
            lost += work.slope[i] * part
    return lost


@kernel
def write_down(row, layers):
    """Copy the layers into a row of a log."""
    for i in range(layers.size):
        row[i] = layers[i]


@kernel
def merge(layers, work):
    """Let water that lies below cooler water rise and mix with it, until no layer is hotter than the one above."""
    merge_inversions(layers, work.sums, work.sizes)
