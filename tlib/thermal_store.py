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
from tlib.stratification.column import layer_at
from tlib.validation import OutOfRange, require
from tlib.water_properties import bare_density

__all__ = [
    "Loop",
    "Tank",
    "advect",
    "conduct_and_lose",
    "find_own_levels",
    "heat_elements",
    "loop_at",
    "loss_by_layer",
    "merge",
    "mix_jets",
    "tank_of",
    "work_for",
    "write_down",
]  # fmt: skip

FILL_DENSITY = 999.7
"""Density of water at 10 °C [kg/m3], IAPWS R6-95: a layer keeps the mass with which it was filled."""

WALL_CONDUCTIVITY = {"steel": 50.0, "stainless steel": 15.0, "copper": 380.0}
"""[W/(m K)]; handbook values, from memory, within a tenth of the tables."""

WATER_CONDUCTIVITY = 0.651
"""Thermal conductivity of still water at 60 °C [W/(m K)], IAPWS R15-11."""

GRAVITY = 9.80665
RISE_OF_A_JET = 1.74
"""Rise of a jet against its weight, in bores and Froude numbers [-]: turbulent fountain, Turner 1966, from memory."""
FAR = 1e6
"""A reach beyond any store [m]."""


class Tank(NamedTuple):
    """A tank as the kernels need it; its standing loss stands beside it, one number a layer."""

    mass: float
    """Of one layer [kg]."""
    capacity: float
    """Heat capacity of one layer [J/K]."""
    link: float
    """Conductance through a face between neighbours, water and wall together [W/K]."""
    slice: float
    """Height of one layer [m]."""


class Loop(NamedTuple):
    """A circuit that draws water from one layer and returns it to another: a row of a table of `records`."""

    drawn_from: int
    """Layer number."""
    returned_to: int
    """Layer number; with `own_level`, set anew each step."""
    flow: float = 0.0
    """Mass flow through the step [kg/s]."""
    inlet: float = 0.0
    """Temperature of the water that enters the store [°C]."""
    heat: float = 0.0
    """Brought in by the step just done [J]."""
    leaving: float = 0.0
    """Temperature of the water that left in the last sub-step [°C]."""
    own_level: int = 0
    """Whether the water rises or sinks, unmixed, to where it belongs: a stratifying pipe."""
    home: int = 0
    """Layer of the connection itself."""
    opening: float = 0.0
    """Bore of the inlet, from which its jet follows [m]; 0 for no jet mixing."""
    exchange: float = 0.0
    """Share of a jet's flow that is exchanged across each face within its reach [-]; to be calibrated."""


