"""Logs tonight: the room left in a store, the kilos that fit into it, and the hours until it is full."""

import numpy as np

from tlib.combustion import logs_for_heat, net_calorific_value
from tlib.heat_transfer import stored_heat
from tlib.sizing.lines import Line, heat_line
from tlib.validation import require

__all__ = ["evening_working", "headroom", "logs_tonight", "time_until_full"]

KWH = 3.6e6


def headroom(volume, temperatures, limit):
    """Return the heat that a store can still take until it is at its limit all through.

    Parameters
    ----------
    volume : array_like
        Water in the store [m3]; 0 or more.
    temperatures : array_like
        One temperature, or equal layers along the last axis [°C]; 0 to 100.
    limit : array_like
        As hot as it may get [°C]; 0 to 100.

    Returns
    -------
    float or ndarray
        Heat [J], 0 or more, in the common shape of `volume`, `limit` and the layers' other axes.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A layer that is past the limit has no room, and it makes none smaller elsewhere: heat from the fire does not flow
    out of it. Taught constant, 1.163 Wh for each litre and kelvin; with the true density at 80 °C 2.8 % less.

    References
    ----------
    [EU 814/2013] annex I, energy content of hot water; the sum over layers needs no source.

    Examples
    --------
    >>> print(f"{headroom(volume=0.300, temperatures=50.0, limit=85.0) / 3.6e6:.1f} kWh")
    12.2 kWh
    >>> print(f"{headroom(0.300, [35.0, 60.0, 90.0], 85.0) / 3.6e6:.1f} kWh")
    8.7 kWh
    """
    layers = np.atleast_1d(require(temperatures, "temperature of the store", "°C", at_least=0, at_most=100))
    limit = require(limit, "limit", "°C", at_least=0, at_most=100)
    rise = np.mean(np.maximum(np.expand_dims(limit, -1) - layers, 0.0), axis=-1)
    return stored_heat(volume, rise)


def logs_tonight(room, moisture, efficiency, share):
    """Return the most logs that a store can take tonight.

    Parameters
    ----------
    room : array_like
        Heat that the store can still take, as from `headroom` [J]; 0 or more.
    moisture : array_like
        Water over the whole weight, wet basis [-]; 0 to 0.7.
    efficiency : array_like
        Useful heat over the heat in the logs [-]; above 0, no more than 1.
    share : array_like
        Heat to the water over useful heat [-]; above 0, no more than 1.

    Returns
    -------
    float or ndarray
        Logs as weighed [kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    No heat is counted as drawn while the fire burns: rooms may not want it, and pumps may stop. Round down.

    References
    ----------
    [EN 16510] heat to water and heat to room of a stove; the quotient needs no source.

    Examples
    --------
    >>> print(f"{logs_tonight(headroom(0.300, 50.0, 85.0), 0.20, 0.75, 0.65):.1f} kg")
    6.1 kg
    """
    return logs_for_heat(room, moisture, efficiency, share)


def time_until_full(room, power, drawn=0.0):
    """Return how long a steady power takes to fill the room left in a store.

    Parameters
    ----------
    room : array_like
        Heat that the store can still take, as from `headroom` [J]; 0 or more.
    power : array_like
        Heat that comes to the water [W]; above `drawn`.
    drawn : array_like, optional
        Heat that rooms and taps take meanwhile [W]; 0 or more.

    Returns
    -------
    float or ndarray
        Time [s], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    A real fire builds, burns and dies down, so its last hour brings less than its first. Heat lost through the
    insulation is left out; it is about a hundredth of a burner's power.

    References
    ----------
    [NIST SP 811] the units of power and heat; the quotient needs no source.

    Examples
    --------
    >>> print(f"{time_until_full(room=14.0 * 3.6e6, power=10e3) / 3600:.1f} h")
    1.4 h
    """
    room = require(room, "room in the store", "J", at_least=0)
    drawn = require(drawn, "heat drawn meanwhile", "W", at_least=0)
    left = require(require(power, "power to the water", "W") - drawn, "power beyond what is drawn", "W", above=0)
    return room / left


def evening_working(*, logs, moisture, efficiency, share, volume, store, limit):
    """Return the sum of an evening's fire, each line with its working: what the logs bring, and what fits.

    Parameters
    ----------
    logs : float
        In the basket [kg]; above 0.
    moisture, efficiency, share : float
        As in `logs_tonight` [-].
    volume : float
        Water in the store [m3].
    store, limit : float
        Its temperature at lighting, and as hot as it may get [°C].

    Returns
    -------
    tuple of Line
        Heat in one kilo, in the logs, useful, to the water, to the room; the room in the store; the logs that fit.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN ISO 18125] calorific value by moisture; [EU 814/2013] heat in water.

    Examples
    --------
    >>> lines = evening_working(
    ...     logs=8.0, moisture=0.20, efficiency=0.75, share=0.65, volume=0.300, store=35.0, limit=80.0)
    >>> print(f"{lines[3].name}: {lines[3].working} = {lines[3].says}")
    heat to the water: 24.5 × 0.65 = 15.9 kWh
    """
    logs = float(require(logs, "logs", "kg", above=0))
    kilo = float(net_calorific_value(moisture))
    room = float(headroom(volume, store, limit))
    fits = float(logs_tonight(room, moisture, efficiency, share))
    useful, water = logs * kilo * efficiency, logs * kilo * efficiency * share
    return (
        Line("heat in one kilo", "(19.0 × dry part − 2.44 × water part) ÷ 3.6",
             f"(19.0 × {1 - moisture:.2f} − 2.44 × {moisture:.2f}) ÷ 3.6", kilo, "J/kg", "kWh/kg"),
        heat_line("heat in the logs", "kilos × heat in one kilo", f"{logs:g} × {kilo / KWH:.2f}", logs * kilo),
        heat_line("useful heat", "heat in the logs × efficiency", f"{logs * kilo / KWH:.1f} × {efficiency:.2f}",
                  useful),
        heat_line("heat to the water", "useful heat × share to the water", f"{useful / KWH:.1f} × {share:.2f}", water),
        heat_line("heat to the room", "useful heat − heat to the water", f"{useful / KWH:.1f} − {water / KWH:.1f}",
              useful - water, 2),
        heat_line("room in the store", "litres × degrees still to go × 1.163 ÷ 1000",
              f"{1000 * volume:.0f} × {limit - store:.0f} × 1.163 ÷ 1000", room),
        Line("logs that fit", "room in the store ÷ heat to the water × kilos",
             f"{room / KWH:.1f} ÷ {water / KWH:.1f} × {logs:g}", fits, "kg", "kg", 2),
    )  # fmt: skip
