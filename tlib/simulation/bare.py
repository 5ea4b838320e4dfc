"""A bare store: water, coils and elements at set flows and powers, without controls."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from tlib.compiled import engine, records
from tlib.heat_transfer.layered_coil import march_coil
from tlib.simulation.conditions import profile
from tlib.simulation.installed import steps_in
from tlib.simulation.results import Ledger, Result
from tlib.stratification.column import layer_at, spanned_shares
from tlib.thermal_store import Loop as LoopRow
from tlib.thermal_store import (
    advect,
    conduct_and_lose,
    find_own_levels,
    heat_elements,
    loop_at,
    loss_by_layer,
    merge,
    mix_jets,
    tank_of,
    work_for,
    write_down,
)
from tlib.validation import require

__all__ = ["Coil", "Element", "Loop", "run_store"]


@dataclass(frozen=True)
class Loop:
    """Water drawn at one height and returned at another, at a set temperature.

    Parameters
    ----------
    drawn_from, returned_to : float
        Heights, 0 to 1.
    flow : float
        Mass flow [kg/s].
    inlet : float
        Temperature of the water that comes back [°C].
    opening : float, optional
        Bore of the inlet, from which its jet follows [m]; 0 for no jet.
    exchange : float, optional
        Share of a jet's flow that is exchanged across each face within its reach [-]; to be calibrated.
    own_level : bool, optional
        Whether the water returns through a stratifying pipe, to the layer of its own temperature.
    """

    drawn_from: float
    returned_to: float
    flow: float
    inlet: float
    opening: float = 0.0
    exchange: float = 0.0
    own_level: bool = False


@dataclass(frozen=True)
class Coil:
    """A coil with a set flow, its water entering at one height and leaving at another.

    Parameters
    ----------
    enters, leaves : float
        Heights, 0 to 1.
    conductance : float
        Of the whole coil [W/K].
    flow : float
        Mass flow [kg/s].
    inlet : float
        [°C].
    """

    enters: float
    leaves: float
    conductance: float
    flow: float
    inlet: float


@dataclass(frozen=True)
class Element:
    """An immersion element that spans some height.

    Parameters
    ----------
    bottom, top : float
        Heights, 0 to 1.
    power : float
        [W].
    """

    bottom: float
    top: float
    power: float


def run_store(store, loops, coils=(), elements=(), start=20.0, duration=86_400.0, step=60.0, layers=50):
    """Run a bare store at set flows and powers.

    Parameters
    ----------
    store : tlib.installation.Store
        The tank; its connections and sensors are not used.
    loops : sequence of Loop
        Water through the store.
    coils : sequence of Coil, optional
        Closed coils in the store.
    elements : sequence of Element, optional
        Immersion elements.
    start : float or sequence, optional
        One temperature, or one a layer from the bottom [°C].
    duration, step : float, optional
        [s]; the duration a whole number of steps, the step 1 to 600 s.
    layers : int, optional
        How many.

    Returns
    -------
    Result
        With flows and powers named ``"loop 1"``, ``"coil 1"``, ``"element 1"``, … and ``"standing loss"``, powers
        counted into the store.

    Raises
    ------
    OutOfRange
        If a value cannot be.

    Examples
    --------
    >>> from tlib.installation import Store
    >>> tank = Store(volume="300 litre", height="1.26 m", wall={"material": "steel", "thickness": "3 mm"},
    ...              loss="1.85 W/K", room="15 degC")
    >>> night = run_store(tank, loops=(), start=80.0, duration=8 * 3600.0)
    >>> print(f"{night.layers[-1].mean():.1f} °C")
    77.3 °C
    """
    tank, count = tank_of(store, layers), steps_in(duration, step)
    log = np.empty((count + 1, layers))
    log[0] = profile(start, layers)
    heats = np.zeros((count, len(loops) + len(coils) + len(elements) + 1))
    _ENGINE(
        log[0].copy(), tank, loss_by_layer(store, layers), _loops(loops, layers), *_coils(coils, layers),
        *_elements(elements, layers), store.room, float(step), work_for(layers), log, heats,
    )  # fmt: skip
    names = [f"{kind} {i + 1}" for kind, rows in (("loop", loops), ("coil", coils), ("element", elements))
             for i in range(len(rows))] + ["standing loss"]  # fmt: skip
    flows = {name: np.full(count, row.flow) for name, row in zip(names, (*loops, *coils), strict=False)}
    return Result(
        time=step * np.arange(count + 1),
        layers=log,
        flows=flows,
        powers={name: heats[:, k] / step for k, name in enumerate(names)},
        ledger=Ledger(
            heats={name: float(np.sum(heats[:, k])) for k, name in enumerate(names)},
            stored=tank.capacity * float(np.sum(log[-1] - log[0])),
            held=tank.capacity * float(np.sum(log[0])),
        ),
    )


class CoilRow(NamedTuple):
    """A coil as the kernel needs it; its conductance stands beside it, one number a layer."""

    first: int
    """Layer where the water enters."""
    last: int
    """Layer where it leaves."""
    flow: float
    """[kg/s]."""
    inlet: float
    """[°C]."""


def _loops(loops, layers):
    for loop in loops:
        require(loop.flow, "the flow of a loop", "kg/s", at_least=0, at_most=10)
        require(loop.inlet, "the inlet temperature of a loop", "°C", at_least=0, at_most=150)
        require(loop.exchange, "the exchange of a jet", "", at_least=0, at_most=2)
        if loop.exchange:
            require(loop.opening, "the opening of a jet", "m", above=0, at_most=0.2)
    return records(LoopRow, [
        loop_at(loop.drawn_from, loop.returned_to, layers, own_level=loop.own_level, opening=loop.opening,
                exchange=loop.exchange)._replace(flow=loop.flow, inlet=loop.inlet)
        for loop in loops
    ])  # fmt: skip


def _coils(coils, layers):
    """Return the coils as a table, and the conductance of each in each layer [W/K]."""
    for coil in coils:
        require(coil.conductance, "the conductance of a coil", "W/K", at_least=0, at_most=50_000)
        require(coil.flow, "the flow of a coil", "kg/s", at_least=0, at_most=10)
        require(coil.inlet, "the inlet temperature of a coil", "°C", at_least=0, at_most=150)
    rows = [
        CoilRow(_end(coil.enters, coil.leaves, layers), _end(coil.leaves, coil.enters, layers), coil.flow, coil.inlet)
        for coil in coils
    ]
    shares = [coil.conductance * spanned_shares(*sorted((coil.enters, coil.leaves)), layers) for coil in coils]
    return records(CoilRow, rows), np.array(shares, dtype=float).reshape(len(coils), layers)


def _end(height, other, layers):
    """Return the layer in which a coil ends: a face belongs to the side where the coil is."""
    return layer_at(height, layers) if height < other else min(layer_at(max(height - 1e-6, 0.0), layers), layers - 1)


def _elements(elements, layers):
    """Return the part of each element in each layer [-], and their powers [W]."""
    for element in elements:
        require(element.power, "the power of an element", "W", at_least=0, at_most=100_000)
    shares = [spanned_shares(element.bottom, element.top, layers) for element in elements]
    powers = np.array([element.power for element in elements], dtype=float)
    return np.array(shares, dtype=float).reshape(len(elements), layers), powers


def march_bare(layers, tank, loss, loops, coils, conductance, shares, powers, room, step, work, log, heats):
    """Step a bare store; fill the log of temperatures and of heats [J] brought in by each part."""
    first_element = loops.size + coils.size
    for k in range(heats.shape[0]):
        for c in range(coils.size):
            coil = coils[c]
            _, taken = march_coil(layers, conductance[c], coil.first, coil.last, coil.flow, coil.inlet, step,
                                  tank.capacity)  # fmt: skip
            heats[k, loops.size + c] = -taken
        heat_elements(layers, shares, powers, step, tank.capacity)
        for e in range(powers.size):
            heats[k, first_element + e] = powers[e] * step
        find_own_levels(layers, loops)
        advect(layers, tank, loops, step, work)
        mix_jets(layers, tank, loops, step, work)
        for i in range(loops.size):
            heats[k, i] = loops[i].heat
        heats[k, heats.shape[1] - 1] = -conduct_and_lose(layers, tank, loss, room, step, work)
        merge(layers)
        write_down(log[k + 1], layers)


_ENGINE = engine(march_bare)
