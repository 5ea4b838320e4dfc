"""The heat a store holds, and how it leaks away while nobody uses any."""

import numpy as np

from tlib.compiled import kernel
from tlib.validation import require

__all__ = [
    "WATER_HEAT",
    "cool_down",
    "cooling_loss_coefficient",
    "label_loss_coefficient",
    "standing_loss",
    "stored_heat",
    "time_constant",
]

WATER_HEAT = 4_186_800.0
"""The taught constant: 1.163 Wh for each litre and kelvin, in J/(m3 K)."""


@kernel
def decayed(start, room, ratio):
    """Return a temperature after it has sunk towards the room for `ratio` time constants; numbers are not checked."""
    return room + (start - room) * np.exp(-ratio)


def stored_heat(volume, rise):
    """Return the heat that lifts water by so many degrees, as the taught sum does it.

    Parameters
    ----------
    volume : array_like
        Water [m3]; 0 or more.
    rise : array_like
        How much warmer it gets [K]; -100 to 100, below 0 where it cools.

    Returns
    -------
    float or ndarray
        Heat [J], in the common shape of the inputs; below 0 where the water gives heat up.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    1.163 Wh for each litre and kelvin, that is one litre counted as one kilogram of 4.1868 kJ/(kg K). Hot water is
    lighter: with the true density at 80 °C the sum is 2.8 % smaller.

    References
    ----------
    [EU 814/2013] annex I, energy content of hot water; the constant is common practice.

    Examples
    --------
    >>> print(f"{stored_heat(volume=0.300, rise=40.0) / 3.6e6:.2f} kWh")
    13.96 kWh
    """
    volume = require(volume, "volume", "m3", at_least=0)
    rise = require(rise, "rise in temperature", "K", at_least=-100, at_most=100)
    return WATER_HEAT * volume * rise


def standing_loss(loss_coefficient, store, room):
    """Return the heat that leaks from a store, in watts.

    Parameters
    ----------
    loss_coefficient : array_like
        Loss coefficient of the store [W/K]; 0 or more.
    store, room : array_like
        Mean store water, and the room it stands in [°C]; -40 to 110.

    Returns
    -------
    float or ndarray
        Loss [W] in the common shape of the inputs; below 0 where the room is the warmer one.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [EU 812/2013] annex I, standing loss; straight-line scaling is common practice.

    Examples
    --------
    >>> print(f"{standing_loss(2000 / 24 / 45, store=80.0, room=15.0):.0f} W")
    120 W
    """
    loss_coefficient = require(loss_coefficient, "loss coefficient", "W/K", at_least=0)
    return loss_coefficient * (_store(store) - _room(room))


def label_loss_coefficient(loss, store=65.0, room=20.0):
    """Return a store's loss coefficient from the standing loss on its label.

    Parameters
    ----------
    loss : array_like
        Standing loss of the test [W]; 0 or more. A label in kWh for 24 hours: times 1000, over 24.
    store, room : array_like, optional
        The test's temperatures [°C]; 65 and 20 by the European label, the store above the room.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The test has no pipes on the store. A store as it is plumbed loses more: `cooling_loss_coefficient` finds it.

    References
    ----------
    [EU 812/2013] annexes I and VII.

    Examples
    --------
    >>> print(f"{label_loss_coefficient(2000 / 24):.2f} W/K")
    1.85 W/K
    """
    loss = require(loss, "standing loss", "W", at_least=0)
    excess = require(_store(store) - _room(room), "store less room", "K", above=0)
    return loss / excess


def cooling_loss_coefficient(volume, start, end, room, duration):
    """Return a store's loss coefficient from a test in which it is left to cool.

    Parameters
    ----------
    volume : array_like
        Water in the store [m3]; above 0.
    start, end : array_like
        Mean store temperature before and after [°C]; both above the room, the end not above the start.
    room : array_like
        The room meanwhile [°C].
    duration : array_like
        How long it stood [s]; above 0.

    Returns
    -------
    float or ndarray
        Loss coefficient [W/K] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Take the mean of all layers, not the top sensor. No fire, no draw, pumps off, and stop gravity in the pipes, or
    it counts as loss. The metal's heat is left out, about 2 %.

    References
    ----------
    [Incropera] equation 5.6, solved for the conductance.

    Examples
    --------
    >>> print(f"{cooling_loss_coefficient(0.300, 75.0, 71.2, room=18.0, duration=10 * 3600):.2f} W/K")
    2.41 W/K
    """
    volume = require(volume, "volume", "m3", above=0)
    duration = require(duration, "duration", "s", above=0)
    room = _room(room)
    before = require(_store(start) - room, "start less room", "K", above=0)
    after = require(_store(end, "end temperature") - room, "end less room", "K", above=0)
    require(before - after, "start less end", "K", at_least=0)
    return WATER_HEAT * volume / duration * np.log(before / after)


def time_constant(volume, loss_coefficient):
    """Return the time constant of a store that cools: after it 37 % of the excess is left.

    Parameters
    ----------
    volume : array_like
        Water in the store [m3]; above 0.
    loss_coefficient : array_like
        Loss coefficient [W/K]; above 0.

    Returns
    -------
    float or ndarray
        Time constant [s] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    References
    ----------
    [Incropera] equation 5.7.

    Examples
    --------
    >>> print(f"{time_constant(0.300, 2000 / 24 / 45) / 3600:.0f} h")
    188 h
    """
    volume = require(volume, "volume", "m3", above=0)
    return WATER_HEAT * volume / require(loss_coefficient, "loss coefficient", "W/K", above=0)


def cool_down(volume, loss_coefficient, start, room, duration):
    """Return the temperature of a store that was left alone.

    Parameters
    ----------
    volume : array_like
        Water in the store [m3]; above 0.
    loss_coefficient : array_like
        Loss coefficient [W/K]; above 0.
    start, room : array_like
        Mean store temperature at first, and the room [°C]; -40 to 110.
    duration : array_like
        How long it stands [s]; 0 or more.

    Returns
    -------
    float or ndarray
        Mean store temperature then [°C] in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    The mean of the store; its layers spread out meanwhile, and the top stays warmer than this.

    References
    ----------
    [Incropera] equation 5.6.

    Examples
    --------
    >>> print(f"{cool_down(0.300, 2000 / 24 / 45, start=80.0, room=15.0, duration=8 * 3600):.1f} °C")
    77.3 °C
    """
    duration = require(duration, "duration", "s", at_least=0)
    return decayed(_store(start), _room(room), duration / time_constant(volume, loss_coefficient))


def _store(value, name="store temperature"):
    return require(value, name, "°C", at_least=-40, at_most=110)


def _room(value):
    return require(value, "room temperature", "°C", at_least=-40, at_most=110)
