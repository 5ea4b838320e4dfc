"""A bare store: water, coils and elements at set flows and powers, without controls."""

from dataclasses import dataclass

import numpy as np

from tlib.compiled import engine
from tlib.heat_transfer.layered_coil import march_coil
from tlib.simulation.conditions import profile
from tlib.simulation.results import Ledger, Result
from tlib.stratification.column import layer_at, spanned_shares
from tlib.thermal_store import (
    Coils,
    Loops,
    advect,
    conduct_and_lose,
    merge,
    tank_of,
    work_for,
    write_down,
)
from tlib.validation import OutOfRange, require

__all__ = ["Coil", "Element", "Loop", "run_store", "steps_in"]


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
    """

    drawn_from: float
    returned_to: float
    flow: float
    inlet: float


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
    temperatures = profile(start, layers)
    log = np.empty((count + 1, layers))
    heats = np.zeros((count, len(loops) + len(coils) + len(elements) + 1))
    _ENGINE(
        temperatures, tank, _loops(loops, layers), _coils(coils, layers), _elements(elements, layers),
        store.room, float(step), work_for(layers, len(loops)), log, heats,
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


def steps_in(duration, step):
    """Return how many steps a duration holds; it must be a whole number of them."""
    require(step, "the step", "s", at_least=1, at_most=600)
    require(duration, "the duration", "s", at_least=step)
    count = round(duration / step)
    if abs(count * step - duration) > 1e-6 * step:
        raise OutOfRange(f"the duration must be a whole number of steps of {step:g} s; got {duration:g} s.")
    return count


def _loops(loops, layers):
    for loop in loops:
        require(loop.flow, "the flow of a loop", "kg/s", at_least=0, at_most=10)
        require(loop.inlet, "the inlet temperature of a loop", "°C", at_least=0, at_most=150)
    return Loops(
        np.array([layer_at(loop.drawn_from, layers) for loop in loops], dtype=np.int64),
        np.array([layer_at(loop.returned_to, layers) for loop in loops], dtype=np.int64),
        np.array([loop.flow for loop in loops], dtype=float),
        np.array([loop.inlet for loop in loops], dtype=float),
        np.zeros(len(loops)),
        np.zeros(len(loops)),
    )


def _coils(coils, layers):
    for coil in coils:
        require(coil.conductance, "the conductance of a coil", "W/K", at_least=0, at_most=50_000)
        require(coil.flow, "the flow of a coil", "kg/s", at_least=0, at_most=10)
        require(coil.inlet, "the inlet temperature of a coil", "°C", at_least=0, at_most=150)
    return Coils(
        np.array([coil.conductance * spanned_shares(*sorted((coil.enters, coil.leaves)), layers) for coil in coils],
                 dtype=float).reshape(len(coils), layers),
        np.array([_end(coil.enters, coil.leaves, layers) for coil in coils], dtype=np.int64),
        np.array([_end(coil.leaves, coil.enters, layers) for coil in coils], dtype=np.int64),
        np.array([coil.flow for coil in coils], dtype=float),
        np.array([coil.inlet for coil in coils], dtype=float),
    )  # fmt: skip


def _end(height, other, layers):
    """Return the layer in which a coil ends: a face belongs to the side where the coil is."""
    return layer_at(height, layers) if height < other else min(layer_at(max(height - 1e-6, 0.0), layers), layers - 1)


def _elements(elements, layers):
    for element in elements:
        require(element.power, "the power of an element", "W", at_least=0, at_most=100_000)
    shares = [element.power * spanned_shares(element.bottom, element.top, layers) for element in elements]
    return np.array(shares, dtype=float).reshape(len(elements), layers)


def march_bare(layers, tank, loops, coils, elements, room, step, work, log, heats):
    """Step a bare store; fill the log of temperatures and of heats [J] brought in by each part."""
    write_down(log[0], layers)
    first_coil, first_element = loops.flow.size, loops.flow.size + coils.flow.size
    for k in range(heats.shape[0]):
        for c in range(coils.flow.size):
            _, taken = march_coil(
                layers, coils.conductance[c], coils.first[c], coils.last[c], coils.flow[c], coils.inlet[c], step,
                tank.capacity,
            )  # fmt: skip
            heats[k, first_coil + c] = -taken
        for e in range(elements.shape[0]):
            for i in range(layers.size):
                layers[i] += elements[e, i] * step / tank.capacity
                heats[k, first_element + e] += elements[e, i] * step
        advect(layers, tank, loops, step, work)
        for i in range(first_coil):
            heats[k, i] = loops.heat[i]
        heats[k, heats.shape[1] - 1] = -conduct_and_lose(layers, tank, room, step, work)
        merge(layers, work)
        write_down(log[k + 1], layers)


_ENGINE = engine(march_bare)
