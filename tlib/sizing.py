"""Sizes from a few readings: room left in a store, logs tonight, hours until full, and the store that a fire needs.

Each sum can also be had with its working: a `Line` names a step, says its rule in words and in numbers, and holds its
value. Panels and papers print these lines, so nothing that a learner reads is worked twice.
"""

from dataclasses import dataclass

import numpy as np

from tlib import units
from tlib.combustion import buffer_volume, logs_for_heat, net_calorific_value
from tlib.heat_transfer import stored_heat
from tlib.validation import require

__all__ = [
    "SMALLEST_BUFFER",
    "Line",
    "buffer_is_enough",
    "buffer_working",
    "evening_working",
    "headroom",
    "least_buffer",
    "logs_tonight",
    "time_until_full",
]

SMALLEST_BUFFER = 0.300
"""What a hand-fired boiler gets at least, whatever the formula says [m3]; common practice."""
KWH = 3.6e6


@dataclass(frozen=True)
class Line:
    """One step of a sum, with its working.

    Parameters
    ----------
    name : str
        What the step works out: "heat in the logs".
    rule : str
        The sum in words: "kilos × heat in one kilo".
    working : str
        The sum in numbers, in the units that are written: "8 × 4.09".
    value : float
        What it gives [`unit`].
    unit : str
        The SI unit of the value; a key of `tlib.units.SI_UNITS`.
    wanted : str
        The unit in which people write it, such as "kWh".
    figures : int, optional
        How many significant figures people write.

    Examples
    --------
    >>> print(Line("heat in the logs", "kilos × heat in one kilo", "8 × 4.09", 117.8e6, "J", "kWh").says)
    32.7 kWh
    """

    name: str
    rule: str
    working: str
    value: float
    unit: str
    wanted: str
    figures: int = 3

    @property
    def says(self):
        """The value as people write it."""
        return units.write(self.value, self.unit, self.wanted, figures=self.figures)


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


def least_buffer(burn_time, rated, house, turn_down, smallest=SMALLEST_BUFFER):
    """Return the least store for a hand-fired burner: the standard's formula, and never under a usual size.

    Parameters
    ----------
    burn_time, rated, house, turn_down : array_like
        As in `tlib.combustion.buffer_volume` [s, W, W, W].
    smallest : array_like, optional
        The size that is kept to where the formula gives less [m3]; 0 or more.

    Returns
    -------
    float or ndarray
        Volume [m3], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers; the usual smallest size is common practice.

    Examples
    --------
    >>> print(f"{1000 * least_buffer(3 * 3600.0, 10e3, 6e3, 5e3):.0f} l, the formula alone gives 288 l")
    300 l, the formula alone gives 288 l
    """
    smallest = require(smallest, "smallest store", "m3", at_least=0)
    return np.maximum(buffer_volume(burn_time, rated, house, turn_down), smallest)


def buffer_is_enough(volume, burn_time, rated, house, turn_down):
    """Return whether a store is as big as a hand-fired burner needs.

    Parameters
    ----------
    volume : array_like
        Of the store [m3]; 0 or more.
    burn_time, rated, house, turn_down : array_like
        As in `tlib.combustion.buffer_volume` [s, W, W, W].

    Returns
    -------
    bool or ndarray of bool
        In the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    Notes
    -----
    Held against `least_buffer`. Local code and the burner's instructions may ask for more.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers.

    Examples
    --------
    >>> print(buffer_is_enough(0.300, 3 * 3600.0, 10e3, 6e3, 5e3), buffer_is_enough(0.300, 3 * 3600.0, 10e3, 6e3, 10e3))
    True False
    """
    return require(volume, "volume", "m3", at_least=0) >= least_buffer(burn_time, rated, house, turn_down)


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
        _heat("heat in the logs", "kilos × heat in one kilo", f"{logs:g} × {kilo / KWH:.2f}", logs * kilo),
        _heat("useful heat", "heat in the logs × efficiency", f"{logs * kilo / KWH:.1f} × {efficiency:.2f}", useful),
        _heat("heat to the water", "useful heat × share to the water", f"{useful / KWH:.1f} × {share:.2f}", water),
        _heat("heat to the room", "useful heat − heat to the water", f"{useful / KWH:.1f} − {water / KWH:.1f}",
              useful - water, 2),
        _heat("room in the store", "litres × degrees still to go × 1.163 ÷ 1000",
              f"{1000 * volume:.0f} × {limit - store:.0f} × 1.163 ÷ 1000", room),
        Line("logs that fit", "room in the store ÷ heat to the water × kilos",
             f"{room / KWH:.1f} ÷ {water / KWH:.1f} × {logs:g}", fits, "kg", "kg", 2),
    )  # fmt: skip


def _heat(name, rule, working, value, figures=3):
    return Line(name, rule, working, float(value), "J", "kWh", figures)


def buffer_working(*, volume, burn_time, rated, house, turn_down):
    """Return the check of a store's size against the standard's formula, each line with its working.

    Parameters
    ----------
    volume, burn_time, rated, house, turn_down : float
        As in `buffer_is_enough` [m3, s, W, W, W].

    Returns
    -------
    tuple of Line
        What the house spares, the formula's volume, the least store, and the store beyond it.

    Raises
    ------
    OutOfRange
        If an input is outside its range, or is not finite.

    References
    ----------
    [EN 303-5] buffer volume for hand-fired boilers.

    Examples
    --------
    >>> lines = buffer_working(volume=0.300, burn_time=3 * 3600.0, rated=10e3, house=6e3, turn_down=5e3)
    >>> print(f"{lines[1].working} = {lines[1].says}")
    15 × 3 × 10 × (1 − 0.36) = 288 litre
    """
    volume = float(require(volume, "volume", "m3", at_least=0))
    formula = float(buffer_volume(burn_time, rated, house, turn_down))
    least = float(least_buffer(burn_time, rated, house, turn_down))
    spared, kilowatts = 0.3 * house / turn_down, rated / 1000
    return (
        Line("what the house spares", "0.3 × heat load of the house ÷ least output",
             f"0.3 × {house / 1000:g} ÷ {turn_down / 1000:g}", spared, "1", "", 2),
        Line("volume by the formula", "15 × hours × rated output × (1 − what the house spares)",
             f"15 × {burn_time / 3600:g} × {kilowatts:g} × (1 − {spared:.2f})", formula, "m3", "litre"),
        Line("least store", "the greater of the formula and 300 litres",
             f"the greater of {1000 * formula:.0f} and {1000 * SMALLEST_BUFFER:.0f}", least, "m3", "litre"),
        Line("the store beyond it", "volume of the store − least store",
             f"{1000 * volume:.0f} − {1000 * least:.0f}", volume - least, "m3", "litre"),
    )  # fmt: skip