FACE, CARRIED, SLOPE = range(3)
"""Rows of the working array: net upward flow through each face [kg/s]; what crosses each face; one number a layer."""


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
        Every layer alike.
    """
    require(layers, "layers", "", at_least=2, at_most=1000)
    if layers != int(layers):
        raise OutOfRange(f"layers must be a whole number; got {layers!r}.")
    area = store.volume / store.height
    girth = math.sqrt(4.0 * math.pi * area)
    slice_height = store.height / layers
    wall = WALL_CONDUCTIVITY[store.wall.material] * girth * store.wall.thickness
    mass = FILL_DENSITY * store.volume / layers
    return Tank(mass, mass * SPECIFIC_HEAT, (WATER_CONDUCTIVITY * area + wall) / slice_height, slice_height)


def loss_by_layer(store, layers):
    """Return the standing loss of each layer to the room.

    Parameters
    ----------
    store : tlib.installation.Store
        As read from a file.
    layers : int
        How many equal layers.

    Returns
    -------
    ndarray, (layers,)
        [W/K]: the shell's shared out by outer surface, sides to all and ends to the two end layers; the fittings'
        to the layers of the connections, or to the top where none is written.
    """
    area = store.volume / store.height
    outside = np.full(layers, math.sqrt(4.0 * math.pi * area) * store.height / layers)
    outside[[0, -1]] += area
    if not isinstance(store.loss, Insulation):
        return store.loss * outside / outside.sum()
    diameter = math.sqrt(4.0 * area / math.pi)
    shell = store_loss_coefficient(diameter, store.height, store.loss.insulation, store.loss.conductivity, 8.0)
    loss = shell * outside / outside.sum()
    places = [layer_at(height, layers) for height in store.connections.values()] or [layers - 1]
    np.add.at(loss, places, store.loss.fittings / len(places))
    return loss


def loop_at(drawn_from, returned_to, layers, *, own_level=False, opening=0.0, exchange=0.0):
    """Return a loop between two heights, without flow.

    Parameters
    ----------
    drawn_from, returned_to : float
        Heights, 0 to 1.
    layers : int
        How many the store has.
    own_level : bool, optional
        Whether the water returns through a stratifying pipe.
    opening, exchange : float, optional
        Bore of the inlet [m], and the share of its jet's flow that is exchanged across a face [-].

    Returns
    -------
    Loop
        A row for a table of loops.
    """
    drawn, home = layer_at(drawn_from, layers), layer_at(returned_to, layers)
    return Loop(drawn, home, own_level=int(own_level), home=home, opening=float(opening), exchange=float(exchange))


def work_for(layers):
    """Return the working array for a store of so many layers."""
    return np.zeros((3, layers + 1))


@kernel
def advect(layers, tank, loops, step, work):
    """Move water round every loop at once, in as many sub-steps as keep each below one layer's mass.

    Only the net flow crosses a face; the ports see the gross flows. A face carries the second-order upwind value
    with a monotonised-central slope and Courant correction, so that a front stays sharp and nothing overshoots.
    A loop's outlet is the layer's temperature at the start of each sub-step.
    """
    for k in range(loops.size):
        loops[k].heat = 0.0
    bottom, top = _reached(loops, layers.size)
    if top <= bottom:
        return
    most = _face_flows(loops, bottom, top, work)
    pieces = max(math.ceil(most * step / tank.mass - 1e-9), 1)
    part = step / pieces
    share = part / tank.mass
    water, slope = layers[bottom:top], work[SLOPE, bottom:top]
    face, carried = work[FACE, bottom : top + 1], work[CARRIED, bottom : top + 1]
    for _ in range(pieces):
        _set_slopes(water, slope)
        for k in range(loops.size):
            if loops[k].flow > 0.0:  # what leaves by a port and by a face must be the same water
                work[SLOPE, loops[k].drawn_from] = 0.0
                loops[k].leaving = layers[loops[k].drawn_from]
        _set_carried(water, slope, share, face, carried)
        for i in range(water.size):
            water[i] += share * (carried[i] - carried[i + 1])
        for k in range(loops.size):
            loop = loops[k]
            if loop.flow > 0.0:
                layers[loop.drawn_from] -= share * loop.flow * loop.leaving
                layers[loop.returned_to] += share * loop.flow * loop.inlet
                loop.heat += loop.flow * part * SPECIFIC_HEAT * (loop.inlet - loop.leaving)


@kernel
def _reached(loops, count):
    """Return the first layer, and the one behind the last, that moving water and its slopes depend on."""
    lowest, highest = count, -1
    for k in range(loops.size):
        if loops[k].flow > 0.0:
            lowest = min(lowest, min(loops[k].drawn_from, loops[k].returned_to))
            highest = max(highest, max(loops[k].drawn_from, loops[k].returned_to))
    return max(lowest - 1, 0), min(highest + 2, count) if highest >= 0 else 0


@kernel
def _face_flows(loops, bottom, top, work):
    """Fill in the net upward flow through each face; return the largest flow through a layer [kg/s]."""
    for i in range(bottom, top + 1):
        work[FACE, i] = 0.0
    for k in range(loops.size):
        low, high, flow = loops[k].drawn_from, loops[k].returned_to, -loops[k].flow
        if flow == 0.0:
            continue
        if low > high:
            low, high, flow = high, low, -flow
        between = work[FACE, low + 1 : high + 1]
        for i in range(between.size):
            between[i] += flow
    most = 0.0
    for k in range(loops.size):
        if loops[k].flow > 0.0:
            most = max(most, _through(loops, loops[k].returned_to, work), _through(loops, loops[k].drawn_from, work))
    return most


@kernel
def _through(loops, layer, work):
    """Return the flow through a layer: what comes in by its faces and ports [kg/s]."""
    flow = max(work[FACE, layer], 0.0) - min(work[FACE, layer + 1], 0.0)
    for k in range(loops.size):
        if loops[k].returned_to == layer:
            flow += loops[k].flow
    return flow


@kernel
def _set_slopes(water, slope):
    """Fill in each layer's monotonised-central slope, per layer; none at a crest, a dip or either end."""
    last = water.size - 1
    slope[0], slope[last] = 0.0, 0.0
    for i in range(1, last):
        below, above = water[i] - water[i - 1], water[i + 1] - water[i]
        least = min(2.0 * min(abs(below), abs(above)), 0.5 * abs(below + above))
        slope[i] = 0.5 * (math.copysign(1.0, below) + math.copysign(1.0, above)) * least


@kernel
def _set_carried(water, slope, share, face, carried):
    """Fill in what crosses each face, flow times temperature [kg K/s], upward positive."""
    carried[0], carried[water.size] = 0.0, 0.0
    for i in range(1, water.size):
        up, down = max(face[i], 0.0), min(face[i], 0.0)
        rising = water[i - 1] + 0.5 * (1.0 - up * share) * slope[i - 1]
        sinking = water[i] - 0.5 * (1.0 + down * share) * slope[i]
        carried[i] = up * rising + down * sinking


