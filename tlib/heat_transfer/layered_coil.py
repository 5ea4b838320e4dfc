"""A coil that heats or cools the layers of a store as its water passes them, and is changed by each in turn."""

from tlib.compiled import kernel
from tlib.heat_transfer.exchangers import effectiveness_isothermal

__all__ = ["SPECIFIC_HEAT", "march_coil", "outlet_line", "outlet_of_coil"]

SPECIFIC_HEAT = 4186.8
"""Specific heat of the water in the engine [J/(kg K)]: 1.163 Wh/(kg K)."""


@kernel
def _taken_up(conductance, rate, span, capacity):
    """Return the share of the difference between fluid and layer that the layer takes up, and that the fluid gives.

    Exact if only the coil acts on the layer; `rate` is the fluid's capacity rate [W/K].
    """
    share = effectiveness_isothermal(rate * effectiveness_isothermal(conductance, rate) * span, capacity)
    return share, share * capacity / (rate * span)


@kernel
def march_coil(layers, conductance, first, last, flow, inlet, span, capacity):
    """March a coil's water through the layers for a span of time; return its outlet [°C] and the heat it took [J].

    Layers change in place. With no flow nothing happens and the outlet is the layer where it would leave.
    """
    if flow <= 0.0 or span <= 0.0:
        return layers[last], 0.0
    rate, fluid, taken = flow * SPECIFIC_HEAT, inlet, 0.0
    share, given, seen = 0.0, 0.0, 0.0
    stride = 1 if last >= first else -1
    for i in range(first, last + stride, stride):
        if conductance[i] != seen:  # most layers of a coil are alike
            seen = conductance[i]
            share, given = _taken_up(seen, rate, span, capacity)
        gap = fluid - layers[i]
        layers[i] += gap * share
        fluid -= gap * given
        taken -= gap * share * capacity
    return fluid, taken


@kernel
def outlet_of_coil(layers, conductance, first, last, flow, inlet, span, capacity):
    """Return the outlet that `march_coil` would give [°C], leaving the layers alone."""
    if flow <= 0.0 or span <= 0.0:
        return layers[last]
    base, kept = outlet_line(layers, conductance, first, last, flow, span, capacity)
    return base + kept * inlet


@kernel
def outlet_line(layers, conductance, first, last, flow, span, capacity):
    """Return the outlet of a coil as a straight line of its inlet: what it is for an inlet of 0 °C, and its slope.

    For a flow above 0; both are of the layers as they stand.
    """
    rate, base, kept = flow * SPECIFIC_HEAT, 0.0, 1.0
    given, seen = 0.0, 0.0
    stride = 1 if last >= first else -1
    for i in range(first, last + stride, stride):
        if conductance[i] != seen:
            seen = conductance[i]
            _, given = _taken_up(seen, rate, span, capacity)
        base -= (base - layers[i]) * given
        kept -= kept * given
    return base, kept
