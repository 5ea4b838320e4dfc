"""A coil that heats or cools the layers of a store as its water passes them, and is changed by each in turn."""

from tlib.compiled import kernel
from tlib.heat_transfer.exchangers import effectiveness_isothermal

__all__ = ["SPECIFIC_HEAT", "march_coil", "outlet_of_coil"]

SPECIFIC_HEAT = 4186.8
"""Specific heat of the water in the engine [J/(kg K)]: 1.163 Wh/(kg K)."""


@kernel
def _exchange(layer, fluid, conductance, capacity_rate, span, capacity):
    """Return the rise of one layer and of the fluid passing it, exact if only the coil acts on the layer."""
    reach = capacity_rate * effectiveness_isothermal(conductance, capacity_rate)
    rise = (fluid - layer) * effectiveness_isothermal(reach * span, capacity)
    return rise, -rise * capacity / (capacity_rate * span)


@kernel
def march_coil(layers, conductance, first, last, flow, inlet, span, capacity):
    """March a coil's water through the layers for a span of time; return its outlet [°C] and the heat it took [J].

    Layers change in place. With no flow nothing happens and the outlet is the layer where it would leave.
    """
    if flow <= 0.0 or span <= 0.0:
        return layers[last], 0.0
    fluid = inlet
    taken = 0.0
    stride = 1 if last >= first else -1
    for i in range(first, last + stride, stride):
        rise, change = _exchange(layers[i], fluid, conductance[i], flow * SPECIFIC_HEAT, span, capacity)
        layers[i] += rise
        fluid += change
        taken -= rise * capacity
    return fluid, taken


@kernel
def outlet_of_coil(layers, conductance, first, last, flow, inlet, span, capacity):
    """Return the outlet that `march_coil` would give [°C], leaving the layers alone."""
    if flow <= 0.0 or span <= 0.0:
        return layers[last]
    fluid = inlet
    stride = 1 if last >= first else -1
    for i in range(first, last + stride, stride):
        _, change = _exchange(layers[i], fluid, conductance[i], flow * SPECIFIC_HEAT, span, capacity)
        fluid += change
    return fluid
