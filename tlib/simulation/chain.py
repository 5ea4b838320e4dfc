"""Which layer of the safety chain acted in a run, when, and at what temperature."""

from typing import NamedTuple

import numpy as np

from tlib.safety import LAYERS

__all__ = ["Acted", "layers_acted"]

CARRIES = 300.0
"""From here on a heat leak counts as carrying heat [W]."""


class Acted(NamedTuple):
    """A layer that acted."""

    number: str
    name: str
    time: float
    """When it first did [s]."""
    temperature: float
    """What it felt then [°C]."""


def layers_acted(result):
    """Return the layers of the safety chain that acted in a run, in the order in which they did.

    Parameters
    ----------
    result : Result
        Of a run with a burner.

    Returns
    -------
    tuple of Acted
        The first time of each: the charge pump when it moves heat; the heat leak when it carries heat and the pump does
        not; the dump when water flows through the heating for it; the thermal valve when it opens on heat; the vent at
        boiling; cut-outs and limits when they trip.
    """
    burner, top = result.readings["burner flow"], result.readings.get("store top", result.layers[:, -1])
    charging = result.flows["burner to store"] > 0.0
    hot = burner[:-1] >= 60.0
    firsts = {
        "1": (charging, burner),
        "2": (hot & ~charging & (result.powers["heat leak"] < -CARRIES), burner),
        "4": ((result.states["high limit"] > 0) & (result.flows["heating"] > 0.0),
              result.readings.get("store high limit", top)),
        "5": ((result.flows["tundish"] > 0.0) & (np.maximum(burner[:-1], top[:-1]) >= 90.0), np.maximum(burner, top)),
    }  # fmt: skip
    found = []
    for number, (acts, felt) in firsts.items():
        rows = np.flatnonzero(acts)
        if rows.size:
            found.append(Acted(number, LAYERS[number].name, float(result.time[rows[0]]), float(felt[rows[0]])))
    for event in result.events:
        number = "6" if event.name in ("boiled", "relief valve lifts") else "E" if event.name.endswith("trips") else ""
        if number and number not in [one.number for one in found]:
            found.append(Acted(number, LAYERS[number].name, event.time, event.temperature))
    return tuple(sorted(found, key=lambda one: one.time))