@kernel
def conduct_and_lose(layers, tank, loss, room, step, work):
    """Conduct between layers and lose heat to the room; return the heat lost [J].

    Explicit, in as many parts as keep the Fourier number of a layer at or below a quarter.
    """
    last = layers.size - 1
    worst = 2.0 * tank.link + max(loss[0], loss[last])
    parts = max(math.ceil(2.0 * worst * step / tank.capacity), 1)
    part = step / parts
    lost, carried, gone = 0.0, work[CARRIED], work[SLOPE]
    carried[0], carried[last + 1] = 0.0, 0.0
    for _ in range(parts):
        for i in range(1, layers.size):
            carried[i] = tank.link * (layers[i - 1] - layers[i])
        for i in range(layers.size):
            gone[i] = loss[i] * (layers[i] - room)
            layers[i] += part / tank.capacity * (carried[i] - carried[i + 1] - gone[i])
        lost += part * _sum_of(gone, layers.size)
    return lost


@kernel
def _sum_of(numbers, count):
    """Return the sum of the first numbers, added in four strands, as a processor can at once."""
    a, b, c, d = 0.0, 0.0, 0.0, 0.0
    for i in range(0, count - 3, 4):
        a, b, c, d = a + numbers[i], b + numbers[i + 1], c + numbers[i + 2], d + numbers[i + 3]
    for i in range(count - count % 4, count):
        a += numbers[i]
    return (a + b) + (c + d)


@kernel
def heat_elements(layers, shares, powers, step, capacity):
    """Heat the layers that each element spans, evenly.

    Parameters
    ----------
    layers : ndarray, (layer,)
        [°C]; changed in place.
    shares : ndarray, (element, layer)
        Part of each element in each layer [-].
    powers : ndarray, (element,)
        [W].
    step, capacity : float
        [s], and of one layer [J/K].
    """
    for e in range(powers.size):
        if powers[e] != 0.0:
            rise = powers[e] * step / capacity
            for i in range(layers.size):
                layers[i] += shares[e, i] * rise


@kernel
def find_own_levels(layers, loops):
    """Return each loop's water that comes through a stratifying pipe to the layer nearest to it in temperature."""
    for k in range(loops.size):
        if loops[k].own_level and loops[k].flow > 0.0:
            level = 0
            while level < layers.size - 1 and layers[level + 1] <= loops[k].inlet:
                level += 1
            if level < layers.size - 1 and layers[level + 1] - loops[k].inlet < abs(loops[k].inlet - layers[level]):
                level += 1
            loops[k].returned_to = level


@kernel
def mix_jets(layers, tank, loops, step, work):
    """Stir the store where a jet enters: an exchange across each face within the jet's reach.

    A jet that is lighter or heavier than the water round it rises or falls 1.74 bores times its Froude number, the
    height of a turbulent fountain; within that reach a share of its flow is exchanged across every face. The share
    is an assumption, to be calibrated against measurements.
    """
    for k in range(loops.size):
        loop = loops[k]
        if loop.exchange <= 0.0 or loop.flow <= 0.0:
            continue
        low, high = loop.returned_to, loop.returned_to
        while low > 0 and (loop.returned_to - low + 1) * tank.slice <= _reach(layers[low - 1], loop):
            low -= 1
        while high < layers.size - 1 and (high + 1 - loop.returned_to) * tank.slice <= _reach(layers[high + 1], loop):
            high += 1
        share = loop.exchange * loop.flow * step / tank.mass
        parts = max(math.ceil(4.0 * share), 1)
        for _ in range(parts):
            for i in range(low + 1, high + 1):
                work[CARRIED, i] = share / parts * (layers[i - 1] - layers[i])
            for i in range(low + 1, high + 1):
                layers[i - 1] -= work[CARRIED, i]
                layers[i] += work[CARRIED, i]


@kernel
def _reach(layer, loop):
    """Return how far a loop's jet rises or falls in water of a layer's temperature [m]; at one density, a store."""
    speed = loop.flow / (FILL_DENSITY * 0.25 * math.pi * loop.opening * loop.opening)
    lift = GRAVITY * abs(bare_density(loop.inlet) - bare_density(layer)) / FILL_DENSITY
    if lift <= 1e-9:
        return FAR
    return RISE_OF_A_JET * loop.opening * speed / math.sqrt(lift * loop.opening)


@kernel
def write_down(row, numbers):
    """Copy numbers into a row of a log."""
    for i in range(numbers.size):
        row[i] = numbers[i]


@kernel
def merge(layers):
    """Let water that lies below cooler water rise and mix with it, until no layer is hotter than the one above."""
    merge_inversions(layers)
